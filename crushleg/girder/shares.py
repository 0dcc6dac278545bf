"""Shares that the holes of whole girders take from the folds at every height.

Only holes near enough to matter are looked at, gathered from all girders of a batch; walls of a
square girder that are drilled alike are computed once.
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.crossing import Hole
from crushleg.girder.hinges import (
    mean_hinge_share,
    mean_sweep_share,
    sweep_share,
    wide_corner_share,
)
from crushleg.girder.holes import mean_chord
from crushleg.girder.short_axis import total

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from crushleg.arrays import BoolArray, FloatArray, IntArray
    from crushleg.girder.front import Walls
    from crushleg.girder.pattern import Girders

LEAST_LEFT = 1e-9


class Shares(NamedTuple):
    """Removed shares at heights (G, M): hinge, and sweep and corner of each pair of walls (2)."""

    hinge: FloatArray
    sweep: FloatArray
    corner: FloatArray

    def ratio(self, sweep: FloatArray, corner: FloatArray) -> FloatArray:
        """Mean force of a drilled fold over that of a plain one, R.

        Holes take from the three works of a fold: corner surface c, horizontal hinges h and
        inclined hinges s. The shares of sweep and corner are given.

        Notes
        -----
        Means: Part R of the mean force that holes leave: a drilled fold over a plain one.
        Formula: R = [(1 − φc)(1 − φh)(1 − φs)]^(1/3)
        Range: Square columns, H as of the plain column; not yet checked by any test of a drilled
        square column. It falls slowly while hole edges keep farther than H from corners, then fast.
        Band: Worst and best of where folds fall against the rows, and of which pair of walls is
        swept; it is one part of the band.

        References
        ----------
        Folding element of T. Wierzbicki, W. Abramowicz, J. Appl. Mech. 50 (1983) 727 [published,
        second-hand]; shares of its works [D]
        """
        left = (1.0 - corner) * (1.0 - self.hinge) * (1.0 - sweep)
        return np.cbrt(np.maximum(left, LEAST_LEFT))


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


def mean_shares(girders: Girders, at: FloatArray, walls: Walls) -> Shares:
    """Phase averages of the shares that holes remove, windows centred on ``at`` (G, M) [m].

    Parameters
    ----------
    girders : Girders
    at : ndarray
        Window centres [m], shape (G, M).
    walls : Walls
        Of the same shape.

    Returns
    -------
    Shares

    Notes
    -----
    Formula: share = Σ t^p × share of each wall and hole / t^p, p = 1 corner, 2 hinges
    Range: Holes within 2H of the window's centre.

    References
    ----------
    [D]; a hole weighs with the wall it is cut in: t in the corner term, t² in the others.
    """
    sides = girders.sides_at(np.sqrt(walls.hinge_wall))
    hinge = np.zeros(at.shape)
    parts = list(_parts(girders, at, walls))
    for _, near in parts:
        chord = mean_hinge_share(*_place(at, walls, near), near.hole)
        hinge += _sum(near, 2.0 * (1.0 + near.twice) * near.wall**2 * chord, at)
    hinge = hinge / (2.0 * (sides[0] + sides[1]) * walls.hinge_wall)
    sweep, corner = _swept(parts, at, walls, single=False)
    return Shares(np.minimum(hinge, 1.0), sweep, corner)


def fold_shares(girders: Girders, p: FloatArray, walls: Walls) -> tuple[FloatArray, FloatArray]:
    """Sweep and corner share of single folds centred on ``p`` (G, M) [m], shape (2, G, M).

    The line the corner surface rides on is a band of ± one wall.
    """
    return _swept(_parts(girders, p, walls), p, walls, single=True)


def hinge_cut(girders: Girders, p: FloatArray, half: FloatArray) -> FloatArray:
    """Hole share of the hinges of single folds centred on ``p`` (G, M) [m]; half length H [m].

    References
    ----------
    [D]; a hinge is a band of ± one wall and weighs with the wall it lies in, t².
    """
    cut, metal = np.zeros(p.shape), np.zeros(p.shape)
    shape = (girders.height, girders.across, girders.along, girders.corner)
    outline = [part[:, None, :] for part in shape]
    faces = 2.0 * girders.pairs.sum(axis=0)[:, None, :]
    for shift, weight in ((-1.0, 0.25), (0.0, 0.5), (1.0, 0.25)):
        z = p + shift * half
        wall = girders.wall_at(z)
        sides = girders.sides_at(wall)
        chord = mean_chord(z[:, :, None], wall[:, :, None], *outline) * faces
        cut += weight * wall**2 * total(chord)
        metal += weight * wall**2 * 2.0 * (sides[0] + sides[1])
    return np.minimum(cut / metal, 1.0)


def _swept(
    parts: Iterable[tuple[int, _Near]], at: FloatArray, walls: Walls, *, single: bool
) -> tuple[FloatArray, FloatArray]:
    """Sweep and corner share of both pairs of walls, holes nearer than H to a corner only."""
    sweep, corner = np.zeros((2, *at.shape)), np.zeros((2, *at.shape))
    sweep_of = sweep_share if single else mean_sweep_share
    for first, near in parts:
        close = near.where(_edge(near.hole) < walls.half[near.girder, near.height])
        z, half = _place(at, walls, close)
        swept = close.wall**2 * sweep_of(z, half, close.hole)
        span = close.wall if single else half
        ridden = close.wall * wide_corner_share(z, half, close.hole, span)
        for pair, weight in ((first, 1.0), (1 - first, close.twice)):
            sweep[pair] += _sum(close, weight * swept, at)
            corner[pair] += _sum(close, weight * ridden, at)
    return (
        np.minimum(sweep / walls.sweep_wall, 1.0),
        np.minimum(corner / walls.corner_wall, 1.0),
    )


def _place(at: FloatArray, walls: Walls, near: _Near) -> tuple[FloatArray, FloatArray]:
    return at[near.girder, near.height], walls.half[near.girder, near.height]


def _parts(girders: Girders, at: FloatArray, walls: Walls) -> Iterator[tuple[int, _Near]]:
    """Parts of holes near ``at``, and in which pair of walls, by wall segment.

    Holes drilled alike in both pairs of a square girder are looked at once, with the first.
    """
    sides = girders.sides_at(np.sqrt(walls.hinge_wall))
    alike = (girders.width == girders.depth)[:, None] & (girders.pairs.min(axis=0) > 0.0)
    edge = 0.5 * girders.along
    reach = 2.0 * walls.half[:, :, None] + edge[:, None, :]
    close = np.abs(at[:, :, None] - girders.height[:, None, :]) < reach
    for segment, pair in product(range(girders.wall.shape[1]), (0, 1)):
        bottom, top = girders.segment(segment)
        drilled = (girders.pairs[pair] > 0.0) & ~(alike & (pair == 1))
        drilled &= girders.height + edge > bottom[:, None]
        drilled &= girders.height - edge < top[:, None]
        if not drilled.any():
            continue
        _, cells, holes = close.shape
        found = np.flatnonzero(close & drilled[:, None, :])
        cell = found // holes
        g = cell // cells
        one = found + (g - cell) * holes
        shape = (girders.height, girders.offset, girders.across, girders.along, girders.corner)
        height, offset, across, along, corner = (part.reshape(-1)[one] for part in shape)
        side = sides[pair].reshape(-1)[cell]
        hole = Hole(height, offset, across, along, corner, side, bottom[g], top[g])
        wall = girders.wall[g, segment]
        twice = alike.reshape(-1)[one].astype(np.float64)
        yield pair, _Near(g, cell - g * cells, hole, wall, twice)


def _edge(hole: Hole) -> FloatArray:
    """Distance of the hole edge from the nearer corner [m]."""
    return 0.5 * hole.side - np.abs(hole.offset) - 0.5 * hole.across


def _sum(near: _Near, values: FloatArray, like: FloatArray) -> FloatArray:
    cell = near.girder * like.shape[1] + near.height
    summed = np.bincount(cell, weights=values, minlength=like.size).astype(np.float64)
    return summed.reshape(like.shape)
