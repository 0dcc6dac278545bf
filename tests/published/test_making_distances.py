"""Making distances against the limits that shop guides print, one source per row.

All read second-hand in public pages of punching and laser-cutting shops: smallest hole, web and
distance to a bend as multiples of the sheet thickness. The web and corner distance of a crush
column are our judgement (2 t and 5 mm; 2 t + R) and only held against these from below.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import pytest

from crushleg.case.records import Row
from crushleg.design.drill import schedule_of
from crushleg.design.making import judge
from crushleg.design.shop_limits import column_web, cut_hole, punched_hole
from crushleg.design.stock import Stock
from tests.outside import Outside, each
from tests.samples import girder

if TYPE_CHECKING:
    from collections.abc import Callable

mm = 1e-3
guide = partial(Outside, status="published", relative=1e-9, why="an exact multiple", unit="mm")
rounded = partial(guide, relative=0.02, why="printed as 0.060 to 0.062 in; ours to 0.1 mm")


def punched(wall: float, *, stainless: bool) -> Callable[[], float]:
    return lambda: punched_hole(wall * mm, stainless=stainless) / mm


def cut(wall: float) -> Callable[[], float]:
    return lambda: cut_hole(wall * mm) / mm


def limit(rule: str, wall: float) -> Callable[[], float]:
    """Limit of a rule for a girder of this wall, outside corner radius 3 mm [mm]."""

    def found() -> float:
        row = Row(height=0.3, size=20 * mm)
        record = girder(row, wall=wall * mm, corner_radius=3 * mm)
        plan = schedule_of(record, Stock(tools=(), sheets=()))
        (judged,) = (one for one in judge(plan) if one.rule.name == rule)
        return judged.limit / mm

    return found


VALUES = (
    guide(
        what="smallest punched hole in 2 mm mild steel or soft aluminium",
        theirs=2.0,
        ours=punched(2.0, stainless=False),
        source="two punching guides, second-hand",
        place="1.0 t",
    ),
    guide(
        what="smallest punched hole in 2 mm stainless",
        theirs=4.0,
        ours=punched(2.0, stainless=True),
        source="punching guide, second-hand",
        place="2.0 t",
    ),
    rounded(
        what="smallest punched hole in any sheet",
        theirs=0.060 * 25.4,
        ours=punched(0.5, stainless=False),
        source="stamping handbook, second-hand",
        place="absolute least, 0.060 in",
    ),
    guide(
        what="smallest laser-cut hole in 3 mm sheet",
        theirs=3.0,
        ours=cut(3.0),
        source="three laser-cutting guides, second-hand",
        place="1.0 t is safe, 0.7 t for fine work",
    ),
    guide(
        what="smallest laser-cut hole in any sheet",
        theirs=1.0,
        ours=cut(0.5),
        source="three laser-cutting guides, second-hand",
        place="never under 1 mm",
    ),
    *(
        guide(
            what=f"{name}, 2 mm sheet",
            theirs=theirs,
            ours=limit(rule, 2.0),
            source=source,
            place=place,
        )
        for name, rule, theirs, source, place in (
            ("web between punched holes", "web, punched", 2.0, "stamping guides, second-hand", "t"),
            ("web between laser cuts", "web, laser", 2.0, "laser guides, second-hand", "1.0 t"),
            (
                "laser-cut hole to sheet edge",
                "end, laser",
                3.0,
                "laser guide, second-hand",
                "1.5 t",
            ),
            (
                "punched hole to bend R 3",
                "bend, punched",
                6.0,
                "handbook, second-hand",
                "1.5 t + R",
            ),
            (
                "laser-cut hole to bend R 3",
                "bend, laser",
                7.0,
                "laser guide, second-hand",
                "2 t + R",
            ),
        )
    ),
)


@each(VALUES)
def test_guides_of_punching_and_laser_cutting_shops(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize("wall", [0.5, 1.0, 2.0, 4.0, 8.0])
def test_guides_of_shops_ask_no_more_than_the_web_of_a_crush_column(wall: float) -> None:
    """Punching and laser guides: web 1.0 t at least, bulge visible below 0.5 t."""
    assert column_web(wall * mm) >= wall * mm
