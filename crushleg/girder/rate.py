"""Strain rate of a crush, and what it does to the strength of the metal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def rate_factor(rate: ArrayLike, D: float, q: float, test_rate: float) -> FloatArray:
    """Strength at a strain rate over that of the tensile test.

    Parameters
    ----------
    rate : array_like
        Strain rate [1/s].
    D, q, test_rate : float
        Pair of the datasheet [1/s], [-]; rate of the tensile test [1/s].

    Returns
    -------
    ndarray
        Factor [-].

    Notes
    -----
    Means: How much stronger the metal is at the speed of the crush than in the tensile test.
    Formula: factor = [1 + (rate/D)^(1/q)]/[1 + (test rate/D)^(1/q)]
    Range: Off unless girder.rate is set and the datasheet has a pair D, q.
    Band: At a third, two thirds and all of the speed: low, nominal, high.
    Limits: girder.rate; datasheet [rate] with D, q and test_rate

    References
    ----------
    G. R. Cowper, P. S. Symonds (1957) [from memory]

    Examples
    --------
    >>> round(float(rate_factor(33.0, 100.0, 10.0, 0.001)), 2)
    1.44
    """
    (found,) = floats(rate)
    dynamic = 1.0 + (found / D) ** (1.0 / q)
    return dynamic / (1.0 + (test_rate / D) ** (1.0 / q))


def crush_rate(speed: ArrayLike, side: ArrayLike) -> FloatArray:
    """Mean strain rate in a fold [1/s]; speed [m/s], mid-line side [m].

    Notes
    -----
    Formula: rate = 0.33 V/C

    References
    ----------
    W. Abramowicz, N. Jones (1984) [from memory]

    Examples
    --------
    >>> round(float(crush_rate(3.0, 0.03)), 6)
    33.0
    """
    v, c = floats(speed, side)
    return 0.33 * v / c
