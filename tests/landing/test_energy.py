"""The stop: against time integration by scipy, and laws over random curves."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose, assert_array_equal
from scipy.integrate import solve_ivp

from crushleg.landing.energy import (
    Stop,
    energy_at,
    force_at,
    stop,
    swept_peak,
    work_against,
)
from crushleg.landing.timing import duration

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

MASS, SPEED, WEIGHT = 1000.0, 3.0, 9806.65
DEMAND = 0.5 * MASS * SPEED**2


class Curve(NamedTuple):
    stroke: FloatArray
    force: FloatArray
    energy: FloatArray


def straight(stroke: list[float], force: list[float]) -> Curve:
    s, f = np.array(stroke), np.array(force)
    return Curve(s, f, work_against(s, f))


@st.composite
def curves(draw: st.DrawFn) -> Curve:
    """Random straight pieces and jumps, the energy up to 2 % beside the trapezoid."""
    n = draw(st.integers(2, 12))
    runs = draw(st.lists(st.sampled_from([0.0, 0.01, 0.03, 0.08]), min_size=n, max_size=n))
    forces = draw(st.lists(st.floats(2e3, 80e3), min_size=n + 1, max_size=n + 1))
    extra = draw(st.lists(st.floats(-0.02, 0.02), min_size=n, max_size=n))
    s = np.concatenate([[0.0], np.cumsum(runs)])
    work = np.diff(work_against(s, forces)) * (1.0 + np.array(extra))
    return Curve(s, np.array(forces), np.concatenate([[0.0], np.cumsum(work)]))


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_stroke_and_time_agree_with_time_integration(seed: int) -> None:
    """From m s'' = Wn - F(s) and 3 m/s, to the event s' = 0; F straight between random knots."""
    rng = np.random.default_rng(seed)
    knots, values = np.linspace(0.0, 0.4, 9), rng.uniform(5e3, 60e3, 9)

    def motion(_: float, state: FloatArray) -> list[float]:
        pushed = float(np.interp(state[0], knots, values))
        return [state[1], (WEIGHT - pushed) / MASS]

    def still(_: float, state: FloatArray) -> float:
        return float(state[1])

    still.terminal = True  # type: ignore[attr-defined]  # scipy reads it from the function
    moved = solve_ivp(
        motion, (0.0, 2.0), [0.0, SPEED], events=still, rtol=1e-10, atol=1e-12, max_step=1e-3
    )
    assert moved.t_events[0].size == 1

    s = np.linspace(0.0, 0.4, 8001)
    f = np.interp(s, knots, values)
    e = work_against(s, f)
    rest = stop(s, f, e, WEIGHT, DEMAND)
    assert not rest.bottomed
    assert_allclose(rest.stroke, moved.y_events[0][0, 0], rtol=1e-7)
    spent = duration(s, f, e, WEIGHT, MASS, SPEED, rest.stroke)
    assert_allclose(spent, moved.t_events[0][0], rtol=2e-5)
    assert_allclose(rest.force, np.interp(rest.stroke, knots, values), rtol=1e-12)


@given(curve=curves(), weight=st.floats(0.0, 20e3), demand=st.floats(0.0, 6e3))
def test_energy_balances_at_the_stop_and_at_the_end(
    curve: Curve, weight: float, demand: float
) -> None:
    rest = stop(*curve, weight, demand)
    taken = energy_at(*curve, rest.stroke) if not rest.bottomed else curve.energy[-1]
    assert_allclose(
        rest.energy, demand - rest.shortfall + weight * rest.stroke, rtol=1e-9, atol=1e-6
    )
    assert_allclose(taken, rest.energy, rtol=1e-9, atol=1e-6)


@given(curve=curves(), weight=st.floats(0.0, 20e3), demand=st.floats(0.0, 6e3))
def test_it_is_the_first_stroke_with_enough_energy(
    curve: Curve, weight: float, demand: float
) -> None:
    rest = stop(*curve, weight, demand)
    on_the_way = np.linspace(0.0, 1.0, 301)[:-1] * rest.stroke
    net = energy_at(*curve, on_the_way) - weight * on_the_way
    assert np.all(net <= demand + 1e-6)


@given(
    curve=curves(),
    weight=st.floats(0.0, 20e3),
    demand=st.floats(0.0, 6e3),
    stronger=st.floats(1.0, 3.0),
)
def test_more_force_never_means_more_stroke(
    curve: Curve, weight: float, demand: float, stronger: float
) -> None:
    rest = stop(*curve, weight, demand)
    harder = stop(curve.stroke, curve.force * stronger, curve.energy * stronger, weight, demand)
    assert harder.stroke <= rest.stroke + 1e-12


