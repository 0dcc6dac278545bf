"""Stocky walls squash above yield: the continuous strength method.

L. Gardner, M. Ashraf, Eng. Struct. 28 (2006), and S. Afshan, L. Gardner, Thin-Walled Struct. 68
(2013), from memory: strain ε/ε_y = 0.25/λ^3.6 ≤ 15 for λ ≤ 0.68; stress
s_y + E_sh (ε − ε_y) with E_sh = (s_u − s_y)/(0.16 ε_u − ε_y) and ε_u = 1 − s_y/s_u (austenitic).

By hand, s_y 300, s_u 600, E 200 000 MPa: ε_y 0.0015, E_sh = 300/(0.08 − 0.0015) = 3821.66 MPa, so
5.73248 MPa for each ε_y beyond the first. λ 0.5: 0.25/0.5^3.6 = 3.03143, stress 311.645. λ 0.4:
6.76899, 333.071. λ 0.3: 19.067, held at 15: 380.255. At λ 0.68 the curve has 1.0021 ε_y; ours
counts from there, so that it starts at the yield: 0.012 MPa less everywhere.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from crushleg.girder.squash import squash_stress
from tests.outside import Outside, each

if TYPE_CHECKING:
    from collections.abc import Callable

remembered = partial(
    Outside,
    source="L. Gardner, M. Ashraf, Eng. Struct. 28 (2006); S. Afshan, L. Gardner, "
    "Thin-Walled Struct. 68 (2013)",
    status="from memory",
    absolute=0.02,
    why="ours starts from the yield at λ 0.68, 0.012 MPa less",
    unit="MPa",
)


def stress(slenderness: float) -> Callable[[], float]:
    return lambda: float(squash_stress(slenderness, 300e6, 600e6, 200e9)) / 1e6


VALUES = tuple(
    remembered(
        what=f"squash stress, yield 300, ultimate 600 MPa, slenderness {slenderness}",
        theirs=theirs,
        ours=stress(slenderness),
        place=place,
    )
    for slenderness, theirs, place in (
        (0.3, 380.255, "strain held at 15 ε_y"),
        (0.4, 333.071, "base curve 0.25/λ^3.6, slope with 0.16 ε_u"),
        (0.5, 311.645, "base curve 0.25/λ^3.6, slope with 0.16 ε_u"),
        (0.67, 300.327, "base curve just inside its limit of λ 0.68"),
        (0.69, 300.0, "no lift from λ 0.68 on"),
    )
)


@each(VALUES)
def test_gardner_continuous_strength_method(value: Outside) -> None:
    value.check()


def test_gardner_continuous_strength_method_never_passes_the_ultimate_strength() -> None:
    assert float(squash_stress(0.2, 300e6, 305e6, 1e9)) <= 305e6
