"""How much of a predicted crest a filter class leaves: the predicted force, filtered."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.landing.timing import times
from crushleg.trial.filters import CLASSES, filtered

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.arrays import FloatArray
    from crushleg.landing.touchdown import Landed

SAMPLE_RATE = 20e3
QUIET = 0.05
"""Without force, before and after the stroke [s]."""


def crests_shown(landings: Sequence[tuple[Landed, int]]) -> dict[int, float]:
    """Least share of the highest force that each class shows, over all landings and levels.

    Parameters
    ----------
    landings : sequence of (Landed, int)
        With the number of legs; those where one or two touch first are left out.

    Returns
    -------
    dict
        Class to share [-], at most 1; empty where nothing is left.

    Notes
    -----
    The predicted force begins at its first crest within the elastic shortening and ends at the
    stop; a filter may overshoot there by parts in a thousand.

    References
    ----------
    [D]
    """
    together = [(x, legs) for x, legs in landings if x.touchdown.first_contact == "all"]
    histories = [_history(x, legs, level) for x, legs in together for level in range(3)]
    return {
        one: min(1.0, *(_share(time, force, one) for time, force in histories))
        for one in (CLASSES if histories else ())
    }


def _history(landed: Landed, legs: int, level: int) -> tuple[FloatArray, FloatArray]:
    """Time [s] and reaction of one leg [N] up to the stop."""
    curve, arrival = landed.curve, landed.arrival
    end = landed.stroke * curve.forces.travel
    speed = np.sqrt(2.0 * arrival.kinetic / arrival.mass)
    reaction, work = legs * curve.reaction, legs * curve.work
    t = times(curve.travel, reaction, work, arrival.net_weight, arrival.mass, speed, end)
    swept = curve.travel[level, 0] <= end[level, 0]
    last = landed.at_stop[level, 0] * curve.forces.reaction
    return (
        np.append(t[level, 0][swept], landed.duration[level, 0]),
        np.append(curve.reaction[level, 0][swept], last),
    )


def _share(time: FloatArray, force: FloatArray, channel_class: int) -> float:
    at = np.arange(-QUIET, time[-1] + QUIET, 1.0 / SAMPLE_RATE)
    even = np.interp(at, time, force, left=0.0, right=0.0)
    return float(filtered(even, channel_class, SAMPLE_RATE).max() / force.max())
