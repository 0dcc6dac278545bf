"""What is said under the poses of a side view."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from crushleg.landing.arrival import arrive
from crushleg.landing.motion.standard import friction_of
from crushleg.report.plot_land_body import lean_text
from crushleg.report.plot_land_legs import groups, main_column, where
from crushleg.report.style import quantity
from crushleg.report.words import quantities
from crushleg.units import display_unit

if TYPE_CHECKING:
    from crushleg.land import Move, Moving
    from crushleg.report.plot_land_legs import Alike
    from crushleg.report.plot_land_poses import View

CONTACT, PEAK, END = range(3)
STILL = 1e-6
"""Pads that slide less [m] do not slide."""
MOST_GROUPS = 3
"""So many groups of legs are named each; of more, the most and the least crushed."""


def _length(value: float, system: str) -> str:
    return quantity(value, display_unit(abs(value), "length", system))


def _time(value: float, system: str) -> str:
    return quantity(round(value, 4), display_unit(value, "time", system))


def head(move: Move, panel: int, view: View, system: str) -> str:
    """Name of a panel."""
    if panel == CONTACT:
        return "At contact"
    time = _time(view.time, system)
    if panel == PEAK:
        return f"Peak deceleration, {time}"
    column = main_column(move)
    if move.outcome.word[column] == "tips":
        return f"Tipped, {time}"
    return f"{'At rest' if move.outcome.rested[column] else 'Not at rest'}, {time}"


def facts(moving: Moving, move: Move, panel: int, view: View, system: str) -> list[str]:
    """Lines under a panel: speeds and ground; deceleration; outcome; lean, clearance, crush."""
    if panel == CONTACT:
        return [*_arrival(moving, move, system), lean_text(view.lean)]
    column, outcome = main_column(move), move.outcome
    name = move.plan.columns[column][0]
    lines = [lean_text(view.lean)]
    if panel == PEAK:
        slow = quantities([float(outcome.deceleration[column])], "m/s2", system)[0]
        lines.insert(0, f"{slow}, {name} girders")
    else:
        way = float(outcome.slide[column].mean())
        slid = f"pads slid {_length(way, system)} on average" if way > STILL else "no pad slid"
        lines.insert(0, f"{outcome.word[column]}; {slid}")
    if math.isfinite(view.clearance):
        least = f", least {_length(float(outcome.clearance[column]), system)}"
        lines.append(f"clearance {_length(view.clearance, system)}{least if panel == END else ''}")
    lines += _crushed(groups(moving.checked.case, move), view, system)
    if view.sunk.max() > 0.0:
        lines.append(f"pads sunk up to {_length(float(view.sunk.max()), system)}")
    return lines


def _arrival(moving: Moving, move: Move, system: str) -> list[str]:
    """Speeds at contact, reserve factor in, and the ground."""
    case, touchdown = moving.checked.case, move.plan.touchdown
    arrival = arrive(case.vehicle, touchdown, case.factors)
    speeds = [f"{quantity(arrival.vertical, display_unit(arrival.vertical, 'speed', system))} down"]
    if arrival.horizontal:
        unit = display_unit(arrival.horizontal, "speed", system)
        speeds.append(f"{quantity(arrival.horizontal, unit)} ahead")
    ground = "level ground"
    if touchdown.slope:
        rises = where(touchdown.slope_azimuth)
        ground = f"ground {math.degrees(touchdown.slope):.3g}°, rising {rises}"
    return [
        ", ".join(speeds),
        ground,
        f"pad friction {friction_of(case, move.plan):g}",
    ]


def _crushed(alike: list[Alike], view: View, system: str) -> list[str]:
    """Strokes of the groups of legs, of the most and least crushed where there are many."""
    ranked = sorted(alike, key=lambda g: -float(view.travel[g.legs[0]]))
    if len(ranked) > MOST_GROUPS:
        ranked = [ranked[0], ranked[-1]]
    most = max(float(np.max(view.travel)), 1e-9)
    unit = display_unit(most, "length", system)
    each = [f"{g.name} {quantity(float(view.travel[g.legs[0]]), unit)}" for g in ranked]
    return ["strokes, most and least:" if len(alike) > len(ranked) else "strokes:", *each]
