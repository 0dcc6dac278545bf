"""What a girder record says before any folding, worked by hand [D].

Strengths at low, nominal and high, wall, mass, stiffness. Box 140 × 4 mm, 1 m: C 136 mm, mid-line
perimeter 4 · 136 = 544 mm with sharp corners; corner radius 6 mm outside, 4 mm on the mid-line:
544 − (8 − 2π) · 4 = 537.13274 mm. Datasheet: yield 220/295/350, ultimate 520/650/700 MPa.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.case.material import Rate, StrengthAtTemperature
from crushleg.case.records import Measured, Row, Seam, WallStep
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.net import axial_stiffness, girder_mass
from crushleg.girder.start import start_force
from crushleg.girder.strength import girder_strengths, seam_factor
from tests.samples import STAINLESS, MPa, band, girder, mm

if TYPE_CHECKING:
    from crushleg.case.records import Girder
    from crushleg.girder.strength import Strengths

AROUND = 544.0 - (8.0 - 2.0 * math.pi) * 4.0
PAIR_304 = Rate(D=100.0, q=10.0, fitted_at="yield", test_rate=0.001)
SLAB = Row(height=0.5, size=40 * mm, size_along=0.5, shape="rectangle")


def strengths(record: Girder, speed: float = 3.0) -> Strengths:
    """Low, nominal, high [MPa]."""
    found = girder_strengths(record, speed)
    return type(found)(*(level / MPa for level in found))


@pytest.mark.parametrize(
    ("width", "factor"),
    [(30 * mm, 0.977941176), (272 * mm, 0.8), (544 * mm, 0.6), (600 * mm, 0.6), (None, 0.6)],
)
def test_a_seam_weakens_its_share_of_the_perimeter(width: float | None, factor: float) -> None:
    """1 − (30/544)(1 − 0.6) = 0.977941; half of it 0.8; all of it, or more than all, 0.6."""
    seam = Seam(strength_factor=0.6, affected_width=width)
    assert_allclose(seam_factor(girder(seam=seam)), factor, rtol=1e-9)


def test_the_seam_of_an_oblong_box_is_a_share_of_both_sides() -> None:
    """100 × 240 × 3 mm: 2 (97 + 237) = 668 mm; 1 − (167/668) · 0.4 = 0.9."""
    seam = Seam(strength_factor=0.6, affected_width=167 * mm)
    box = girder(width=100 * mm, depth=240 * mm, wall=3 * mm, seam=seam)
    assert_allclose(seam_factor(box), 0.9, rtol=1e-12)


def test_a_seam_multiplies_every_strength() -> None:
    """Half the perimeter at 0.6: 0.8 × 220/295/350 and 520/650/700; flow stress 296/378/420."""
    found = strengths(girder(seam=Seam(strength_factor=0.6, affected_width=272 * mm)))
    assert_allclose(found.yield_compression, [176.0, 236.0, 280.0], rtol=1e-12)
    assert_allclose(found.yield_tension, [176.0, 236.0, 280.0], rtol=1e-12)
    assert_allclose(found.ultimate, [416.0, 520.0, 560.0], rtol=1e-12)
    assert_allclose(found.flow_stress, [296.0, 378.0, 420.0], rtol=1e-12)


def test_a_measured_wall_replaces_that_of_the_first_segment_alone() -> None:
    step = (WallStep(start=0.4, wall=5 * mm),)
    found = girder_arrays([girder(measured=Measured(wall=3.8 * mm), wall_steps=step)], [3.0])
    assert_allclose(found.wall, [[3.8 * mm, 5 * mm]], rtol=1e-12)
    assert_allclose(found.wall_at(np.array([[0.3, 0.5]])), [[3.8 * mm, 5 * mm]], rtol=1e-12)


def test_a_certificate_replaces_the_datasheet_with_a_band_of_its_own() -> None:
    """± 1.96 · 0.044 = ± 0.08624: 300 → 274.128/325.872, 600 → 548.256/651.744 MPa."""
    sheet = Measured(yield_strength=300 * MPa, ultimate_strength=600 * MPa)
    found = strengths(girder(measured=sheet))
    assert_allclose(found.yield_tension, [274.128, 300.0, 325.872], rtol=1e-12)
    assert_allclose(found.ultimate, [548.256, 600.0, 651.744], rtol=1e-12)
    assert_allclose(found.flow_stress, [411.192, 450.0, 488.808], rtol=1e-12)


def test_a_certificate_of_one_strength_leaves_the_other_on_the_datasheet() -> None:
    found = strengths(girder(measured=Measured(ultimate_strength=600 * MPa)))
    assert_allclose(found.yield_tension, [220.0, 295.0, 350.0], rtol=1e-12)
    assert_allclose(found.ultimate, [548.256, 600.0, 651.744], rtol=1e-12)


def test_the_ultimate_is_never_below_the_yield() -> None:
    """Certified yield 700: 639.632/700/760.368 against the datasheet's 520/650/700."""
    found = strengths(girder(measured=Measured(yield_strength=700 * MPa)))
    assert_allclose(found.ultimate, [639.632, 700.0, 760.368], rtol=1e-12)


