"""The vehicle at rest: planes through its pads, statics of its legs."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from crushleg.landing.settle import (
    clearance_left,
    crush_tilt,
    lean_angle,
    standing_load,
    topples,
    worst_share_after,
)


def azimuths(legs: int) -> np.ndarray:
    return 2.0 * np.pi * np.arange(legs) / legs


def test_opposite_pads_4_m_apart_crushed_0_12_and_0_18_lean_by_0_8594_degrees() -> None:
    """Tangent: (0.18 - 0.12)/4 [D]."""
    tilt = crush_tilt([0.12, 0.15, 0.18, 0.15], azimuths(4), 2.0, 1.0)
    assert_allclose(np.degrees(lean_angle(tilt)), 0.8594, atol=5e-5)


@given(strokes=st.lists(st.floats(0.0, 0.5), min_size=3, max_size=8))
def test_the_tilt_is_the_slope_of_the_least_squares_plane_through_the_pads(
    strokes: list[float],
) -> None:
    n, radius, travel = len(strokes), 2.5, 0.9
    where = radius * np.exp(1j * azimuths(n))
    plane = np.column_stack([np.ones(n), where.real, where.imag])
    fit = np.linalg.lstsq(plane, travel * np.array(strokes), rcond=None)[0]
    found = crush_tilt(strokes, azimuths(n), radius, travel)
    assert_allclose(found, np.hypot(fit[1], fit[2]), rtol=1e-9, atol=1e-12)


@given(even=st.floats(0.0, 0.5), legs=st.integers(3, 12))
def test_even_crush_does_not_lean(even: float, legs: int) -> None:
    assert_allclose(crush_tilt([even] * legs, azimuths(legs), 2.0, 1.0), 0.0, atol=1e-15)


def test_two_legs_lean_in_their_plane_and_a_guided_one_does_not() -> None:
    assert_allclose(crush_tilt([0.3, 0.1], azimuths(2), 2.0, 1.0), 0.2 / 4.0, rtol=1e-12)
    assert crush_tilt([0.3], azimuths(1), 2.0, 1.0) == 0.0


def test_many_landings_at_once() -> None:
    strokes = np.array([[0.1, 0.2, 0.1, 0.0], [0.1, 0.1, 0.1, 0.1]])
    tilt = crush_tilt(strokes, azimuths(4), [2.0, 3.0], 1.0)
    assert_allclose(tilt, [0.05, 0.0], atol=1e-15)


def test_clearance_loses_travel_lean_and_sinkage() -> None:
    assert_allclose(clearance_left(0.8, 0.2, 1.0, 0.05, 0.03), 0.52, rtol=1e-12)
    assert clearance_left(0.2, 0.3, 0.0, 0.0, 0.0) < 0.0


@pytest.mark.parametrize("legs", [3, 4, 5, 6, 8])
def test_a_standing_vehicle_is_in_equilibrium_on_equal_springs(legs: int) -> None:
    """Loads a + b cos θ, the least-norm ones that carry weight and moment."""
    weight, moment, radius = 60e3, 20e3, 3.0
    arms = radius * np.exp(1j * azimuths(legs))
    statics = np.vstack([np.ones(legs), arms.real, arms.imag])
    loads = np.linalg.lstsq(statics, np.array([weight, moment, 0.0]), rcond=None)[0]
    assert_allclose(standing_load(weight, legs, moment, radius), loads.max(), rtol=1e-12)


def test_one_or_two_legs_stand_upright_but_carry_no_moment() -> None:
    assert standing_load(10e3, [1, 2], 0.0, 2.0).tolist() == [10e3, 5e3]
    assert topples(10e3, [1, 2], 1.0, 2.0).tolist() == [True, True]
    assert topples(10e3, [1, 2], 0.0, 2.0).tolist() == [False, False]


def test_beyond_lift_off_the_load_runs_to_the_whole_weight_on_one_pad() -> None:
    """Four legs, W R = 20 kN·m: W/2 at half of it, at W R cos 45° 0.7071 W, W at all of it."""
    moment = [10e3, 20e3 * np.cos(np.pi / 4), 20e3]
    assert_allclose(standing_load(10e3, 4, moment, 2.0), [5e3, 7071.068, 10e3], rtol=1e-6)


def test_shares_after_uneven_crush() -> None:
    shares = worst_share_after([1, 2, 3, 4, 5, 6, 8])
    assert_allclose(shares, [1, 1 / 2, 1 / 3, 1 / 2, 1 / 3, 1 / 3, 1 / 3], rtol=1e-15)
