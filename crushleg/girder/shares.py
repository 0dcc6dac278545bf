"""Shares that the holes of whole girders take from the folds at every height.

Only holes near enough to matter are looked at, gathered from all girders of a batch; walls of a
square girder that are drilled alike are computed once.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.crossing import Hole
from crushleg.girder.hinges import (
    corner_share,
    hinge_share,
    mean_corner_share,
    mean_hinge_share,
    mean_sweep_share,
    sweep_share,
)
from crushleg.girder.windows import box_average

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray, IntArray
    from crushleg.girder.front import Walls
    from crushleg.girder.pattern import Girders


class Shares(NamedTuple):
    """Removed shares at heights (G, M): hinge, and sweep and corner of each pair of walls (2)."""

    hinge: FloatArray
    sweep: FloatArray
    corner: FloatArray

    def ratio(self, sweep: FloatArray, corner: FloatArray) -> FloatArray:
        """R = [(1−φc)(1−φh)(1−φs)]^(1/3) with the given sweep and corner shares."""
        left = (1.0 - corner) * (1.0 - self.hinge) * (1.0 - sweep)
        return np.cbrt(np.maximum(left, 0.0))


class _Near(NamedTuple):
    """Holes near heights of girders, flat: indices, hole, wall thickness, drilled alike twice."""

    girder: IntArray
    height: IntArray
    hole: Hole
    wall: FloatArray
    twice: FloatArray

    def where(self, keep: BoolArray) -> _Near:
        hole = Hole(*[field[keep] for field in self.hole])
        return _Near(self.girder[keep], self.height[keep], hole, self.wall[keep], self.twice[keep])


def removed_shares(girders: Girders, at: FloatArray, walls: Walls, *, averaged: bool) -> Shares:
    """Shares removed at ``at`` (G, M) [m]: phase averages, or of one fold centred there.

    Parameters
    ----------
    girders : Girders
    at : ndarray
        Fold centres, or centres of the averaging window [m], shape (G, M).
    walls : Walls
        Of the same shape.
    averaged : bool
        Average over where folds fall.

    Returns
    -------
    Shares

    References
    ----------
    [D]; a hole weighs with the wall it is cut in: t in the corner term, t² in the others.
    """
    sides = girders.sides_at(np.sqrt(walls.hinge_wall))
    around = 2.0 * (sides[0] + sides[1])
    hinge = np.zeros(at.shape)
    sweep, corner = np.zeros((2, *at.shape)), np.zeros((2, *at.shape))
    hinge_of = mean_hinge_share if averaged else hinge_share
    sweep_of = mean_sweep_share if averaged else sweep_share
    corner_of = mean_corner_share if averaged else corner_share
    for pair, side in enumerate(sides):
        near = _near(girders, at, walls.half, side, pair)
        half = walls.half[near.girder, near.height]
        chord = hinge_of(at[near.girder, near.height], half, near.hole)
        hinge += _sum(near, 2.0 * (1.0 + near.twice) * near.wall**2 * chord, at)
        near = near.where(_edge(near.hole) < half)
        z, half = at[near.girder, near.height], walls.half[near.girder, near.height]
        swept = near.wall**2 * sweep_of(z, half, near.hole)
        ridden = near.wall * corner_of(z, half, near.hole)
        for other, weight in ((pair, 1.0), (1 - pair, near.twice)):
            sweep[other] += _sum(near, weight * swept, at)
            corner[other] += _sum(near, weight * ridden, at)
    taken = (
        hinge / (around * walls.hinge_wall),
        sweep / walls.sweep_wall,
        corner / walls.corner_wall,
    )
    return Shares(*(np.minimum(share, 1.0) for share in taken))


def _near(girders: Girders, at: FloatArray, half: FloatArray, side: FloatArray, pair: int) -> _Near:
    """Holes of a pair of walls within reach of a fold; those drilled alike in both only once."""
    alike = (girders.width == girders.depth)[:, None] & (girders.pairs.min(axis=0) > 0.0)
    drilled = (girders.pairs[pair] > 0.0) & ~(alike & (pair == 1))
    reach = 2.0 * half[:, :, None] + 0.5 * girders.along[:, None, :]
    close = np.abs(at[:, :, None] - girders.height[:, None, :]) < reach
    g, m, n = np.nonzero(close & drilled[:, None, :])
    wall = box_average(
        girders.wall, girders.wall_start, girders.height, np.maximum(0.5 * girders.along, 1e-6)
    )
    hole = Hole(
        girders.height[g, n],
        girders.offset[g, n],
        girders.across[g, n],
        girders.along[g, n],
        girders.corner[g, n],
        side[g, m],
    )
    return _Near(g, m, hole, wall[g, n], alike[g, n].astype(np.float64))


def _edge(hole: Hole) -> FloatArray:
    """Distance of the hole edge from the nearer corner [m]."""
    return 0.5 * hole.side - np.abs(hole.offset) - 0.5 * hole.across


def _sum(near: _Near, values: FloatArray, like: FloatArray) -> FloatArray:
    cell = near.girder * like.shape[1] + near.height
    total = np.bincount(cell, weights=values, minlength=like.size).astype(np.float64)
    return total.reshape(like.shape)
