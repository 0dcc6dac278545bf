r"""Elastic shortening of the girder, on top of its crush, and force when it bottoms."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def with_elastic(
    stroke: ArrayLike, force: ArrayLike, energy: ArrayLike, stiffness: ArrayLike
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Curve on total displacement: crush and elastic shortening.

    A first point (0, 0, 0) is put before the curve, so the force rises elastically to its first
    value. The part F²/2K comes back when the girder is unloaded.

    Parameters
    ----------
    stroke, force, energy : array_like, shape (..., n)
        The curve on crush stroke: [m], [N], [J].
    stiffness : array_like, shape (...)
        Axial stiffness K = E A/L [N/m].

    Returns
    -------
    stroke, force, energy : ndarray, shape (..., n + 1)
        The curve on total displacement: [m], [N], [J].

    Notes
    -----
    Means: Elastic shortening of the girder under its force: part of the stroke, given back
    afterwards.
    Formula: x = s + F/K
    Formula: E_total = E + F²/(2K)
    Range: Linear elastic girder; pads, soil and structure are rigid.
    Band: Low, nominal and high force on one stiffness.

    Where the force falls more steeply than the girder unloads, x would go back; it is held, and
    the energy falls by what the spring gives up. The rise in energy along x is then a little low.

    References
    ----------
    [D]

    Examples
    --------
    >>> x, f, e = with_elastic([0.0, 0.1], [100.0, 100.0], [0.0, 10.0], 1000.0)
    >>> x.round(6).tolist(), f.tolist(), e.round(6).tolist()
    ([0.0, 0.1, 0.2], [0.0, 100.0, 100.0], [0.0, 5.0, 15.0])
    """
    s, f, e = floats(stroke, force, energy)
    k = floats(stiffness)[0][..., None]
    s, f, e = np.broadcast_arrays(s + f / k, f + 0.0 * k, e + 0.5 * f**2 / k)
    x = np.maximum.accumulate(s, axis=-1)
    zero = np.zeros_like(x[..., :1])
    return (
        np.concatenate([zero, x], axis=-1),
        np.concatenate([zero, f], axis=-1),
        np.concatenate([zero, e], axis=-1),
    )


def bottoming_force(
    force: ArrayLike, shortfall: ArrayLike, stiffness: ArrayLike, weight: ArrayLike = 0.0
) -> FloatArray:
    """Force when what the curve did not take goes into elastic shortening.

    Parameters
    ----------
    force : array_like
        Force F at the end of the curve [N].
    shortfall : array_like
        Energy still to take there ΔE [J].
    stiffness : array_like
        Stiffness K of what is left in the load path [N/m].
    weight : array_like, optional
        Net weight on this leg [N]; it goes on working through the elastic travel.

    Returns
    -------
    ndarray
        Force [N]; F itself where nothing is missing and F is at least Wn.

    Notes
    -----
    Means: Whether the usable stroke runs out before the vehicle stops, and how hard it then hits.
    Formula: F_b = Wn + √((F − Wn)² + 2 K ΔE)
    Range: Folded solid, the girder is as stiff as before crush: an estimate that says how hard, not
    how strong.
    Band: Where any of low, nominal and high bottoms; low does first.
    Limits: limits.stroke_fraction keeps a part of the usable stroke back

    References
    ----------
    [D]

    Examples
    --------
    >>> float(bottoming_force(30e3, 80.0, 1e7))
    50000.0
    """
    f, de, k, w = floats(force, shortfall, stiffness, weight)
    return w + np.sqrt((f - w) ** 2 + 2.0 * k * de)
