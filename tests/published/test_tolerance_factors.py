"""One-sided tolerance factors and order statistics against published tables.

Normal factors: ISO 16269-6:2014 annex C, and MIL-HDBK-5J table 9.10.1 (k_B for 90 %, k_A for 99 %
coverage at 95 % confidence), from memory. Order statistics: S. S. Wilks, Ann. Math. Stat. 12
(1941) 91, and MIL-HDBK-5J table 9.10.3, from memory. Proportions: C. J. Clopper, E. S. Pearson,
Biometrika 26 (1934) 404; J. A. Hanley, A. Lippman-Hand, JAMA 249 (1983) 1743 (rule of three), from
memory.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import pytest

from crushleg.girder.bands import BAND_PROBABILITY, Z_TWO_SIDED
from crushleg.scatter.statistics import binomial_interval
from crushleg.scatter.tolerance import least_landings, ordered_rank, tolerance_factor
from tests.outside import Outside, each

if TYPE_CHECKING:
    from collections.abc import Callable

remembered = partial(Outside, status="from memory", why="half a unit of the last digit given")
whole = partial(remembered, absolute=0.5)


def factor(count: int, coverage: float) -> Callable[[], float]:
    return lambda: float(tolerance_factor(count, coverage, 0.95))


def least(coverage: float) -> Callable[[], float]:
    return lambda: float(least_landings(coverage, 0.95))


def from_the_top(count: int) -> Callable[[], float]:
    """Place of the B-basis value among ``count``, counted from the largest."""

    def found() -> float:
        rank = ordered_rank(count, 0.90, 0.95)
        assert rank is not None
        return float(count + 1 - rank)

    return found


def limit(failures: int, count: int, probability: float, end: int) -> Callable[[], float]:
    return lambda: float(binomial_interval(failures, count, probability)[end])


VALUES = (
    *(
        remembered(
            what=f"normal tolerance factor, {basis} basis, n {count}",
            theirs=theirs,
            ours=factor(count, coverage),
            source="ISO 16269-6:2014 annex C; MIL-HDBK-5J (2003) table 9.10.1",
            place=f"one-sided, 95 % confidence, {coverage:.0%} coverage",
            absolute=5e-5,
        )
        for count, row in ((5, (3.4066, 5.7411)), (10, (2.3546, 3.9811)), (30, (1.7773, 3.0639)))
        for basis, coverage, theirs in zip("BA", (0.90, 0.99), row, strict=True)
    ),
    remembered(
        what="deviations either side that hold 95 % of a normal population",
        theirs=1.960,
        ours=lambda: Z_TWO_SIDED,
        source="tables of the normal distribution",
        place="two-sided 95 %",
        absolute=5e-4,
    ),
    remembered(
        what="share of a normal population within the band's deviations",
        theirs=0.9500,
        ours=lambda: BAND_PROBABILITY,
        source="tables of the normal distribution",
        place="1.96 standard deviations either side",
        absolute=5e-5,
    ),
    *(
        whole(
            what=f"sample from which the largest covers {coverage:.0%}",
            theirs=theirs,
            ours=least(coverage),
            source="S. S. Wilks, Ann. Math. Stat. 12 (1941) 91",
            place="one-sided, 95 % confidence",
        )
        for coverage, theirs in ((0.90, 29.0), (0.95, 59.0), (0.99, 299.0))
    ),
    *(
        whole(
            what=f"B-basis value of {count} is this far from the top",
            theirs=theirs,
            ours=from_the_top(count),
            source="MIL-HDBK-5J (2003) table 9.10.3",
            place="ranks of B-basis values",
        )
        for count, theirs in ((29, 1.0), (46, 2.0), (61, 3.0), (76, 4.0), (89, 5.0))
    ),
    *(
        remembered(
            what=f"{name} limit of 2 failures in 10, 95 % two-sided",
            theirs=theirs,
            ours=limit(2, 10, 0.95, end),
            source="C. J. Clopper, E. S. Pearson, Biometrika 26 (1934) 404",
            place="exact binomial limits",
            absolute=5e-5,
        )
        for end, (name, theirs) in enumerate((("lower", 0.0252), ("upper", 0.5561)))
    ),
    remembered(
        what="upper limit of no failure in 1000, 95 % one-sided",
        theirs=0.003,
        ours=limit(0, 1000, 0.90, 1),
        source="J. A. Hanley, A. Lippman-Hand, JAMA 249 (1983) 1743",
        place="rule of three, 3/n",
        relative=0.01,
    ),
)


@each(VALUES)
def test_iso_16269_6_mil_hdbk_5j_and_wilks_1941_limits(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize(("coverage", "landings"), [(0.90, 29), (0.95, 59), (0.99, 299)])
def test_wilks_1941_one_landing_fewer_has_no_limit(coverage: float, landings: int) -> None:
    assert ordered_rank(landings, coverage, 0.95) == landings
    assert ordered_rank(landings - 1, coverage, 0.95) is None


@pytest.mark.parametrize(("landings", "place"), [(46, 2), (61, 3), (76, 4), (89, 5)])
def test_mil_hdbk_5j_one_landing_fewer_is_one_place_nearer_the_top(
    landings: int, place: int
) -> None:
    assert ordered_rank(landings - 1, 0.90, 0.95) == landings - 1 + 2 - place


def test_clopper_and_pearson_1934_all_failed() -> None:
    assert binomial_interval(10, 10, 0.95)[1] == 1.0
