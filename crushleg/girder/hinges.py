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

from typing import NamedTuple

import numpy as np

from crushleg.arrays import FloatArray, floats
from crushleg.girder.holes import area_below, chord

_MEAN = np.polynomial.legendre.leggauss(14)
_ONE_FOLD = np.polynomial.legendre.leggauss(32)
_FULL_SWEEP = 0.5 * (np.sqrt(2.0) + np.arcsinh(1.0))


class Hole(NamedTuple):
    """Arrays of holes [m]: centre height and sideways offset, sizes, corner radius, wall side C."""

    height: FloatArray
    offset: FloatArray
    across: FloatArray
    along: FloatArray
    corner: FloatArray
    side: FloatArray

    @property
    def outline(self) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """Height, sizes and corner radius, as :mod:`crushleg.girder.holes` takes them."""
        return self.height, self.across, self.along, self.corner


def corner_weight(u: FloatArray) -> FloatArray:
    r"""Work rate of the corner surface when it has travelled ``u`` H along the middle hinge.

    .. math:: w(u) = \sin(\beta/2) + 1 - \cos(\beta/2), \quad
              \beta = \arctan(\sqrt 2 \tan\alpha), \quad u = \sin\alpha

    Parameters
    ----------
    u : array_like
        Travelled fraction [-], 0 at the corner, 1 when the fold is closed.

    Returns
    -------
    ndarray
        Relative weight [-].

    References
    ----------
    [D] kinematics of the element of Wierzbicki & Abramowicz (1983).

    Examples
    --------
    >>> float(corner_weight(1.0))
    1.0
    """
    (u,) = floats(u)
    cos_beta = np.sqrt((1.0 - u * u) / (1.0 + u * u))
    return np.sqrt(0.5 * (1.0 - cos_beta)) + 1.0 - np.sqrt(0.5 * (1.0 + cos_beta))


def _corner_table(count: int) -> tuple[FloatArray, FloatArray]:
    """Nodes u, dense near 1, and the corner work done from 0 to each, over the whole."""
    s = np.linspace(1.0, 0.0, count)
    rate = corner_weight(1.0 - s * s) * 2.0 * s
    middle = 0.5 * (s[1:] + s[:-1])
    rate_middle = corner_weight(1.0 - middle * middle) * 2.0 * middle
    steps = (rate[:-1] + 4.0 * rate_middle + rate[1:]) * (s[:-1] - s[1:]) / 6.0
    work = np.concatenate([[0.0], np.cumsum(steps)])
    return 1.0 - s * s, work / work[-1]


_TRAVEL, _WORK = _corner_table(4001)


def corner_work(u: FloatArray) -> FloatArray:
    """Share of the corner work done while the corner surface travels from 0 to ``u`` H.

    ``u`` [-] is clipped to 0 … 1; the result rises from 0 to 1.

    References
    ----------
    [D] integral of :func:`corner_weight`, by table (Simpson, 4001 nodes).

    Examples
    --------
    >>> round(1.0 - float(corner_work(0.3 / 0.32)), 3)
    0.135
    """
    return np.interp(u, _TRAVEL, _WORK)


def sweep_work(u: FloatArray) -> FloatArray:
    r"""Length swept by an inclined hinge per unit of fold height, from 0 to ``u``.

    .. math:: G(u) = \int_0^u \sqrt{1+u^2}\,du

    ``u`` [-] is clipped to 0 … 1.

    References
    ----------
    [D]

    Examples
    --------
    >>> round(float(sweep_work(1.0)), 4)
    1.1478
    """
    u = np.clip(u, 0.0, 1.0)
    return 0.5 * (u * np.sqrt(1.0 + u * u) + np.arcsinh(u))


def _sweep_integral(x: FloatArray, top: FloatArray) -> FloatArray:
    """Integral of G(min(x/v, 1)) dv for v from 0 to ``top``, closed form."""
    x = np.maximum(x, 1e-12)
    u = np.minimum(x / np.maximum(top, x), 1.0)
    primitive = -np.sqrt(1.0 + u * u) + 2.0 * np.arcsinh(1.0 / u) + np.arcsinh(u) / u
    at_one = -np.sqrt(2.0) + 3.0 * np.arcsinh(1.0)
    return _FULL_SWEEP * np.minimum(x, top) + 0.5 * x * (primitive - at_one)


class _Nodes(NamedTuple):
    """Heights inside a hole, weights, and the hole edges seen from one corner; last axis."""

    z: FloatArray
    weight: FloatArray
    near: FloatArray
    far: FloatArray


def _reach(hole: Hole, near: FloatArray) -> FloatArray:
    """Height above its centre up to which a hole is wider than 2 ``near``."""
    inward = np.clip(near - (0.5 * hole.across - hole.corner), 0.0, hole.corner)
    straight = 0.5 * hole.along - hole.corner
    reach = straight + np.sqrt(np.maximum(hole.corner**2 - inward**2, 0.0))
    return np.where(near < 0.5 * hole.across, reach, 0.0)


