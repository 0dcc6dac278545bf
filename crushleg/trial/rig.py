r"""Equations of a drop rig: a guided mass M that falls h onto its legs.

Guide friction R acts against the motion in the fall and in the crush; lift P acts from contact
on, as a share L of the falling weight or as a force. For vertical travel z of the mass

.. math:: (M g - R)\,h = \tfrac12 M v^2, \qquad E = \tfrac12 M v^2 + (M g - P - R)\,z

[D] derived here from the work on the falling mass, checked against independent time integration.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def release_height(
    speed: ArrayLike, mass: ArrayLike, gravity: ArrayLike, friction: ArrayLike
) -> FloatArray:
    """Fall that ends with a speed.

    Parameters
    ----------
    speed : array_like
        Speed at contact v [m/s].
    mass : array_like
        Falling mass M [kg].
    gravity : array_like
        Gravity at the rig g [m/s2].
    friction : array_like
        Friction of the guides R [N].

    Returns
    -------
    ndarray
        Height h [m]; inf where friction holds the mass.

    Notes
    -----
    Means: Height from which a rig must fall to reach a speed.
    Formula: h = v²/[2 (g − R/M)]
    Range: Guided mass; friction below the weight.
    Band: None: speed and rig are given.
    Limits: [rig]: masses, friction, gravity, drop_height

    References
    ----------
    [D]

    Examples
    --------
    >>> release_height(3.0, 100.0, 9.80665, [0.0, 98.0665]).round(6).tolist()
    [0.458872, 0.509858]
    """
    v, m, g, r = floats(speed, mass, gravity, friction)
    fall = g - r / m
    with np.errstate(divide="ignore"):
        return np.where(fall > 0.0, v**2 / (2.0 * np.maximum(fall, 0.0)), np.inf)


def contact_speed(
    height: ArrayLike, mass: ArrayLike, gravity: ArrayLike, friction: ArrayLike
) -> FloatArray:
    """Speed at the end of a fall.

    Parameters
    ----------
    height : array_like
        Height of the fall h [m].
    mass, gravity, friction : array_like
        As in :func:`release_height`.

    Returns
    -------
    ndarray
        Speed v [m/s]; zero where friction holds the mass.

    Notes
    -----
    Formula: v = √(2 (g − R/M) h)

    References
    ----------
    [D]

    Examples
    --------
    >>> float(contact_speed(0.3302, 100.0, 9.80665, 0.0).round(4))
    2.5449
    """
    h, m, g, r = floats(height, mass, gravity, friction)
    return np.sqrt(2.0 * np.maximum(g - r / m, 0.0) * h)


def equivalent_mass(
    energy: ArrayLike,
    travel: ArrayLike,
    speed: ArrayLike,
    gravity: ArrayLike,
    lift: ArrayLike = 0.0,
    upward: ArrayLike = 0.0,
) -> FloatArray:
    """Falling mass that crushes the legs as far from the same speed.

    Parameters
    ----------
    energy : array_like
        Energy E that the legs in the rig take over the travel [J].
    travel : array_like
        Vertical travel of the mass z [m].
    speed : array_like
        Speed at contact v [m/s].
    gravity : array_like
        Gravity at the rig g [m/s2].
    lift : array_like
        Share L of the falling weight carried from contact on [-], below 1.
    upward : array_like
        Guide friction R and lift P given as a force, together [N].

    Returns
    -------
    ndarray
        Mass Me [kg].

    Notes
    -----
    Means: Falling mass that stands for a touchdown of the vehicle.
    Formula: M_e = [E + (R + P) z]/[½ v² + (1 − L) g z]
    Range: One speed, one travel: they are those of each level.
    Band: Low, nominal and high force: travel and energy of each.
    Limits: [rig]: lift, friction, legs, gravity

    For a touchdown of m kg at v, in gravity g' under thrust T, E is m v²/2 + (m g' − T) z: with
    h = v²/(2 g), λ = (g' − T/m)/g and neither friction nor lift, Me = m (h + λ z)/(h + z).

    References
    ----------
    [D]

    Examples
    --------
    >>> moon = 0.5 * 1000.0 * 3.0**2 + 1000.0 * 1.62 * 0.117249
    >>> float(equivalent_mass(moon, 0.117249, 3.0, 9.80665).round(3))
    830.105
    """
    e, z, v, g, share, up = floats(energy, travel, speed, gravity, lift, upward)
    return (e + up * z) / (0.5 * v**2 + (1.0 - share) * g * z)


def effective_weight(
    weight: ArrayLike, height: ArrayLike, deflection: ArrayLike, lift: ArrayLike
) -> FloatArray:
    """Weight whose free drop stands for one with part of the weight carried.

    Parameters
    ----------
    weight : array_like
        Weight W [N], or in any unit.
    height : array_like
        Height of the free fall h [m].
    deflection : array_like
        Vertical travel of the mass after contact d [m], or both lengths in another unit.
    lift : array_like
        Share L of the weight that is carried from contact on [-].

    Returns
    -------
    ndarray
        Effective weight We, in the unit of W.

    Notes
    -----
    Means: Weight whose free drop stands for one with part of the weight carried.
    Formula: W_e = W [h + (1 − L) d]/(h + d)
    Range: Free fall, lift from contact on.
    Band: Low, nominal and high force through the deflection d.
    Limits: [rig] lift

    References
    ----------
    14 CFR 27.725, form [from memory], confirmed by energy [D]

    Examples
    --------
    >>> effective_weight(2000.0, [13.0, 8.0], 6.0, 2.0 / 3.0).round(3).tolist()
    [1578.947, 1428.571]
    """
    w, h, d, share = floats(weight, height, deflection, lift)
    return w * (h + (1.0 - share) * d) / (h + d)


def cell_force(
    reaction: ArrayLike, above: ArrayLike, below: ArrayLike, upward: ArrayLike
) -> FloatArray:
    """Force on a load cell between two falling masses.

    Parameters
    ----------
    reaction : array_like
        Vertical reaction of the ground F [N].
    above, below : array_like
        Falling masses above and below the cell, m_a and m_b [kg].
    upward : array_like
        Guide friction and lift, both on the mass above [N].

    Returns
    -------
    ndarray
        Compression of the cell N [N].

    Notes
    -----
    Means: What a load cell between two falling masses reads, and the girder's force from it.
    Formula: N = [m_a F − m_b (R + P)]/(m_a + m_b)
    Range: Both masses move alike.
    Band: Low, nominal and high force.
    Limits: [rig]: mass_above, mass_below, friction, lift

    Both masses have one acceleration; a foot that has stopped already counts with the ground.

    References
    ----------
    [D]

    Examples
    --------
    >>> float(cell_force(40e3, 900.0, 100.0, 2e3))
    35800.0
    """
    f, a, b, up = floats(reaction, above, below, upward)
    return (a * f - b * up) / (a + b)
