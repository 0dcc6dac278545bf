r"""The folding front: mean force at every height, with holes, wall steps and phase.

.. math:: F(z) = P_{m,plain}(t(z))\,\bar R(z), \qquad
          R = [(1-\varphi_c)(1-\varphi_h)(1-\varphi_s)]^{1/3}

[D] derived; H stays at its plain value, so that removing metal never strengthens.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.bands import mean_force_band
from crushleg.girder.modes import plain_fold
from crushleg.girder.pattern import levels, nominal
from crushleg.girder.shares import LEAST_LEFT, Shares, fold_shares, hinge_cut, mean_shares
from crushleg.girder.windows import (
    CELLS,
    box_average,
    cell_centres,
    least_between,
    triangle_average,
)

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.girder.pattern import Girders

FINER = 2


class Walls(NamedTuple):
    """Undrilled girder at heights (G, M): H [m], η, window means of t, t² [m, m2], force [N]."""

    half: FloatArray
    crushed: FloatArray
    corner_wall: FloatArray
    hinge_wall: FloatArray
    sweep_wall: FloatArray
    plain_force: FloatArray


class Front(NamedTuple):
    """Mean force against height, cell centres ``z`` (G, M); force (3, G, M) [N]."""

    z: FloatArray
    walls: Walls
    shares: Shares
    ratio: FloatArray
    force: FloatArray
    banded: bool = True


def folding_front(girders: Girders) -> Front:
    """Mean folding force of every cell of height, low, nominal and high.

    Parameters
    ----------
    girders : Girders

    Returns
    -------
    Front

    Notes
    -----
    Means: Mean force Pm of a fold over its own stroke: plain column, holes and wall steps in it.
    Formula: Pm(z) = P_m,plain(t(z)) × R(z) × force factor
    Formula: low, high = Pm exp(∓ r)
    Range: C/t 7.5 to 100, d/C to 0.6, webs of 2 t; what holes take is not checked by any test of a
    drilled square column.
    Band: Alloy, model, wall tolerance and phase by root-sum-square in logs, about 95 % two-sided:
    see band.
    Limits: girder.correlation brings the force factor, 1 without

    H stays at its plain value, so that removing metal never strengthens.

    References
    ----------
    Effect of holes and steps [D]; plain force: W. Abramowicz, N. Jones, Int. J. Impact Eng. 2
    (1984) 179 and 4 (1986) 243 [from memory]
    """
    z = cell_centres(girders.length)
    walls = plain_walls(girders, z)
    centre = window_centre(z, walls.half, girders.length)
    shares = mean_shares(girders, centre, walls)
    ratio = shares.ratio(shares.sweep.mean(axis=0), shares.corner.mean(axis=0))
    middle = walls.plain_force * ratio * girders.force_factor[:, None]
    if not girders.banded:
        return Front(z, walls, shares, ratio, levels(girders, middle), banded=False)
    least, most = phase_extremes(girders, centre, walls, ratio)
    down, up = mean_force_band(
        girders.flow_stress,
        girders.wall_tolerance,
        girders.wall_at(z),
        shares.hinge,
        girders.test_scatter,
        (least, ratio, most),
    )
    force = np.stack([middle * np.exp(-down), middle, middle * np.exp(up)])
    return Front(z, walls, shares, ratio, force)


def window_centre(z: FloatArray, half: FloatArray, length: FloatArray) -> FloatArray:
    """Centre of the averaging window [m]: clip(z, 2H, L − 2H); L/2 for a girder shorter than 4H."""
    end = length[:, None]
    low = np.minimum(2.0 * half, 0.5 * end)
    return np.clip(z, low, end - low)


def plain_walls(girders: Girders, z: FloatArray) -> Walls:
    """Undrilled girder with wall steps at heights ``z`` (G, M) [m]; without any, alike at all."""
    if girders.wall.shape[1] > 1:
        return _stepped_walls(girders, z)
    one = _stepped_walls(girders, z[:, :1])
    return Walls(*(np.broadcast_to(field, z.shape) for field in one))


def _stepped_walls(girders: Girders, z: FloatArray) -> Walls:
    t, start = girders.wall, girders.wall_start
    mean_side = 0.5 * (girders.width + girders.depth)[:, None]
    flow_stress = nominal(girders.flow_stress)[:, None]
    segment = plain_fold(mean_side - t, t, flow_stress)
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
    force = plain_fold(mean_side - equal, equal, flow_stress).force
    return Walls(half, crushed, corner, hinge, sweep, force)


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

    Notes
    -----
    Formula: r_phase = ln(R/R_least) down, ln(R_most/R) up

    Hinge lines enter a hole abruptly and are cut on a grid of their own, finer than the cells.

    References
    ----------
    [D]
    """
    fine = cell_centres(girders.length, FINER * CELLS)
    walls_there = plain_walls(girders, fine)
    sweep, corner = fold_shares(girders, fine, walls_there)
    hinge = hinge_cut(girders, fine, walls_there.half)
    ends = centre - walls.half, centre + walls.half
    found = []
    for sign, choose in ((1.0, np.max), (-1.0, np.min)):
        left = (1.0 - choose(sweep, axis=0)) * (1.0 - choose(corner, axis=0)) * (1.0 - hinge)
        single = np.cbrt(np.maximum(left, LEAST_LEFT))
        found.append(sign * least_between(sign * single, girders.length, *ends))
    return np.minimum(found[0], ratio), np.maximum(found[1], ratio)
