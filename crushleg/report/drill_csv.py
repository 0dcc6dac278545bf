"""The drilling schedule as CSV: a line per hole, with columns for the shop to fill in."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from crushleg.cautions import SCREENING
from crushleg.report.drill_words import tool_text
from crushleg.said import shown
from crushleg.units import express

if TYPE_CHECKING:
    from crushleg.design.drill import DrilledHole, RowPlan
    from crushleg.report.drill_words import Drilling

DEBURR = {
    "mm": "both sides, break the edge 0.1 to 0.3 mm, no burr on the outside",
    "in": "both sides, break the edge 0.004 to 0.012 in, no burr on the outside",
}
ONE_SETTING = "opposite walls drilled through in one setting"
HOLDS = "hold"
FILL_IN = ("material_certificate", "made_size", "made_by", "checked_by")
"""Columns that are left empty for the shop."""


def schedule_csv(drilling: Drilling, system: str = "si") -> str:
    """CSV text of a schedule: the first line names the columns, lengths in mm or in inches.

    Parameters
    ----------
    drilling : Drilling
    system : str, optional
        "si" or "us".

    Returns
    -------
    str
        Six decimals; an empty cell where there is no other hole. Heights count from the FOOT end,
        offsets to the right of the middle of the face, seen from outside.
    """
    unit = {"si": "mm", "us": "in"}[system]
    plans = {plan.number: plan for plan in drilling.schedule.rows}
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(_columns(unit))
    for number, hole in enumerate(drilling.schedule.holes, start=1):
        writer.writerow(_cells(drilling, hole, plans[hole.row], number, unit))
    return stream.getvalue()


def rules_csv(drilling: Drilling, system: str = "si") -> str:
    """CSV text of every fabrication rule against every row, lengths in mm or in inches."""
    unit = {"si": "mm", "us": "in"}[system]
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(
        ["row", "rule", f"there_{unit}", f"asked_{unit}", "verdict", "asks", "source", "status"]
    )
    for one in drilling.judged:
        verdict = ("holds" if one.holds else "FAILS") if one.applies else "not asked"
        rule = one.rule
        there = length(one.value, unit) if one.value < float("inf") else ""
        asked = length(one.limit, unit)
        says = shown(rule.says, system)
        writer.writerow([one.row, rule.name, there, asked, verdict, says, rule.source, rule.status])
    return stream.getvalue()


def length(value: float, unit: str) -> str:
    """Length to six decimals, without needless zeros.

    >>> length(0.08, "mm"), length(0.0127, "in")
    ('80', '0.5')
    """
    return f"{round(express(value, unit), 6) + 0.0:.6f}".rstrip("0").rstrip(".")


def _columns(unit: str) -> list[str]:
    return [
        "hole",
        "row",
        "face",
        f"height_from_FOOT_{unit}",
        f"offset_{unit}",
        "shape",
        f"size_{unit}",
        f"size_along_{unit}",
        f"tolerance_plus_minus_{unit}",
        "tool",
        f"wall_{unit}",
        f"ligament_{unit}",
        f"edge_to_corner_{unit}",
        f"edge_to_end_{unit}",
        "making_rules",
        "deburr",
        "setting",
        "material",
        "revision",
        "material_certificate",
        f"made_size_{unit}",
        "made_by",
        "checked_by",
        "caution",
    ]


def _cells(
    drilling: Drilling, hole: DrilledHole, plan: RowPlan, number: int, unit: str
) -> list[str]:
    failing = [one.rule.name for one in drilling.judged if one.row == hole.row and one.fails]
    return [
        str(number),
        str(hole.row),
        hole.face,
        length(hole.height, unit),
        length(hole.offset, unit),
        hole.shape,
        length(hole.size, unit),
        length(hole.along, unit),
        length(drilling.schedule.girder.hole_tolerance, unit),
        tool_text(plan, unit),
        length(hole.wall, unit),
        length(hole.ligament, unit) if hole.ligament < float("inf") else "",
        length(hole.to_corner, unit),
        length(hole.to_end, unit),
        "FAIL: " + "; ".join(failing) if failing else HOLDS,
        DEBURR[unit],
        ONE_SETTING,
        drilling.material,
        drilling.revision,
        *("",) * len(FILL_IN),
        SCREENING,
    ]
