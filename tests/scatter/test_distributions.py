"""Inverse distributions against scipy.stats and by hand."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from crushleg.case.scatter_records import ScatterInput
from crushleg.case.scatter_span import span
from crushleg.scatter.distributions import quantile

U = np.linspace(0.001, 0.999, 37)


def made(distribution: str, **parameters: Any) -> ScatterInput:
    return ScatterInput(key="vehicle.mass", distribution=distribution, **parameters)


def test_a_normal_input_is_that_of_scipy() -> None:
    one = made("normal", mean=40.0, deviation=0.8)
    assert quantile(one, U) == pytest.approx(stats.norm.ppf(U, 40.0, 0.8), rel=1e-12)


def test_a_cov_is_over_the_mean_and_a_mean_left_out_is_the_centre() -> None:
    one = made("normal", centre=-40.0, cov=0.02)
    assert quantile(one, U) == pytest.approx(stats.norm.ppf(U, -40.0, 0.8), rel=1e-12)


def test_a_cut_normal_is_the_truncated_normal_of_scipy() -> None:
    one = made("normal", mean=40.0, deviation=0.8, low=39.5, high=42.0)
    other = stats.truncnorm.ppf(U, (39.5 - 40.0) / 0.8, (42.0 - 40.0) / 0.8, 40.0, 0.8)
    assert quantile(one, U) == pytest.approx(other, rel=1e-12)


def test_a_lognormal_input_has_its_median_and_coefficient_of_variation() -> None:
    sigma = np.sqrt(np.log1p(0.3**2))
    one = made("lognormal", median=2.0, cov=0.3)
    assert quantile(one, U) == pytest.approx(stats.lognorm.ppf(U, sigma, scale=2.0), rel=1e-12)
    scipys = stats.lognorm(sigma, scale=2.0)
    assert scipys.std() / scipys.mean() == pytest.approx(0.3)


def test_a_cut_lognormal_is_the_conditional_one() -> None:
    whole = stats.lognorm(np.sqrt(np.log1p(0.3**2)), scale=2.0)
    one = made("lognormal", median=2.0, cov=0.3, low=1.5)
    below = whole.cdf(1.5)
    assert quantile(one, U) == pytest.approx(whole.ppf(below + (1.0 - below) * U), rel=1e-10)


def test_95_percent_limits_are_hit_at_their_probabilities_around_the_median() -> None:
    one = made("95 % limits", low=220.0, centre=295.0, high=350.0)
    tail = stats.norm.cdf(-1.96)
    assert quantile(one, [tail, 0.5, 1.0 - tail]) == pytest.approx([220.0, 295.0, 350.0])


def test_uniform_and_triangular_inputs_are_those_of_scipy() -> None:
    flat = made("uniform", low=2.0, high=5.0)
    assert quantile(flat, U) == pytest.approx(stats.uniform.ppf(U, 2.0, 3.0), rel=1e-12)
    peak = made("triangular", low=2.0, mode=3.0, high=6.0)
    assert quantile(peak, U) == pytest.approx(stats.triang.ppf(U, 0.25, 2.0, 4.0), rel=1e-12)


def test_a_table_gives_its_values_as_often_as_it_says() -> None:
    one = made("table", values=(1.0, 2.0, 4.0), probabilities=(0.2, 0.5, 0.3))
    found = quantile(one, (np.arange(1000) + 0.5) / 1000)
    assert [int((found == v).sum()) for v in (1.0, 2.0, 4.0)] == [200, 500, 300]


def test_a_cut_table_scales_up_what_is_left() -> None:
    one = made("table", values=(1.0, 2.0, 4.0), probabilities=(0.2, 0.5, 0.3), low=1.5)
    found = quantile(one, (np.arange(800) + 0.5) / 800)
    assert [int((found == v).sum()) for v in (1.0, 2.0, 4.0)] == [0, 500, 300]


def test_a_cumulative_curve_is_straight_between_its_points() -> None:
    one = made("table", values=(0.0, 1.0, 3.0), cumulative=(0.0, 0.5, 1.0))
    assert quantile(one, [0.25, 0.5, 0.75]).tolist() == [0.5, 1.0, 2.0]
    cut = made("table", values=(0.0, 1.0, 3.0), cumulative=(0.0, 0.5, 1.0), low=1.0)
    assert quantile(cut, [0.25, 0.5]).tolist() == [1.5, 2.0]


def test_samples_are_drawn_as_they_are_equally_often() -> None:
    one = made("samples", drawn=(3.0, 1.0, 2.0, 2.0))
    found = quantile(one, (np.arange(400) + 0.5) / 400)
    assert [int((found == v).sum()) for v in (1.0, 2.0, 3.0)] == [100, 200, 100]


ANY = st.one_of(
    st.builds(
        lambda m, s, a, b: made("normal", mean=m, deviation=s, low=m - a * s, high=m + b * s),
        st.floats(-50.0, 50.0),
        st.floats(0.01, 5.0),
        st.floats(0.0, 8.0),
        st.floats(0.5, 8.0),
    ),
    st.builds(
        lambda m, c, a: made("lognormal", median=m, cov=c, low=m * a),
        st.floats(0.1, 50.0),
        st.floats(0.01, 1.0),
        st.floats(0.1, 1.0),
    ),
    st.builds(
        lambda m, a, b: made("95 % limits", low=m * a, median=m, high=m * b),
        st.floats(0.1, 50.0),
        st.floats(0.3, 1.0),
        st.floats(1.0, 3.0),
    ),
)


@given(one=ANY, u=st.lists(st.floats(0.0, 1.0), min_size=2, max_size=20))
def test_a_draw_rises_with_its_probability_and_stays_in_the_span(
    one: ScatterInput, u: list[float]
) -> None:
    """Whatever the point of the cube, its corners too: what was refused by span is never drawn."""
    found = quantile(one, sorted(u))
    low, high = span(one)
    assert np.all(np.diff(found) >= 0.0)
    assert low <= found[0]
    assert found[-1] <= high