@given(
    several=st.lists(curves(), min_size=2, max_size=4),
    weight=st.floats(0.0, 20e3),
    demand=st.floats(0.0, 6e3),
)
def test_a_batch_is_its_cases_and_padding_changes_nothing(
    several: list[Curve], weight: float, demand: float
) -> None:
    longest = max(c.stroke.size for c in several)
    padded = [
        np.stack([np.pad(c[part], (0, longest - c.stroke.size), mode="edge") for c in several])
        for part in range(3)
    ]
    weights = weight * np.linspace(0.5, 1.0, len(several))
    strokes, forces, energies = padded
    batch = stop(strokes, forces, energies, weights, demand)
    peaks = swept_peak(strokes, forces, batch.stroke)
    for i, curve in enumerate(several):
        alone = stop(*curve, weights[i], demand)
        for field in ("stroke", "force", "energy", "bottomed", "shortfall", "stroke_needed"):
            assert_allclose(getattr(batch, field)[i], getattr(alone, field), rtol=1e-12)
        assert peaks[i] == swept_peak(curve.stroke, curve.force, alone.stroke)


def test_leading_axes_of_curve_weight_and_demand_broadcast() -> None:
    s = np.linspace(0.0, 0.5, 51)
    f = np.array([30e3, 40e3, 50e3])[:, None, None] + 0.0 * s
    rest = stop(s, f, work_against(s, f), np.array([0.0, WEIGHT]), DEMAND)
    assert rest.stroke.shape == (3, 2)
    assert_allclose(rest.stroke[:, 0], DEMAND / np.array([30e3, 40e3, 50e3]), rtol=1e-12)


def test_it_stops_in_front_of_a_trough_below_weight_although_the_piece_ends_short() -> None:
    """F = 20 kN to 0 over 0.2 m, Wn 8 kN: net energy 12e3 s - 50e3 s².

    It crests at 0.12 m, 720 J, and is back at 400 J at 0.2 m. 640 J are met at 0.08 m: 960 - 320.
    """
    curve = straight([0.0, 0.2], [20e3, 0.0])
    rest = stop(*curve, 8e3, 640.0)
    assert_allclose(rest.stroke, 0.08, rtol=1e-12)
    assert not rest.bottomed
    assert stop(*curve, 8e3, 721.0).bottomed


def test_it_goes_on_through_a_trough_that_gives_speed_back() -> None:
    """10 kN for 0.1 m, 2 kN for 0.1 m, 10 kN again; Wn 5 kN: net 500, 200, then 5 kN a metre.

    600 J are met at 0.2 + 400/5000 = 0.28 m.
    """
    curve = straight([0.0, 0.1, 0.1, 0.2, 0.2, 0.4], [10e3, 10e3, 2e3, 2e3, 10e3, 10e3])
    rest = stop(*curve, 5e3, 600.0)
    assert_allclose(rest.stroke, 0.28, rtol=1e-12)
    assert int(rest.index) == 4


def test_a_force_that_rises_from_below_weight_is_solved_without_cancellation() -> None:
    """F = c s, Wn: c s²/2 - Wn s = D, s = [Wn + √(Wn² + 2 c D)]/c. Tiny D: s → 2 Wn/c + D/Wn."""
    curve = straight([0.0, 1.0], [0.0, 100e3])
    assert_allclose(stop(*curve, 10e3, 1e-9).stroke, 0.2 + 1e-13, rtol=1e-15)


def test_a_curve_that_is_too_short_says_what_is_missing() -> None:
    """0.1 m of 40 kN less 10 kN: 3000 J of 4500; the rest needs another 0.05 m."""
    rest = stop(*straight([0.0, 0.1], [40e3, 40e3]), 10e3, DEMAND)
    assert rest.bottomed
    assert_allclose(
        [rest.stroke, rest.shortfall, rest.stroke_needed, rest.energy], [0.1, 1500.0, 0.15, 4000.0]
    )
    assert stop(*straight([0.0, 0.1], [40e3, 5e3]), 10e3, DEMAND).stroke_needed == np.inf


@pytest.mark.parametrize("first", [40e3, 5e3], ids=["above weight", "below weight"])
def test_no_demand_is_no_stroke(first: float) -> None:
    rest = stop(*straight([0.0, 0.1], [first, 40e3]), 10e3, 0.0)
    assert not rest.bottomed
    assert_array_equal([rest.stroke, rest.energy], 0.0)


def test_the_energy_of_a_coarsely_sampled_wave_is_kept() -> None:
    """A half sine of 100 kN mean sampled at its ends: exact energy 10 kJ, trapezoid nothing."""
    curve = Curve(np.array([0.0, 0.1]), np.array([0.0, 0.0]), np.array([0.0, 10e3]))
    assert_allclose(stop(*curve, 0.0, 5e3).stroke, 0.05, rtol=1e-12)


def test_a_jump_counts_with_both_values_in_the_peak_and_with_the_first_in_the_force() -> None:
    s, f = np.array([0.0, 0.1, 0.1, 0.2]), np.array([50e3, 30e3, 70e3, 20e3])
    assert swept_peak(s, f, 0.1) == 70e3
    assert swept_peak(s, f, 0.09) == 50e3
    assert_allclose(swept_peak(s, [10e3, 30e3, 30e3, 50e3], 0.15), 40e3)
    assert force_at(s, f, 0.1) == 30e3
    assert force_at(s, f, 0.0) == 50e3
    assert force_at(s, f, 9.9) == 20e3


def test_results_are_read_only() -> None:
    rest: Stop = stop(*straight([0.0, 0.1], [40e3, 40e3]), 10e3, [100.0, 200.0])
    with pytest.raises(ValueError, match="read-only"):
        rest.stroke[0] = 1.0
