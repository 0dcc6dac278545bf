"""Looked up on one curve: the same places as a search of every point."""

from __future__ import annotations

import numpy as np
import pytest

from crushleg.landing.energy import stop, work_against
from crushleg.landing.lookup import FEW, first_reached, points_before


@pytest.mark.parametrize("below", [True, False])
@pytest.mark.parametrize("count", [3, 10 * FEW])
def test_points_before_a_value_are_counted(below: bool, count: int) -> None:
    rng = np.random.default_rng(3)
    grid = np.maximum.accumulate(np.round(rng.uniform(0.0, 1.0, 200).cumsum(), 1))
    at = np.concatenate([rng.uniform(-1.0, grid[-1] + 1.0, count), grid])
    expected = np.searchsorted(grid, at, side="left" if below else "right")
    assert np.array_equal(points_before(grid, at, below=below), expected)


def test_the_first_point_that_takes_the_energy_is_found_with_dips_and_any_weight() -> None:
    rng = np.random.default_rng(5)
    stroke = np.sort(rng.uniform(0.0, 1.0, 150))
    stroke[40:44] = stroke[40]
    energy = rng.uniform(-20.0, 100.0, 150).cumsum()
    weight, demand = rng.uniform(0.0, 4e3, 5000), rng.uniform(0.0, 7e3, 5000)
    reached = energy - weight[:, None] * stroke >= demand[:, None]
    expected = np.where(reached.any(axis=1), reached.argmax(axis=1), 150)
    assert {0, 150} <= set(expected.tolist())
    assert np.array_equal(first_reached(stroke, energy, weight, demand), expected)


@pytest.mark.parametrize("weight", [0.0, 4e3])
def test_equal_weights_and_demands_need_no_span(weight: float) -> None:
    stroke, energy = np.array([0.0, 0.1, 0.2]), np.array([0.0, 1e3, 2e3])
    found = first_reached(stroke, energy, np.full(4, weight), np.full(4, 700.0))
    assert found.tolist() == [1 if weight == 0.0 else 2] * 4


def test_a_curve_stops_many_as_it_stops_one() -> None:
    """Weights beyond the weakest force of the curve among them."""
    rng = np.random.default_rng(11)
    stroke = np.linspace(0.0, 0.5, 80)
    force = 4e4 * (1.0 + 0.5 * np.sin(40.0 * stroke))
    energy = work_against(stroke, force)
    weight, demand = rng.uniform(0.0, 3e4, 900), rng.uniform(0.0, 2e4, 900)
    many = stop(stroke, force, energy, weight, demand)
    assert many.bottomed.any()
    assert (weight > force.min()).any()
    for k in range(0, 900, 30):
        one = stop(stroke, force, energy, weight[k], demand[k])
        assert many.stroke[k] == one.stroke
        assert many.bottomed[k] == one.bottomed
