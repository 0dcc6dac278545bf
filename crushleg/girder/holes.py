r"""One hole: chord across the face and area below a height.

Circle, slot and rectangle are one family, a rectangle of size ``across`` by ``along`` whose
corners are rounded with radius ``corner``: a circle has ``corner`` = half of both, a slot half
of the smaller, a rectangle zero.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import BoolArray, FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

SPARSE = 4096
"""From so many lines on only those that meet the hole are computed."""
SHAPES = ("circle", "slot", "rectangle")


def corner_radius(shape: str, across: float, along: float) -> float:
    """Corner radius [m] that makes a ``shape`` of the given sizes [m].

    >>> corner_radius("slot", 0.02, 0.05)
    0.01
    """
    return 0.0 if shape == "rectangle" else 0.5 * min(across, along)


def chord(
    z: ArrayLike, height: ArrayLike, across: ArrayLike, along: ArrayLike, corner: ArrayLike
) -> FloatArray:
    """Width of hole across the face at height ``z``.

    Parameters
    ----------
    z : array_like
        Height of the line across the face [m].
    height, across, along, corner : array_like
        Hole centre :math:`z_0`, sizes a and b, corner radius r [m]; broadcast with ``z``.

    Returns
    -------
    ndarray
        Chord [m], zero above and below the hole.

    Notes
    -----
    Formula: c(z) = a − 2 r + 2 √(r² − ⟨|z − z0| − (b/2 − r)⟩²)

    References
    ----------
    Plane geometry [D]

    Examples
    --------
    >>> float(chord(0.0, 0.0, 0.08, 0.08, 0.04))
    0.08
    """
    z, z0, a, b, r = floats(z, height, across, along, corner)
    away = np.abs(z - z0)
    inside = away < 0.5 * b
    if inside.size < SPARSE:
        return np.where(inside, 2.0 * half_chord(away, a, b, r), 0.0)
    at = np.flatnonzero(inside)
    there = (np.broadcast_to(part, inside.shape).reshape(-1)[at] for part in (away, a, b, r))
    found = np.zeros(inside.shape)
    found.reshape(-1)[at] = 2.0 * half_chord(*there)
    return found


def half_chord(
    away: FloatArray, across: FloatArray, along: FloatArray, corner: FloatArray
) -> FloatArray:
    """Half the :func:`chord` of a hole that reaches beyond ``away`` from its centre [m]."""
    into = np.clip(away - (0.5 * along - corner), 0.0, corner)
    return 0.5 * across - corner + np.sqrt(np.maximum(corner * corner - into * into, 0.0))


def area_below(
    z: ArrayLike, height: ArrayLike, across: ArrayLike, along: ArrayLike, corner: ArrayLike
) -> FloatArray:
    r"""Area of a hole below height ``z``, counted from its centre (odd in ``z`` − centre).

    Parameters
    ----------
    z, height, across, along, corner : array_like
        As in :func:`chord` [m].

    Returns
    -------
    ndarray
        Area between centre and ``z`` [m2], negative below the centre.

    References
    ----------
    [D] integral of :func:`chord`; circular-segment areas.

    Examples
    --------
    >>> round(float(area_below(1.0, 0.0, 0.08, 0.08, 0.04)) / 0.04**2, 6)
    1.570796
    """
    z, z0, a, b, r = floats(z, height, across, along, corner)
    away = np.minimum(np.abs(z - z0), 0.5 * b)
    straight = 0.5 * b - r
    u = np.clip(away - straight, 0.0, r)
    ratio = np.divide(u, r, out=np.zeros(np.broadcast(u, r).shape), where=r > 0.0)
    rounded = (a - 2.0 * r) * u + u * np.sqrt(np.maximum(r * r - u * u, 0.0))
    rounded = rounded + r * r * np.arcsin(ratio)
    return np.sign(z - z0) * (a * np.minimum(away, straight) + rounded)


def mean_chord(
    z: ArrayLike,
    band: ArrayLike,
    height: ArrayLike,
    across: ArrayLike,
    along: ArrayLike,
    corner: ArrayLike,
) -> FloatArray:
    """Mean width of hole over the heights ``z`` ± ``band``; other parameters as :func:`chord`.

    Parameters
    ----------
    band : array_like
        Half height of the band [m], above zero.

    Returns
    -------
    ndarray
        Chord [m].

    References
    ----------
    [D] :func:`area_below`.

    Examples
    --------
    >>> round(float(mean_chord(0.0, 0.04, 0.0, 0.08, 0.08, 0.04)) / 0.08, 6)
    0.785398
    """
    given = floats(z, band, height, across, along, corner)
    shape = np.broadcast_shapes(*(field.shape for field in given))
    near = np.flatnonzero(np.broadcast_to(_close(*given), shape))
    z, half, *outline = (np.broadcast_to(field, shape).reshape(-1)[near] for field in given)
    above, below = (area_below(z + by * half, *outline) for by in (1.0, -1.0))
    found = np.zeros(shape)
    found.reshape(-1)[near] = (above - below) / (2.0 * half)
    return found


def _close(
    z: FloatArray, band: FloatArray, height: FloatArray, across: FloatArray, *rest: FloatArray
) -> BoolArray:
    along = rest[0]
    return np.asarray((np.abs(z - height) < 0.5 * along + band) & (across > 0.0))
