r"""Thin-walled box section on its mid-line: perimeter, net area, inertia, plastic modulus."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def perimeter(
    width: ArrayLike, depth: ArrayLike, wall: ArrayLike, corner_radius: ArrayLike
) -> FloatArray:
    """Mid-line perimeter of a box with rounded corners.

    Parameters
    ----------
    width, depth, wall, corner_radius : array_like
        Outside sides, wall, outside corner radius [m].

    Returns
    -------
    ndarray
        Length [m].

    Notes
    -----
    Formula: U = 2 (b + d − 2 t) − (8 − 2π)(r − t/2)

    References
    ----------
    [D] plane geometry.

    Examples
    --------
    >>> round(float(perimeter(0.104, 0.104, 0.004, 0.002)), 9)
    0.4
    """
    b, d, t, r = floats(width, depth, wall, corner_radius)
    mid = np.maximum(r - 0.5 * t, 0.0)
    return 2.0 * (b + d - 2.0 * t) - (8.0 - 2.0 * np.pi) * mid


def wall_inertia(side: ArrayLike, other: ArrayLike, wall: ArrayLike) -> FloatArray:
    """Second moment of a plain box about the axis along ``side``, mid-line model [m4].

    Parameters
    ----------
    side, other : array_like
        Mid-line side of the two walls parallel to the axis, and of the other two [m].
    wall : array_like
        Wall [m].

    Returns
    -------
    ndarray
        Second moment [m4]: two flanges at ± other/2 and two webs.

    References
    ----------
    [D]

    Examples
    --------
    >>> round(float(wall_inertia(1.0, 1.0, 0.01)), 6)
    0.006667
    """
    b, d, t = floats(side, other, wall)
    return 2.0 * t * (b * (0.5 * d) ** 2 + d**3 / 12.0)


def plastic_modulus(side: ArrayLike, other: ArrayLike, wall: ArrayLike) -> FloatArray:
    """Plastic modulus of a plain box about the axis along ``side`` [m3].

    Parameters as in :func:`wall_inertia`.

    Notes
    -----
    Formula: Z = 2 t (b d/2 + d²/4), 1.5 C² t when square

    References
    ----------
    Mid-line model, sharp corners [D]

    Examples
    --------
    >>> float(plastic_modulus(1.0, 1.0, 0.01))
    0.015
    """
    b, d, t = floats(side, other, wall)
    return 2.0 * t * (b * 0.5 * d + 0.25 * d * d)


def web_moments(
    side: ArrayLike, offset: ArrayLike, chord: ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """First (absolute) and second moment of a hole in a web about mid-depth, per wall thickness.

    Parameters
    ----------
    side, offset, chord : array_like
        Web side C, hole centre from the middle, hole width at the section [m].

    Returns
    -------
    tuple of ndarray
        ∫|y| dy [m2] and ∫y² dy [m3] over the hole.

    References
    ----------
    [D]

    Examples
    --------
    >>> [round(float(v), 6) for v in web_moments(1.0, 0.0, 0.2)]
    [0.01, 0.000667]
    """
    c, y, w = floats(side, offset, chord)
    top = np.minimum(y + 0.5 * w, 0.5 * c)
    bottom = np.maximum(y - 0.5 * w, -0.5 * c)
    first = 0.5 * (top * np.abs(top) - bottom * np.abs(bottom))
    return first, (top**3 - bottom**3) / 3.0
