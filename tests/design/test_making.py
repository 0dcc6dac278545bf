"""Making rules judged row by row: what decides, what is shown, what fails."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from crushleg.case.records import Row
from crushleg.design.drill import schedule_of
from crushleg.design.making import CUT, DRILLED, PUNCHED, RULES, Judged, judge, process_of
from crushleg.design.stock import Stock, Tool
from tests.samples import EXACT, girder, mm


def tool(size: float, makes: str) -> Tool:
    return Tool(
        name=makes, size=size * mm, system="metric", makes=makes, source="x", status="y", over=0.0
    )


def judged(*rows: Row, makes: str | None = None, **changes: Any) -> dict[tuple[str, int], Judged]:
    sizes = {row.size / mm for row in rows}
    tools = tuple(tool(size, makes) for size in sizes) if makes else ()
    plan = schedule_of(girder(*rows, **changes), Stock(tools=tools, sheets=()))
    return {(one.rule.name, one.row): one for one in judge(plan)}


def failing(*rows: Row, **how: Any) -> list[str]:
    return [name for (name, _), one in judged(*rows, **how).items() if one.fails]


ROW = Row(height=80 * mm, size=20 * mm)


def test_every_rule_is_judged_in_every_row_and_has_a_source_and_a_status() -> None:
    found = judged(ROW, Row(height=200 * mm, size=10 * mm))
    assert len(found) == 2 * len(RULES)
    assert all(rule.source and rule.status for rule in RULES)


@pytest.mark.parametrize(
    ("makes", "process"),
    [(None, CUT), ("turret punch", PUNCHED), ("hole saw", DRILLED), ("own tool", DRILLED)],
)
def test_a_row_is_made_as_its_tool_makes_it(makes: str | None, process: str) -> None:
    tools = (tool(20, makes),) if makes else ()
    plan = schedule_of(girder(ROW), Stock(tools=tools, sheets=()))
    assert process_of(plan.rows[0]) == process
    deciding = {one.rule.process for one in judge(plan) if one.applies}
    assert deciding == {"", process} - {DRILLED}


@pytest.mark.parametrize(
    ("size", "makes", "material", "fails"),
    [
        (7.9, "turret punch", {}, ["hole, punched"]),
        (8.0, "turret punch", {}, []),
        (4.0, "turret punch", {"material": EXACT}, []),
        (3.9, "turret punch", {"material": EXACT}, ["hole, punched"]),
        (3.9, None, {}, ["hole, laser"]),
        (4.0, None, {}, []),
        (3.9, "twist drill", {}, []),
    ],
)
def test_the_smallest_hole_is_that_of_the_process(
    size: float, makes: str | None, material: dict[str, Any], fails: list[str]
) -> None:
    """Wall 4 mm; the stainless sample is named so, the other is aluminium by its density."""
    changes = {key: named(value, 2700.0, "x") for key, value in material.items()}
    changes = changes or {"material": named(girder().material, 7900.0, "Stainless")}
    assert failing(Row(height=80 * mm, size=size * mm), makes=makes, **changes) == fails


def named(material: Any, density: float, name: str) -> Any:
    return replace(material, density=density, name=name)


@pytest.mark.parametrize(
    ("gap", "makes", "fails"),
    [
        (8.0, "twist drill", []),
        (7.9, "twist drill", ["web, crush column"]),
        (3.9, None, ["web, laser", "web, crush column"]),
        (3.9, "turret punch", ["web, punched", "web, crush column"]),
    ],
)
def test_a_web_too_thin_fails_in_both_rows(gap: float, makes: str | None, fails: list[str]) -> None:
    above = Row(height=(100 + gap) * mm, size=20 * mm)
    assert failing(ROW, above, makes=makes) == [*fails, *fails]


@pytest.mark.parametrize(
    ("offset", "makes", "fails"),
    [
        (46.0, "twist drill", []),
        (46.1, "twist drill", ["corner, crush column"]),
        (46.1, "turret punch", ["corner, crush column"]),
        (48.1, "turret punch", ["bend, punched", "corner, crush column"]),
        (46.1, None, ["bend, laser", "corner, crush column"]),
    ],
)
def test_distance_to_the_corner_counts_from_the_outside(
    offset: float, makes: str | None, fails: list[str]
) -> None:
    """Face 140, hole 20, wall 4, radius 6 mm: 2 t + R = 14 at 46 mm, 1.5 t + R = 12 at 48 mm."""
    hole = Row(height=80 * mm, size=20 * mm, offset=offset * mm)
    assert failing(hole, makes=makes) == fails


def test_a_sharp_corner_is_no_bend_but_still_a_corner() -> None:
    hole = Row(height=80 * mm, size=20 * mm, offset=54 * mm)
    found = judged(hole, corner_radius=0.0)
    assert found["bend, laser", 1].sharp
    assert not found["bend, laser", 1].applies
    assert found["corner, crush column", 1].fails


def test_an_end_too_near_fails_for_a_laser_and_for_a_column() -> None:
    assert failing(Row(height=15.9 * mm, size=20 * mm)) == ["end, laser", "web, crush column"]
    assert failing(Row(height=16.0 * mm, size=20 * mm)) == ["web, crush column"]
    assert failing(Row(height=18.0 * mm, size=20 * mm)) == []
