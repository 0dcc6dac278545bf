"""Legs crushed in a motion of the whole vehicle, read back to the speed it landed at.

`land` integrates the rigid body step by step, `inspect` balances energies: what they share is the
curve of the girder alone.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from crushleg.case.reader import read_case_text
from crushleg.case.templates import template
from crushleg.land import Moving, land_case
from crushleg.landing.back_calculation import speed_from_crush
from crushleg.trial.height_cells import Place
from crushleg.trial.heights import Heights
from crushleg.trial.inspect import Asked, Inspection, inspect_legs

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

SPEED = 3.0
LEVEL, ONE = 0, 1
QUICK = (
    'vehicle.gravity="9.80665 m/s2"',
    'vehicle.centre_of_gravity_height="2 m"',
    'vehicle.clearance="0.9 m"',
)
TOUCHDOWNS = f"""\
[[touchdown]]
name = "level"
vertical_speed = "{SPEED} m/s"

[[touchdown]]
name = "one leg first"
vertical_speed = "{SPEED} m/s"
attitude = "1 deg"
first_contact = "one"

"""


@pytest.fixture(scope="module")
def moving() -> Moving:
    """Run the lander of the template on Earth and squat, where it soon comes to rest."""
    before, _, after = template("lunar-lander").partition("[[touchdown]]")
    text = before + TOUCHDOWNS + after[after.index("[limits]") :]
    return land_case(read_case_text(text, "lander", QUICK))


def read_back(moving: Moving, move: int, level: int) -> Inspection:
    """Inspect the legs of one landing with perfect readings, nothing taken elsewhere."""
    case, landing = moving.checked.case, moving.moves[move]
    crush: FloatArray = landing.outcome.crush[level]
    legs = len(crush)
    heights = Heights(
        source="land",
        sha256="",
        faces=np.repeat((case.girder.length - crush)[:, None], 4, axis=1),
        error=np.zeros(legs),
        folds=np.full(legs, np.nan),
        places=(Place(),) * legs,
    )
    return inspect_legs(case, heights, Asked(touchdown=landing.name, mass_error=0.0, other=0.0))


def speed_at(found: Inspection, level: int) -> float:
    """Speed by the curve of one level of force."""
    stopped, band = found.stopped, found.band
    way = band.energy[level], band.travel[level]
    return float(speed_from_crush(stopped.mass, stopped.net_weight, *way))


@pytest.mark.parametrize("level", [0, 1, 2])
def test_the_speed_of_a_level_landing_comes_back_to_half_a_percent(
    moving: Moving, level: int
) -> None:
    found = read_back(moving, LEVEL, level)
    assert speed_at(found, level) == pytest.approx(SPEED, rel=0.005)
    assert found.rest.direction is None


@pytest.mark.parametrize("level", [0, 1, 2])
def test_the_speed_of_one_leg_first_comes_back_to_one_percent(moving: Moving, level: int) -> None:
    found = read_back(moving, ONE, level)
    assert np.ptp(found.faces.crush) > 0.002
    assert speed_at(found, level) == pytest.approx(SPEED, rel=0.01)


def test_weak_legs_seem_faster_and_strong_ones_slower_than_they_were(moving: Moving) -> None:
    low, nominal, high = (read_back(moving, LEVEL, level).band.speed[1] for level in range(3))
    assert low > nominal > high
    for level in range(3):
        band = read_back(moving, LEVEL, level).band.speed
        assert band[0] <= SPEED * 1.005
        assert band[2] >= SPEED * 0.995


def test_the_vehicle_leans_as_its_crushed_legs_say(moving: Moving) -> None:
    found, outcome = read_back(moving, ONE, 1), moving.moves[ONE].outcome
    assert found.rest.lean == pytest.approx(float(outcome.lean[1]), abs=np.radians(0.05))
    assert found.rest.direction is not None
    assert np.cos(found.rest.direction) == pytest.approx(1.0)
    assert int(outcome.crush[1].argmax()) == 0
