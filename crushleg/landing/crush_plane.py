"""The plane through unequally crushed legs: travel of the axis, and lean with its direction."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def plane_of_legs(azimuths: ArrayLike, radius: float) -> FloatArray:
    r"""Least-squares plane :math:`z = z_0 + g_x x + g_y y` through the legs, as a matrix.

    .. math:: (z_0, g_x, g_y)^T = A^{+} (z_1 \dots z_n)^T, \quad
              A_i = (1, R \cos θ_i, R \sin θ_i)

    Parameters
    ----------
    azimuths : array_like, shape (n,)
        Direction of every leg θ, at any spacing [rad].
    radius : float
        Axis to pad centre R [m].

    Returns
    -------
    ndarray, shape (3, n)
        Rows for the travel of the axis z0 [-] and for the slope toward θ = 0 and θ = 90° [1/m];
        times the travel of every leg [m].

    Notes
    -----
    Equally spaced legs: z0 is the mean and the slope that of
    :func:`crushleg.landing.settle.crush_tilt`. Two legs lean in their own plane only, one leg is
    guided: no lean.

    References
    ----------
    [D]

    Examples
    --------
    >>> fit = plane_of_legs(np.arange(4) * np.pi / 2, 2.0)
    >>> (fit @ [0.12, 0.15, 0.18, 0.15]).round(6).tolist()
    [0.15, -0.015, 0.0]
    """
    (theta,) = floats(azimuths)
    if theta.size == 1:
        return np.array([[1.0], [0.0], [0.0]])
    design = np.stack([np.ones_like(theta), np.cos(theta), np.sin(theta)], axis=-1)
    return np.linalg.pinv(design) / np.array([[1.0], [radius], [radius]])
