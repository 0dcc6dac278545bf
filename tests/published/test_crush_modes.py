"""Mean force of plain square columns.

[AJ84] W. Abramowicz, N. Jones, Int. J. Impact Eng. 2 (1984) 179 and 4 (1986) 243: coefficients
and tabled values from memory; that the lowest mode changes near C/t 40.8 and 7.5 is in the
abstract (published). The two crossings to four digits are root-found here [D].
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.optimize import brentq

from crushleg.girder.modes import (
    asymmetric_ratio,
    asymmetric_two_ratio,
    extensional_ratio,
    plain_fold,
    symmetric_ratio,
)
from tests.outside import Outside, each
from tests.samples import EXACT, crushed, girder

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import FloatArray

SOURCE = "W. Abramowicz, N. Jones, Int. J. Impact Eng. 2 (1984) 179 and 4 (1986) 243"
ROUNDING = "half a unit of the last digit given"


def ratio(of: Callable[[float], FloatArray], slenderness: float) -> Callable[[], float]:
    return lambda: float(of(slenderness))


def crossing(one: Callable[[float], FloatArray], other: Callable[[float], FloatArray]) -> float:
    return float(brentq(lambda x: float(one(x) - other(x)), 5.0, 80.0))


TABLED = tuple(
    Outside(
        what=f"mean force over M0, {mode} mode, C/t {slenderness:g}",
        theirs=theirs,
        ours=ratio(of, slenderness),
        source=SOURCE,
        place="table of the modes",
        status="from memory",
        absolute=0.05,
        why=ROUNDING,
    )
    for mode, of, row in (
        ("symmetric", symmetric_ratio, (141.7, 178.6, 204.4, 225.0)),
        ("asymmetric", asymmetric_ratio, (138.5, 178.5, 207.5, 231.3)),
    )
    for slenderness, theirs in zip((20.0, 40.0, 60.0, 80.0), row, strict=True)
)
VALUES = (
    *TABLED,
    Outside(
        what="C/t where symmetric and asymmetric mode cross",
        theirs=40.78,
        ours=lambda: crossing(symmetric_ratio, asymmetric_ratio),
        source=SOURCE,
        place="abstract: 40.8; four digits by root-finding",
        status="derived",
        absolute=0.005,
        why=ROUNDING,
    ),
    Outside(
        what="C/t where asymmetric and extensional mode cross",
        theirs=7.52,
        ours=lambda: crossing(asymmetric_ratio, extensional_ratio),
        source=SOURCE,
        place="abstract: 7.5; three digits by root-finding",
        status="derived",
        absolute=0.005,
        why=ROUNDING,
    ),
)


@each(VALUES)
def test_plain_column(value: Outside) -> None:
    value.check()


def lowest_published(slenderness: float) -> float:
    q = slenderness ** (1 / 3)
    one_corner = 45.90 * q + 1.75 * q**2 + 1.02
    two_corners = 42.92 * q + 3.17 * q**2 + 2.04
    return min(52.22 * q, one_corner, two_corners, 32.64 * slenderness**0.5 + 8.16)


def test_two_extensional_corners_are_never_the_lowest() -> None:
    x = np.linspace(4.0, 120.0, 500)
    others = np.minimum(symmetric_ratio(x), asymmetric_ratio(x))
    assert np.all(asymmetric_two_ratio(x) > np.minimum(others, extensional_ratio(x)))


@pytest.mark.parametrize(
    ("slenderness", "half", "crushed_fraction"),
    [(90.0, 0.99, 0.73), (22.0, 0.86, 0.77)],
    ids=["symmetric", "asymmetric"],
)
def test_away_from_crossings_a_fold_has_the_length_of_its_mode(
    slenderness: float, half: float, crushed_fraction: float
) -> None:
    """H = 0.99 or 0.86 C^(2/3) t^(1/3); η 0.73 or 0.77 (from memory)."""
    fold = plain_fold(slenderness * 2e-3, 2e-3, 1.0)
    assert_allclose(fold.half_length, half * slenderness ** (2 / 3) * 2e-3, rtol=0.02)
    assert_allclose(fold.crushed, crushed_fraction, atol=0.005)


def test_a_stocky_fold_is_as_long_as_the_extensional_mode_says() -> None:
    """H = √(C t), η 0.77 (from memory)."""
    fold = plain_fold(4.0 * 2e-3, 2e-3, 1.0)
    assert_allclose(fold.half_length, 4e-3, rtol=0.01)
    assert_allclose(fold.crushed, 0.77, atol=0.002)


@pytest.mark.parametrize("slenderness", [7.5, 10, 15, 20, 30, 38, 40.8, 43, 50, 65, 80, 100])
def test_an_undrilled_girder_crushes_at_the_lowest_published_mode(slenderness: float) -> None:
    """Through the whole chain: energy over usable stroke, s0 = (80 + 145)/2 = 112.5 MPa."""
    side = 0.1
    wall = side / slenderness
    result = crushed(
        girder(material=EXACT, width=side + wall, depth=side + wall, wall=wall, corner_radius=0.0)
    )
    published = lowest_published(slenderness) * 112.5e6 * wall**2 / 4
    mean = result.curve.energy[1, 0, -1] / result.usable[0]
    assert_allclose(mean, published, rtol=0.01)
    assert_allclose(result.folds.force[1, 0], published, rtol=0.01)
