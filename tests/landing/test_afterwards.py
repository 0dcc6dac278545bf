"""Lean, clearance, tip-over and standing after touchdowns that stopped at given strokes [D]."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.case.records import Leg, Standing, Vehicle
from crushleg.landing.afterwards import settle, standing_after, standing_before, tip_over
from tests.landing.test_touchdown import EARTH, MASS, MOON, UPRIGHT, flat, touch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.landing.touchdown import Landed

LANDER = Vehicle(
    mass=MASS,
    legs=4,
    gravity=MOON,
    centre_of_gravity_height=1.5,
    pad_circle_radius=2.0,
    radius_of_gyration=1.0,
    clearance=0.8,
    clearance_radius=0.9,
)
CANTED = Leg(side_load="guide", cant=np.radians(10.0), pad_friction=0.4)


def stopped(
    stroke: Sequence[float],
    others: Sequence[float] | None = None,
    leg: Leg = UPRIGHT,
    **given: Any,
) -> Landed:
    """Touchdown that stopped at these low, nominal and high strokes [m]."""
    landed = touch(flat(), vehicle=LANDER, leg=leg, **given)
    column = np.array(stroke)[:, None]
    rest = column if others is None else np.array(others)[:, None]
    return replace(landed, stroke=column, others=rest)


def test_even_crush_is_that_of_the_low_force_and_uneven_has_one_leg_low_and_the_rest_high() -> None:
    """0.20 m low, 0.12 m high, four legs on 2 m: mean 0.14 m, slope (0.20 - 0.12)/(2·2) = 0.02.

    Clearance 0.8 - 0.20 = 0.6 m even; 0.8 - 0.14 - 0.9·0.02 = 0.642 m uneven.
    """
    settled = settle(LANDER, stopped([0.20, 0.15, 0.12]))
    assert_allclose(settled.travel[:, 0], [0.20, 0.14], rtol=1e-12)
    assert_allclose(settled.lean[:, 0], [0.0, np.arctan(0.02)], atol=1e-15)
    assert_allclose(settled.clearance[:, 0], [0.6, 0.642], rtol=1e-12)


def test_uneven_crush_can_strike_where_even_crush_does_not() -> None:
    """r_c 6 m: 0.8 - 0.14 - 6·0.02 = 0.54 m, below the 0.6 m of even crush."""
    wide = replace(LANDER, clearance_radius=6.0)
    assert_allclose(settle(wide, stopped([0.20, 0.15, 0.12])).clearance[:, 0], [0.6, 0.54])


def test_six_legs_tilt_by_a_sixth_of_twice_the_difference() -> None:
    """|∇s| = 2 Δ/(6 R)."""
    settled = settle(replace(LANDER, legs=6), stopped([0.20, 0.15, 0.14]))
    assert_allclose(settled.lean[1], np.arctan(2.0 * 0.06 / 12.0), rtol=1e-12)
    assert_allclose(settled.travel[1], (0.20 + 5.0 * 0.14) / 6.0, rtol=1e-12)


def test_a_canted_leg_lowers_the_vehicle_by_its_vertical_travel() -> None:
    settled = settle(LANDER, stopped([0.20, 0.15, 0.12], leg=CANTED))
    c = np.cos(np.radians(10.0))
    assert_allclose(settled.travel[:, 0], [0.20 * c, 0.14 * c], rtol=1e-12)
    assert_allclose(settled.lean[1], np.arctan(0.02 * c), rtol=1e-12)
    assert_allclose(settled.clearance[1], 0.8 - 0.14 * c - 0.9 * 0.02 * c, rtol=1e-12)


@pytest.mark.parametrize(
    ("contact", "slope", "mean"),
    [("one", (0.30 - 0.10) / 4.0, 0.15), ("two", 0.20 * np.hypot(1, 1) / 4.0, 0.20)],
)
def test_first_legs_that_crushed_more_lean_the_vehicle(
    contact: str, slope: float, mean: float
) -> None:
    """0.30 m first, 0.10 m others: one of four, or two neighbours, |1 + i| = √2."""
    landed = stopped([0.30] * 3, [0.10] * 3, first_contact=contact, attitude=0.1)
    settled = settle(LANDER, landed)
    assert_allclose(settled.lean[:, 0], np.arctan(slope), rtol=1e-12)
    assert_allclose(settled.travel[:, 0], mean, rtol=1e-12)


def test_without_a_pad_circle_there_is_no_lean_and_without_a_clearance_no_strike() -> None:
    bare = Vehicle(mass=MASS, legs=4)
    settled = settle(bare, stopped([0.20, 0.15, 0.12]))
    assert_allclose(settled.lean, 0.0)
    assert np.all(np.isinf(settled.clearance))


@pytest.mark.parametrize(("slope", "before"), [(0.0, 2.060422), (12.0, 1.506741)])
def test_speed_that_tips_before_crush(slope: float, before: float) -> None:
    """Mass 1000 kg, h 1.5, R 2, four legs, k 1, Moon."""
    landed = stopped([0.15] * 3, slope=np.radians(slope))
    tips = tip_over(LANDER, UPRIGHT, landed, settle(LANDER, landed))
    assert_allclose(tips.speed[0], before, atol=5e-7)
    assert_allclose(np.degrees(tips.angle[0]), 43.31386, atol=5e-6)
    assert_allclose(tips.tilt[0], np.radians(slope))


def test_even_crush_helps_and_uneven_crush_takes_back() -> None:
    """After 0.15 m even 2.277698 m/s; 0.25 m low and 0.15 m high lean by atan(0.1/4), h' 1.325."""
    even = stopped([0.15] * 3)
    tips = tip_over(LANDER, UPRIGHT, even, settle(LANDER, even))
    assert_allclose(tips.speed[1], 2.277698, atol=5e-7)
    uneven = stopped([0.25, 0.2, 0.15])
    tips = tip_over(LANDER, UPRIGHT, uneven, settle(LANDER, uneven))
    h, r, lean = 1.5 - 0.175, np.sqrt(2.0), np.arctan(0.025)
    rho = np.hypot(h, r)
    lift = MOON * rho * (1.0 - np.cos(np.arctan2(r, h) - lean))
    assert_allclose(tips.speed[2], np.sqrt(2.0 * (1.0 + rho**2) * lift) / h, rtol=1e-9)
    assert_allclose(tips.tilt[2], lean, rtol=1e-12)


