r"""From a crush measured on every leg alike back to energy and speed, by the same curves.

A crush s stays when the leg has come to s + F/K under its last force F. Energy and travel are
taken there, at the bottom; the speed is the least that carries the mass as far:

.. math:: v(s) = \max_{s' \le s} \sqrt{2\,[n E(s') - W_n z(s')]/m}

[D]
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.back_calculation import speed_from_crush
from crushleg.landing.energy import energy_at, force_at
from crushleg.landing.grid import on_grid_shape

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.girder.crush import Crush
    from crushleg.landing.arrival import LegCurve


class Stopped(NamedTuple):
    """What comes down, and on how many legs alike: mass [kg] and net weight [N]."""

    legs: int
    mass: float
    net_weight: float


class Readings(NamedTuple):
    """Back-calculated from crush; shape (3, n): low, nominal, high force.

    Vertical travel at the bottom [m], work of one leg to there with pad and guide friction [J],
    speed at contact [m/s].
    """

    crush: FloatArray
    travel: FloatArray
    energy: FloatArray
    speed: FloatArray


def read_back(crush: Crush, curve: LegCurve, stopped: Stopped, at: FloatArray) -> Readings:
    """Energy and speed that a crush stands for, first girder.

    All legs are taken to have crushed alike.

    Parameters
    ----------
    crush : Crush
    curve : LegCurve
    stopped : Stopped
    at : ndarray, shape (n,)
        Crush that stays, the same on every leg [m]; beyond the usable stroke its end counts.

    Returns
    -------
    Readings

    Notes
    -----
    Means: Table from measured crush back to energy and speed, all legs alike.
    Formula: v(s) = max over s' ≤ s of √(2 [n E(s') − Wn z(s')]/m)
    Range: Level touchdown, all energy in the legs, crush to the usable stroke.
    Band: Low, nominal and high force of the girder.
    Limits: vehicle.mass, vehicle.legs, vehicle.gravity, thrust_to_weight

    Where the force falls below the weight no mass can stop: the speed that brought it over the
    last crest counts. Legs that crushed unevenly: add their work, and take the mean travel.

    References
    ----------
    [D]
    """
    stroke, force = crush.curve.stroke[:1, None, :], crush.curve.force[:, :1, :]
    s = np.clip(np.asarray(at, dtype=np.float64), 0.0, crush.usable[0])
    (grid, forces), (where,) = on_grid_shape(
        (np.broadcast_to(stroke, (3, len(s), stroke.shape[-1])), force), (s,)
    )
    total = where + force_at(grid, forces, where) / crush.stiffness[0]
    travel = total * curve.forces.travel
    z, v, e = curve.travel[:, :1, :], curve.reaction[:, :1, :], curve.work[:, :1, :]
    energy = energy_at(z, v, e, travel)
    m, n, w = stopped.mass, stopped.legs, stopped.net_weight
    tops = _tops(z[:, 0], v[:, 0], e[:, 0], w / n)
    passed = n * np.maximum(
        np.where(z <= travel[..., None], e - w / n * z, 0.0).max(axis=-1),
        np.where(tops[0][:, None] <= travel[..., None], tops[1][:, None], 0.0).max(axis=-1),
    )
    net = np.maximum(n * energy - w * travel, passed)
    return Readings(s, travel, energy, speed_from_crush(m, 0.0, net, 0.0))


def _tops(
    travel: FloatArray, force: FloatArray, work: FloatArray, weight: float
) -> tuple[FloatArray, FloatArray]:
    """Where inside a piece the force falls through the weight, and the net work to there [J]."""
    gap, run = force - weight, np.diff(travel)
    before, after = gap[:, :-1], gap[:, 1:]
    falls = (before > 0.0) & (after < 0.0)
    u = np.divide(before, before - after, out=np.zeros_like(run), where=falls)
    at = travel[:, :-1] + u * run
    done = work[:, :-1] + np.diff(work) * u - 0.5 * np.diff(force) * run * u * (1.0 - u)
    return at, np.where(falls, done - weight * at, 0.0)


def folds_used(crush: Crush, at: FloatArray) -> FloatArray:
    """Folds that a crush of the first girder has used, any shape; the last counts in part."""
    bounds = crush.folds.stroke[0]
    real = crush.folds.length[0] > 0.0
    ends = np.concatenate([[True], real])
    count = np.arange(ends.sum(), dtype=np.float64)
    return np.interp(at, bounds[ends], count)