def _nodes(
    hole: Hole, half: FloatArray, span: FloatArray, at: FloatArray, rule: tuple[FloatArray, ...]
) -> list[_Nodes]:
    """Quadrature over heights within ± ``span`` of ``at`` where hole edges reach below H."""
    found = []
    chord_of = [part[..., None] for part in hole.outline]
    for centre in (0.5 * hole.side + hole.offset, 0.5 * hole.side - hole.offset):
        reach = _reach(hole, centre - half)
        radius = np.where(reach > 0.0, reach, 1.0)
        bottom = np.arcsin(np.clip((at - span - hole.height) / radius, -1.0, 1.0))
        top = np.arcsin(np.clip((at + span - hole.height) / radius, -1.0, 1.0))
        arc = 0.5 * np.maximum(top - bottom, 0.0)[..., None]
        angle = 0.5 * (top + bottom)[..., None] + arc * rule[0]
        z = hole.height[..., None] + radius[..., None] * np.sin(angle)
        weight = arc * rule[1] * reach[..., None] * np.cos(angle)
        width = 0.5 * chord(z, *chord_of)
        found.append(_Nodes(z, weight, centre[..., None] - width, centre[..., None] + width))
    return found


def hinge_share(p: FloatArray, half: FloatArray, hole: Hole) -> FloatArray:
    """Hole on the horizontal hinges of a fold centred on ``p``: ½ middle, ¼ each end.

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

    References
    ----------
    [D]
    """
    lines = [chord(p + shift * half, *hole.outline) for shift in (-1.0, 0.0, 1.0)]
    return 0.25 * lines[0] + 0.5 * lines[1] + 0.25 * lines[2]


def mean_hinge_share(z: FloatArray, half: FloatArray, hole: Hole) -> FloatArray:
    r"""Phase average of :func:`hinge_share`, closed form.

    .. math:: \tfrac12 A(z-H, z+H)/(2H) + \tfrac12 A(z-2H, z+2H)/(4H)

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

    References
    ----------
    [D]
    """
    total = np.zeros(np.broadcast(z, half, hole.height).shape)
    for reach in (half, 2.0 * half):
        area = area_below(z + reach, *hole.outline) - area_below(z - reach, *hole.outline)
        total = total + 0.5 * area / (2.0 * reach)
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

    References
    ----------
    [D]
    """
    width = 0.5 * chord(p, *hole.outline)
    total = np.zeros(np.broadcast(p, half, hole.height).shape)
    for x in (0.5 * hole.side + hole.offset, 0.5 * hole.side - hole.offset):
        total += 0.5 * (corner_work((x + width) / half) - corner_work((x - width) / half))
    return total


def mean_corner_share(z: FloatArray, half: FloatArray, hole: Hole) -> FloatArray:
    """Phase average of :func:`corner_share` over fold centres within ± H of ``z``.

    Parameters, result and reference as there.
    """
    total = np.zeros(np.broadcast(z, half, hole.height).shape)
    for at in _nodes(hole, half, half, z, _MEAN):
        h = half[..., None]
        work = corner_work(at.far / h) - corner_work(at.near / h)
        total += 0.5 * (work * at.weight).sum(axis=-1)
    return total / (2.0 * half)


def sweep_share(p: FloatArray, half: FloatArray, hole: Hole) -> FloatArray:
    r"""Share of the inclined-hinge work, mean of both corners, fold centred on ``p``.

    The hinge passes the points x = u (H − |ζ|), z = p + ζ, with u from 0 to 1:

    .. math:: \iint \mathrm{hole}\,\sqrt{1+u^2}\,d\zeta\,du \Big/ \iint \sqrt{1+u^2}\,d\zeta\,du

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

    References
    ----------
    [D]; the u-integral in closed form.
    """
    total = np.zeros(np.broadcast(p, half, hole.height).shape)
    for at in _nodes(hole, half, half, p, _ONE_FOLD):
        reach = np.maximum(half[..., None] - np.abs(at.z - p[..., None]), 1e-12)
        work = sweep_work(at.far / reach) - sweep_work(at.near / reach)
        total += 0.5 * (work * at.weight).sum(axis=-1)
    return total / (2.0 * half * _FULL_SWEEP)


def mean_sweep_share(z: FloatArray, half: FloatArray, hole: Hole) -> FloatArray:
    """Phase average of :func:`sweep_share` over fold centres within ± H of ``z``.

    Parameters, result and reference as there; the integrals over u and phase in closed form.
    """
    total = np.zeros(np.broadcast(z, half, hole.height).shape)
    h = half[..., None]
    for at in _nodes(hole, half, 2.0 * half, z, _MEAN):
        away = np.abs(at.z - z[..., None])
        work = _swept(at.far, h, away) - _swept(at.near, h, away)
        total += 0.5 * (work * at.weight).sum(axis=-1)
    return total / (4.0 * half * half * _FULL_SWEEP)


def _swept(x: FloatArray, half: FloatArray, away: FloatArray) -> FloatArray:
    inside = 2.0 * _sweep_integral(x, half) - _sweep_integral(x, np.minimum(away, half))
    outside = _sweep_integral(x, np.maximum(2.0 * half - away, 0.0))
    return np.where(away < half, inside, outside)
