"""The plane through unequally crushed legs: travel of the axis, and lean with its direction."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def plane_of_legs(azimuths: ArrayLike, radius: float) -> FloatArray:
    """Least-squares plane through the legs, as a matrix.

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
    Means: Lean and sinking of a vehicle on unequally crushed legs: the plane of best fit through
    them.
    Formula: z = z0 + g_x x + g_y y, least squares over the legs
    Formula: lean = arctan √(g_x² + g_y²)
    Range: Rigid vehicle on crushed legs; the ground is taken as flat.
    Band: Reading errors of the legs; no band of the force.
    Limits: vehicle.pad_circle_radius, vehicle.leg_azimuths

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
