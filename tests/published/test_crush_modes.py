"""Plain square columns: mean force, fold length and crushed fraction of the four modes.

[AJ84] W. Abramowicz, N. Jones, Int. J. Impact Eng. 2 (1984) 179 and 4 (1986) 243. Coefficients,
fold lengths and tabled values are from memory; that the lowest mode changes near C/t 40.8 and 7.5,
and that asymmetric modes showed in 84 tests at C/t 30.25 and 32.18, is in the abstract
(published). The two crossings to more digits are root-found [D].

The formulas are worked at C/t 8 and 64, where q = (C/t)^(1/3) is 2 and 4. One corner:
45.90·2 + 1.75·4 + 1.02 = 99.82 and 45.90·4 + 1.75·16 + 1.02 = 212.62. Two corners:
42.92·2 + 3.17·4 + 2.04 = 100.56 and 42.92·4 + 3.17·16 + 2.04 = 224.44. Extensional at 4 and 49:
32.64·2 + 8.16 = 73.44, 32.64·7 + 8.16 = 236.64. Fold lengths over t: 0.99·90^(2/3) = 19.8827,
0.86·12^(2/3) = 4.5077, √(4·1) = 2.
"""

from __future__ import annotations

from functools import partial
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
    plastic_moment,
    symmetric_ratio,
)
from tests.outside import Outside, each
from tests.samples import EXACT, crushed, girder

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import FloatArray

SOURCE = "W. Abramowicz, N. Jones, Int. J. Impact Eng. 2 (1984) 179 and 4 (1986) 243"
ROUNDING = "half a unit of the last digit given"
NEAR = "near a crossing modes are blended; here the others weigh 4 % or less"
of_source = partial(Outside, source=SOURCE)
remembered = partial(of_source, status="from memory")


def ratio(of: Callable[[float], FloatArray], slenderness: float) -> Callable[[], float]:
    return lambda: float(of(slenderness))


def half_length(slenderness: float) -> Callable[[], float]:
    return lambda: float(plain_fold(slenderness, 1.0, 1.0).half_length)


def crushed_fraction(slenderness: float) -> Callable[[], float]:
    return lambda: float(plain_fold(slenderness, 1.0, 1.0).crushed)


def crossing(one: Callable[[float], FloatArray], other: Callable[[float], FloatArray]) -> float:
    return float(brentq(lambda x: float(one(x) - other(x)), 5.0, 80.0))


