"""Speed from crush: constant 40 kN under 1 t on Earth, by hand.

v = √(2 (40 000 − 9806.65) s/1000): s = 0.10 m → 2.457371, 0.16 m → 3.108355 m/s.
"""

from __future__ import annotations

import numpy as np
import pytest

from crushleg.landing.back_calculation import speed_from_crush
from crushleg.landing.ideal import constant_force_stop

MASS, FORCE, WEIGHT = 1000.0, 40e3, 9806.65


@pytest.mark.parametrize(("crush", "speed"), [(0.10, 2.457371), (0.16, 3.108355)])
def test_a_crush_under_a_constant_force_gives_its_speed(crush: float, speed: float) -> None:
    found = speed_from_crush(MASS, WEIGHT, FORCE * crush, crush)
    assert found == pytest.approx(speed, abs=5e-7)


def test_four_legs_that_crush_unevenly_add_their_work_and_share_the_travel() -> None:
    """10 kN each over 0.12, 0.15, 0.18, 0.15 m: 6000 J over a mean of 0.15 m, 3.009652 m/s."""
    crush = np.array([0.12, 0.15, 0.18, 0.15])
    found = speed_from_crush(MASS, WEIGHT, 10e3 * crush.sum(), crush.mean())
    assert found == pytest.approx(3.009652, abs=5e-7)


def test_it_inverts_the_stop_at_any_speed() -> None:
    speed = np.linspace(0.1, 6.0, 40)
    stroke, _, energy = constant_force_stop(MASS, speed, FORCE, WEIGHT)
    np.testing.assert_allclose(speed_from_crush(MASS, WEIGHT, energy, stroke), speed, rtol=1e-12)


def test_a_weight_that_does_more_work_than_was_taken_gives_no_speed() -> None:
    assert speed_from_crush(MASS, WEIGHT, 900.0, 0.1) == 0.0
