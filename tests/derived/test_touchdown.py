"""Touchdown on all legs at once: m = 1000 kg, v = 3 m/s, worked by hand [D].

Energy: the force less the net weight Wn = m g - T does the work of the kinetic energy,
(F - Wn) S = m v²/2; momentum: (F - Wn) t = m v. On a ramp F0 + c s the first is the quadratic
c S²/2 + (F0 - Wn) S = m v²/2; its motion is a quarter swing about (Wn - F0)/c at √(c/m), so
t = atan2(√(c/m) v, (F0 - Wn)/m)/√(c/m). On steps each one takes (F_i - Wn) of its length. The
ramps and steps were confirmed by numerical time integration; gravity as printed.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.landing.energy import stop, swept_peak, work_against
from crushleg.landing.ideal import constant_force_stop, drop_height, free_fall_speed
from crushleg.landing.leg import sliding_leg
from crushleg.landing.rates import STANDARD_GRAVITY, accelerometer, deceleration, gear_factor
from crushleg.landing.timing import duration, speed_left

MASS, SPEED, EARTH, MOON = 1000.0, 3.0, 9.80665, 1.62
DEMAND = 0.5 * MASS * SPEED**2
WEIGHT = MASS * EARTH
FORCE = 40e3
STEP_STROKE = np.array([0.0, 0.06, 0.06, 0.12, 0.12, 0.27])
STEP_FORCE = np.array([15e3, 15e3, 25e3, 25e3, 40e3, 40e3])
STEP_ENERGY = work_against(STEP_STROKE, STEP_FORCE)


@pytest.mark.parametrize(
    ("weight", "stroke", "time", "energy"),
    [
        (MASS * EARTH, 0.1490394, 0.099360, 5961.578),
        (MASS * MOON, 0.117249, 0.078166, 4689.943),
        (0.0, 0.112500, 0.075000, 4500.000),
    ],
    ids=["Earth", "Moon", "thrust = weight"],
)
def test_a_constant_force_stops_it_as_the_closed_form_says(
    weight: float, stroke: float, time: float, energy: float
) -> None:
    s, t, e = constant_force_stop(MASS, SPEED, FORCE, weight)
    assert_allclose(s, stroke, rtol=5e-6)
    assert_allclose(t, time, atol=5e-7)
    assert_allclose(e, energy, atol=5e-4)
    curve = np.linspace(0.0, 0.3, 7), np.full(7, FORCE)
    rest = stop(*curve, work_against(*curve), weight, DEMAND)
    assert_allclose([rest.stroke, rest.energy], [s, e], rtol=1e-14)
    spent = duration(*curve, work_against(*curve), weight, MASS, SPEED, rest.stroke)
    assert_allclose(spent, t, rtol=1e-12)


def test_the_three_g_values_differ_as_their_names_say() -> None:
    assert_allclose(gear_factor(FORCE, MASS), 4.07886, atol=5e-6)
    assert_allclose(deceleration(FORCE, WEIGHT, MASS) / STANDARD_GRAVITY, 3.07886, atol=5e-6)
    assert_allclose(accelerometer(FORCE, 0.0, MASS) / STANDARD_GRAVITY, 4.07886, atol=5e-6)


def test_thrust_moves_deceleration_and_accelerometer_by_the_same_but_not_the_gear_factor() -> None:
    """(F - m g + T)/m against (F + T)/m: both gain T/m, they stay g apart."""
    thrust = 0.3 * WEIGHT
    slowed = deceleration(FORCE, WEIGHT - thrust, MASS)
    assert_allclose(accelerometer(FORCE, thrust, MASS) - slowed, EARTH, rtol=1e-12)
    assert_allclose(slowed - deceleration(FORCE, WEIGHT, MASS), thrust / MASS, rtol=1e-12)


@pytest.mark.parametrize(
    ("first", "stroke", "time", "peak"),
    [(10e3, 0.211167, 0.110750, 52_233.5), (0.0, 0.266758, 0.127134, 53_351.7)],
)
def test_a_ramp_of_200_kn_per_metre(first: float, stroke: float, time: float, peak: float) -> None:
    s = np.linspace(0.0, 0.4, 16001)
    f = first + 200e3 * s
    e = first * s + 100e3 * s**2
    rest = stop(s, f, e, WEIGHT, DEMAND)
    assert_allclose(rest.stroke, stroke, atol=5e-7)
    assert_allclose(swept_peak(s, f, rest.stroke), peak, atol=0.05)
    assert_allclose(duration(s, f, e, WEIGHT, MASS, SPEED, rest.stroke), time, atol=5e-7)


def test_the_ramp_from_10_kn_takes_6571_j_at_efficiency_0_596() -> None:
    s, f = np.array([0.0, 0.4]), np.array([10e3, 90e3])  # one straight piece: exact
    rest = stop(s, f, work_against(s, f), WEIGHT, DEMAND)
    assert_allclose(rest.energy, 6570.846, atol=5e-4)
    assert_allclose(rest.energy / (rest.force * rest.stroke), 0.59572, atol=5e-6)


def test_steps_of_15_25_and_40_kn() -> None:
    rest = stop(STEP_STROKE, STEP_FORCE, STEP_ENERGY, WEIGHT, DEMAND)
    assert_allclose(rest.stroke, 0.228527, atol=5e-7)
    speeds = speed_left(STEP_STROKE, STEP_ENERGY, WEIGHT, MASS, SPEED)
    assert_allclose(speeds[[1, 3]], [2.894270, 2.559999], atol=5e-7)
    t = duration(STEP_STROKE, STEP_FORCE, STEP_ENERGY, WEIGHT, MASS, SPEED, rest.stroke)
    assert_allclose(t, 0.127147, atol=5e-7)


@pytest.mark.parametrize(
    ("mass", "speed", "force", "stroke"),
    [(1.05, 1.10, 0.85, 0.24120), (0.95, 1.10, 1.15, 0.14101)],
    ids=["heavy on a weak leg", "light on a strong leg"],
)
def test_the_corners_of_mass_speed_and_force(
    mass: float, speed: float, force: float, stroke: float
) -> None:
    m, v, f = mass * MASS, speed * SPEED, force * FORCE
    s, _, _ = constant_force_stop(m, v, f, m * EARTH)
    assert_allclose(s, stroke, atol=5e-6)


def test_the_light_corner_has_the_largest_gear_factor() -> None:
    assert_allclose(gear_factor(1.15 * FORCE, 0.95 * MASS), 4.938, atol=5e-4)


def test_the_weak_leg_can_meet_the_third_step_that_the_strong_one_never_reaches() -> None:
    """At 1.5 m/s 1125 J come in; two steps less weight hold 863 J weak, 1583 J strong."""
    f = STEP_FORCE * np.array([[0.85], [1.15]])
    e = STEP_ENERGY * np.array([[0.85], [1.15]])
    rest = stop(STEP_STROKE, f, e, WEIGHT, 0.5 * MASS * 1.5**2)
    assert_allclose(swept_peak(STEP_STROKE, f, rest.stroke), [34.0e3, 28.75e3], rtol=1e-12)


def test_a_leg_canted_by_20_degrees_on_a_pad_of_friction_0_4() -> None:
    """Ground pushes V up and μV outward on the pad that slips inward.

    F is what of both runs along the axis, V (cos γ - μ sin γ), T across it, V (sin γ + μ cos γ).
    """
    leg = sliding_leg(np.radians(20.0), 0.4, 0.0)
    assert_allclose([leg.reaction, leg.side], [1.24551, 0.89415], atol=5e-6)


def test_drop_heights_and_speeds() -> None:
    """v² = 2 g h; inch 25.4 mm, foot 304.8 mm, exact."""
    assert_allclose(drop_height(3.0), 0.458872, atol=5e-7)
    assert_allclose(drop_height([10 * 0.3048, 12 * 0.3048]) / 0.0254, [18.649, 26.854], atol=5e-4)
    assert_allclose(free_fall_speed(13 * 0.0254, 0.0, EARTH), 2.5449, atol=5e-5)


def test_engine_cut_off_at_13_feet_and_3_3_miles_an_hour_over_the_moon() -> None:
    """Cut-off figures from a press report of 1966; mile 1609.344 m."""
    start = 3.3 * 1609.344 / 3600.0
    assert_allclose(free_fall_speed(13 * 0.3048, start, MOON), 3.8749, atol=5e-5)
