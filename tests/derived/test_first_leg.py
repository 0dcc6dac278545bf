"""One leg first: m = 1000 kg, v = 3 m/s unless said otherwise, worked by hand [D].

The vertical impulse J at offset x1 slows the centre of gravity by J/m and turns the vehicle by
ω = J x1/(m k²) without friction, so the pad loses (J/m)(1 + x1²/k²): it stops at J = m_eff v,
m_eff = m k²/(k² + x1²), and takes m_eff v²/2. The opposite pad arrives at v - (J/m)(1 - x1²/k²)
= 2 v x1²/(k² + x1²). A pad that friction holds turns the vehicle about the contact: k² + h² in
place of k² in the rotation, and needs μ = x1 h/(k² + h²).
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.landing.contact import first_offset, next_gap, next_offset
from crushleg.landing.first_leg import (
    arrival_speed,
    effective_mass,
    rotation_per_impulse,
    sticks,
)
from crushleg.landing.ideal import constant_force_stop

MASS, SPEED, EARTH = 1000.0, 3.0, 9.80665
HEIGHT = 2.0  # of no effect without friction


@pytest.mark.parametrize(
    ("gyration", "offset", "share", "arrives", "first", "left", "second"),
    [
        (2.0, 2.0, 0.5, 3.0, 2250.0, 2250.0, 2250.0),
        (6.0, 3.0, 0.8, 1.2, 3600.0, 900.0, 576.0),
        (1.5, 3.0, 0.2, 4.8, 900.0, 3600.0, 2304.0),
    ],
)
def test_without_gravity_and_friction(
    gyration: float,
    offset: float,
    share: float,
    arrives: float,
    first: float,
    left: float,
    second: float,
) -> None:
    turn = rotation_per_impulse(offset, HEIGHT, gyration, 0.0)
    m_eff = effective_mass(MASS, offset, turn)
    far = arrival_speed(SPEED, offset, -offset, turn)
    assert_allclose(m_eff / MASS, share, rtol=1e-12)
    assert_allclose(far, arrives, rtol=1e-12)
    assert_allclose(0.5 * m_eff * SPEED**2, first, rtol=1e-12)
    assert_allclose(0.5 * (MASS - m_eff) * SPEED**2, left, rtol=1e-12)
    assert_allclose(0.5 * m_eff * far**2, second, rtol=1e-12)


@pytest.mark.parametrize(
    ("gyration", "offset", "stroke", "time"),
    [(2.0, 2.0, 0.064109, 0.042739), (6.0, 3.0, 0.111959, 0.074639)],
)
def test_with_earth_gravity_and_40_kn(
    gyration: float, offset: float, stroke: float, time: float
) -> None:
    """The pad falls with g as well: net force on it F - m_eff g."""
    m_eff = effective_mass(MASS, offset, rotation_per_impulse(offset, HEIGHT, gyration, 0.0))
    s, t, _ = constant_force_stop(m_eff, SPEED, 40e3, m_eff * EARTH)
    assert_allclose([s, t], [stroke, time], atol=5e-7)


def test_on_three_legs_the_other_two_arrive_at_2_25_metres_a_second() -> None:
    """With xj = -R/2: v x1 (x1 - xj)/(k² + x1²) = 3 · 2 · 3/8."""
    x1, xj = first_offset(2.0, 3, 1), next_offset(2.0, 3, 1)
    turn = rotation_per_impulse(x1, HEIGHT, 2.0, 0.0)
    assert_allclose(arrival_speed(SPEED, x1, xj, turn), 2.25, rtol=1e-12)


def test_friction_decides_how_much_the_first_leg_takes() -> None:
    """With m 9500, k 3.1, h 5.4, x 2.2: sticks from 2.2·5.4/(3.1² + 5.4²) = 0.3064."""
    k, h, x = 3.1, 5.4, 2.2
    assert sticks(x, h, k, [0.3063, 0.3065]).tolist() == [False, True]
    turn = rotation_per_impulse(x, h, k, [0.4, 0.2, 0.0])
    assert_allclose(effective_mass(9500.0, x, turn) / 9500.0, [0.8890, 0.7959, 0.6651], atol=5e-5)


@pytest.mark.parametrize(
    ("legs", "together", "first", "following"),
    [
        (2, 1, 1.0, -1.0),
        (3, 1, 1.0, -0.5),
        (4, 1, 1.0, 0.0),
        (6, 1, 1.0, 0.5),
        (3, 2, 0.5, -1.0),
        (4, 2, 0.5**0.5, -(0.5**0.5)),
        (6, 2, 0.75**0.5, 0.0),
    ],
)
def test_offsets_are_the_largest_two_pad_coordinates_along_the_descent(
    legs: int, together: int, first: float, following: float
) -> None:
    """Pads on the unit circle, the lowest direction at a pad (one first) or midway (two)."""
    azimuth = 2.0 * np.pi * np.arange(legs) / legs - (together - 1) * np.pi / legs
    by_height = np.unique(np.cos(azimuth).round(12))[::-1]
    assert_allclose(by_height[:2], [first, following], atol=1e-11)
    assert_allclose(first_offset(1.0, legs, together), first, atol=1e-12)
    assert_allclose(next_offset(1.0, legs, together), following, atol=1e-12)


def test_the_gap_is_the_height_of_the_next_pads_over_the_ground() -> None:
    """Foot plane turned by φ: a pad d farther up it stands d sin φ higher. 3 m at 30°: 1.5 m."""
    assert_allclose(next_gap(2.0, -1.0, np.radians(30.0)), 1.5, rtol=1e-12)
