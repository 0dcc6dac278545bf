"""Landings in motion as plain data: SI, keys end in their unit, beside the result of a check.

``None`` stands where a thing does not apply or never happened.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from crushleg.landing.arrival import arrive
from crushleg.landing.motion.assemble import heading_of
from crushleg.landing.motion.outcome import WORDS
from crushleg.landing.motion.standard import friction_of
from crushleg.report.data import result
from crushleg.report.land_sources import land_sources
from crushleg.report.land_words import came_in, judged, lowest_side

if TYPE_CHECKING:
    from crushleg.check import Checked
    from crushleg.land import Move, Moving
    from crushleg.stability import StabilityMap

SCHEMA = "crushleg-landing-1"
OF_VEHICLE = {
    "time_s": "time",
    "deceleration_m_s2": "deceleration",
    "accelerometer_m_s2": "accelerometer",
    "angular_rate_rad_s": "turning",
    "lean_rad": "lean",
    "heel_rad": "heel",
    "clearance_m": "clearance",
    "clearance_time_s": "clearance_time",
    "tip_angle_uncrushed_rad": "angle_before",
    "tip_angle_least_rad": "angle_least",
    "tip_angle_left_rad": "angle_left",
    "tip_energy_left_J": "energy_left",
}
OF_LEGS = {
    "contact_s": "contact",
    "stroke_m": "stroke",
    "stroke_needed_m": "needed",
    "crush_m": "crush",
    "folds_used": "folds",
    "girder_force_N": "girder",
    "axial_N": "axial",
    "side_N": "side",
    "pad_force_N": "pad",
    "slide_m": "slide",
    "sinkage_m": "sunk",
}
"""Key -> field of :class:`crushleg.landing.motion.outcome.Outcome`."""


def landings_result(moving: Moving, stability: StabilityMap | None = None) -> dict[str, Any]:
    """Everything that landings in motion found.

    Parameters
    ----------
    moving : Moving
        From :func:`crushleg.land.land_case`.
    stability : StabilityMap, optional

    Returns
    -------
    dict
        Schema "crushleg-landing-1", ready for JSON: the keys of a check, its margins and cautions
        with those of the motion, then ``motions``, one for each landing with a column for each
        set of girders, and ``stability_map``, None where it was not asked for.
    """
    checked = judged(moving)
    found = result(checked)
    asked = len(checked.case.touchdowns)
    return found | {
        "schema": SCHEMA,
        "sources": land_sources(moving),
        "assumed_in_standard_cases": list(moving.assumed),
        "motions": [
            motion(checked, move, standard=index >= asked)
            for index, move in enumerate(moving.moves)
        ],
        "stability_map": None if stability is None else map_data(stability),
    }


def motion(checked: Checked, move: Move, *, standard: bool) -> dict[str, Any]:
    """One landing: its conditions and its columns."""
    case, touchdown = checked.case, move.plan.touchdown
    arrival = arrive(case.vehicle, touchdown, case.factors)
    return {
        "name": move.name,
        "standard": standard,
        "reserve": touchdown.reserve,
        "pad_friction": friction_of(case, move.plan),
        "mass_kg": _number(arrival.mass),
        "vertical_speed_m_s": _number(arrival.vertical),
        "horizontal_speed_m_s": _number(arrival.horizontal),
        "heading_rad": heading_of(case.vehicle, touchdown),
        "slope_rad": touchdown.slope,
        "slope_azimuth_rad": touchdown.slope_azimuth,
        "attitude_rad": touchdown.attitude,
        "attitude_rate_rad_s": _number(arrival.rate),
        "thrust_to_weight": touchdown.thrust_to_weight,
        "shutdown_time_s": touchdown.shutdown_time,
        "thrust_decay_s": touchdown.thrust_decay,
        "columns": _columns(checked, move),
    }


def _columns(checked: Checked, move: Move) -> list[dict[str, Any]]:
    """Columns of a landing; angles of clearance count from the direction of travel to the left."""
    outcome = move.outcome
    energies = ledger_data(checked, move)
    return [
        {
            "girders": label,
            "outcome": outcome.word[k],
            "rested": bool(outcome.rested[k]),
            **{key: _number(getattr(outcome, field)[k]) for key, field in OF_VEHICLE.items()},
            "clearance_azimuth_rad": _number(lowest_side(move, k)),
            "accelerometer_class_180_m_s2": _number(move.filtered[k]),
            "ledger": energies[k],
            "legs": _legs(move, k),
        }
        for k, (label, _) in enumerate(move.plan.columns)
    ]


def _legs(move: Move, column: int) -> list[dict[str, Any]]:
    outcome = move.outcome
    return [
        {
            "leg": leg + 1,
            **{key: _number(getattr(outcome, f)[column, leg]) for key, f in OF_LEGS.items()},
            "bottomed": bool(outcome.bottomed[column, leg]),
        }
        for leg in range(outcome.stroke.shape[1])
    ]


def ledger_data(checked: Checked, move: Move) -> list[dict[str, Any]]:
    """Energies of every column [J]; the gap over all steps as a share of what came in."""
    ledger = move.outcome.ledger
    named = {
        **{
            f"came_in_{name}_J": values for name, values in came_in(checked, move)._asdict().items()
        },
        **{f"{name}_J": values for name, values in ledger._asdict().items() if name != "came"},
        "gap_J": ledger.open,
        "largest_gap_share": move.closure,
        "half_step_change": move.halved,
    }
    return [{key: _number(v[k]) for key, v in named.items()} for k in range(len(ledger.came))]


def map_data(found: StabilityMap) -> dict[str, Any]:
    """Stability map: a row of outcomes for each vertical speed."""
    return {
        "touchdown": found.touchdown.name,
        "vertical_speed_m_s": found.vertical.tolist(),
        "horizontal_speed_m_s": found.horizontal.tolist(),
        "outcome": [[WORDS[word] for word in row] for row in found.word],
        "tips_at_m_s": _number(found.tips_at),
    }


def _number(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None
