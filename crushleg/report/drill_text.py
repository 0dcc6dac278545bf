"""The printed report of a drilling schedule: rows, fabrication rules, cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Console

from crushleg.cautions import SCREENING
from crushleg.design.making import PUNCHED, process_of
from crushleg.report.drill_words import (
    exact,
    faces_text,
    failing_rows,
    hole_text,
    loose_tools,
    section_text,
    tool_text,
)
from crushleg.report.layout import (
    Column,
    Heading,
    Items,
    Pairs,
    Paragraph,
    Table,
    items,
    plain_text,
    print_blocks,
)
from crushleg.report.words import small_length
from crushleg.said import Quantity, Said, shown

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.design.drill import Schedule
    from crushleg.design.making import Judged
    from crushleg.report.drill_words import Drilling
    from crushleg.report.layout import Block

GOOD, BAD = "bold green", "bold red"
NOT_MARGINS = (
    "Crush, energy and margins are not judged here: `check` does that, on the drawn sizes. Measure "
    "the made holes and the wall before the leg is used."
)
DEBURR = Said(
    "Deburr both sides and break the edges ",
    Quantity(0.1e-3, "length", 1),
    " to ",
    Quantity(0.3e-3, "length", 2),
    " (from memory): a torn edge splits the wall instead of folding it.",
)
OPPOSITE = "Drill opposite walls through in one setting (judgement): offset pairs tilt the fold."
ON_THE_SHEET = (
    "A turret punch works on the flat sheet, before the box is bent and welded: set the rows out "
    "with the bend allowance of your press, not from the layout of the faces."
)


def print_drilling(drilling: Drilling, console: Console | None = None, units: str = "si") -> None:
    """Print the report of a schedule; as :func:`crushleg.report.text.print_report`."""
    print_blocks(render(drilling, units), Console() if console is None else console)


def drilling_text(drilling: Drilling, units: str = "si") -> str:
    """Return the report as plain text."""
    return plain_text(render(drilling, units))


def render(drilling: Drilling, units: str = "si") -> list[Block]:
    """Blocks of the report in their order; ``units`` "si" or "us"."""
    return [
        *_head(drilling, small_length(units)),
        *_rows(drilling, small_length(units)),
        *_rules(drilling, small_length(units)),
        Heading("Cautions"),
        items([SCREENING, *_cautions(drilling, small_length(units)), NOT_MARGINS], units),
    ]


def _head(drilling: Drilling, unit: str) -> Iterator[Block]:
    schedule = drilling.schedule
    yield Heading(f"Drilling schedule: {drilling.title}")
    if not schedule.rows:
        yield Paragraph("No holes: a plain column, nothing to drill.", GOOD)
    elif failing := failing_rows(drilling.judged):
        yield Paragraph(f"FABRICATION RULES FAIL in {failing}", BAD)
    else:
        loose = " on the drawn sizes; tools cut wider than the tolerance, see the cautions"
        also = loose if loose_tools(schedule) else ""
        yield Paragraph(f"Every fabrication rule holds{also}", GOOD)
    yield Pairs(
        [
            ("revision", drilling.revision),
            ("input", drilling.digest[:12]),
            ("girder", section_text(schedule, drilling.material, unit)),
            ("holes", _count(schedule)),
        ]
    )


def _count(schedule: Schedule) -> str:
    """Holes, rows and faces in words."""
    if not schedule.rows:
        return "none"
    drilled = sum(bool(face.holes) for face in schedule.faces)
    rows = len(schedule.rows)
    return f"{len(schedule.holes)} in {rows} row{'s' * (rows > 1)} on {drilled} faces"


def _rows(drilling: Drilling, unit: str) -> Iterator[Block]:
    """Table of the rows, foot first."""
    rows = drilling.schedule.rows
    if not rows:
        return
    yield Heading("Rows, foot first")
    columns = (
        Column(("row",)),
        Column(("height", unit)),
        Column(("holes", "per face"), number=False),
        Column(("offset", unit)),
        Column(("faces",), number=False),
        Column(("tool",), number=False, wraps=True),
        Column(("ligament", unit)),
        Column(("corner", unit)),
        Column(("end", unit)),
        Column(("rules",), number=False),
    )
    failing = {one.row for one in drilling.judged if one.fails}
    yield Table(
        columns,
        [
            (
                str(plan.number),
                exact(plan.row.height, unit),
                hole_text(plan, unit),
                exact(plan.row.offset, unit),
                faces_text(plan),
                tool_text(plan, unit),
                exact(plan.ligament, unit) if plan.ligament < float("inf") else "–",
                exact(plan.to_corner, unit),
                exact(plan.to_end, unit),
                "FAIL" if plan.number in failing else "hold",
            )
            for plan in rows
        ],
    )
    yield Paragraph(
        "height: row centre above the FOOT end; offset: to the right on front and right face, seen "
        "from outside, to the left on back and left; ligament, corner, end: least metal from the "
        "edge of a hole to the next hole of its face, the outside of the neighbouring wall, and "
        "the nearer end of the girder"
    )


def _rules(drilling: Drilling, unit: str) -> Iterator[Block]:
    """Every rule at its worst row, and each failure by row."""
    if not drilling.judged:
        return
    yield Heading("Fabrication rules, as drawn")
    columns = (
        Column(("rule",), number=False),
        Column(("verdict",), number=False),
        Column(("worst", "row")),
        Column(("actual", unit)),
        Column(("required", unit)),
        Column(("requirement",), number=False, wraps=True),
        Column(("source",), number=False, wraps=True),
    )
    rules = dict.fromkeys(one.rule for one in drilling.judged)
    found = [[one for one in drilling.judged if one.rule is rule] for rule in rules]
    yield Table(columns, [_rule(judged, unit) for judged in found])
    yield Paragraph(
        "a rule for another process than the row's is shown, and does not decide; distances "
        "to a bend count from the outside of the neighbouring wall, R outside"
    )
    broken = [one for one in drilling.judged if one.fails]
    if broken:
        yield Items(
            [
                f"row {one.row}: {one.rule.name}: {exact(one.value, unit)} {unit}, "
                f"required {exact(one.limit, unit)} {unit}"
                for one in broken
            ]
        )


def _rule(judged: list[Judged], unit: str) -> tuple[str, ...]:
    """One rule at the worst of the rows it decides on, of all if it decides on none."""
    deciding = [one for one in judged if one.applies]
    worst = min(deciding or judged, key=lambda one: one.value / one.limit)
    verdict = "holds" if worst.holds else "FAILS"
    if not deciding:
        verdict = "not applied" if worst.holds else f"not if {worst.rule.process}"
        verdict = "no bend" if worst.sharp else verdict
    rule = worst.rule
    there = exact(worst.value, unit) if worst.value < float("inf") else "–"
    source = f"{rule.source} ({rule.status})"
    return (
        rule.name,
        verdict,
        str(worst.row),
        there,
        exact(worst.limit, unit),
        shown(rule.says, "us" if unit == "in" else "si"),
        source,
    )


def _cautions(drilling: Drilling, unit: str) -> list[str]:
    """Cautions on drilling, on punches, and on each kind of tool too wide for the tolerance."""
    if not drilling.schedule.rows:
        return []
    found: dict[str, list[str]] = {}
    for plan in loose_tools(drilling.schedule):
        if plan.tool and plan.tool.over is not None:
            text = f"{plan.number} (up to +{exact(plan.tool.over, unit)})"
            found.setdefault(plan.tool.makes, []).append(text)
    tolerance = exact(drilling.schedule.girder.hole_tolerance, unit)
    punched = any(process_of(plan) == PUNCHED for plan in drilling.schedule.rows)
    return [DEBURR, OPPOSITE, *[ON_THE_SHEET] * punched] + [
        f"A{'n' * (kind[0] in 'aeiou')} {kind} usually cuts wider than ±{tolerance} {unit} allows: "
        f"row {', '.join(rows)} {unit}. Ream or cut by laser, or write the tolerance you get into "
        "hole_tolerance."
        for kind, rows in found.items()
    ]
