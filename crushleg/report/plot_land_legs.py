"""Legs of a landing in motion by name and place, and which of them do the same."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from crushleg.landing.motion.assemble import heading_of, leg_places
from crushleg.report.style import LEVELS, LINES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.case.records import Case, Touchdown
    from crushleg.land import Move

ROUND = (
    "ahead", "ahead left", "left", "behind left", "behind", "behind right", "right", "ahead right",
)  # fmt: skip
"""Where a leg stands, seen by one who looks the way the vehicle goes, from ahead to the left."""
OTHER = {"left": "right", "right": "left"}
ALIKE = 0.01
"""Legs do the same when their strokes differ by less than this share of the largest."""
NO_WAY = 1e-6
"""Below this [rad, m/s] nothing leans or goes anywhere."""


class Alike(NamedTuple):
    """Legs that do the same: indices, and their name with its place."""

    legs: tuple[int, ...]
    name: str


def main_column(move: Move) -> int:
    """Column that stands for the landing: all legs nominal, or the first."""
    labels = [label for label, _ in move.plan.columns]
    return labels.index("nominal") if "nominal" in labels else 0


def column_line(label: str) -> dict[str, Any]:
    """Line of a column: low, nominal and high as everywhere, anything else as nominal."""
    return LINES[LEVELS.index(label) if label in LEVELS else 1]


def groups(case: Case, move: Move) -> list[Alike]:
    """Legs that do the same in every column, in the order of the legs."""
    stroke, contact = move.outcome.stroke, np.nan_to_num(move.outcome.contact, nan=np.inf)
    late = move.outcome.time[:, None]
    signs = np.concatenate([stroke / stroke.max(), np.minimum(contact / late, 2.0)])
    found: list[list[int]] = []
    for leg in range(stroke.shape[1]):
        near = [g for g in found if np.abs(signs[:, g[0]] - signs[:, leg]).max() < ALIKE]
        if near:
            near[0].append(leg)
        else:
            found.append([leg])
    return [Alike(tuple(g), named(case, move.plan.touchdown, g)) for g in found]


def named(case: Case, touchdown: Touchdown, legs: Sequence[int]) -> str:
    """Name of some legs: "leg 1 (ahead)", "legs 2, 3 (behind, both sides)", "all 4 legs"."""
    if len(legs) == case.vehicle.legs and len(legs) > 1:
        return "both legs" if len(legs) == 2 else f"all {len(legs)} legs"
    numbers = ", ".join(str(leg + 1) for leg in legs)
    word = "leg" if len(legs) == 1 else "legs"
    places = leg_places(case.vehicle) - heading_of(case.vehicle, touchdown)
    if not goes(touchdown):
        return f"{word} {numbers}"
    return f"{word} {numbers} ({_together([where(float(places[leg])) for leg in legs])})"


def goes(touchdown: Touchdown) -> bool:
    """Whether the landing has an ahead: it moves, leans, turns or stands on a slope."""
    ways = (
        touchdown.horizontal_speed,
        touchdown.slope,
        touchdown.attitude,
        touchdown.attitude_rate,
    )
    return any(abs(way) > NO_WAY for way in ways)


def where(azimuth: float) -> str:
    """Eighth of the circle, from the direction of travel counted to the left [rad].

    >>> where(0.0), where(math.pi / 2), where(-math.pi / 3)
    ('ahead', 'left', 'ahead right')
    """
    return ROUND[round(azimuth / (math.pi / 4.0) + 1e-9) % len(ROUND)]


def _together(places: list[str]) -> str:
    """Places of legs that do the same, a pair left and right as both sides."""
    kept: list[str] = []
    for place in places:
        base, _, side = place.rpartition(" ")
        other = f"{base} {OTHER.get(side, side)}".strip()
        pair = f"{base}, both sides".removeprefix(", ")
        kept.append(pair if other != place and other in places else place)
    return " and ".join(dict.fromkeys(kept))
