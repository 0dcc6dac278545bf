"""Drop tests of landing gear: heights, speeds and effective weight.

14 CFR 27.725 (effective weight, drop height 13 in), former 14 CFR 25.723 (10 and 12 ft/s). The
form of the effective weight is from memory; energy confirms it here. Units of the rule: in, lb.
"""

from __future__ import annotations

import pytest

from crushleg.trial.rig import contact_speed, effective_weight, release_height
from crushleg.units import express, parse

EARTH = 9.80665


@pytest.mark.parametrize(("height", "weight"), [(13.0, 1578.947), (8.0, 1428.571)])
def test_effective_weight_of_2000_lb_with_two_thirds_carried(height: float, weight: float) -> None:
    assert effective_weight(2000.0, height, 6.0, 2.0 / 3.0) == pytest.approx(weight, abs=5e-4)


@pytest.mark.parametrize("lift", [0.0, 0.3, 2.0 / 3.0, 1.0])
def test_effective_weight_brings_the_energy_of_the_weight_less_that_of_the_lift(
    lift: float,
) -> None:
    """Free drop of We over h + d = W over h + d less lift L W over d alone."""
    weight, h, d = 8896.0, 0.33, 0.15
    free = float(effective_weight(weight, h, d, lift)) * (h + d)
    assert free == pytest.approx(weight * (h + d) - lift * weight * d, rel=1e-12)


def test_thirteen_inches_end_at_2_5449_metres_per_second() -> None:
    assert contact_speed(parse("13 in", "length"), 1.0, EARTH, 0.0) == pytest.approx(
        2.5449, abs=5e-5
    )


@pytest.mark.parametrize(("speed", "inches"), [("10 ft/s", 18.649), ("12 ft/s", 26.854)])
def test_limit_and_reserve_speed_of_large_aeroplanes_as_heights(speed: str, inches: float) -> None:
    height = float(release_height(parse(speed, "speed"), 1.0, EARTH, 0.0))
    assert express(height, "in") == pytest.approx(inches, abs=5e-4)
