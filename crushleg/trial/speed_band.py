r"""From what crushed legs took back to the speed at touchdown, with its band and what makes it.

.. math:: v = \sqrt{2\,[E_{legs} + E_{other} - (m g - T)\,Δz]/m}

Every cause of uncertainty is written as an energy (:mod:`crushleg.landing.energy_band`); all are
taken as 95 % limits, independent of each other, and joined by root-sum-square.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.bands import Z_TWO_SIDED
from crushleg.girder.sequence import NEIGHBOUR_SCATTER
from crushleg.landing.back_calculation import speed_from_crush
from crushleg.landing.energy_band import common_part, mass_deviation, root_sum_square
from crushleg.trial.crushed_legs import Taken, taken

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.trial.crushed_legs import OneLeg

OWN = Z_TWO_SIDED * NEIGHBOUR_SCATTER
"""± in logs by which legs of one batch differ, a 95 % limit (judgement)."""
CAUSES = ("force, common to all legs", "force, leg to leg", "reading", "mass", "other energy")


class Stopped(NamedTuple):
    """What came down: mass [kg], net weight [N], and how the legs carry its axis.

    ``axis`` (n,) is the share of each leg's travel in that of the vehicle's axis [-], ``drop``
    what the axis came down before the legs began [m].
    """

    mass: float
    net_weight: float
    axis: FloatArray
    drop: float = 0.0


class Unsure(NamedTuple):
    """± as 95 % limits: reading (n,) [m], mass [-]; energy not in the legs and its ± [J]."""

    reading: FloatArray
    mass: float
    other: float = 0.0
    other_error: float = 0.0


class SpeedBand(NamedTuple):
    """Speed and what it comes from; levels low, nominal, high first.

    Attributes
    ----------
    legs : Taken
        What each leg took (3, ..., n).
    energy : ndarray
        All that was taken, legs and other (3, ...) [J].
    travel : ndarray
        How far the axis came down (3, ...) [m].
    parts : ndarray
        Energy of each cause, down and up (2, 5, ...) [J], in the order of :data:`CAUSES`.
    kinetic : ndarray
        Energy at contact (3, ...) [J]; low and high hold it with about 95 %.
    speed : ndarray
        Speed at contact (3, ...) [m/s], likewise.
    """

    legs: Taken
    energy: FloatArray
    travel: FloatArray
    parts: FloatArray
    kinetic: FloatArray
    speed: FloatArray


def back_calculate(leg: OneLeg, stopped: Stopped, unsure: Unsure, crush: FloatArray) -> SpeedBand:
    """Speed that crushed legs account for.

    Parameters
    ----------
    leg : OneLeg
        Low, nominal, high curve of one leg.
    stopped : Stopped
    unsure : Unsure
    crush : ndarray, shape (..., n)
        Crush that stays in every leg [m].

    Returns
    -------
    SpeedBand

    Notes
    -----
    Formula: v = √(2 [E_legs + E_other − (m g − T) Δz]/m)
    Formula: parts of E by root-sum-square
    Range: 95 % limits, causes independent, legs of one batch.

    The band of one girder is split: :data:`OWN` is what each leg has by itself, the rest is taken
    as common to all legs, which are of one batch. With one leg the two make the girder's band.

    References
    ----------
    [D]
    """
    legs = taken(leg, crush)
    travel = legs.travel @ stopped.axis + stopped.drop
    energy = legs.work.sum(axis=-1) + unsure.other
    net = energy - stopped.net_weight * travel
    parts = _parts(leg, stopped, unsure, crush, (legs, energy[1], net))
    down, up = (root_sum_square(side) for side in parts)
    speeds, kinetic = [], []
    for more in (-down, np.zeros_like(down), up):
        with_it = energy[1] + more, travel[1]
        speeds.append(speed_from_crush(stopped.mass, stopped.net_weight, *with_it))
        kinetic.append(np.maximum(net[1] + more, 0.0))
    return SpeedBand(legs, energy, travel, parts, np.stack(kinetic), np.stack(speeds))


def _parts(
    leg: OneLeg,
    stopped: Stopped,
    unsure: Unsure,
    crush: FloatArray,
    found: tuple[Taken, FloatArray, FloatArray],
) -> FloatArray:
    """Energy of each cause, down and up (2, 5, ...)."""
    legs, energy, net = found
    total = legs.work.sum(axis=-1)
    own = OWN * np.sqrt((legs.work[1] ** 2).sum(axis=-1))
    mass = mass_deviation(energy, unsure.mass)
    other = np.full_like(mass, unsure.other_error)
    sides = []
    for level, sign in ((0, -1.0), (2, 1.0)):
        band = np.abs(_log(total[level], total[1]))
        share = np.divide(common_part(band, OWN), band, out=np.zeros_like(band), where=band > 0.0)
        common = np.abs(net[level] - net[1]) * share
        read = _reading(leg, stopped, crush, legs, sign * unsure.reading)
        sides.append(np.stack([common, own, read, mass, other]))
    return np.stack(sides)


def _log(one: FloatArray, other: FloatArray) -> FloatArray:
    """Logarithm of a ratio, zero where there is nothing to compare."""
    ratio = np.divide(one, other, out=np.ones_like(one), where=(one > 0.0) & (other > 0.0))
    return np.log(ratio)


def _reading(
    leg: OneLeg, stopped: Stopped, crush: FloatArray, legs: Taken, error: FloatArray
) -> FloatArray:
    """Net energy of the reading errors of the legs, nominal, each independent of the others."""
    there = taken(leg, np.maximum(crush + error, 0.0))
    weight = stopped.net_weight * stopped.axis
    change = there.work[1] - legs.work[1] - weight * (there.travel[1] - legs.travel[1])
    return root_sum_square(np.moveaxis(change, -1, 0))
