"""Strain rate: Cowper and Symonds, and the mean rate in a fold.

G. R. Cowper, P. S. Symonds (1957), Brown University report; pairs as N. Jones, Structural Impact,
lists them; all from memory. Dynamic over static stress is 1 + (ε̇/D)^(1/q), which is 2 at ε̇ = D.
304 at 33/s: 1 + 0.33^0.1 = 1.895; over its value at a tensile test's 0.001/s, 1.3162, it is 1.440.
Mild steel at yield, 40.4 and 5, at 100/s: 1 + 2.4752^0.2 = 2.1987. Aluminium, 6500 and 4, at 100/s:
1 + 0.015385^0.25 = 1.3522. The pairs on the datasheets are in test_material_datasheets.py.

Mean rate in a fold 0.33 V/C: [AJ84] W. Abramowicz, N. Jones, Int. J. Impact Eng. 2 (1984) 179.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import pytest

from crushleg.girder.rate import crush_rate, rate_factor
from tests.outside import Outside, each

if TYPE_CHECKING:
    from collections.abc import Callable

remembered = partial(Outside, status="from memory", why="half a unit of the last digit given")
raised = partial(remembered, source="G. R. Cowper, P. S. Symonds, Brown University report (1957)")


def factor(rate: float, d: float, q: float, test_rate: float = 0.0) -> Callable[[], float]:
    return lambda: float(rate_factor(rate, d, q, test_rate))


VALUES = (
    raised(
        what="dynamic over static yield, 304 at 33/s, D 100/s, q 10",
        theirs=1.895,
        ours=factor(33.0, 100.0, 10.0),
        place="pair of N. Jones, Structural Impact, after Forrestal & Sagartz (1978)",
        absolute=5e-4,
    ),
    raised(
        what="dynamic yield over that of a tensile test at 0.001/s, 304 at 33/s",
        theirs=1.440,
        ours=factor(33.0, 100.0, 10.0, 0.001),
        place="the same pair, both rates",
        absolute=5e-4,
    ),
    raised(
        what="dynamic over static yield, mild steel at 100/s, D 40.4/s, q 5",
        theirs=2.1987,
        ours=factor(100.0, 40.4, 5.0),
        place="pair of N. Jones, Structural Impact",
        absolute=5e-5,
    ),
    raised(
        what="dynamic over static yield, aluminium at 100/s, D 6500/s, q 4",
        theirs=1.3522,
        ours=factor(100.0, 6500.0, 4.0),
        place="pair of N. Jones, Structural Impact",
        absolute=5e-5,
    ),
    raised(
        what="dynamic over static yield at the rate D, D 6844/s, q 3.91",
        theirs=2.0,
        ours=factor(6844.0, 6844.0, 3.91),
        place="definition of D; pair of [AJ84] for large strain",
        relative=1e-12,
    ),
    remembered(
        what="mean strain rate in a fold, 10 m/s, C 50 mm",
        theirs=66.0,
        ours=lambda: float(crush_rate(10.0, 0.05)),
        source="W. Abramowicz, N. Jones, Int. J. Impact Eng. 2 (1984) 179",
        place="0.33 V/C",
        relative=1e-12,
        unit="1/s",
    ),
)


@each(VALUES)
def test_cowper_and_symonds_1957_strain_rate(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize("rate", [0.001, 1.0, 100.0])
def test_cowper_and_symonds_1957_a_faster_tensile_test_leaves_less_to_add(rate: float) -> None:
    slow, fast = (float(rate_factor(rate, 100.0, 10.0, test)) for test in (1e-4, 1e-2))
    assert fast < slow
