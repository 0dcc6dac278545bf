"""Kinematics of the folding element: how corner surface and inclined hinges sweep a wall.

T. Wierzbicki, W. Abramowicz, J. Appl. Mech. 50 (1983) 727 (published, second-hand); the shares
of work along the sweep are derived [D] from its kinematics.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

FULL_SWEEP = 0.5 * (np.sqrt(2.0) + np.arcsinh(1.0))


def corner_weight(u: ArrayLike) -> FloatArray:
    """Work rate of the corner surface when it has travelled ``u`` H along the middle hinge.

    Parameters
    ----------
    u : array_like
        Travelled fraction [-], 0 at the corner, 1 when the fold is closed.

    Returns
    -------
    ndarray
        Relative weight [-].

    Notes
    -----
    Formula: w(u) = sin(β/2) + 1 − cos(β/2)
    Formula: β = arctan(√2 tan α), u = sin α
    Range: α is the fold angle, 90° when the fold is closed.

    References
    ----------
    [D] kinematics of the element of Wierzbicki & Abramowicz (1983).

    Examples
    --------
    >>> round(float(corner_weight(1.0)), 9)
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


_INTERVALS = 4000
_TRAVEL, _WORK = _corner_table(_INTERVALS + 1)
_RATE = np.diff(_WORK) / np.diff(_TRAVEL)


def corner_work(u: FloatArray) -> FloatArray:
    """Share of the corner work done while the corner surface travels from 0 to ``u`` H.

    ``u`` [-] is clipped to 0 … 1; the result rises from 0 to 1.

    Notes
    -----
    Formula: W(u) = ∫ w du from 0 to u, over that from 0 to 1

    References
    ----------
    [D] integral of :func:`corner_weight`, by table (Simpson, 4001 nodes).

    Examples
    --------
    >>> round(1.0 - float(corner_work(0.3 / 0.32)), 3)
    0.135
    """
    u = np.clip(u, 0.0, 1.0)
    before = np.minimum((1.0 - np.sqrt(1.0 - u)) * _INTERVALS, _INTERVALS - 1.0).astype(np.intp)
    return np.asarray(_WORK[before] + (u - _TRAVEL[before]) * _RATE[before])


def sweep_work(u: FloatArray) -> FloatArray:
    """Length swept by an inclined hinge per unit of fold height, from 0 to ``u``.

    ``u`` [-] is clipped to 0 … 1.

    Notes
    -----
    Formula: G(u) = ∫ √(1+u²) du from 0 to u

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


def sweep_integral(x: FloatArray, top: FloatArray) -> FloatArray:
    """Integral of G(min(x/v, 1)) dv for v from 0 to ``top``, closed form."""
    x = np.maximum(x, 1e-12)
    u = np.minimum(x / np.maximum(top, x), 1.0)
    root = np.sqrt(1.0 + u * u)
    primitive = -root + 2.0 * np.log((1.0 + root) / u) + np.log(u + root) / u
    at_one = -np.sqrt(2.0) + 3.0 * np.arcsinh(1.0)
    return FULL_SWEEP * np.minimum(x, top) + 0.5 * x * (primitive - at_one)
