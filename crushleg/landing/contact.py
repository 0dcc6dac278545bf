"""Which pads touch first and next, and how high the next ones still are."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def first_offset(radius: ArrayLike, legs: ArrayLike, first: ArrayLike) -> FloatArray:
    """Offset of the leg(s) that touch first.

    Parameters
    ----------
    radius : array_like
        Axis to pad centre R [m].
    legs : array_like
        Number of legs n [-], equally spaced; two or more, three or more when a pair is first.
    first : array_like
        How many touch together q: 1 or 2.

    Returns
    -------
    ndarray
        Offset x1 [m].

    Notes
    -----
    Formula: x1 = R cos((q − 1) π/n)

    References
    ----------
    [D]

    Examples
    --------
    >>> first_offset(2.0, 6, [1, 2]).round(6).tolist()
    [2.0, 1.732051]
    """
    R, n, q = floats(radius, legs, first)
    return R * np.cos((q - 1.0) * np.pi / n)


def next_offset(radius: ArrayLike, legs: ArrayLike, first: ArrayLike) -> FloatArray:
    """Offset of the leg(s) that touch next.

    Parameters
    ----------
    radius, legs, first : array_like
        As in :func:`first_offset`.

    Returns
    -------
    ndarray
        Offset xj [m]; negative beyond the axis.

    Notes
    -----
    Formula: x_j = R cos((q + 1) π/n)

    References
    ----------
    [D]

    Examples
    --------
    >>> next_offset(2.0, [3, 4, 3], [1, 1, 2]).round(6).tolist()
    [-1.0, 0.0, -2.0]
    """
    R, n, q = floats(radius, legs, first)
    return R * np.cos((q + 1.0) * np.pi / n)


def next_gap(first: ArrayLike, following: ArrayLike, angle: ArrayLike) -> FloatArray:
    """Height of the next pads when the first touch.

    Parameters
    ----------
    first, following : array_like
        Offsets x1 and xj [m].
    angle : array_like
        Between foot plane and ground φ: attitude and slope together [rad].

    Returns
    -------
    ndarray
        Gap [m].

    Notes
    -----
    Formula: gap = (x1 − x_j) sin φ

    References
    ----------
    [D]

    Examples
    --------
    >>> float(next_gap(2.0, -2.0, 0.05).round(6))
    0.199917
    """
    x1, xj, angle_ = floats(first, following, angle)
    return (x1 - xj) * np.sin(angle_)
