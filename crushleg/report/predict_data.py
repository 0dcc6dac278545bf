"""A prediction as plain data, sealed: SI, keys end in their unit."""

from __future__ import annotations

import math
from importlib.metadata import version
from typing import TYPE_CHECKING, Any

import numpy as np

from crushleg.girder.pattern import LEVELS
from crushleg.report.data import result
from crushleg.report.predict_sources import prediction_sources
from crushleg.trial.instruments import RANGE, rounded_up
from crushleg.trial.issued import SCHEMA, seal
from crushleg.trial.predict import back, distinct

if TYPE_CHECKING:
    from collections.abc import Iterable

    from crushleg.arrays import FloatArray
    from crushleg.trial.drops import Standin
    from crushleg.trial.predict import Event, Prediction

POINTS = 100
"""About so many lines has the table from crush to speed."""


def prediction_data(prediction: Prediction) -> dict[str, Any]:
    """Everything a prediction says, with the hash of it last.

    Parameters
    ----------
    prediction : Prediction

    Returns
    -------
    dict
        Schema "crushleg-prediction-1". Levels low, nominal, high are those of the force of one
        girder; ``curve`` is on crush (plastic) stroke; ``touchdowns`` are those of the vehicle,
        ``predicted`` what the test will show: drops where there is a rig.
    """
    found = result(prediction.checked)
    head = ("title", "revision", "author")
    body = ("girder", "folds", "curve", "touchdowns")
    return seal(
        {"schema": SCHEMA}
        | {key: found[key] for key in head}
        | {
            "version": version("crushleg"),
            "date": prediction.date.isoformat(),
            "input_sha256": found["input_sha256"],
            "check_passes": found["passes"],
        }
        | {key: found[key] for key in body}
        | {
            "predicted": [_event(event) for event in prediction.events],
            "rig": _rig(prediction),
            "limits": _limits(prediction),
            "instruments": _instruments(prediction),
            "readings": readings(prediction),
            "cautions": [*map(str, prediction.cautions), *found["cautions"]],
            "sources": [*prediction_sources(prediction.checked.case), *found["sources"]],
        }
    )


def readings(prediction: Prediction) -> list[dict[str, Any]]:
    """From crush that stays to energy and speed, legs alike, per mass and net weight."""
    usable = float(prediction.checked.crush.usable[0])
    step = rounded_up(usable / POINTS)
    at = np.append(step * np.arange(math.ceil(usable / step - 1e-9)), usable)
    tables = []
    for event, names in distinct(prediction):
        found = back(prediction, event, at)
        tables.append(
            {
                "events": list(names),
                "legs": event.stopped.legs,
                "mass_kg": event.stopped.mass,
                "net_weight_N": event.stopped.net_weight,
                "crush_m": found.crush.tolist(),
                "travel_m": _arrays(found.travel),
                "energy_one_leg_J": _arrays(found.energy),
                "energy_all_legs_J": _arrays(event.stopped.legs * found.energy),
                "speed_m_s": _arrays(found.speed),
            }
        )
    return tables


def _arrays(values: FloatArray) -> dict[str, list[float]]:
    return dict(zip(LEVELS, values.tolist(), strict=True))


def _number(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None


def _levels(values: Iterable[float]) -> dict[str, float | None]:
    return dict(zip(LEVELS, map(_number, values), strict=True))


def _event(event: Event) -> dict[str, Any]:
    landed = event.landed
    return {
        "name": event.name,
        "kind": "touchdown" if event.drop is None else "drop",
        "mass_kg": event.stopped.mass,
        "legs": event.stopped.legs,
        "net_weight_N": event.stopped.net_weight,
        "speed_m_s": landed.arrival.closing,
        "fall_m": None if event.drop is None else _number(event.drop.height),
        "groups": [
            {
                "legs": list(group.legs),
                "crush_m": _levels(group.crush),
                "folds": _levels(group.folds),
                "face_height_m": _levels(group.height),
            }
            for group in event.groups
        ],
        "stroke_m": _levels(landed.stroke[:, 0]),
        "peak_force_N": _levels(landed.peak[:, 0]),
        "side_load_N": _levels(landed.side_peak[:, 0]),
        "load_cell_N": None if event.drop is None else _levels(event.drop.cell),
        "deceleration_m_s2": _levels(landed.deceleration[:, 0]),
        "accelerometer_m_s2": _levels(landed.accelerometer[:, 0]),
        "duration_s": _levels(landed.duration[:, 0]),
        "bottomed": dict(zip(LEVELS, landed.bottomed[:, 0].tolist(), strict=True)),
        "effective_weight_N": None if event.drop is None else _levels(event.drop.effective_weight),
    }


def _rig(prediction: Prediction) -> dict[str, Any] | None:
    rig = prediction.checked.case.rig
    if rig is None:
        return None
    return {
        "mass_above_kg": rig.mass_above,
        "mass_below_kg": rig.mass_below,
        "legs": rig.legs,
        "friction_N": rig.friction,
        "lift_N": rig.carried,
        "gravity_m_s2": rig.gravity,
        "drop_height_m": rig.drop_height,
        "stands_for": [_standin(one) for one in prediction.standins],
    }


def _standin(one: Standin) -> dict[str, Any]:
    return {
        "touchdown": one.name,
        "speed_m_s": one.speed,
        "travel_m": _levels(one.travel),
        "equivalent_mass_kg": _levels(one.mass),
        "free_drop_mass_kg": _levels(one.free_mass),
        "fall_m": _levels(one.height),
    }


def _limits(prediction: Prediction) -> dict[str, Any]:
    """Limits that reject a leg, or say that a test did not go as predicted."""
    rejects = prediction.rejects
    return {
        "crush_max_m": rejects.crush,
        "face_height_min_m": rejects.height,
        "face_difference_max_m": rejects.faces,
        "events": [
            {
                "name": event.name,
                "speed_max_m_s": event.speed_limit,
                "fall_max_m": None if event.height_limit is None else _number(event.height_limit),
                "face_height_m": [
                    {
                        "legs": list(group.legs),
                        "least": float(group.height.min()),
                        "most": float(group.height.max()),
                    }
                    for group in event.groups
                ],
                "deceleration_max_m_s2": _number(float(event.landed.deceleration.max())),
                "peak_force_max_N": _number(float(event.landed.peak.max())),
            }
            for event in prediction.events
        ],
    }


def _instruments(prediction: Prediction) -> dict[str, Any]:
    found = prediction.instruments
    return {
        "range_over_prediction": RANGE,
        "leg_force_N": found.leg,
        "load_cell_N": found.cell,
        "accelerometer_m_s2": found.accelerometer,
        "displacement_m": found.displacement,
        "fold_frequency_Hz": found.fold_frequency,
        "filter_class_peaks": found.peak_class,
        "filter_class_integration": found.mean_class,
        "sample_rate_Hz": found.sample_rate,
        "crest_left_by_class": {str(one): share for one, share in found.shown.items()},
    }
