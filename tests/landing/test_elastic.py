"""Elastic shortening: energy, limits, and the blow of a leg that bottoms."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from crushleg.landing.elastic import bottoming_force, with_elastic
from crushleg.landing.energy import stop, work_against

STROKE = np.array([0.0, 0.05, 0.05, 0.15])
FORCE = np.array([60e3, 30e3, 50e3, 40e3])
ENERGY = work_against(STROKE, FORCE)


def test_where_force_never_falls_steeply_the_energy_is_the_area_under_the_new_curve() -> None:
    x, f, e = with_elastic(STROKE, FORCE, ENERGY, 5e6)
    assert_allclose(work_against(x, f), e, rtol=1e-12)
    assert_allclose(e[-1] - ENERGY[-1], 40e3**2 / (2 * 5e6), rtol=1e-12)


def test_a_constant_force_stops_later_by_half_the_elastic_shortening() -> None:
    """F S' + F²/2K = m v²/2 without weight: total S' + F/K = S + F/2K."""
    s = np.array([0.0, 0.3])
    curve = with_elastic(s, np.full(2, 40e3), 40e3 * s, 4e6)
    assert_allclose(stop(*curve, 0.0, 4500.0).stroke, 4500.0 / 40e3 + 40e3 / 8e6, rtol=1e-12)


def test_a_demand_below_the_first_crest_stays_elastic() -> None:
    """K x²/2 = D."""
    curve = with_elastic(STROKE, FORCE, ENERGY, 5e6)
    rest = stop(*curve, 0.0, 250.0)
    assert_allclose([rest.stroke, rest.force], [0.01, 50e3], rtol=1e-12)


def test_a_stiff_girder_is_the_plain_curve() -> None:
    plain = stop(STROKE, FORCE, ENERGY, 5e3, 2500.0)
    stiff = stop(*with_elastic(STROKE, FORCE, ENERGY, 1e15), 5e3, 2500.0)
    assert_allclose(stiff.stroke, plain.stroke, rtol=1e-7)


def test_displacement_never_goes_back_where_the_force_drops_at_once() -> None:
    s, f = np.array([0.0, 0.1, 0.1, 0.2]), np.array([50e3, 50e3, 20e3, 20e3])
    x, _, e = with_elastic(s, f, work_against(s, f), np.array([5e6, 5e7]))
    assert x.shape == (2, 5)
    assert np.all(np.diff(x, axis=-1) >= 0.0)
    assert_allclose(e[:, -1], 7e3 + 20e3**2 / (2 * np.array([5e6, 5e7])), rtol=1e-12)


@pytest.mark.parametrize("weight", [0.0, 10e3])
def test_the_force_of_bottoming_satisfies_the_balance(weight: float) -> None:
    """From F to Fb the spring takes (Fb² - F²)/2K while the weight adds Wn (Fb - F)/K."""
    f, k, short = 40e3, 2e7, 300.0
    fb = bottoming_force(f, short, k, weight)
    assert_allclose((fb**2 - f**2) / (2 * k) - weight * (fb - f) / k, short, rtol=1e-12)


@given(force=st.floats(1e3, 1e6), short=st.floats(0.0, 1e5), weight=st.floats(0.0, 1e3))
def test_bottoming_is_never_softer_than_the_curve_and_weight_makes_it_worse(
    force: float, short: float, weight: float
) -> None:
    plain = bottoming_force(force, short, 1e8)
    assert plain >= force * (1 - 1e-12)
    assert bottoming_force(force, short, 1e8, weight) >= plain * (1 - 1e-12)
