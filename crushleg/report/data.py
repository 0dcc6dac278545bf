"""The result of a check as plain data: SI, keys end in their unit, arrays foot first.

``None`` stands where a thing does not apply or has no end; the reason is in ``cautions``. A
touchdown that never stops has no demand of stroke; its margin is -1, with the ``reason``.
"""

from __future__ import annotations

import math
from importlib.metadata import version
from typing import TYPE_CHECKING, Any

import numpy as np

from crushleg.girder.bands import BAND_PROBABILITY
from crushleg.girder.modes import MODES
from crushleg.girder.pattern import LEVELS
from crushleg.girder.table import fold_table, row_table
from crushleg.report.notes import shown_cautions
from crushleg.report.sources import sources
from crushleg.report.words import NEGLIGIBLE, NEVER_STOPS, never_stops

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import ArrayLike

    from crushleg.arrays import FloatArray
    from crushleg.check import Checked
    from crushleg.landing.touchdown import Landed
    from crushleg.margins import Margin

SCHEMA = "crushleg-result-1"
SEQUENCES = {True: "from the foot", False: "least work"}


def result(checked: Checked) -> dict[str, Any]:
    """Everything a check found.

    Parameters
    ----------
    checked : Checked
        From :func:`crushleg.check`.

    Returns
    -------
    dict
        Schema "crushleg-result-1", ready for JSON. Levels low, nominal, high are those of the
        force of one girder. Curves and fold strokes are crush (plastic) strokes; touchdown
        strokes include elastic shortening. Heights are above the foot end.
    """
    case = checked.case
    return {
        "schema": SCHEMA,
        "title": case.title,
        "revision": case.revision,
        "author": case.author,
        "version": version("crushleg"),
        "input_sha256": case.input_sha256,
        "passes": checked.passes,
        "girder": _girder(checked),
        "folds": _folds(checked),
        "curve": _curve(checked),
        "touchdowns": [_touchdown(checked, landed) for landed in checked.landings],
        "margins": [_margin(checked, index) for index in range(len(checked.margins))],
        "cautions": list(map(str, shown_cautions(checked))),
        "sources": sources(checked),
    }


def sequence(checked: Checked) -> str:
    """Order in which the nominal curve folds the zones."""
    return SEQUENCES[bool(checked.crush.sequence.from_foot[0])]


def _number(value: ArrayLike) -> float | None:
    number = float(value)  # type: ignore[arg-type] # a scalar or an array of one
    return number if math.isfinite(number) else None


def _levels(values: Iterable[ArrayLike]) -> dict[str, float | None]:
    return dict(zip(LEVELS, map(_number, values), strict=True))


def _girder(checked: Checked) -> dict[str, Any]:
    crush = checked.crush
    return {
        "material": checked.case.girder.material.key,
        "mass_kg": _number(crush.mass[0]),
        "usable_stroke_m": _number(crush.usable[0]),
        "axial_stiffness_N_m": _number(crush.stiffness[0]),
        "flow_stress_Pa": _levels(crush.girders.flow_stress[:, 0]),
        "band_probability": BAND_PROBABILITY,
        "first_peak_N": _levels(crush.first_peak[:, 0]),
        "rows": _rows(checked),
    }


def _rows(checked: Checked) -> list[dict[str, Any]]:
    """Rows; the start force leaves the crush initiator's fraction out."""
    rows = checked.case.girder.holes.rows
    table = row_table(checked.crush, rows)
    return [
        {
            "height_m": row.height,
            "size_m": row.size,
            "size_along_m": row.along,
            "shape": row.shape,
            "per_face": row.per_face,
            "faces": row.faces,
            "ligament_m": _number(table.ligament[i]),
            "net_area_m2": _number(table.net_area[i]),
            "start_force_N": _levels(table.start[:, i]),
        }
        for i, row in enumerate(rows)
    ]


