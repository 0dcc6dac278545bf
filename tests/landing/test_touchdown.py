"""Assembled touchdowns on invented crush curves, worked by hand in the docstrings [D].

Vehicle of 1000 kg at 3 m/s, so 4500 J, and 40 kN in all, as the closed forms have it; low and
high force are 0.85 and 1.15 of the nominal one. The girder is next to rigid unless a test says so.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.case.records import Factors, Leg, Touchdown, Vehicle
from crushleg.girder.curve import Curve
from crushleg.landing.energy import work_against
from crushleg.landing.touchdown import Landed, land
from tests.samples import crushed, girder

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Girder
    from crushleg.girder.crush import Crush

MASS, EARTH, MOON, G0 = 1000.0, 9.80665, 1.62, 9.80665
WEIGHT = MASS * EARTH
LEVELS = np.array([0.85, 1.0, 1.15])
TOTAL = 40e3 * LEVELS
STAGE = Vehicle(
    mass=MASS,
    legs=4,
    centre_of_gravity_height=1.5,
    pad_circle_radius=2.0,
    radius_of_gyration=2.0,
)
UPRIGHT = Leg(side_load="guide", pad_friction=0.0)
STEPS = [0.0, 0.06, 0.06, 0.12, 0.12, 0.27], [15e3, 15e3, 25e3, 25e3, 40e3, 40e3]


def invented(
    stroke: ArrayLike, force: ArrayLike, stiffness: float = 1e13, record: Girder | None = None
) -> Crush:
    """Crush of one girder whose nominal curve of straight pieces [m, N] is given, a fold a piece.

    Section and zones are those of ``record``.
    """
    real = crushed(girder() if record is None else record)
    s = np.asarray(stroke, dtype=np.float64)[None]
    f = LEVELS[:, None, None] * np.asarray(force, dtype=np.float64)
    energy = work_against(s, f)
    bounds = np.unique(s)[None]
    at = np.stack([np.interp(bounds[0], s[0], e[0]) for e in energy])[:, None]
    folds = real.folds._replace(stroke=bounds, force=np.diff(at) / np.diff(bounds))
    return real._replace(
        curve=Curve(s, f, energy),
        folds=folds,
        usable=s[:, -1],
        stiffness=np.array([stiffness]),
    )


def flat(force: float = 10e3, end: float = 0.3, stiffness: float = 1e13) -> Crush:
    return invented([0.0, end], [force, force], stiffness)


def touch(
    crush: Crush, vehicle: Vehicle = STAGE, leg: Leg = UPRIGHT, speed: float = 3.0, **given: Any
) -> Landed:
    touchdown = Touchdown(name="sample", vertical_speed=speed, **given)
    return land(crush, vehicle, leg, touchdown, Factors(speed_reserve=1.2))


def one(values: FloatArray) -> FloatArray:
    """Low, nominal, high of the only girder."""
    assert values.shape == (3, 1)
    return values[:, 0]


@pytest.mark.parametrize(
    ("gravity", "stroke", "time", "energy"),
    [(EARTH, 0.1490394, 0.099360, 5961.578), (MOON, 0.117249, 0.078166, 4689.943)],
)
def test_four_legs_of_10_kn_stop_it_as_40_kn_do(
    gravity: float, stroke: float, time: float, energy: float
) -> None:
    """S = m v²/[2 (F - m g)] at each force; the printed digits are the nominal ones."""
    landed = touch(flat(), replace(STAGE, gravity=gravity))
    net = TOTAL - MASS * gravity
    assert_allclose(one(landed.stroke), 4500.0 / net, rtol=1e-6)
    assert_allclose(one(landed.duration), 3000.0 / net, rtol=1e-6)
    assert_allclose(one(landed.demand), TOTAL * 4500.0 / net, rtol=1e-6)
    found = landed.stroke[1, 0], landed.duration[1, 0], landed.demand[1, 0]
    assert_allclose(found, (stroke, time, energy), rtol=5e-6)
    assert_allclose(landed.others, landed.stroke)
    assert_allclose(landed.stroke_needed, landed.stroke)
    assert not landed.bottomed.any()


def test_the_three_g_values_at_40_kn() -> None:
    landed = touch(flat())
    assert_allclose(landed.gear_factor[1], 4.07886, atol=5e-6)
    assert_allclose(landed.deceleration[1] / G0, 3.07886, atol=5e-6)
    assert_allclose(landed.accelerometer[1] / G0, 4.07886, atol=5e-6)
    assert_allclose(one(landed.peak), 10e3 * LEVELS, rtol=1e-12)
    assert_allclose(landed.pad_peak, landed.peak)
    assert_allclose(landed.side_peak, 0.0)


def test_thrust_of_half_the_weight_is_held_to_the_stop() -> None:
    """T = 4903.325 N: Wn = 4903.325 N, stroke 4500/(40 000 - 4903.325) = 0.128217 m."""
    landed = touch(flat(), thrust_to_weight=0.5)
    assert_allclose(landed.arrival.thrust, 4903.325)
    assert_allclose(landed.stroke[1], 4500.0 / 35096.675, rtol=1e-6)
    assert_allclose(landed.deceleration[1], 35.096675, rtol=1e-9)
    assert_allclose(landed.accelerometer[1], 44.903325, rtol=1e-9)
    assert_allclose(landed.gear_factor[1], 4.07886, atol=5e-6)


def test_energy_at_the_end_of_the_stroke_asked_and_there() -> None:
    """Asked 4500 + 9806.65·0.3 = 7441.995 J; there 34, 40, 46 kN times 0.3 m."""
    landed = touch(flat())
    assert_allclose(one(landed.asked), 7441.995, rtol=1e-6)
    assert_allclose(one(landed.capacity), 0.3 * TOTAL, rtol=1e-6)


def test_a_reserve_case_multiplies_every_speed_once() -> None:
    """1.2 × 3 = 3.6 m/s, 6480 J; horizontal and turning speed likewise."""
    given: dict[str, Any] = {"horizontal_speed": 0.5, "attitude_rate": 0.1}
    plain, reserve = (touch(flat(), reserve=r, **given).arrival for r in (False, True))
    assert (plain.vertical, plain.horizontal, plain.rate) == (3.0, 0.5, 0.1)
    assert_allclose((reserve.vertical, reserve.horizontal, reserve.rate), (3.6, 0.6, 0.12))
    assert_allclose(reserve.kinetic, 1.44 * plain.kinetic)
    landed = touch(flat(), reserve=True)
    assert_allclose(landed.arrival.kinetic, 6480.0)
    assert_allclose(landed.stroke[1], 6480.0 / (40e3 - WEIGHT), rtol=1e-6)


def test_the_mass_of_the_touchdown_replaces_that_of_the_vehicle() -> None:
    """800 kg: 3600 J and 7845.32 N."""
    landed = touch(flat(), mass=800.0)
    assert_allclose(landed.stroke[1], 3600.0 / (40e3 - 7845.32), rtol=1e-6)
    assert_allclose(landed.arrival.weight, 7845.32)


def test_uphill_speed_closes_faster_and_downhill_never_slower() -> None:
    """2 m/s with 0.5 m/s up 5°: 2 cos 5° + 0.5 sin 5° = 2.035967 m/s; alone 2 m/s stays 2 m/s."""
    along = touch(flat(), speed=2.0, horizontal_speed=0.5, slope=np.radians(5.0))
    assert_allclose(along.arrival.closing, 2.035967, atol=5e-7)
    assert_allclose(along.arrival.kinetic, 500.0 * 2.035967**2, rtol=1e-6)
    assert touch(flat(), speed=2.0, slope=np.radians(5.0)).arrival.closing == 2.0


def test_turning_adds_its_own_energy() -> None:
    """Turning energy m k² ω²/2 = 500 · 4 · 0.25 = 500 J, whichever way it turns."""
    for rate in (0.5, -0.5):
        assert_allclose(touch(flat(), attitude_rate=rate).arrival.kinetic, 5000.0)


def test_a_canted_leg_in_a_guide_with_friction() -> None:
    """γ 10°, μ 0.4, μg 0.1, from the balance of forces along and across the axis.

    V (cos γ - μ sin γ) = A, V (sin γ + μ cos γ) = T, A = F + μg T: V 1.164698, A 1.066105,
    T 0.661049 per F. Travel is stroke × cos γ, so S cos γ (n V - Wn) = m v²/2.
    """
    leg = Leg(side_load="guide", cant=np.radians(10.0), pad_friction=0.4, guide_friction=0.1)
    c, s = np.cos(leg.cant), np.sin(leg.cant)
    balance = [[c - 0.4 * s, -1.0, 0.0], [s + 0.4 * c, 0.0, -1.0], [0.0, 1.0, -0.1]]
    v, a, t = np.linalg.solve(balance, [0.0, 0.0, 1.0])
    assert_allclose((v, a, t), (1.164698, 1.066105, 0.661049), atol=5e-7)
    landed = touch(flat(), leg=leg)
    assert_allclose(one(landed.stroke), 4500.0 / (TOTAL * v - WEIGHT) / c, rtol=1e-6)
    assert_allclose(one(landed.girder_peak), 10e3 * LEVELS, rtol=1e-9)
    assert_allclose(one(landed.peak), 10e3 * LEVELS * a, rtol=1e-9)
    assert_allclose(one(landed.side_peak), 10e3 * LEVELS * t, rtol=1e-9)
    assert_allclose(one(landed.pad_peak), 10e3 * LEVELS * v, rtol=1e-9)
    assert_allclose(one(landed.gear_factor), TOTAL * v / (MASS * G0), rtol=1e-9)
    assert_allclose(one(landed.capacity), 0.3 * TOTAL * v * c, rtol=1e-6)
    bare = touch(flat(), leg=replace(leg, side_load="girder"))
    assert_allclose(bare.peak, bare.girder_peak, rtol=1e-12)


def test_a_linkage_of_two_travels_per_stroke() -> None:
    """V = F/2, z = 2 s: 2 S (20 kN - Wn) = 4500 J; the strut carries no side load."""
    landed = touch(flat(), leg=Leg(side_load="guide", travel_ratio=2.0, pad_friction=0.4))
    assert_allclose(landed.stroke[1], 4500.0 / (20e3 - WEIGHT) / 2.0, rtol=1e-6)
    assert_allclose(landed.pad_peak[1], 5e3, rtol=1e-9)
    assert_allclose(landed.peak[1], 10e3, rtol=1e-9)
    assert_allclose(landed.side_peak, 0.0)


def test_the_weak_leg_meets_the_third_step_and_gives_the_largest_load() -> None:
    """Steps of 15, 25, 40 kN in all, 1.5 m/s: 1125 J; weight 9806.65 N.

    Low: 176.601 + 686.601 J in two steps, 261.798 J left, over 34 000 - 9806.65 N: 0.010821 m
    into the third, 2.07214 folds. Nominal and high stop in the second step.
    """
    landed = touch(invented(STEPS[0], np.array(STEPS[1]) / 4.0), speed=1.5)
    assert_allclose(4.0 * one(landed.peak), [34e3, 25e3, 28.75e3], rtol=1e-9)
    assert_allclose(one(landed.deceleration), np.array([34e3, 25e3, 28.75e3]) / MASS - EARTH)
    assert_allclose(landed.stroke[0], 0.130821, atol=5e-7)
    assert_allclose(landed.folds[0], 2.07214, atol=5e-6)
    assert_allclose(4.0 * one(landed.mean_at_stop), [34e3, 25e3, 28.75e3], rtol=1e-9)
    assert_allclose(4.0 * one(landed.at_stop), [34e3, 25e3, 28.75e3], rtol=1e-9)


def test_elastic_shortening_is_travelled_and_given_back() -> None:
    """K 1 MN/m, 10 kN: 10 mm and 4·50 J; 4500 = 200 + 40 000 s - 9806.65 (s + 0.01)."""
    landed = touch(flat(stiffness=1e6))
    crush = (4500.0 - 200.0 + 98.0665) / (40e3 - WEIGHT)
    assert_allclose(landed.crush[1], crush, rtol=1e-9)
    assert_allclose(landed.stroke[1], crush + 0.01, rtol=1e-9)
    assert_allclose(landed.returned[1], 200.0, rtol=1e-9)
    assert_allclose(landed.capacity[1], 4.0 * (3000.0 + 50.0), rtol=1e-9)
    assert_allclose(landed.asked[1], 4500.0 + WEIGHT * 0.31, rtol=1e-9)


def test_a_soft_touch_stops_in_the_elastic_rise() -> None:
    """0.1 m/s, 5 J; 4 MN/m on Wn: x = Wn/K + √(Wn² + 2 K E)/K, force K x, no crush."""
    landed = touch(flat(force=50e3, stiffness=1e6), speed=0.1)
    x = (WEIGHT + np.sqrt(WEIGHT**2 + 8e6 * 5.0)) / 4e6
    assert_allclose(one(landed.stroke), x, rtol=1e-9)
    assert_allclose(one(landed.peak), 1e6 * x, rtol=1e-9)
    assert_allclose(landed.crush, 0.0, atol=1e-15)
    assert_allclose(landed.folds, 0.0, atol=1e-12)


def test_a_leg_that_ends_too_soon_bottoms_on_its_own_stiffness() -> None:
    """Usable 0.1 m, K 10 MN/m, nominal: 1 mm and 20 J elastic.

    Taken 4020 J less 9806.65·0.101 = 990.472 J; 1470.472 J are missing. On 40 MN/m and the
    weight: Wn + √[(40 000 - Wn)² + 2·4e7·1470.472] = 354 117 N. Going on at 40 kN it would need
    0.101 + 1470.472/30 193.35 m.
    """
    landed = touch(flat(end=0.1, stiffness=1e7))
    missing = 4500.0 + WEIGHT * 0.101 - 4020.0
    hard = WEIGHT + np.sqrt((40e3 - WEIGHT) ** 2 + 8e7 * missing)
    assert_allclose((missing, hard), (1470.472, 354_117.0), rtol=1e-5)
    assert landed.bottomed[1, 0]
    assert_allclose(4.0 * landed.peak[1], hard, rtol=1e-9)
    assert_allclose(landed.deceleration[1], (hard - WEIGHT) / MASS, rtol=1e-9)
    assert_allclose(landed.stroke[1], 0.101, rtol=1e-9)
    assert_allclose(landed.stroke_needed[1], 0.101 + missing / (40e3 - WEIGHT), rtol=1e-9)
    assert_allclose(landed.demand[1], 4500.0 + WEIGHT * landed.stroke_needed[1], rtol=1e-9)


def test_a_canted_leg_bottoms_on_the_stiffness_of_its_travel() -> None:
    """Frictionless at 50°: V = F/cos γ, z = s cos γ, so dV/dz = K/cos² γ."""
    leg = Leg(side_load="guide", cant=np.radians(50.0), pad_friction=0.0)
    landed = touch(flat(end=0.1, stiffness=1e7), leg=leg)
    c = np.cos(leg.cant)
    missing = 4500.0 + WEIGHT * 0.101 * c - 4020.0
    hard = WEIGHT + np.sqrt((40e3 / c - WEIGHT) ** 2 + 8e7 / c**2 * missing)
    assert_allclose(4.0 * landed.pad_peak[1], hard, rtol=1e-9)


def test_a_leg_that_carries_less_than_the_weight_never_stops() -> None:
    landed = touch(flat(force=2e3))
    assert landed.bottomed.all()
    assert np.all(np.isinf(landed.stroke_needed))
    assert np.all(np.isfinite(landed.peak))


def test_out_of_order_the_load_is_the_largest_start_force_of_all_zones() -> None:
    """One zone of 20, 30, 35 kN against 10 kN of the curve; four such legs on the vehicle."""
    crush = flat()
    start = np.array([20e3, 30e3, 35e3])[:, None, None]
    for foot, peak in ((True, 10e3 * LEVELS), (False, start[:, 0, 0])):
        sequence = crush.sequence._replace(from_foot=np.array([foot]), start=start)
        landed = touch(crush._replace(sequence=sequence))
        assert_allclose(one(landed.peak), peak, rtol=1e-9)
        assert_allclose(one(landed.deceleration), 4.0 * peak / MASS - EARTH, rtol=1e-9)


def test_out_of_order_a_touch_that_crushes_nothing_starts_no_zone() -> None:
    """0.1 m/s on 4 MN/m stops in the elastic rise of a 50 kN leg, as in order."""
    crush = flat(force=50e3, stiffness=1e6)
    out = crush.sequence._replace(from_foot=np.array([False]))
    in_order, not_so = (touch(c, speed=0.1) for c in (crush, crush._replace(sequence=out)))
    assert_allclose(not_so.peak, in_order.peak, rtol=1e-12)
    assert_allclose(not_so.deceleration, in_order.deceleration, rtol=1e-12)


@pytest.mark.parametrize(
    ("friction", "legs", "first", "x1", "xj"),
    [(0.0, 4, "one", 2.0, 0.0), (1.0, 4, "one", 2.0, 0.0), (0.0, 4, "two", 2**0.5, -(2**0.5))],
)
@pytest.mark.parametrize("rate", [0.0, 0.2])
def test_the_first_legs_stop_their_part_then_all_share(
    friction: float, legs: int, first: str, x1: float, xj: float, rate: float
) -> None:
    """Legs of 40 kN, k 2 m, h 1.5 m, 20° of attitude: the first ones stop before the next touch.

    κ = x1/(k² + h²) stuck, x1/k² frictionless; m_eff = m/(1 + x1 κ). The first q legs at
    v1 = v + ω x1 travel s = m_eff v1²/[2 (q F - m_eff g)]. Pad j stands at z_fj - c (z_f1 - s),
    c = (1 + xj κ)/(1 + x1 κ), z_f = (v + ω x) t + g t²/2; at the gap (x1 - xj) sin 20° it
    touches. The centre of gravity (x = 0) sank by v t + g t²/2 - (m_eff/m)(z_f1 - s). All legs
    then take what is left in motion.
    """
    q = {"one": 1, "two": 2}[first]
    leg = replace(UPRIGHT, pad_friction=friction)
    kappa = x1 / (4.0 + 2.25) if friction else x1 / 4.0
    part = 1.0 / (1.0 + x1 * kappa)
    v1, vj = 3.0 + rate * x1, 3.0 + rate * xj
    s = 0.5 * part * MASS * v1**2 / (q * 40e3 - part * WEIGHT)
    c = (1.0 + xj * kappa) * part
    fall = [0.5 * EARTH * (1.0 - c), vj - c * v1, c * s - (x1 - xj) * np.sin(np.radians(20.0))]
    t = float(np.roots(fall).max())
    sunk = 3.0 * t + 0.5 * EARTH * t**2 - part * (v1 * t + 0.5 * EARTH * t**2 - s)
    kinetic = 4500.0 + 500.0 * 4.0 * rate**2 + WEIGHT * sunk - q * 40e3 * s
    late = kinetic / (legs * 40e3 - WEIGHT)
    given: dict[str, Any] = {"attitude": np.radians(-20.0), "attitude_rate": -rate}
    landed = touch(flat(40e3, 1.0), leg=leg, first_contact=first, **given)
    assert landed.first == q
    assert_allclose(landed.stroke[1], s + late, rtol=1e-6)
    assert_allclose(landed.others[1], late, rtol=1e-6)
    assert_allclose(landed.demand[1], q * 40e3 * s + legs * 40e3 * late, rtol=1e-6)
    assert_allclose(landed.duration[1], t + late * 2.0 / np.sqrt(2.0 * kinetic / MASS), rtol=1e-6)
    assert_allclose(landed.gear_factor[1], legs * 40e3 / (MASS * G0), rtol=1e-9)
    end = q * 40e3 + (legs - q) * 40e3 * (1.0 - s)
    assert_allclose(landed.capacity[1], end, rtol=1e-6)
    assert_allclose(landed.asked[1], q * 40e3 * s + kinetic + WEIGHT * (1.0 - s), rtol=1e-6)


def test_slope_and_attitude_both_lift_the_next_pads() -> None:
    tilts: tuple[dict[str, Any], ...] = (
        {"attitude": 0.2},
        {"slope": 0.2},
        {"attitude": 0.05, "slope": 0.15},
    )
    found = [touch(flat(40e3, 1.0), first_contact="one", **tilt).stroke for tilt in tilts]
    assert_allclose(found[1], found[0], rtol=1e-12)
    assert_allclose(found[2], found[0], rtol=1e-12)


@pytest.mark.parametrize(("rate", "speed"), [(0.0, 3.0), (0.2, 3.4)])
def test_a_first_leg_that_bottoms_alone_is_judged_on_what_it_could_not_take(
    rate: float, speed: float
) -> None:
    """Frictionless on 4 legs: m_eff 500 kg, v1 = 3 + 2 ω, 2250 J at rest; 40 kN over 0.03 m.

    It holds 1200 J; asked are 250 v1² + 4903.325·0.03 J. The total force is that leg's alone.
    """
    tilt = np.radians(20.0)
    landed = touch(flat(40e3, 0.03), first_contact="one", attitude=tilt, attitude_rate=rate)
    assert landed.bottomed[1, 0]
    assert_allclose(landed.capacity[1], 1200.0, rtol=1e-6)
    assert_allclose(landed.asked[1], 250.0 * speed**2 + 4903.325 * 0.03, rtol=1e-6)
    assert landed.stroke_needed[1, 0] > 0.03
    assert landed.peak[1, 0] > 40e3
    assert_allclose(landed.gear_factor, landed.peak / (MASS * G0), rtol=1e-12)