def test_pads_of_canted_legs_slip_in_and_narrow_the_base() -> None:
    """0.2 m at 10°: travel 0.196962, slip 0.034730 m; R' 1.965270, r' = R' cos 45°."""
    landed = stopped([0.2] * 3, leg=CANTED)
    tips = tip_over(LANDER, CANTED, landed, settle(LANDER, landed))
    travel, slip = 0.2 * np.cos(CANTED.cant), 0.2 * np.sin(CANTED.cant)
    r, h = (2.0 - slip) * np.sqrt(0.5), 1.5 - travel
    assert_allclose(tips.angle[1], np.arctan2(r, h), rtol=1e-12)


def test_two_legs_or_a_vehicle_without_lengths_have_no_tipping_edge() -> None:
    for vehicle in (replace(LANDER, legs=2), replace(LANDER, pad_circle_radius=None)):
        landed = stopped([0.15] * 3)
        tips = tip_over(vehicle, UPRIGHT, landed, settle(vehicle, landed))
        assert_allclose(tips.speed, 0.0)
        assert_allclose(tips.angle, 0.0)


def test_standing_before_is_even_share_and_overturning_of_the_mass_that_stands() -> None:
    """50 t on six legs of 3.4 m, 0.05 g0 at 9 m: 81 722.1 + 2·220 649.6/(6·3.4) = 103 354.4 N."""
    stage = Vehicle(mass=40e3, legs=6, centre_of_gravity_height=9.0, pad_circle_radius=3.4)
    fuelled = Standing(name="full", mass=50e3, side_acceleration=0.05 * EARTH)
    load, topples = standing_before(stage, UPRIGHT, fuelled)
    assert_allclose(load, 103_354.4, atol=0.05)
    assert not topples
    canted, _ = standing_before(stage, CANTED, fuelled)
    assert_allclose(canted, 103_354.4 * np.cos(CANTED.cant), rtol=1e-6)
    calm = replace(fuelled, side_acceleration=0.0)
    alone = standing_before(Vehicle(mass=40e3, legs=1), UPRIGHT, calm)
    assert_allclose(alone, (490_332.5, 0.0))


def test_a_vehicle_pushed_beyond_its_tipping_line_topples() -> None:
    """2.4 t, 2 m/s² at 1.5 m: 7200 N·m against 2400·1.62·2.1·cos 45° = 5773 N·m."""
    lander = Vehicle(
        mass=1800.0, legs=4, gravity=MOON, centre_of_gravity_height=1.5, pad_circle_radius=2.1
    )
    pushed = Standing(name="pushed", mass=2400.0, side_acceleration=2.0)
    assert standing_before(lander, UPRIGHT, pushed)[1]
    assert not standing_before(lander, UPRIGHT, replace(pushed, side_acceleration=1.6))[1]


@pytest.mark.parametrize(("legs", "share"), [(1, 1.0), (2, 0.5), (3, 1 / 3), (4, 0.5), (6, 1 / 3)])
def test_standing_after_takes_the_whole_weight_thrust_off(legs: int, share: float) -> None:
    landed = stopped([0.15] * 3, thrust_to_weight=0.6, mass=900.0)
    vehicle = replace(LANDER, legs=legs)
    assert_allclose(standing_after(vehicle, UPRIGHT, landed), share * 900.0 * MOON, rtol=1e-12)
    canted = standing_after(vehicle, CANTED, landed)
    assert_allclose(canted, share * 900.0 * MOON * np.cos(CANTED.cant), rtol=1e-12)
    strut = Leg(side_load="guide", travel_ratio=1.6)
    assert_allclose(standing_after(vehicle, strut, landed), 1.6 * share * 900.0 * MOON)