def _folds(checked: Checked) -> list[dict[str, Any]]:
    """Folds; the mode is that of the largest weight, blended with others near a crossing."""
    table = fold_table(checked.crush)
    return [
        {
            "order": i + 1,
            "from_m": _number(table.bottom[i]),
            "to_m": _number(table.top[i]),
            "stroke_from_m": _number(table.begins[i]),
            "stroke_to_m": _number(table.ends[i]),
            "half_fold_length_m": _number(table.half[i]),
            "mode": MODES[int(table.weights[i].argmax())],
            "mode_weight": _number(table.weights[i].max()),
            "plain_mean_force_N": _number(table.plain[i]),
            "mean_force_N": _levels(table.mean[:, i]),
            "start_force_N": _levels(table.crest[:, i]),
            "hinge_fraction": _number(table.hinge[i]),
            "sweep_fraction": _number(table.sweep[i]),
            "corner_fraction": _number(table.corner[i]),
            "energy_J": _number(table.energy[i]),
        }
        for i in range(len(table.half))
    ]


def _curve(checked: Checked) -> dict[str, Any]:
    """One leg; two points at a fold boundary, before and after the jump."""
    curve = checked.crush.curve

    def by_level(values: FloatArray) -> dict[str, list[float]]:
        return dict(zip(LEVELS, values[:, 0].tolist(), strict=True))

    return {
        "sequence": sequence(checked),
        "stroke_m": curve.stroke[0].tolist(),
        "force_N": by_level(curve.force),
        "energy_J": by_level(curve.energy),
    }


def _touchdown(checked: Checked, landed: Landed) -> dict[str, Any]:
    """One touchdown; time and folds at nominal force, bottomed at any of the three."""
    factors, arrival = checked.case.factors, landed.arrival
    return {
        "name": landed.name,
        "reserve": landed.reserve,
        "mass_kg": _number(arrival.mass),
        "speed_factor": factors.speed_reserve if landed.reserve else 1.0,
        "vertical_speed_m_s": _number(arrival.vertical),
        "horizontal_speed_m_s": _number(arrival.horizontal),
        "slope_rad": landed.touchdown.slope,
        "attitude_rad": landed.touchdown.attitude,
        "attitude_rate_rad_s": _number(arrival.rate),
        "thrust_to_weight": landed.touchdown.thrust_to_weight,
        "first_contact": landed.touchdown.first_contact,
        "energy_demand_J": _levels(landed.demand[:, 0]),
        "energy_to_usable_end_J": _levels(landed.asked[:, 0]),
        "stroke_m": _levels(landed.stroke[:, 0]),
        "stroke_other_legs_m": _levels(landed.others[:, 0]),
        "stroke_needed_m": _levels(landed.stroke_needed[:, 0]),
        "crush_m": _levels(np.where(landed.crush[:, 0] < NEGLIGIBLE, 0.0, landed.crush[:, 0])),
        "energy_sprung_back_J": _levels(landed.returned[:, 0]),
        "peak_force_N": _levels(landed.peak[:, 0]),
        "side_load_N": _levels(landed.side_peak[:, 0]),
        "deceleration_m_s2": _levels(landed.deceleration[:, 0]),
        "accelerometer_m_s2": _levels(landed.accelerometer[:, 0]),
        "gear_factor": _levels(landed.gear_factor[:, 0]),
        "duration_s": _number(landed.duration[1, 0]),
        "duration_by_force_s": _levels(landed.duration[:, 0]),
        "folds_used": _number(landed.folds[1, 0]),
        "folds_used_by_force": _levels(landed.folds[:, 0]),
        "bottomed": bool(landed.bottomed[:, 0].any()),
        "bottomed_by_force": dict(zip(LEVELS, landed.bottomed[:, 0].tolist(), strict=True)),
    }


def _margin(checked: Checked, index: int) -> dict[str, Any]:
    margin: Margin = checked.margins[index]
    judged = margin.margin is not None

    def first(values: FloatArray | None) -> float | None:
        return None if values is None else _number(values[0])

    return {
        "check": margin.check,
        "touchdown": margin.touchdown,
        "demand": first(margin.demand),
        "capability": first(margin.capability),
        "factor": margin.factor,
        "unit": margin.unit,
        "margin": first(margin.margin),
        "basis": margin.basis,
        "governs": judged and index == checked.governs,
        "counts": judged and margin.counts,
        "reason": NEVER_STOPS if never_stops(margin) else margin.reason,
        "note": margin.note,
    }
