"""Stability map: how landings end over vertical and horizontal speed, all in one call."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.motion.assemble import Landing, assemble, curves_for
from crushleg.landing.motion.outcome import WORDS, outcome
from crushleg.landing.motion.refused import refuse_geometry
from crushleg.landing.motion.run import run
from crushleg.landing.tip_over import critical_speed, edge_distance

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import FloatArray, IntArray
    from crushleg.case.records import Case, Touchdown
    from crushleg.girder.crush import Crush

LEAST_SPAN = 0.1
"""Least horizontal speed of interest over the fastest vertical one."""
SIDE = 15
"""Speeds in each direction."""
BOTH = (0, 2)
"""Legs of low force, which bottom and strike, and of high force, which throw and tip."""


class StabilityMap(NamedTuple):
    """Worst outcome of low and high legs, index into ``WORDS``, shape (V, H).

    ``vertical`` (V,) and ``horizontal`` (H,) are speeds [m/s], as they are, without
    ``speed_reserve``; ``tips_at`` is the speed that just tips the uncrushed vehicle, pads stuck.
    """

    touchdown: Touchdown
    vertical: FloatArray
    horizontal: FloatArray
    word: IntArray
    tips_at: float


def stability_map(
    case: Case, crush: Crush, *, told: Callable[[int], None] | None = None
) -> StabilityMap:
    """Run landings over a grid of speeds, on the slope and with the lean of one touchdown.

    Parameters
    ----------
    case : Case
        The touchdown with the largest slope, the first of several, gives all but the speeds.
    crush : Crush
        Of the case's girder.
    told : callable, optional
        Called with the number of landings that have ended since the last call.

    Returns
    -------
    StabilityMap
    """
    refuse_geometry(case.vehicle)
    base = max(case.touchdowns, key=lambda one: one.slope)
    base = replace(base, reserve=False)
    fastest = max(one.vertical_speed for one in case.touchdowns) * case.factors.speed_reserve
    tips_at = _tips_at(case, base)
    sideways = max([one.horizontal_speed for one in case.touchdowns])
    vertical = np.linspace(0.1, 1.6, SIDE) * fastest
    horizontal = np.linspace(0.0, 1.5 * max(tips_at, sideways, LEAST_SPAN * fastest), SIDE)
    legs = case.vehicle.legs
    landings = [
        Landing(
            replace(base, vertical_speed=float(v), horizontal_speed=float(u)),
            (level,) * legs,
            case.leg.pad_friction,
        )
        for v in vertical
        for u in horizontal
        for level in BOTH
    ]
    curves = curves_for(crush)
    setup, start = assemble(case, crush, landings)
    ended = outcome(crush, curves, setup, run(setup, curves, start, told=told))
    rank = np.array([WORDS.index(word) for word in ended.word])
    worst = rank.reshape(SIDE, SIDE, len(BOTH)).max(axis=2)
    return StabilityMap(base, vertical, horizontal, worst, tips_at)


def _tips_at(case: Case, touchdown: Touchdown) -> float:
    vehicle = case.vehicle
    edge = edge_distance(vehicle.pad_circle_radius or 0.0, max(vehicle.legs, 3))
    return float(
        critical_speed(
            vehicle.gravity,
            vehicle.centre_of_gravity_height or 0.0,
            edge,
            vehicle.radius_of_gyration or 0.0,
            touchdown.slope,
        )
    )
