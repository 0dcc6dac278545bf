"""The three values called "g" at touchdown, each under its own name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

STANDARD_GRAVITY = 9.80665  # m/s2, 3rd General Conference on Weights and Measures, 1901


def gear_factor(reaction: ArrayLike, mass: ArrayLike) -> FloatArray:
    r"""Gear factor: vertical reaction over Earth weight, :math:`F/(m g_0)`.

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

    References
    ----------
    [D]

    Examples
    --------
    >>> float(gear_factor(40e3, 1000.0).round(5))
    4.07886
    """
    f, m = floats(reaction, mass)
    return f / (m * STANDARD_GRAVITY)


def deceleration(reaction: ArrayLike, net_weight: ArrayLike, mass: ArrayLike) -> FloatArray:
    r"""Upward acceleration of the vehicle against the ground, :math:`(F - W_n)/m`.

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
    r"""Specific force, as an accelerometer aboard reads it, :math:`(F + T)/m`.

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