SQUEEZED = replace(STAINLESS, compressive_yield=band(198 * MPa, 236 * MPa, 280 * MPa))


def test_a_certificate_moves_the_compressive_yield_by_the_ratio_of_the_datasheet() -> None:
    """198/220 = 0.9, 236/295 = 280/350 = 0.8: 0.9 · 274.128, 0.8 · 300, 0.8 · 325.872."""
    found = strengths(girder(material=SQUEEZED, measured=Measured(yield_strength=300 * MPa)))
    assert_allclose(found.yield_compression, [246.7152, 240.0, 260.6976], rtol=1e-12)


def test_compressive_yield_starts_a_fold_and_tension_sets_the_flow_stress() -> None:
    """Plain box, σcr 613.9 MPa; λ √(198/613.9) = 0.568: full width, 4 · 136 · 4 · 198 N.

    High, of 345 MPa, λ 0.750, no hardening: 4 · 136 · 4 · 345 N. Flow (220 + 520)/2 and so on.
    """
    alloy = replace(STAINLESS, compressive_yield=band(198 * MPa, 236 * MPa, 345 * MPa))
    record = girder(material=alloy, wall_tolerance=0.0, hole_tolerance=0.0)
    found = girder_arrays([record], [0.0])
    start = start_force(found, np.array([[0.3]]))[:, 0, 0]
    assert_allclose(start[[0, 2]], [430_848.0, 750_720.0], rtol=1e-9)
    assert_allclose(found.flow_stress[:, 0] / MPa, [370.0, 472.5, 525.0], rtol=1e-12)


WARM = (
    StrengthAtTemperature(
        temperature=100.0, yield_ratio=band(1.2, 1.4, 1.6), ultimate_ratio=band(1.5, 1.8, 2.2)
    ),
    StrengthAtTemperature(
        temperature=200.0, yield_ratio=band(1.1, 1.2, 1.3), ultimate_ratio=band(1.2, 1.4, 1.7)
    ),
)


def at_temperature(kelvin: float) -> Strengths:
    alloy = replace(STAINLESS, strength_with_temperature=WARM)
    return strengths(girder(material=alloy, temperature=kelvin))


def test_strengths_follow_the_temperature_level_by_level() -> None:
    """150 K, halfway: yield × 1.15/1.3/1.45, ultimate × 1.35/1.6/1.95; flow stress the mean."""
    found = at_temperature(150.0)
    assert_allclose(found.yield_compression, [253.0, 383.5, 507.5], rtol=1e-12)
    assert_allclose(found.yield_tension, [253.0, 383.5, 507.5], rtol=1e-12)
    assert_allclose(found.ultimate, [702.0, 1040.0, 1365.0], rtol=1e-12)
    assert_allclose(found.flow_stress, [477.5, 711.75, 936.25], rtol=1e-12)


def test_the_temperature_table_is_interpolated_where_it_is_asked() -> None:
    """175 K, three quarters of the way: nominal yield 1.25 · 295, ultimate 1.5 · 650."""
    found = at_temperature(175.0)
    assert_allclose(found.yield_tension[1], 368.75, rtol=1e-12)
    assert_allclose(found.ultimate[1], 975.0, rtol=1e-12)


@pytest.mark.parametrize(("kelvin", "strength"), [(286.0, 295.0), (301.0, 295.0), (284.0, 354.0)])
def test_within_8_kelvin_of_room_the_datasheet_stands(kelvin: float, strength: float) -> None:
    """At 284 K the table's last row, 1.2 · 295 = 354 MPa."""
    assert_allclose(at_temperature(kelvin).yield_tension[1], strength, rtol=1e-12)


RATED = replace(STAINLESS, rate=PAIR_304)


def test_the_rate_factor_is_that_of_a_third_two_thirds_and_all_of_the_speed() -> None:
    """3 m/s on C 136 mm: 0.33 V/C at 1, 2, 3 m/s = 2.426471, 4.852941, 7.279412 1/s.

    Pair 100 1/s and 10, test at 0.001: (1 + (rate/100)^0.1)/(1 + 10^−0.5): 1.28354809,
    1.32114311, 1.34437354 on every strength.
    """
    factor = np.array([1.28354809, 1.32114311, 1.34437354])
    found = strengths(girder(material=RATED, rate=True), 3.0)
    assert_allclose(found.yield_tension, factor * [220.0, 295.0, 350.0], rtol=1e-8)
    assert_allclose(found.yield_compression, factor * [220.0, 295.0, 350.0], rtol=1e-8)
    assert_allclose(found.ultimate, factor * [520.0, 650.0, 700.0], rtol=1e-8)


