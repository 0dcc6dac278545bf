"""Kinks in the force of a leg, where a step has to end: contact, crush, teeth, sinking."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.landing.motion.curves import next_bend

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray, IntArray
    from crushleg.landing.motion.curves import Curves
    from crushleg.landing.motion.state import Pads

LEAST_RISE = 0.1
"""Least step before a kink, as a share of the travel that a leg springs."""
GRAIN, OVERSHOOT = 0.1, 1.02
"""A step of a crushing leg ends a little beyond the next bend of its curve, but not before this
share of the mean piece of the curve."""
LEAST_STEP = 1e-3
"""Least step over the longest, so that time always goes on."""


def travel_to_kink(
    curves: Curves, which: IntArray, reach: FloatArray, free: FloatArray, most: FloatArray
) -> tuple[FloatArray, BoolArray]:
    """Travel to the next kink of the force [m], and whether the leg crushes."""
    first, bend = next_bend(curves, which, most)
    yields = np.maximum(most, first)
    crushes = reach >= yields
    springs = np.maximum(np.where(reach < free, free, yields) - reach, LEAST_RISE * (yields - free))
    return np.where(crushes, bend - reach, springs), crushes


def travel_to_sinking(shortened: FloatArray, sprung: FloatArray) -> FloatArray:
    """Travel until a springing leg makes its pad sink [m]; inf in the air and once it sinks."""
    left = shortened - sprung
    return np.where((sprung >= 0.0) & (left > LEAST_RISE * shortened), left, np.inf)


def length_of_step(pads: Pads, longest: FloatArray, piece: FloatArray) -> FloatArray:
    """Step that ends where the first leg of each vehicle meets a kink.

    Parameters
    ----------
    pads : Pads
    longest : ndarray, shape (B,)
        Step without kinks [s].
    piece : ndarray, shape (B,)
        Mean piece of the crush curve [m].

    Returns
    -------
    ndarray, shape (B,)
        Step [s].
    """
    bend = np.clip(OVERSHOOT * pads.left, GRAIN * piece[:, None], piece[:, None])
    way = np.where(pads.crushes, bend, pads.left)
    kink = np.divide(way, pads.rate, out=np.full_like(way, np.inf), where=pads.rate > 0.0)
    return np.clip(kink.min(axis=1), LEAST_STEP * longest, longest)
