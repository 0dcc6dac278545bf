r"""The folding front: mean force at every height, with holes, wall steps and phase.

.. math:: F(z) = P_{m,plain}(t(z))\,\bar R(z), \qquad
          R = [(1-\varphi_c)(1-\varphi_h)(1-\varphi_s)]^{1/3}

[D] derived; H stays at its plain value, so that removing metal never strengthens.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.bands import mean_force_band
from crushleg.girder.hinges import (
    Hole,
    corner_share,
    hinge_share,
    mean_corner_share,
    mean_hinge_share,
    mean_sweep_share,
    sweep_share,
)
from crushleg.girder.modes import plain_fold
from crushleg.girder.windows import (
    CELLS,
    box_average,
    cell_centres,
    on_cells,
    triangle_average,
)

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.girder.pattern import Girders

PHASES = np.linspace(-1.0, 1.0, 17)


class Walls(NamedTuple):
    """Undrilled girder at heights (G, M): H [m], η, window means of t, t² [m, m2], force [N]."""

    half: FloatArray
    crushed: FloatArray
    corner_wall: FloatArray
    hinge_wall: FloatArray
    sweep_wall: FloatArray
    plain_force: FloatArray


class Shares(NamedTuple):
    """Removed shares at heights (G, M): hinge, and sweep and corner of each pair of walls (2)."""

    hinge: FloatArray
    sweep: FloatArray
    corner: FloatArray

    def ratio(self, sweep: FloatArray, corner: FloatArray) -> FloatArray:
        """R = [(1−φc)(1−φh)(1−φs)]^(1/3) with the given sweep and corner shares."""
        left = (1.0 - corner) * (1.0 - self.hinge) * (1.0 - sweep)
        return np.cbrt(np.maximum(left, 0.0))


class Front(NamedTuple):
    """Mean force against height, cell centres ``z`` (G, M); force (3, G, M) [N]."""

    z: FloatArray
    walls: Walls
    shares: Shares
    ratio: FloatArray
    force: FloatArray


def folding_front(girders: Girders) -> Front:
    """Mean folding force of every cell of height, low, nominal and high.

    Parameters
    ----------
    girders : Girders

    Returns
    -------
    Front

    References
    ----------
    [D]; plain force [AJ84].
    """
    z = cell_centres(girders.length)
    walls = plain_walls(girders, z)
    centre = window_centre(z, walls.half, girders.length)
    shares = removed_shares(girders, centre, walls, averaged=True)
    ratio = shares.ratio(shares.sweep.mean(axis=0), shares.corner.mean(axis=0))
    nominal = walls.plain_force * ratio * girders.force_factor[:, None]
    least, most = phase_extremes(girders, centre, walls, ratio)
    down, up = mean_force_band(
        girders.flow_stress,
        girders.wall_tolerance,
        girders.wall_at(z),
        shares.hinge,
        girders.test_scatter,
        np.log(ratio / least),
        np.log(most / ratio),
    )
    force = np.stack([nominal * np.exp(-down), nominal, nominal * np.exp(up)])
    return Front(z, walls, shares, ratio, force)


def window_centre(z: FloatArray, half: FloatArray, length: FloatArray) -> FloatArray:
    """Centre of the averaging window [m]: clip(z, 2H, L − 2H); L/2 for a girder shorter than 4H."""
    end = length[:, None]
    low = np.minimum(2.0 * half, 0.5 * end)
    return np.clip(z, low, end - low)


def plain_walls(girders: Girders, z: FloatArray) -> Walls:
    """Undrilled girder with wall steps at heights ``z`` (G, M) [m]."""
    t, start = girders.wall, girders.wall_start
    mean_side = 0.5 * (girders.width + girders.depth)[:, None]
    segment = plain_fold(mean_side - t, t, girders.flow_stress[1][:, None])
    reach = np.broadcast_to(segment.half_length[:, :1], z.shape)
    half = box_average(segment.half_length, start, z, reach)
    crushed = box_average(segment.crushed, start, z, reach)
    centre = window_centre(z, half, girders.length)
    corner = box_average(t, start, centre, half)
    hinge = 0.5 * (
        box_average(t * t, start, centre, half) + box_average(t * t, start, centre, 2.0 * half)
    )
    sweep = triangle_average(t * t, start, centre, half)
    equal = (corner * hinge * sweep) ** 0.2
    force = plain_fold(mean_side - equal, equal, girders.flow_stress[1][:, None]).force
    return Walls(half, crushed, corner, hinge, sweep, force)


def removed_shares(girders: Girders, at: FloatArray, walls: Walls, *, averaged: bool) -> Shares:
    """Shares removed at ``at`` (G, M) [m]: phase averages, or of one fold centred there."""
    hinge_of, sweep_of, corner_of = (
        (mean_hinge_share, mean_sweep_share, mean_corner_share)
        if averaged
        else (hinge_share, sweep_share, corner_share)
    )
    mean_wall = np.sqrt(walls.hinge_wall)
    sides = girders.sides_at(mean_wall)
    around = 2.0 * (sides[0] + sides[1])
    hinge = np.zeros(at.shape)
    sweep, corner = np.zeros((2, *at.shape)), np.zeros((2, *at.shape))
    thickness = box_average(
        girders.wall, girders.wall_start, girders.height, np.maximum(0.5 * girders.along, 1e-6)
    )
    for pair, side in enumerate(sides):
        near = np.abs(at[:, :, None] - girders.height[:, None, :]) < (
            2.0 * walls.half[:, :, None] + 0.5 * girders.along[:, None, :]
        )
        g, m, n = np.nonzero(near & (girders.pairs[pair][:, None, :] > 0.0))
        hole = Hole(
            girders.height[g, n],
            girders.offset[g, n],
            girders.across[g, n],
            girders.along[g, n],
            girders.corner[g, n],
            side[g, m],
        )
        z, half, t = at[g, m], walls.half[g, m], thickness[g, n]
        cell = g * at.shape[1] + m
        square = t * t
        hinge += _sum(cell, 2.0 * square * hinge_of(z, half, hole), at) / (
            around * walls.hinge_wall
        )
        sweep[pair] = _sum(cell, square * sweep_of(z, half, hole), at) / walls.sweep_wall
        corner[pair] = _sum(cell, t * corner_of(z, half, hole), at) / walls.corner_wall
    return Shares(*(np.minimum(share, 1.0) for share in (hinge, sweep, corner)))


def _sum(cell: FloatArray, values: FloatArray, like: FloatArray) -> FloatArray:
    total = np.bincount(cell, weights=values, minlength=like.size).astype(np.float64)
    return total.reshape(like.shape)


def phase_extremes(
    girders: Girders, centre: FloatArray, walls: Walls, ratio: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Least and most R over where a fold may fall within ± H, and over which pair is swept.

    Parameters
    ----------
    girders : Girders
    centre, ratio : ndarray
        Window centres [m] and the phase average of R, shape (G, M).
    walls : Walls

    Returns
    -------
    tuple of ndarray
        Least (worse pair of walls swept) and most (better pair), never inside ``ratio``.
    """
    spots = cell_centres(girders.length, CELLS // 2)
    one = removed_shares(girders, spots, plain_walls(girders, spots), averaged=False)
    worse = one.ratio(one.sweep.max(axis=0), one.corner.max(axis=0))
    better = one.ratio(one.sweep.min(axis=0), one.corner.min(axis=0))
    phases = centre[:, :, None] + walls.half[:, :, None] * PHASES
    least = on_cells(worse, girders.length, phases).min(axis=-1)
    most = on_cells(better, girders.length, phases).max(axis=-1)
    return np.minimum(least, ratio), np.maximum(most, ratio)
