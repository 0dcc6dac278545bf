"""Mean force of round tubes.

[GLG01] S. R. Guillow, G. Lu, R. H. Grzebieta, Int. J. Mech. Sci. 43 (2001) 2103, 70 tests of
aluminium tubes: mean force/(s0 t²/4) = 72.3 (D/t)^0.32 (published, abstract). Worked with
logarithms: 10^0.32 = 2.0893, 50^0.32 = 3.4970, 100^0.32 = 4.3652, 450^0.32 = 7.0636.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from numpy.testing import assert_allclose

from crushleg.design.yardsticks import circular_tube_force
from tests.outside import Outside, each

if TYPE_CHECKING:
    from collections.abc import Callable

WALL, STRESS = 2e-3, 200e6
abstract = partial(
    Outside,
    source="S. R. Guillow, G. Lu, R. H. Grzebieta, Int. J. Mech. Sci. 43 (2001) 2103",
    place="abstract: 72.3 (D/t)^0.32",
    status="published",
    relative=5e-4,
    why="worked to four digits",
)


def ratio(slenderness: float) -> Callable[[], float]:
    """Mean force over s0 t²/4 at a D/t."""
    return lambda: float(
        circular_tube_force(slenderness * WALL, WALL, STRESS) / (STRESS * WALL**2 / 4.0)
    )


VALUES = tuple(
    abstract(
        what=f"round tube, mean force over s0 t^2/4, D/t {slenderness:g}",
        theirs=theirs,
        ours=ratio(slenderness),
    )
    for slenderness, theirs in ((10.0, 151.1), (50.0, 252.8), (100.0, 315.6), (450.0, 510.7))
)


@each(VALUES)
def test_guillow_lu_and_grzebieta_2001_round_tubes(value: Outside) -> None:
    value.check()


def test_guillow_lu_and_grzebieta_2001_twice_the_size_carries_four_times_the_force() -> None:
    one, two = (circular_tube_force(k * 0.1, k * 2e-3, 200e6) for k in (1.0, 2.0))
    assert_allclose(two, 4.0 * one, rtol=1e-12)


def test_guillow_lu_and_grzebieta_2001_powers_of_wall_and_diameter() -> None:
    """Force goes with D^0.32 and t^1.68."""
    walls = np.array([1e-3, 2e-3])
    force = circular_tube_force(0.1, walls, 200e6)
    assert_allclose(np.log2(force[1] / force[0]), 2.0 - 0.32, rtol=1e-12)
