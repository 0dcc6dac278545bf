r"""Tipping over the line between two neighbouring pads that have stuck.

Height h and distance r of the centre of gravity from that line, ρ² = h² + r², α = atan(r/h);
gyration k about a horizontal axis through the centre of gravity. Tilt is slope plus lean toward
the line, positive where it makes tipping easier.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def edge_distance(radius: ArrayLike, legs: ArrayLike) -> FloatArray:
    """Distance of the tipping line from the vehicle axis.

    Parameters
    ----------
    radius : array_like
        Axis to pad centre R [m].
    legs : array_like
        Number of legs n [-], equally spaced, three or more.

    Returns
    -------
    ndarray
        Distance r [m].

    Notes
    -----
    Formula: r = R cos(π/n)

    References
    ----------
    [D]

    Examples
    --------
    >>> float(edge_distance(2.0, 3).round(6))
    1.0
    """
    R, n = floats(radius, legs)
    return R * np.cos(np.pi / n)


def edge_angle(height: ArrayLike, distance: ArrayLike) -> FloatArray:
    """Angle of static tipping.

    Parameters
    ----------
    height : array_like
        Centre of gravity above the pads h [m].
    distance : array_like
        Tipping line from the axis r [m].

    Returns
    -------
    ndarray
        Angle α [rad].

    Notes
    -----
    Means: Tilt at which the standing vehicle is balanced over the line between two pads.
    Formula: α = arctan(r/h)
    Range: Rigid vehicle on level ground, three legs or more; it does not depend on gravity.
    Band: Before crush, after even crush and after one leg low with the rest high; the worst counts.
    Limits: vehicle.pad_circle_radius, vehicle.centre_of_gravity_height, vehicle.legs

    References
    ----------
    [D]

    Examples
    --------
    >>> float(np.degrees(edge_angle(1.5, 2.0**0.5)).round(5))
    43.31386
    """
    h, r = floats(height, distance)
    return np.arctan2(r, h)


def energy_to_tip(
    mass: ArrayLike, gravity: ArrayLike, height: ArrayLike, distance: ArrayLike, tilt: ArrayLike
) -> FloatArray:
    """Energy that lifts the centre of gravity over the line.

    Parameters
    ----------
    mass : array_like
        Mass m [kg].
    gravity : array_like
        g at the site [m/s2].
    height, distance : array_like
        h and r [m].
    tilt : array_like
        Slope plus lean toward the line [rad].

    Returns
    -------
    ndarray
        Energy ΔE [J]; zero where the tilt is α or more.

    Notes
    -----
    Formula: ΔE = m g ρ [1 − cos(α − tilt)], ρ² = h² + r²

    References
    ----------
    [D]

    Examples
    --------
    >>> float(energy_to_tip(1000.0, 1.62, 1.5, 2.0**0.5, 0.0).round(3))
    909.716
    """
    m, g, h, r, tilt_ = floats(mass, gravity, height, distance, tilt)
    left = np.maximum(np.arctan2(r, h) - tilt_, 0.0)
    return np.asarray(m * g * np.hypot(h, r) * 2.0 * np.sin(0.5 * left) ** 2)


def critical_speed(
    gravity: ArrayLike,
    height: ArrayLike,
    distance: ArrayLike,
    gyration: ArrayLike,
    tilt: ArrayLike,
) -> FloatArray:
    """Horizontal speed toward the line that just tips a vehicle whose pads stick.

    Parameters
    ----------
    gravity : array_like
        g at the site [m/s2].
    height, distance : array_like
        h and r [m].
    gyration : array_like
        k [m].
    tilt : array_like
        Slope plus lean toward the line [rad].

    Returns
    -------
    ndarray
        Speed [m/s]; zero where the tilt is α or more.

    Notes
    -----
    Means: Horizontal speed that just tips a vehicle over the line between two stuck pads.
    Formula: v_crit = √(2 I_p ΔE)/(m h)
    Formula: I_p = m (k² + ρ²)
    Range: Pads stuck, no rebound, thrust off; it goes with √g.
    Band: Lower of before crush, after even crush and after one leg low with the rest high.
    Limits: vehicle.gravity, centre_of_gravity_height, radius_of_gyration, pad_circle_radius, legs

    The mass cancels. The angular momentum about the line at contact is that of the horizontal
    speed alone; vertical speed is taken by all legs alike.

    References
    ----------
    [D]

    Examples
    --------
    >>> float(critical_speed(1.62, 1.5, 2.0**0.5, 1.0, 0.0).round(6))
    2.060422
    """
    g, h, r, k, tilt_ = floats(gravity, height, distance, gyration, tilt)
    momentum = np.sqrt(2.0 * (k**2 + h**2 + r**2) * energy_to_tip(1.0, g, h, r, tilt_))
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        return np.where(momentum > 0.0, momentum / h, 0.0)


def after_crush(
    height: ArrayLike, distance: ArrayLike, mean_travel: ArrayLike, slip: ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """Height and line distance once the legs have crushed.

    Parameters
    ----------
    height, distance : array_like
        h and r before [m].
    mean_travel : array_like
        Mean vertical travel of the legs [m].
    slip : array_like
        How much nearer the line has come as the pads slipped [m]; for pads that slip along their
        radius, slip of a pad times cos(π/n).

    Returns
    -------
    height, distance : ndarray
        h and r after [m], not below zero.

    Notes
    -----
    Formula: h' = h − z_mean
    Formula: r' = r − slip

    References
    ----------
    [D]

    Examples
    --------
    >>> h, r = after_crush(1.5, 2.0**0.5, 0.15, 0.0)
    >>> float(critical_speed(1.62, h, r, 1.0, 0.0).round(6))
    2.277698
    """
    h, r, z, u = floats(height, distance, mean_travel, slip)
    return np.maximum(h - z, 0.0), np.maximum(r - u, 0.0)
