"""One-sided tolerance factors and order statistics against published tables.

Normal factors: ISO 16269-6:2014 annex C, and MIL-HDBK-5J table 9.10.1 (k_B for 90 %, k_A for 99 %
coverage at 95 % confidence); figures for n = 10 as given with the task of this tool, others from
memory. Order statistics: Wilks, Ann. Math. Stat. 12 (1941) 91, sample sizes from memory.
"""

from __future__ import annotations

import pytest

from crushleg.scatter.statistics import (
    binomial_interval,
    least_landings,
    ordered_rank,
    tolerance_factor,
)


@pytest.mark.parametrize(
    ("landings", "coverage", "factor"),
    [
        (10, 0.90, 2.3546),
        (10, 0.99, 3.9811),
        (5, 0.90, 3.4066),
        (5, 0.99, 5.7411),
        (30, 0.90, 1.7773),
        (30, 0.99, 3.0639),
    ],
)
def test_normal_factors_at_95_percent_confidence(
    landings: int, coverage: float, factor: float
) -> None:
    assert tolerance_factor(landings, coverage, 0.95) == pytest.approx(factor, abs=5e-5)


@pytest.mark.parametrize(("coverage", "landings"), [(0.90, 29), (0.95, 59), (0.99, 299)])
def test_sample_sizes_from_which_the_largest_is_a_limit(coverage: float, landings: int) -> None:
    assert least_landings(coverage, 0.95) == landings
    assert ordered_rank(landings, coverage, 0.95) == landings
    assert ordered_rank(landings - 1, coverage, 0.95) is None


@pytest.mark.parametrize(("landings", "from_the_top"), [(46, 2), (61, 3), (76, 4), (89, 5)])
def test_second_to_fifth_largest_as_b_basis_values(landings: int, from_the_top: int) -> None:
    """Table of ranks for B-basis values, MIL-HDBK-5J table 9.10.3 (from memory)."""
    assert ordered_rank(landings, 0.90, 0.95) == landings + 1 - from_the_top
    assert ordered_rank(landings - 1, 0.90, 0.95) == landings - 1 + 2 - from_the_top


def test_rule_of_three_for_no_failure() -> None:
    """One-sided at 95 %: 3/n (Hanley & Lippman-Hand, JAMA 249 (1983) 1743, from memory)."""
    assert binomial_interval(0, 1000, 0.90)[1] == pytest.approx(3.0 / 1000, rel=0.01)


def test_interval_of_two_failures_in_ten() -> None:
    """2.5 % and 55.6 %: the exact interval of 2 of 10, tables of binomial limits (from memory)."""
    assert binomial_interval(2, 10, 0.95) == pytest.approx((0.0252, 0.5561), abs=5e-5)
    assert binomial_interval(10, 10, 0.95)[1] == 1.0