TABLED = tuple(
    remembered(
        what=f"mean force over M0, {mode} mode, C/t {slenderness:g}",
        theirs=theirs,
        ours=ratio(of, slenderness),
        place="table of the modes",
        absolute=0.05,
        why=ROUNDING,
    )
    for mode, of, row in (
        ("symmetric", symmetric_ratio, (141.7, 178.6, 204.4, 225.0)),
        ("asymmetric", asymmetric_ratio, (138.5, 178.5, 207.5, 231.3)),
    )
    for slenderness, theirs in zip((20.0, 40.0, 60.0, 80.0), row, strict=True)
)
FORMULAS = tuple(
    remembered(
        what=f"mean force over M0, {mode}, C/t {slenderness:g}",
        theirs=theirs,
        ours=ratio(of, slenderness),
        place=f"coefficients {coefficients}, worked by hand",
        absolute=0.005,
        why=ROUNDING,
    )
    for mode, of, coefficients, row in (
        ("symmetric mode", symmetric_ratio, "52.22", {8: 104.44, 64: 208.88}),
        ("one extensional corner", asymmetric_ratio, "45.90, 1.75, 1.02", {8: 99.82, 64: 212.62}),
        (
            "two extensional corners",
            asymmetric_two_ratio,
            "42.92, 3.17, 2.04",
            {8: 100.56, 64: 224.44},
        ),
        ("extensional mode", extensional_ratio, "32.64, 8.16", {4: 73.44, 49: 236.64}),
    )
    for slenderness, theirs in row.items()
)
FOLDS = tuple(
    value
    for mode, slenderness, half, formula, eta in (
        ("symmetric", 90.0, 19.8827, "0.99 C^(2/3) t^(1/3)", 0.73),
        ("asymmetric", 12.0, 4.5077, "0.86 C^(2/3) t^(1/3)", 0.77),
        ("extensional", 4.0, 2.0, "√(C t)", 0.77),
    )
    for value in (
        remembered(
            what=f"half fold length H over t, {mode} mode, C/t {slenderness:g}",
            theirs=half,
            ours=half_length(slenderness),
            place=f"H = {formula}",
            relative=0.006,
            why=NEAR,
        ),
        remembered(
            what=f"crushed fraction of a fold, {mode} mode, C/t {slenderness:g}",
            theirs=eta,
            ours=crushed_fraction(slenderness),
            place=f"effective crushing distance {eta}·2H",
            relative=0.005,
            why=NEAR,
        ),
    )
)
VALUES = (
    *TABLED,
    *FORMULAS,
    *FOLDS,
    of_source(
        what="C/t where symmetric and asymmetric mode cross",
        theirs=40.8,
        ours=lambda: crossing(symmetric_ratio, asymmetric_ratio),
        place="abstract",
        status="published",
        absolute=0.05,
        why=ROUNDING,
    ),
    of_source(
        what="C/t where asymmetric and extensional mode cross",
        theirs=7.5,
        ours=lambda: crossing(asymmetric_ratio, extensional_ratio),
        place="abstract",
        status="published",
        absolute=0.05,
        why=ROUNDING,
    ),
    of_source(
        what="C/t where symmetric and asymmetric mode cross, to four digits",
        theirs=40.78,
        ours=lambda: crossing(symmetric_ratio, asymmetric_ratio),
        place="root of the two formulas",
        status="derived",
        absolute=0.005,
        why=ROUNDING,
    ),
    of_source(
        what="C/t where asymmetric and extensional mode cross, to three digits",
        theirs=7.52,
        ours=lambda: crossing(asymmetric_ratio, extensional_ratio),
        place="root of the two formulas",
        status="derived",
        absolute=0.005,
        why=ROUNDING,
    ),
    remembered(
        what="plastic moment M0 = s0 t^2/4 of 2 mm at 400 MPa",
        theirs=400.0,
        ours=lambda: float(plastic_moment(400e6, 2e-3)),
        place="plastic moment per width",
        relative=1e-9,
        why="an exact product",
        unit="N",
    ),
)


@each(VALUES)
def test_abramowicz_and_jones_1984_plain_square_columns(value: Outside) -> None:
    value.check()


def lowest_published(slenderness: float) -> float:
    q = slenderness ** (1 / 3)
    one_corner = 45.90 * q + 1.75 * q**2 + 1.02
    two_corners = 42.92 * q + 3.17 * q**2 + 2.04
    return min(52.22 * q, one_corner, two_corners, 32.64 * slenderness**0.5 + 8.16)


def test_abramowicz_and_jones_1984_two_extensional_corners_are_never_the_lowest() -> None:
    x = np.linspace(4.0, 120.0, 500)
    others = np.minimum(symmetric_ratio(x), asymmetric_ratio(x))
    assert np.all(asymmetric_two_ratio(x) > np.minimum(others, extensional_ratio(x)))


@pytest.mark.parametrize("slenderness", [30.25, 32.18])
def test_abramowicz_and_jones_1984_their_tubes_fold_asymmetrically(slenderness: float) -> None:
    """The abstract: 84 dynamic tests at these C/t, some asymmetric (published)."""
    weights = plain_fold(slenderness, 1.0, 1.0).weights
    assert weights[1] > 0.5
    assert weights[0] > 0.1


@pytest.mark.parametrize("slenderness", [7.5, 10, 15, 20, 30, 38, 40.8, 43, 50, 65, 80, 100])
def test_abramowicz_and_jones_1984_lowest_mode_through_the_whole_chain(slenderness: float) -> None:
    """Undrilled girder: energy over usable stroke, s0 = (80 + 145)/2 = 112.5 MPa."""
    side = 0.1
    wall = side / slenderness
    result = crushed(
        girder(material=EXACT, width=side + wall, depth=side + wall, wall=wall, corner_radius=0.0)
    )
    published = lowest_published(slenderness) * 112.5e6 * wall**2 / 4
    mean = result.curve.energy[1, 0, -1] / result.usable[0]
    assert_allclose(mean, published, rtol=0.01)
    assert_allclose(result.folds.force[1, 0], published, rtol=0.01)
