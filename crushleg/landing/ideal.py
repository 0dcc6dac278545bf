"""Closed forms: a leg of constant force, and free fall before it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats
from crushleg.landing.rates import STANDARD_GRAVITY

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def constant_force_stop(
    mass: ArrayLike, speed: ArrayLike, force: ArrayLike, net_weight: ArrayLike
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Stop by a constant force, the yardstick of every crush curve.

    Parameters
    ----------
    mass : array_like
        Mass m [kg].
    speed : array_like
        Downward speed v [m/s].
    force : array_like
        Force F of all legs together [N].
    net_weight : array_like
        Wn = m g − T [N].

    Returns
    -------
    stroke, time, energy : ndarray
        S [m], t [s], E [J]; inf where F does not exceed Wn.

    Notes
    -----
    Formula: S = m v²/[2 (F − Wn)]
    Formula: t = m v/(F − Wn)
    Formula: E = F S

    References
    ----------
    [D]

    Examples
    --------
    >>> stroke, time, energy = constant_force_stop(1000.0, 3.0, 40e3, 1000.0 * 9.80665)
    >>> float(stroke.round(7)), float(time.round(6)), float(energy.round(3))
    (0.1490394, 0.09936, 5961.578)
    """
    m, v, f, w = floats(mass, speed, force, net_weight)
    with np.errstate(divide="ignore", invalid="ignore"):
        t = np.where(f > w, m * v / (f - w), np.inf)
    return 0.5 * v * t, t, 0.5 * f * v * t


def drop_height(speed: ArrayLike) -> FloatArray:
    """Height of a free drop on Earth that ends with a speed.

    Parameters
    ----------
    speed : array_like
        Speed v [m/s].

    Returns
    -------
    ndarray
        Height h [m].

    Notes
    -----
    Formula: h = v²/(2 g0)

    References
    ----------
    [D]

    Examples
    --------
    >>> float(drop_height(3.0).round(6))
    0.458872
    """
    (v,) = floats(speed)
    return v**2 / (2.0 * STANDARD_GRAVITY)


def free_fall_speed(height: ArrayLike, speed: ArrayLike, gravity: ArrayLike) -> FloatArray:
    r"""Downward speed after a fall from height h, :math:`\sqrt{v^2 + 2 g h}`.

    Parameters
    ----------
    height : array_like
        Height of fall h [m].
    speed : array_like
        Downward speed at its start v [m/s].
    gravity : array_like
        g [m/s2].

    Returns
    -------
    ndarray
        Speed [m/s].

    References
    ----------
    [D]

    Examples
    --------
    >>> float(free_fall_speed(2.0, 0.0, 1.62).round(4))
    2.5456
    """
    h, v, g = floats(height, speed, gravity)
    return np.sqrt(v**2 + 2.0 * g * h)
