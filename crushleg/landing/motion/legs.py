"""What each leg came to, from its most travel: largest force, folds used, travel it needed.

Arrays are (B, N): landings, legs.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.landing.energy import swept_peak

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray, IntArray
    from crushleg.girder.crush import Crush
    from crushleg.landing.motion.curves import Curves
    from crushleg.landing.motion.setup import Setup


def largest_force(curves: Curves, setup: Setup, most: FloatArray) -> FloatArray:
    """Largest force of each girder's curve up to a travel, with its spring beyond the end [N]."""
    points = (-1, curves.points)
    travel, force = curves.travel.reshape(points), curves.force.reshape(points)
    peak = swept_peak(travel[setup.curve], force[setup.curve], most)
    beyond = np.maximum(most - curves.end[setup.curve], 0.0)
    last = force[setup.curve, -1] + setup.stiffness * beyond
    return np.where(beyond > 0.0, np.maximum(peak, last), peak)


def folds_used(crush: Crush, girder: IntArray, crushed: FloatArray) -> FloatArray:
    """Folds used by each leg, the last one as a fraction [-]; ``crushed`` [m]."""
    used = np.zeros_like(crushed)
    for g in np.unique(girder):
        grid = crush.folds.stroke[g]
        count = np.concatenate([[0.0], np.cumsum(np.diff(grid) > 0.0)])
        here = girder == g
        used[here] = np.interp(crushed[here], grid, count)
    return used


def force_at_stop(crush: Crush, curve: IntArray, folds: FloatArray) -> FloatArray:
    """Mean force of the fold that each leg stopped in [N]."""
    girder, level = np.divmod(curve, 3)
    last = (crush.folds.length > 0.0).sum(axis=1)[girder] - 1
    at = np.minimum(folds.astype(np.intp), last)
    return np.asarray(crush.folds.force[level, girder, at])


def travel_needed(curves: Curves, setup: Setup, most: FloatArray, peak: FloatArray) -> FloatArray:
    """Travel [m], had a bottomed leg gone on at its last force: elastic energy over that force."""
    end = curves.end[setup.curve]
    last = curves.force.reshape(-1, curves.points)[setup.curve, -1]
    further = np.maximum(peak**2 - last**2, 0.0) / (2.0 * setup.stiffness * last)
    return np.where(most > end, end + further, most)
