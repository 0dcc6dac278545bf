"""Probabilities, limits and shares on cases whose answers are known in closed form."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from scipy.stats import binomtest, norm

from crushleg.landing.back_calculation import speed_from_crush
from crushleg.scatter.plan import plan_of
from crushleg.scatter.records import Judged, StudyResult
from crushleg.scatter.sampling import draws, draws_at, groups, points
from crushleg.scatter.sensitivity import indices, mixed_points, tornado
from crushleg.scatter.statistics import binomial_interval, failures, percentiles
from crushleg.scatter.study import study
from crushleg.scatter.tolerance import tolerance_factor, upper_limit
from crushleg.scatter.worst import worst_of
from tests.scatter.evaluations import linear

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case
    from crushleg.scatter.records import Draws
    from tests.scatter.conftest import Scattered

LINEAR = """
[scatter]
samples = 8192
defaults = false
[[scatter.input]]
key = "vehicle.mass"
distribution = "normal"
deviation = "0.8 t"
[[scatter.input]]
key = "touchdown.nominal.vertical_speed"
distribution = "normal"
deviation = "0.1 m/s"
[[scatter.input]]
key = "girder.material.yield_strength"
distribution = "normal"
deviation = "10 MPa"
[[scatter.input]]
key = "girder.material.ultimate_strength"
distribution = "normal"
deviation = "20 MPa"
[[scatter.correlation]]
inputs = ["girder.material.yield_strength", "girder.material.ultimate_strength"]
value = 0.6
"""
A, B, C, D = 3.0, 2.0, 1.0, 0.5
"""Weights of the four normal scores in the linear case."""


def weighted(_: Case, draws: Draws) -> Judged:
    """3 z1 + 2 z2 + z3 + z4/2 of the scores of mass, speed, yield and ultimate, as a margin."""
    of = draws.values
    total = A * (of["vehicle.mass"] - 40e3) / 800.0
    total = total + B * (of["touchdown.nominal.vertical_speed"] - 3.5) / 0.1
    total = total + C * (of["girder.material.yield_strength"] - 295e6) / 10e6
    total = total + D * (of["girder.material.ultimate_strength"] - 650e6) / 20e6
    margin = np.stack([5.0 + total, np.full_like(total, np.nan)])
    return Judged(
        (("linear", "nominal"), ("none", "")), margin, np.array([True, True]), {"sum": total}
    )


SIGMA = float(np.sqrt(A * A + B * B + C * C + D * D + 2.0 * 0.6 * C * D))


@pytest.fixture(scope="module")
def linear_case(scattered: Scattered) -> Case:
    return scattered(LINEAR)


@pytest.fixture(scope="module")
def linear_study(linear_case: Case) -> StudyResult:
    return study(linear_case, weighted)


def test_a_linear_margin_of_normal_inputs_fails_as_often_as_its_closed_form(
    linear_study: StudyResult,
) -> None:
    exact = norm.cdf(-5.0 / SIGMA)
    found, none, some = failures(linear_study)
    assert found.probability == pytest.approx(exact, rel=0.02)
    assert found.low < exact < found.high
    assert (none.failed, none.low) == (0, 0.0)
    assert (some.name, some.failed) == (("any", ""), found.failed)


def test_its_tolerance_limits_are_those_of_the_closed_form(linear_study: StudyResult) -> None:
    limit = upper_limit(linear_study.quantities["sum"], 0.99)
    factor = tolerance_factor(8192, 0.99, 0.95)
    assert limit.normal == pytest.approx(factor * SIGMA, rel=0.005)
    assert limit.ordered == pytest.approx(norm.ppf(0.99) * SIGMA, rel=0.05)
    assert limit.ordered is not None
    assert limit.ordered > norm.ppf(0.99) * SIGMA


def test_its_indices_are_shares_of_the_variance_correlated_inputs_together(
    linear_case: Case,
) -> None:
    """Additive in independent groups: first order = total = variance of the group over all."""
    found = indices(linear_case, weighted, base=1024)
    strengths = C * C + D * D + 2.0 * 0.6 * C * D
    exact = np.array([A * A, B * B, strengths]) / SIGMA**2
    row = found.results.index("linear nominal")
    assert found.groups[2].count("+") == 1
    assert found.first[row] == pytest.approx(exact, abs=0.02)
    assert found.total[row] == pytest.approx(exact, abs=0.02)
    assert np.all(np.abs(found.first[row] - exact) < 2.0 * found.first_spread[row] + 0.005)
    assert np.isnan(found.first[found.results.index("none")]).all()


def test_its_tornado_moves_correlated_inputs_to_their_conditional_medians(
    linear_case: Case,
) -> None:
    found = tornado(linear_case, weighted)
    row = found.results.index("sum")
    z = norm.ppf(0.95)
    exact = z * np.array([A, B, C + 0.6 * D, D + 0.6 * C])
    assert found.centre[row] == pytest.approx(0.0, abs=1e-9)
    assert found.ends[1, row] == pytest.approx(exact)
    assert found.ends[0, row] == pytest.approx(-exact)
    assert found.at[:, 0] == pytest.approx([40e3 - z * 800.0, 40e3 + z * 800.0])


def test_scatter_of_the_speed_read_from_crush() -> None:
    """Force 8 %, crush 3 mm, mass 2 % at 0.14904 m under 40 kN and 1 t: 0.1666 m/s.

    Derived by hand: v = √(2 S (F/m − g)), partial derivatives, root-sum-square.
    """
    scores = norm.ppf(points("sobol", 1, 0, 3, 0, 4096)).T

    def speeds(share: float) -> FloatArray:
        force, crush, mass = 1.0 + share * np.array([[0.08], [0.003 / 0.14904], [0.02]]) * scores
        crush, mass = 0.14904 * crush, 1000.0 * mass
        return speed_from_crush(mass, 9.80665 * mass, 40e3 * force * crush, crush)

    assert np.std(speeds(0.01)) / 0.01 == pytest.approx(0.1666, abs=1e-4)
    assert np.std(speeds(1.0)) == pytest.approx(0.1666, rel=0.01)


def test_sobol_sampling_beats_random_sampling_on_the_mean(scattered: Scattered) -> None:
    def error(method: str) -> float:
        means = []
        for seed in range(6):
            text = LINEAR.replace("samples = 8192", f"samples = 512\nmethod = '{method}'")
            case = scattered(text.replace("defaults", f"seed = {seed}\ndefaults"))
            means.append(weighted(case, draws(case, 0, 512)).quantities["sum"].mean())
        return float(np.sqrt(np.mean(np.square(means))))

    random, cube, sobol = (error(m) for m in ("random", "latin hypercube", "sobol"))
    assert random == pytest.approx(SIGMA / np.sqrt(512), rel=0.6)
    assert cube < 0.2 * random
    assert sobol < 0.2 * random


def test_a_margin_that_does_not_count_is_told_but_not_among_any() -> None:
    result = StudyResult(
        np.array([2, 5, 7, 9]),
        (("a", ""), ("b", "")),
        np.array([[1.0, -1.0, 1.0, np.nan], [-1.0, -1.0, -1.0, -1.0]]),
        np.array([True, False]),
        {},
        4,
        (),
    )
    assert [(one.failed, one.counts) for one in failures(result)] == [
        (1, True),
        (4, False),
        (1, True),
    ]
    worst = worst_of(result)
    assert worst is not None
    assert (worst.number, worst.name, worst.margin) == (5, ("a", ""), -1.0)


def test_the_worst_landing_is_that_of_the_lowest_counted_margin(small: Case) -> None:
    result = study(small, linear)
    worst = worst_of(result)
    assert worst is not None
    assert worst.margin == result.margin[0].min() == result.margin[0, worst.number]


def test_percentiles_of_curves_go_landing_by_landing() -> None:
    curves = np.arange(101.0)[:, None] * np.array([1.0, 2.0])
    assert percentiles(curves, [5.0, 50.0]).tolist() == [[5.0, 10.0], [50.0, 100.0]]
    curves[:, 1] = np.nan
    curves[:50, 0] = np.nan
    low, high = percentiles(curves, [0.0, 100.0])
    assert (low[0], high[0]) == (50.0, 100.0)
    assert np.isnan([low[1], high[1]]).all()


def test_too_few_landings_have_no_ordered_limit() -> None:
    limit = upper_limit(np.arange(20.0), 0.99)
    assert limit.ordered is None
    assert limit.least_landings == 299


def test_where_nothing_scatters_there_is_no_bar_and_no_share(scattered: Scattered) -> None:
    case = scattered("[scatter]\ndefaults = false\nsamples = 16\n")

    def same(_: Case, draws: Draws) -> Judged:
        ones = np.ones(draws.landings)
        return Judged((("a", ""),), ones[None], np.array([True]), {"b": ones})

    moved, shares = tornado(case, same), indices(case, same, base=8, chunk=3)
    assert (moved.inputs, moved.at.shape, moved.ends.shape) == ((), (2, 0), (2, 2, 0))
    assert moved.centre.tolist() == [1.0, 1.0]
    assert (shares.groups, shares.first.shape) == ((), (2, 0))


def test_a_percentile_among_landings_that_never_stop_is_no_warning() -> None:
    values = np.array([1.0, 2.0, np.inf, np.inf, np.inf])
    assert percentiles(values, [12.5, 25.0, 30.0, 90.0]).tolist() == [1.5, 2.0, np.inf, np.inf]


@pytest.mark.parametrize(("failed", "landings"), [(0, 60), (1, 100), (32, 1024), (7, 8), (16, 16)])
@pytest.mark.parametrize("confidence", [0.9, 0.95])
def test_the_interval_of_a_count_is_that_of_clopper_and_pearson(
    failed: int, landings: int, confidence: float
) -> None:
    """Against scipy.stats.binomtest, method exact."""
    exact = binomtest(failed, landings).proportion_ci(confidence, method="exact")
    found = binomial_interval(failed, landings, confidence)
    assert found == pytest.approx((exact.low, exact.high), rel=1e-9, abs=1e-12)


def test_the_normal_limit_of_ten_values_is_that_of_the_table() -> None:
    """Mean 5.5 and deviation √(55/6) of 1 to 10; k 2.3546 and 3.9811 (CHECKS of the issue)."""
    for coverage, factor in ((0.90, 2.3546), (0.99, 3.9811)):
        limit = upper_limit(np.arange(1.0, 11.0), coverage)
        assert limit.normal == pytest.approx(5.5 + factor * np.sqrt(55.0 / 6.0), abs=2e-4)


def test_a_margin_of_zero_does_not_fail() -> None:
    margin = np.array([[0.0, -0.0, -1e-12, 0.1]])
    result = StudyResult(np.arange(4), (("a", ""),), margin, np.array([True]), {}, 4, ())
    assert [one.failed for one in failures(result)] == [1, 1]


def test_all_columns_of_a_group_come_from_the_second_sample(linear_case: Case) -> None:
    plan = plan_of(linear_case)
    named = list(groups(plan).values())
    each = len(named) + 2
    a, b, *mixed = np.moveaxis(mixed_points(plan, 0, 8 * each).reshape(8, each, -1), 1, 0)
    assert not np.any(a == b)
    for row, at in zip(mixed, named, strict=True):
        others = [k for k in range(a.shape[1]) if k not in at]
        assert np.array_equal(row[:, list(at)], b[:, list(at)])
        assert np.array_equal(row[:, others], a[:, others])
    assert sorted(k for at in named for k in at) == list(range(a.shape[1]))


def test_the_half_width_of_a_share_is_that_of_its_95_percent_interval(linear_case: Case) -> None:
    """1.96 σ by the delta method: S = mean(p)/V, of each point p/V − S v/V."""
    base, plan = 1024, plan_of(linear_case)
    each = len(groups(plan)) + 2
    drawn = draws_at(plan, mixed_points(plan, 0, base * each))
    f = weighted(linear_case, drawn).quantities["sum"].reshape(base, each).T
    a, b, mixed = f[0] - f[:2].mean(), f[1] - f[:2].mean(), f[2:] - f[:2].mean()
    own = 0.5 * (a * a + b * b)
    found = indices(linear_case, weighted, base=base)
    row = found.results.index("sum")
    for each_point, share, half in (
        (b * (mixed - a), found.first[row], found.first_spread[row]),
        (0.5 * (mixed - a) ** 2, found.total[row], found.total_spread[row]),
    ):
        pull = (each_point - share[:, None] * own) / own.mean()
        assert half == pytest.approx(1.96 * pull.std(axis=1) / np.sqrt(base), rel=0.2)