def test_the_rate_is_that_of_the_mean_side() -> None:
    """100 × 172 × 4 mm: (96 + 168)/2 = 132 mm, 0.33 · 4/0.132 = 10 1/s: (1 + 0.1^0.1)/1.316228."""
    box = girder(material=RATED, rate=True, width=100 * mm, depth=172 * mm)
    factor = (1.0 + 0.1**0.1) / (1.0 + 10.0**-0.5)
    assert_allclose(strengths(box, 4.0).yield_tension[2], 350.0 * factor, rtol=1e-12)


@pytest.mark.parametrize(("material", "on"), [(RATED, False), (STAINLESS, True)])
def test_no_rate_factor_when_off_or_when_the_datasheet_has_no_pair(
    material: object, *, on: bool
) -> None:
    found = strengths(girder(material=material, rate=on))
    assert_allclose(found.yield_tension, [220.0, 295.0, 350.0], rtol=1e-12)


def stiffness(record: Girder) -> float:
    """Axial stiffness [N/mm]."""
    return float(axial_stiffness(girder_arrays([record], [0.0]))[0]) / 1e3


def mass(record: Girder) -> float:
    """Mass [kg]."""
    return float(girder_mass(girder_arrays([record], [0.0]))[0])


def test_a_plain_girder_is_as_stiff_as_its_section() -> None:
    """E A/L = 200e3 · 4 · 537.13274/1000 = 429.70619 kN/mm; half of it when twice as long."""
    assert_allclose(stiffness(girder()), 200e3 * 4.0 * AROUND / 1e3, rtol=1e-9)
    assert_allclose(stiffness(girder()), 429_706.19, rtol=1e-8)
    assert_allclose(stiffness(girder(length=2.0)), 0.5 * 429_706.19, rtol=1e-8)


@pytest.mark.parametrize(("faces", "cut"), [("all", 160.0), ("front-back", 80.0)])
def test_a_rectangle_half_as_long_as_the_girder_is_in_series(faces: str, cut: float) -> None:
    """500 mm of A and 500 mm of A less the holes: L/K = 500/(E A) + 500/(E A')."""
    parts = [500.0 / (200e3 * 4.0 * around) for around in (AROUND, AROUND - cut)]
    assert_allclose(stiffness(girder(replace(SLAB, faces=faces))), 1.0 / sum(parts), rtol=1e-9)


def test_a_wall_step_is_in_series() -> None:
    """500 mm of 4 mm, 500 mm of 5 mm: 4 · 135 − (8 − 2π) · 3.5 = 533.99115 mm around."""
    thick = 5.0 * (540.0 - (8.0 - 2.0 * math.pi) * 3.5)
    parts = [500.0 / (200e3 * area) for area in (4.0 * AROUND, thick)]
    stepped = girder(wall_steps=(WallStep(start=0.5, wall=5 * mm),))
    assert_allclose(stiffness(stepped), 1.0 / sum(parts), rtol=1e-9)
    assert_allclose(mass(stepped), 7900.0 * 0.5 * (4.0 * AROUND + thick) * 1e-6, rtol=1e-12)


@pytest.mark.parametrize(
    ("rows", "holes"),
    [
        ((), 0.0),
        ((SLAB,), 4.0 * 40.0 * 500.0),
        ((replace(SLAB, faces="left-right"),), 2.0 * 40.0 * 500.0),
        ((Row(height=0.3, size=82 * mm),), math.pi * 82.0**2),
        (
            (Row(height=0.3, size=20 * mm, size_along=60 * mm, shape="slot"),),
            4.0 * (20.0 * 40.0 + 0.25 * math.pi * 20.0**2),
        ),
        ((Row(height=0.3, size=20 * mm, per_face=3, spacing=40 * mm),), 3.0 * math.pi * 20.0**2),
    ],
    ids=["plain", "rectangle", "two faces", "circle", "slot", "three"],
)
def test_the_mass_is_wall_volume_less_holes(rows: tuple[Row, ...], holes: float) -> None:
    """7900 kg/m³ · 4 mm · (537.13274 · 1000 − hole area of all faces) mm²; plain 16.973395 kg."""
    assert_allclose(mass(girder(*rows)), 7900e-9 * 4.0 * (AROUND * 1e3 - holes), rtol=1e-12)
