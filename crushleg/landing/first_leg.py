r"""One leg, or a pair, touches before the others.

Rigid vehicle in the plane through its axis and the first pad(s): offset x1 of the first pad from
the axis, height h of the centre of gravity above it, gyration k. Its vertical impulse J turns the
vehicle at ω = κ J/m; a pad at offset x then changes its downward speed by −(J/m)(1 + x κ).
Angles stay small; the vehicle arrives without rotation; thrust acts along the axis.
What follows until the next pads touch is :mod:`crushleg.landing.next_touch`.

[D] derived here, checked against the impulse equations solved directly in the tests.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import BoolArray, FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def sticks(
    offset: ArrayLike, height: ArrayLike, gyration: ArrayLike, friction: ArrayLike
) -> BoolArray:
    """Whether the first pad sticks.

    Parameters
    ----------
    offset : array_like
        x1 [m].
    height : array_like
        Centre of gravity above the pad h [m].
    gyration : array_like
        k about a horizontal axis through the centre of gravity [m].
    friction : array_like
        Pad on ground μ [-].

    Returns
    -------
    ndarray of bool
        True where friction can hold the pad, which the rotation would push outward.

    Notes
    -----
    Formula: μ ≥ x1 h/(k² + h²)
    Band: None: geometry and friction.

    References
    ----------
    [D]

    Examples
    --------
    >>> sticks(2.2, 5.4, 3.1, [0.30, 0.31]).tolist()
    [False, True]
    """
    x, h, k, mu = floats(offset, height, gyration, friction)
    return np.asarray(mu * (k**2 + h**2) >= x * h)


def rotation_per_impulse(
    offset: ArrayLike, height: ArrayLike, gyration: ArrayLike, friction: ArrayLike
) -> FloatArray:
    """Rotation by the vertical impulse of the first pad.

    Parameters
    ----------
    offset, height, gyration, friction : array_like
        x1 [m], h [m], k [m], μ [-], as in :func:`sticks`.

    Returns
    -------
    ndarray
        κ [1/m]; continuous where sliding turns to sticking.

    Notes
    -----
    Formula: κ = m Δω/J
    Formula: stuck: κ = x1/(k² + h²)
    Formula: sliding: κ = (x1 − μ h)/k², frictionless at μ = 0

    References
    ----------
    [D]

    Examples
    --------
    >>> rotation_per_impulse(2.0, 3.0, 2.0, [0.0, 1.0]).round(6).tolist()
    [0.5, 0.153846]
    """
    x, h, k, mu = floats(offset, height, gyration, friction)
    return np.where(sticks(x, h, k, mu), x / (k**2 + h**2), (x - mu * h) / k**2)


def effective_mass(mass: ArrayLike, offset: ArrayLike, rotation: ArrayLike) -> FloatArray:
    """Mass that the first pad stops.

    Its net weight is in the same proportion: m_eff (g − T/m).

    Parameters
    ----------
    mass : array_like
        Vehicle mass m [kg].
    offset : array_like
        x1 [m].
    rotation : array_like
        κ [1/m] of :func:`rotation_per_impulse`.

    Returns
    -------
    ndarray
        Mass [kg].

    Notes
    -----
    Means: Part of the vehicle's mass that the first pad stops.
    Formula: m_eff = m/(1 + x1 κ)
    Range: Rigid vehicle in the plane, small angles, arriving without rotation.
    Band: None: mass, geometry and friction are given.
    Limits: vehicle.pad_circle_radius, centre_of_gravity_height, radius_of_gyration;
    leg.pad_friction

    References
    ----------
    [D]

    Examples
    --------
    >>> float(effective_mass(1000.0, 2.0, 0.5))
    500.0
    """
    m, x, kappa = floats(mass, offset, rotation)
    return m / (1.0 + x * kappa)


def shared_fraction(offset: ArrayLike, following: ArrayLike, rotation: ArrayLike) -> FloatArray:
    """Part of what pad 1 loses in speed that a pad at xj loses too.

    Parameters
    ----------
    offset, following : array_like
        x1 and xj [m].
    rotation : array_like
        κ [1/m].

    Returns
    -------
    ndarray
        Fraction [-]; negative where the pad is thrown down. At xj = 0 that of the centre of
        gravity, m_eff/m.

    Notes
    -----
    Formula: c_j = (1 + x_j κ)/(1 + x1 κ)

    References
    ----------
    [D]

    Examples
    --------
    >>> shared_fraction(2.0, [2.0, 0.0, -2.0], 0.5).tolist()
    [1.0, 0.5, 0.0]
    """
    x1, xj, kappa = floats(offset, following, rotation)
    return (1.0 + xj * kappa) / (1.0 + x1 * kappa)


def arrival_speed(
    speed: ArrayLike, offset: ArrayLike, following: ArrayLike, rotation: ArrayLike
) -> FloatArray:
    """Downward speed of a pad at xj once pad 1 has stopped, weight left out: v (1 − cj).

    Parameters
    ----------
    speed : array_like
        Touchdown speed v [m/s].
    offset, following : array_like
        x1 and xj [m].
    rotation : array_like
        κ [1/m].

    Returns
    -------
    ndarray
        Speed [m/s], downward positive.

    Notes
    -----
    Formula: v_j = v (1 − c_j)

    References
    ----------
    [D]

    Examples
    --------
    >>> float(arrival_speed(3.0, 2.0, -2.0, 0.5))
    3.0
    """
    v, x1, xj, kappa = floats(speed, offset, following, rotation)
    return v * (1.0 - shared_fraction(x1, xj, kappa))
