r"""What holes take from one fold: shares of its hinge, sweep and corner work.

The folding element is that of T. Wierzbicki, W. Abramowicz, J. Appl. Mech. 50 (1983) 727: two
half folds of length H with horizontal hinges at z = −H, 0, +H, inclined hinges that sweep out
from the corner, and a corner surface that rides along the middle hinge. Each energy loses the
share of its line of work that is hole [D]; no test of a drilled square column has checked it.

``*_share`` is the share at a fold centred on ``p``; ``mean_*_share`` its average over all fold
centres within ± H of ``z``, since where folds fall against rows is not known. Shares are those
of one wall with one hole; the walls and holes of a section add up.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from crushleg.girder.crossing import (
    FOLD_RULE,
    Hole,
    Nodes,
    corners_of,
    crossed,
    nodes_near,
    reach_near,
)
from crushleg.girder.element import FULL_SWEEP, corner_work, sweep_integral, sweep_work
from crushleg.girder.holes import chord

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray


def hinge_share(p: FloatArray, half: FloatArray, hole: Hole) -> FloatArray:
    """Hole on the horizontal hinges of a fold centred on ``p``.

    Parameters
    ----------
    p, half : ndarray
        Fold centre and half length H [m].
    hole : Hole
        Broadcasts with ``p``.

    Returns
    -------
    ndarray
        Mean chord [m]; over the perimeter it is the share.

    Notes
    -----
    Formula: φh U = ¼ c(p − H) + ½ c(p) + ¼ c(p + H)

    c is the chord of the hole and U the perimeter.

    References
    ----------
    [D]
    """
    lines = [hole.chord(p + shift * half) for shift in (-1.0, 0.0, 1.0)]
    return 0.25 * lines[0] + 0.5 * lines[1] + 0.25 * lines[2]


def mean_hinge_share(z: FloatArray, half: FloatArray, hole: Hole) -> FloatArray:
    """Share of the horizontal hinges that is hole, φh, phase average.

    Where folds fall against rows is not known: the mean of :func:`hinge_share` over fold centres
    within ± H, in closed form. Over the perimeter it is the share.

    Parameters
    ----------
    z, half : ndarray
        Window centre and half fold length H [m].
    hole : Hole
        Broadcasts with ``z``.

    Returns
    -------
    ndarray
        Mean chord [m].

    Notes
    -----
    Means: Part φh of the horizontal hinges of a fold that is hole.
    Formula: φh U = ½ A(z − H, z + H)/(2H) + ½ A(z − 2H, z + 2H)/(4H)
    Band: Nominal is the mean over phase; the band carries the least and most.

    A is the area of hole between two heights, U the perimeter.

    References
    ----------
    [D]
    """
    total = np.zeros(np.broadcast(z, half, hole.height).shape)
    for reach in (half, 2.0 * half):
        total = total + 0.5 * hole.area(z - reach, z + reach) / (2.0 * reach)
    return total


def corner_share(p: FloatArray, half: FloatArray, hole: Hole) -> FloatArray:
    """Share of the corner work, mean of both corners of the wall, fold centred on ``p``.

    Parameters
    ----------
    p, half : ndarray
        Fold centre and half length H [m].
    hole : Hole
        Broadcasts with ``p``.

    Returns
    -------
    ndarray
        Share [-] of a wall that both its corners sweep.

    Notes
    -----
    Formula: φc = W((x + ½c)/H) − W((x − ½c)/H), mean of both corners

    x is the distance of the hole's centre from the corner, c its chord on the middle hinge, W the
    corner work of :func:`crushleg.girder.element.corner_work`.

    References
    ----------
    [D]
    """
    width = 0.5 * hole.chord(p)
    total = np.zeros(np.broadcast(p, half, hole.height).shape)
    corners = corners_of(hole)
    for x in corners:
        gone = corner_work((x + width) / half) - corner_work((x - width) / half)
        total += gone / len(corners)
    return total


def wide_corner_share(p: FloatArray, half: FloatArray, hole: Hole, width: FloatArray) -> FloatArray:
    """Share of the corner work that is hole, φc, over fold centres within ± ``width`` of ``p``.

    Average of :func:`corner_share`; the phase average has ``width`` = H [m]. Other parameters and
    result as there.

    Notes
    -----
    Means: Part φc of the corner work that is hole.
    Formula: φc = 1/(2H) ∫ φc(p) dp, p from z − H to z + H
    Range: Zero while no hole edge comes nearer than H to a corner: from there on mean force really
    falls.
    Band: Nominal is the mean over phase and pairs; the band carries the worse and the better pair.

    References
    ----------
    [D]
    """
    total = np.zeros(p.shape)
    corners = corners_of(hole)
    for centre in corners:
        at = nodes_near(hole, centre, reach_near(hole, centre - half), p - width, p + width)
        h = half[at.rows]
        work = corner_work(at.far / h) - corner_work(at.near / h)
        total[at.rows] += (work * at.weight).sum(axis=0)
    return total / (2.0 * len(corners) * width)


def sweep_share(p: FloatArray, half: FloatArray, hole: Hole) -> FloatArray:
    """Share of the inclined-hinge work, mean of both corners, fold centred on ``p``.

    The hinge passes the points x = u (H − |ζ|), z = p + ζ, with u from 0 to 1.

    Parameters
    ----------
    p, half : ndarray
        Fold centre and half length H [m].
    hole : Hole
        Broadcasts with ``p``.

    Returns
    -------
    ndarray
        Share [-] of a wall that both its corners sweep.

    Notes
    -----
    Formula: φs = ∬ hole √(1+u²) dζ du / ∬ √(1+u²) dζ du

    References
    ----------
    [D]; the u-integral in closed form.
    """
    total = np.zeros(np.broadcast(p, half, hole.height).shape)
    corners = corners_of(hole)
    for centre in corners:
        low, high = crossed(hole, p, centre - half)
        for bottom, top in ((low, np.clip(p, low, high)), (np.clip(p, low, high), high)):
            z = 0.5 * (bottom + top)[..., None] + 0.5 * (top - bottom)[..., None] * FOLD_RULE[0]
            weight = 0.5 * (top - bottom)[..., None] * FOLD_RULE[1]
            width = 0.5 * chord(z, *(part[..., None] for part in hole.outline))
            reach = np.maximum(half[..., None] - np.abs(z - p[..., None]), 1e-12)
            near, far = centre[..., None] - width, centre[..., None] + width
            work = sweep_work(far / reach) - sweep_work(near / reach)
            total += (work * weight).sum(axis=-1) / len(corners)
    return total / (2.0 * half * FULL_SWEEP)


def mean_sweep_share(z: FloatArray, half: FloatArray, hole: Hole) -> FloatArray:
    """Share of the inclined-hinge work that is hole, φs, phase average.

    Mean of :func:`sweep_share` over fold centres within ± H of ``z``. Parameters and result as
    there, all of shape (P,); the integrals over u and phase in closed form.

    Notes
    -----
    Means: Part φs of the inclined hinges' work that is hole.
    Formula: φs = 1/(2H) ∫ φs(p) dp, p from z − H to z + H
    Range: Holes whose edge is nearer than H to a corner; two opposite walls are swept at both ends,
    the pairs alternate: half of each on average.
    Band: Nominal is the mean over phase and pairs; the band carries the worse and the better pair.

    References
    ----------
    [D]
    """
    total = np.zeros(z.shape)
    near = np.clip(0.5 * (hole.side - hole.across) - np.abs(hole.offset), 0.0, half)
    kinks = (near - 2.0 * half, -half, -near, np.zeros_like(near), near, half, 2.0 * half - near)
    corners = corners_of(hole)
    for centre in corners:
        reach = reach_near(hole, centre - half)
        one = np.zeros(z.shape)
        for low, high in pairwise(kinks):
            at = nodes_near(hole, centre, reach, z + low, z + high)
            one[at.rows] += _swept_between(at, np.abs(at.z - z[at.rows]), half[at.rows])
        total += one
    return total / (4.0 * len(corners) * half * half * FULL_SWEEP)


def _swept_between(at: Nodes, away: FloatArray, half: FloatArray) -> FloatArray:
    """Work of the hole between its edges, summed over the nodes ``away`` from the centre."""
    if np.all(at.far >= half):
        far = FULL_SWEEP * np.maximum(2.0 * half - away, 0.0)
    else:
        far = _swept(at.far, half, away)
    return np.asarray(((far - _swept(at.near, half, away)) * at.weight).sum(axis=0))


def _swept(x: FloatArray, half: FloatArray, away: FloatArray) -> FloatArray:
    inside = away < half
    part = sweep_integral(x, np.where(inside, away, np.maximum(2.0 * half - away, 0.0)))
    if not inside.any():
        return part
    return np.where(inside, 2.0 * sweep_integral(x, half) - part, part)
