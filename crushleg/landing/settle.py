"""The vehicle at rest: lean, clearance, and what its legs stand under."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import BoolArray, FloatArray, floats
from crushleg.girder.short_axis import total

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def crush_tilt(
    strokes: ArrayLike, azimuths: ArrayLike, radius: ArrayLike, travel: ArrayLike
) -> FloatArray:
    """Slope of the vehicle after uneven crush: the plane of best fit through its legs.

    Parameters
    ----------
    strokes : array_like, shape (..., n)
        Stroke of every leg [m].
    azimuths : array_like, shape (n,)
        Direction of every leg θ, equally spaced [rad].
    radius : array_like, shape (...)
        Axis to pad centre R [m].
    travel : array_like, shape (...)
        Vertical travel per stroke z/s [-].

    Returns
    -------
    ndarray, shape (...)
        Slope [-], the tangent of the lean.

    Notes
    -----
    Formula: |∇s| = 2/(n R) × |Σ s_i (z/s) exp(i θ_i)|

    Two legs lean in their own plane only: the factor is then 1, the plain (s1 − s2)/(2R). One leg
    is guided: zero.

    References
    ----------
    [D]

    Examples
    --------
    >>> round_the_clock = np.arange(4) * np.pi / 2
    >>> float(crush_tilt([0.12, 0.15, 0.18, 0.15], round_the_clock, 2.0, 1.0).round(6))
    0.015
    """
    s, theta, R, ratio = floats(strokes, azimuths, radius, travel)
    n = s.shape[-1]
    planes = {1: 0.0, 2: 1.0}.get(n, 2.0)
    east, north = total(s * np.cos(theta)), total(s * np.sin(theta))
    return np.asarray(planes / (n * R) * ratio * np.hypot(east, north))


def lean_angle(tilt: ArrayLike) -> FloatArray:
    """Angle of a slope.

    Parameters
    ----------
    tilt : array_like
        Slope [-].

    Returns
    -------
    ndarray
        Angle [rad].

    Notes
    -----
    Formula: lean = arctan |∇s|

    References
    ----------
    [D]

    Examples
    --------
    >>> float(np.degrees(lean_angle(0.015)).round(4))
    0.8594
    """
    return np.arctan(floats(tilt)[0])


def clearance_left(
    clearance: ArrayLike,
    mean_travel: ArrayLike,
    clearance_radius: ArrayLike,
    tilt: ArrayLike,
    sinkage: ArrayLike,
) -> FloatArray:
    """Clearance left under the lowest hard point.

    Parameters
    ----------
    clearance : array_like
        Lowest hard point above the pads, legs uncrushed c [m].
    mean_travel : array_like
        Mean vertical travel of the legs [m].
    clearance_radius : array_like
        How far from the axis that point lies r_c [m]; the worst direction is assumed.
    tilt : array_like
        Slope after uneven crush [-].
    sinkage : array_like
        How far the pads sink into the ground [m].

    Returns
    -------
    ndarray
        Clearance [m]; below zero it has struck.

    Notes
    -----
    Formula: left = c − z_mean − r_c |∇s| − sinkage

    References
    ----------
    [D]

    Examples
    --------
    >>> float(clearance_left(0.8, 0.15, 0.9, 0.015, 0.02).round(6))
    0.6165
    """
    c, z, rc, slope, sunk = floats(clearance, mean_travel, clearance_radius, tilt, sinkage)
    return c - z - rc * slope - sunk


def standing_load(
    weight: ArrayLike, legs: ArrayLike, moment: ArrayLike, radius: ArrayLike
) -> FloatArray:
    """Vertical load on the most loaded leg of a standing vehicle.

    Beyond the moment at which the far pads lift, an upper bound.

    Parameters
    ----------
    weight : array_like
        Weight W [N].
    legs : array_like
        Number of legs n [-], equally spaced and alike.
    moment : array_like
        Overturning moment about the foot plane M, in the direction of a leg [N m].
    radius : array_like
        Axis to pad centre R [m].

    Returns
    -------
    ndarray
        Load [N]; for fewer than three legs and a moment see :func:`topples`.

    Notes
    -----
    Formula: V = W/n + 2 M/(n R) up to M = W R/2
    Formula: from there in a straight line to V = W at M = W R

    References
    ----------
    [D]

    Examples
    --------
    >>> float(standing_load(60e3, 6, 30e3, 3.0).round(3))
    13333.333
    """
    w, n, m, R = floats(weight, legs, moment, radius)
    lever = m / (w * R)
    lifting = np.clip((lever - 0.5) / 0.5, 0.0, 1.0)
    even = w / n * (1.0 + 2.0 * np.minimum(lever, 0.5))
    return even + lifting * (w - even)


def topples(weight: ArrayLike, legs: ArrayLike, moment: ArrayLike, radius: ArrayLike) -> BoolArray:
    """Whether a standing vehicle goes over its tipping line.

    Parameters
    ----------
    weight, legs, moment, radius : array_like
        As in :func:`standing_load`.

    Returns
    -------
    ndarray of bool
        With fewer than three legs any moment does it.

    Notes
    -----
    Formula: M ≥ W R cos(π/n)

    References
    ----------
    [D]

    Examples
    --------
    >>> [bool(topples(100.0, 4, m, 2.0)) for m in (141.0, 142.0)]
    [False, True]
    """
    w, n, m, R = floats(weight, legs, moment, radius)
    edge = np.where(n >= 3, np.cos(np.pi / np.maximum(n, 3.0)), 0.0)
    return np.asarray((m > 0.0) & (m >= w * R * edge))


def worst_share_after(legs: ArrayLike) -> FloatArray:
    """Largest share of the weight on one leg once uneven crush has left them of unlike length.

    Three legs share alike; four may rock on a diagonal pair; more than four may stand on three.

    Parameters
    ----------
    legs : array_like of int
        Number of legs n [-].

    Returns
    -------
    ndarray
        Share of the weight [-].

    Notes
    -----
    Formula: share = 1/n to three legs, ½ for four, 1/3 for more

    Level, with the centre of gravity on the axis.

    References
    ----------
    Three and four legs: statics [D]; more legs [common practice]

    Examples
    --------
    >>> worst_share_after([1, 2, 3, 4, 6]).round(4).tolist()
    [1.0, 0.5, 0.3333, 0.5, 0.3333]
    """
    (n,) = floats(legs)
    return np.where(n == 4, 0.5, 1.0 / np.minimum(n, 3.0))
