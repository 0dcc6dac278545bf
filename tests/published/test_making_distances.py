"""Making distances against the limits that shop guides print, one source per row.

All read second-hand in public pages of punching and laser-cutting shops: smallest hole, web and
distance to a bend as multiples of the sheet thickness.
"""

from __future__ import annotations

import pytest

from crushleg.design.making import (
    SMALLEST_CUT,
    SMALLEST_PUNCHED,
    column_web,
    cut_hole,
    cut_to_bend,
    punched_hole,
    punched_to_bend,
)

mm = 1e-3


@pytest.mark.parametrize(
    ("wall", "stainless", "hole"),
    [
        pytest.param(2.0, False, 2.0, id="punching guide: mild steel, soft aluminium 1.0 t"),
        pytest.param(2.0, True, 4.0, id="punching guide: stainless 2.0 t"),
        pytest.param(0.5, False, 1.5, id="stamping handbook: never under 1.5 mm (0.060 in)"),
    ],
)
def test_smallest_punched_hole(wall: float, stainless: bool, hole: float) -> None:
    assert punched_hole(wall * mm, stainless=stainless) == pytest.approx(hole * mm)


@pytest.mark.parametrize(
    ("wall", "hole"),
    [
        pytest.param(3.0, 3.0, id="laser guide: 1.0 t is safe (0.7 t for fine work)"),
        pytest.param(0.5, 1.0, id="laser guide: never under 1 mm"),
    ],
)
def test_smallest_laser_cut_hole(wall: float, hole: float) -> None:
    assert cut_hole(wall * mm) == pytest.approx(hole * mm)


def test_punched_hole_to_bend() -> None:
    """Stamping handbook: 1.5 t + R; 2 mm sheet, R 3 mm: 6 mm."""
    assert punched_to_bend(2 * mm, 3 * mm) == pytest.approx(6 * mm)


def test_laser_cut_hole_to_bend() -> None:
    """Laser guide: 2 t + R; 2 mm sheet, R 3 mm: 7 mm."""
    assert cut_to_bend(2 * mm, 3 * mm) == pytest.approx(7 * mm)


def test_the_web_of_a_crush_column_is_never_under_what_a_shop_asks() -> None:
    """Punching and laser guides: web 1.0 t at least, bulge visible below 0.5 t."""
    for wall in (0.5, 1.0, 2.0, 4.0, 8.0):
        assert column_web(wall * mm) >= wall * mm


def test_smallest_holes_are_those_of_the_inch_guides() -> None:
    """Printed as 0.060 to 0.062 in for a punch and 1 mm for a laser: ours rounded to 0.1 mm."""
    assert round(SMALLEST_PUNCHED / 0.0254, 3) == pytest.approx(0.059)
    assert pytest.approx(1 * mm) == SMALLEST_CUT
