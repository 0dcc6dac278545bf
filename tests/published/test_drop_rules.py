"""Drop tests of landing gear: heights, speeds and effective weight; a fall after engine cut-off.

14 CFR 27.725: drop of 13 in, or less, but not under 8 in; effective weight
W [h + (1 − L) d]/(h + d); both from memory, the form confirmed here by energy. Former 14 CFR
25.723: 10 and 12 ft/s (published). A press report of 1966 gives engine cut-off at 13 ft and
3.3 mph in lunar gravity (published); √(1.47523² + 2·1.62·3.9624) = 3.8749 m/s is worked from it.
Falls are worked with v² = 2 g h, g 9.80665 m/s²; 1 in is 25.4 mm.
"""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

import pytest

from crushleg.trial.rig import contact_speed, effective_weight, release_height
from crushleg.units import express, parse
from tests.outside import Outside, each

if TYPE_CHECKING:
    from collections.abc import Callable

EARTH, MOON = 9.80665, 1.62
LIFT = 2.0 / 3.0
rotorcraft = partial(Outside, source="14 CFR 27.725")
ROUNDING = "half a unit of the last digit given"


def weight(height: float) -> Callable[[], float]:
    """Effective weight of 2000 lb with two thirds carried, stopped in 6 in [lb]."""
    return lambda: float(effective_weight(2000.0, height, 6.0, LIFT))


def fall(height: str, gravity: float = EARTH) -> float:
    """Speed at the end of a fall [m/s]."""
    return float(contact_speed(parse(height, "length"), 1.0, gravity, 0.0))


def height_of(speed: str) -> Callable[[], float]:
    """Fall that ends with a speed [in]."""
    return lambda: float(
        express(float(release_height(parse(speed, "speed"), 1.0, EARTH, 0.0)), "in")
    )


VALUES = (
    *(
        rotorcraft(
            what=f"effective weight of 2000 lb, lift 2/3, {height:g} in onto 6 in",
            theirs=theirs,
            ours=weight(height),
            place="(b), effective weight",
            status="from memory",
            absolute=5e-4,
            why=ROUNDING,
            unit="lb",
        )
        for height, theirs in ((13.0, 1578.947), (8.0, 1428.571))
    ),
    rotorcraft(
        what="contact speed of the limit drop, 13 in",
        theirs=2.5449,
        ours=lambda: fall("13 in"),
        place="(a), drop height; speed worked by hand",
        status="from memory",
        absolute=5e-5,
        why=ROUNDING,
        unit="m/s",
    ),
    *(
        Outside(
            what=f"drop height of the {name} descent velocity, {speed}",
            theirs=inches,
            ours=height_of(speed),
            source="14 CFR 25.723, as it stood",
            place=f"{name} velocity; height worked by hand",
            status="published",
            absolute=5e-4,
            why=ROUNDING,
            unit="in",
        )
        for name, speed, inches in (("limit", "10 ft/s", 18.649), ("reserve", "12 ft/s", 26.854))
    ),
    Outside(
        what="touchdown after engine cut-off at 13 ft and 3.3 mph, lunar gravity",
        theirs=3.8749,
        ours=lambda: math.hypot(parse("3.3 mph", "speed"), fall("13 ft", MOON)),
        source="press report of 1966 on a lunar lander",
        place="cut-off height and speed; touchdown worked by hand",
        status="published",
        absolute=5e-5,
        why=ROUNDING,
        unit="m/s",
    ),
)


@each(VALUES)
def test_14_cfr_27_725_and_25_723_drops(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize("lift", [0.0, 0.3, LIFT, 1.0])
def test_14_cfr_27_725_effective_weight_brings_the_energy_of_weight_less_lift(lift: float) -> None:
    """Free drop of We over h + d = W over h + d less lift L W over d alone."""
    weight, h, d = 8896.0, 0.33, 0.15
    free = float(effective_weight(weight, h, d, lift)) * (h + d)
    assert free == pytest.approx(weight * (h + d) - lift * weight * d, rel=1e-12)
