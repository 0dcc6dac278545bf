"""A drilling schedule with what its sheets say of it, and its texts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from crushleg.design.stock import ROUNDING, holds
from crushleg.units import express, plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.design.drill import RowPlan, Schedule
    from crushleg.design.making import Judged

NO_TOOL = "laser / punch"
OPPOSITE = {
    ("front", "back"): "front-back",
    ("right", "left"): "left-right",
    ("front", "right", "back", "left"): "all four",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Drilling:
    """What a drilling sheet is made of: schedule, judged rules, and the head of the case."""

    title: str
    revision: str
    digest: str
    material: str
    schedule: Schedule
    judged: tuple[Judged, ...]

    @property
    def passes(self) -> bool:
        """Whether every fabrication rule that applies holds."""
        return not any(one.fails for one in self.judged)


def exact(value: float, unit: str) -> str:
    """Length as a tool is set to it: thousandths of a mm at most, ten-thousandths of an inch.

    >>> exact(0.060325, "mm"), exact(0.08, "mm"), exact(0.060325, "in"), exact(-1e-9, "in")
    ('60.325', '80', '2.375', '0')
    """
    return plain(round(express(value, unit), 4 if unit == "in" else 3), 9)


def failing_rows(judged: Sequence[Judged]) -> str:
    """Rows that break a rule, "row 1" or "rows 1, 3 to 7"; empty if none does."""
    numbers = sorted({one.row for one in judged if one.fails})
    if not numbers:
        return ""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    texts = [f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs]
    return f"{'rows' if len(numbers) > 1 else 'row'} {', '.join(texts)}"


def hole_text(plan: RowPlan, unit: str) -> str:
    """Holes of a row on one face: "Ø82", "2 × Ø30", "slot 30 × 90", size across first."""
    row = plan.row
    if row.shape != "rectangle" and row.size == row.along:
        text = f"Ø{exact(row.size, unit)}"
    else:
        text = f"{row.shape} {exact(row.size, unit)} × {exact(row.along, unit)}"
    return f"{row.per_face} × {text}" if row.per_face > 1 else text


def faces_text(plan: RowPlan) -> str:
    """Faces of a row in a word."""
    return OPPOSITE[plan.faces]


def tool_text(plan: RowPlan, unit: str) -> str:
    """Tool of a row, with the difference where it is not of the size of the hole."""
    if plan.tool is None:
        return NO_TOOL
    apart = plan.tool.size - plan.row.size
    if abs(apart) <= ROUNDING:
        return plan.tool.name
    return f"{plan.tool.name} ({'+' if apart > 0 else '−'}{exact(abs(apart), unit)} {unit})"


def loose_tools(schedule: Schedule) -> list[RowPlan]:
    """Rows whose tool usually cuts wider than the tolerance allows."""
    tolerance = schedule.girder.hole_tolerance
    return [
        plan
        for plan in schedule.rows
        if plan.tool
        and plan.tool.over is not None
        and not holds(plan.tool, plan.row.size, tolerance)
    ]


def row_label(plan: RowPlan, unit: str) -> str:
    """Row beside the drawing: number, height above FOOT, holes, offset, faces."""
    row = plan.row
    parts = [f"row {plan.number}", f"{exact(row.height, unit)} {unit}", hole_text(plan, unit)]
    if row.per_face > 1:
        parts.append(f"spacing {exact(row.spacing, unit)}")
    if row.offset:
        sign = "+" if row.offset > 0.0 else "−"
        parts.append(f"offset {sign}{exact(abs(row.offset), unit)}")
    return " · ".join(parts)


def section_text(schedule: Schedule, material: str, unit: str) -> str:
    """Section, length, corner radius, tolerance and material in one line."""
    girder = schedule.girder
    sizes = " × ".join(exact(v, unit) for v in (girder.width, girder.depth, girder.wall))
    radius = exact(girder.corner_radius, unit) if girder.corner_radius else "sharp"
    return (
        f"{sizes}, length {exact(girder.length, unit)}, corner radius {radius}, holes "
        f"±{exact(girder.hole_tolerance, unit)} ({unit}) · {material}"
    )
