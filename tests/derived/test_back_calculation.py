"""Speed from crush: constant 40 kN under 1 t on Earth, by hand.

v = √(2 (40 000 − 9806.65) s/1000): s = 0.10 m → 2.457371, 0.16 m → 3.108355 m/s. Four legs of
10 kN over 0.12, 0.15, 0.18, 0.15 m take 6000 J over a mean of 0.15 m:
√(2 (6000 − 9806.65 · 0.15)/1000) = 3.009652 m/s.
"""

from __future__ import annotations

from functools import partial

import numpy as np

from crushleg.landing.back_calculation import speed_from_crush
from crushleg.landing.ideal import constant_force_stop
from tests.outside import Outside, each

MASS, FORCE, WEIGHT = 1000.0, 40e3, 9806.65


LEGS = np.array([0.12, 0.15, 0.18, 0.15])
derived = partial(
    Outside,
    source="energy balance read backward",
    status="derived",
    why="half a unit of the last digit given",
)


def speed(crush: float) -> float:
    return float(speed_from_crush(MASS, WEIGHT, FORCE * crush, crush))


VALUES = (
    *(
        derived(
            what=f"speed behind {crush:.2f} m of crush at 40 kN, 1 t, Earth",
            theirs=theirs,
            ours=partial(speed, crush),
            place="√(2 (F − m g) s/m)",
            absolute=5e-7,
            unit="m/s",
        )
        for crush, theirs in ((0.10, 2.457371), (0.16, 3.108355))
    ),
    derived(
        what="speed behind four legs of 10 kN, 0.12, 0.15, 0.18, 0.15 m",
        theirs=3.009652,
        ours=lambda: float(speed_from_crush(MASS, WEIGHT, 10e3 * LEGS.sum(), LEGS.mean())),
        place="6000 J over a mean of 0.15 m",
        absolute=5e-7,
        unit="m/s",
    ),
)


@each(VALUES)
def test_crush_gives_the_speed_worked_by_hand(value: Outside) -> None:
    value.check()


def test_it_inverts_the_stop_at_any_speed() -> None:
    speed = np.linspace(0.1, 6.0, 40)
    stroke, _, energy = constant_force_stop(MASS, speed, FORCE, WEIGHT)
    np.testing.assert_allclose(speed_from_crush(MASS, WEIGHT, energy, stroke), speed, rtol=1e-12)


def test_a_weight_that_does_more_work_than_was_taken_gives_no_speed() -> None:
    assert speed_from_crush(MASS, WEIGHT, 900.0, 0.1) == 0.0
