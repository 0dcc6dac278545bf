"""The three values called "g" at touchdown, each under its own name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

STANDARD_GRAVITY = 9.80665  # m/s2, 3rd General Conference on Weights and Measures, 1901


def gear_factor(reaction: ArrayLike, mass: ArrayLike) -> FloatArray:
    """Gear factor: vertical reaction over Earth weight.

    Parameters
    ----------
    reaction : array_like
        Vertical reaction F of all legs together [N].
    mass : array_like
        Vehicle mass m [kg].

    Returns
    -------
    ndarray
        Gear factor [-].

    Notes
    -----
    Means: Vertical reaction of all legs over the vehicle's weight on Earth.
    Formula: gear factor = F/(m g0)
    Range: All legs together; g0 = 9.80665 m/s², also on the Moon.
    Band: At the largest total force of low, nominal and high, each to its own stop.
    Limits: vehicle.mass or touchdown.mass

    References
    ----------
    [D]

    Standard gravity: 3rd General Conference on Weights and Measures, 1901 [published]

    Examples
    --------
    >>> float(gear_factor(40e3, 1000.0).round(5))
    4.07886
    """
    f, m = floats(reaction, mass)
    return f / (m * STANDARD_GRAVITY)


def deceleration(reaction: ArrayLike, net_weight: ArrayLike, mass: ArrayLike) -> FloatArray:
    """Upward acceleration of the vehicle against the ground.

    Parameters
    ----------
    reaction : array_like
        Vertical reaction F of all legs together [N].
    net_weight : array_like
        Wn = m g − T [N].
    mass : array_like
        Vehicle mass m [kg].

    Returns
    -------
    ndarray
        Deceleration [m/s2], upward positive.

    Notes
    -----
    Formula: a = (F − Wn)/m
    Range: Vertical, of the centre of gravity, all legs together.
    Band: At the largest total force of low, nominal and high.

    References
    ----------
    [D]

    Examples
    --------
    >>> float(deceleration(40e3, 9806.65, 1000.0).round(5))
    30.19335
    """
    f, w, m = floats(reaction, net_weight, mass)
    return (f - w) / m


def accelerometer(reaction: ArrayLike, thrust: ArrayLike, mass: ArrayLike) -> FloatArray:
    """Specific force, as an accelerometer aboard reads it.

    Parameters
    ----------
    reaction : array_like
        Vertical reaction F of all legs together [N].
    thrust : array_like
        Residual thrust T [N], upward positive.
    mass : array_like
        Vehicle mass m [kg].

    Returns
    -------
    ndarray
        Reading [m/s2], upward positive.

    Notes
    -----
    Means: What an accelerometer aboard reads: reaction and thrust over mass.
    Formula: reading = (F + T)/m
    Range: On the vehicle axis of a rigid vehicle; an instrument rings and filters.
    Band: At the largest total force of low, nominal and high, each to its own stop.
    Limits: touchdown.thrust_to_weight makes T

    References
    ----------
    [D]

    Examples
    --------
    >>> float(accelerometer(40e3, 0.0, 1000.0))
    40.0
    """
    f, t, m = floats(reaction, thrust, mass)
    return (f + t) / m
