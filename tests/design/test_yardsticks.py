"""Round tube of equal mass and constant force, against hand calculations."""

from __future__ import annotations

import math

import pytest

import crushleg
from crushleg.design.yardsticks import (
    equal_mass_diameter,
    ideal_stop,
    mean_wall,
    stopped_by,
    tube_of,
)

PLAIN = ('girder.holes={law="none"}', 'girder.corner_radius="0 mm"')


def checked(*overrides: str) -> crushleg.Checked:
    return crushleg.check_case(
        crushleg.read_case_text(crushleg.template("test-stage"), "", overrides)
    )


def test_a_tube_of_equal_mass_has_the_perimeter_of_the_box() -> None:
    """Sharp box of 140 × 4 mm: 4 × 136 mm of mid-line; D = 544/π = 173.16 mm at the same wall."""
    tube = tube_of(checked(*PLAIN), 0.756, 1)
    assert tube.diameter == pytest.approx(0.544 / math.pi, rel=1e-9)
    assert tube.wall == pytest.approx(4e-3)


def test_the_tube_of_the_dunlin_section_by_hand() -> None:
    """D/t 43.29: 43.29^0.32 = 3.3396; 241.4 × 472.5e6 × 4e-6 = 456.4 kN."""
    tube = tube_of(checked(*PLAIN), 0.756, 1)
    assert tube.force == pytest.approx(456.4e3, rel=1e-3)
    assert tube.in_range


def test_mass_comes_back_from_the_diameter() -> None:
    diameter = float(equal_mass_diameter(12.0, 0.9, 2e-3, 2700.0))
    assert math.pi * diameter * 2e-3 * 0.9 * 2700.0 == pytest.approx(12.0)


def test_a_stepped_wall_is_averaged_over_the_length() -> None:
    """4 mm over 600 mm, 5 mm over 400 mm: 4.4 mm."""
    stepped = checked('girder.wall_steps=[{from="600 mm", wall="5 mm"}]')
    assert mean_wall(stepped) == pytest.approx(4.4e-3)


def test_a_constant_force_stops_the_stage_by_energy() -> None:
    """6 legs of 300 kN, 40 t at 4.2 m/s: 352.8 kJ/(1.8 MN − 392.266 kN) = 250.6 mm."""
    case = checked()
    found = stopped_by(300e3, case, case.landings[1])
    assert found is not None
    assert found.stroke == pytest.approx(352.8e3 / (1.8e6 - 40e3 * 9.80665))
    assert found.deceleration == pytest.approx((1.8e6 - 392.266e3) / 40e3)
    assert found.load == 300e3


def test_the_ideal_uses_the_stroke_limit_up_and_no_more() -> None:
    """S = 0.95 × usable: F = Wn + ½ m v²/S; it stops exactly there."""
    case = checked()
    ideal = ideal_stop(case, case.landings[1])
    assert ideal is not None
    stroke = 0.95 * float(case.crush.usable[0])
    assert ideal.stroke == pytest.approx(stroke)
    assert 6.0 * ideal.load == pytest.approx(40e3 * 9.80665 + 352.8e3 / stroke)
    back = stopped_by(ideal.load, case, case.landings[1])
    assert back is not None
    assert back.stroke == pytest.approx(stroke)


def test_a_force_below_the_weight_never_stops() -> None:
    case = checked()
    found = stopped_by(10e3, case, case.landings[1])
    assert found is not None
    assert math.isinf(found.stroke)


def test_a_canted_leg_keeps_its_geometry() -> None:
    """Cant 20°, μ 0.4: V/F 1.24551 (by hand); the vehicle travels cos 20° per stroke."""
    case = checked('leg.cant="20 deg"')
    found = stopped_by(300e3, case, case.landings[1])
    assert found is not None
    travel = 352.8e3 / (6 * 300e3 * 1.24551 - 392.266e3)
    assert found.stroke == pytest.approx(travel / math.cos(math.radians(20.0)), rel=1e-4)


def test_the_ideal_of_a_canted_leg_is_an_axial_load() -> None:
    """Axial load A = V (cos γ − μ sin γ) whatever the guide's friction; z = S cos γ."""
    case = checked('leg.cant="20 deg"', "leg.guide_friction=0.2")
    ideal = ideal_stop(case, case.landings[1])
    assert ideal is not None
    angle = math.radians(20.0)
    total = 40e3 * 9.80665 + 352.8e3 / (ideal.stroke * math.cos(angle))
    axial = total / 6.0 * (math.cos(angle) - 0.4 * math.sin(angle))
    assert ideal.load == pytest.approx(axial, rel=1e-9)


def test_legs_that_touch_one_by_one_have_no_constant_force() -> None:
    words = ('touchdown.1.first_contact="one"', 'touchdown.1.slope="2 deg"')
    case = checked(*words)
    assert ideal_stop(case, case.landings[1]) is None
    assert tube_of(case, 0.7, 1).stopped is None
