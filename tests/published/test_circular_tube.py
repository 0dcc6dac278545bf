"""Mean force of round tubes, [GLG01].

S. R. Guillow, G. Lu, R. H. Grzebieta, Int. J. Mech. Sci. 43 (2001) 2103, 70 tests of aluminium
tubes: mean force/(s0 t²/4) = 72.3 (D/t)^0.32 (published, abstract).
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.design.yardsticks import circular_tube_force


@pytest.mark.parametrize(
    ("slenderness", "ratio"),
    [(10.0, 151.1), (50.0, 252.8), (100.0, 315.6), (450.0, 510.7)],
)
def test_a_round_tube_has_the_published_mean_force(slenderness: float, ratio: float) -> None:
    """Worked with logarithms: 10^0.32 = 2.0893, 50^0.32 = 3.4970, 450^0.32 = 7.0636."""
    wall, stress = 2e-3, 200e6
    force = circular_tube_force(slenderness * wall, wall, stress)
    assert_allclose(force / (stress * wall**2 / 4.0), ratio, rtol=5e-4)


def test_twice_the_size_carries_four_times_the_force() -> None:
    one, two = (circular_tube_force(k * 0.1, k * 2e-3, 200e6) for k in (1.0, 2.0))
    assert_allclose(two, 4.0 * one, rtol=1e-12)


def test_walls_go_with_the_power_1_68_and_diameters_with_0_32() -> None:
    walls = np.array([1e-3, 2e-3])
    force = circular_tube_force(0.1, walls, 200e6)
    assert_allclose(np.log2(force[1] / force[0]), 2.0 - 0.32, rtol=1e-12)
