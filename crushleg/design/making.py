"""Fabrication rules of a drilled girder: what a shop asks of holes, webs and edges, row by row."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from crushleg.design.shop_limits import (
    BEND_WALLS,
    SMALLEST_CUT,
    SMALLEST_PUNCHED,
    column_web,
    cut_hole,
    cut_to_bend,
    punched_hole,
    punched_to_bend,
)
from crushleg.design.stock import metal_of
from crushleg.girder.ligaments import LEAST_WEB
from crushleg.said import Quantity, Said

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.case.records import Girder
    from crushleg.design.drill import RowPlan, Schedule

DRILLED, PUNCHED, CUT = "drilled", "punched", "cut by laser"
PUNCH = "turret punch"
ROUNDING = 1e-9
SECOND_HAND, JUDGEMENT = "published", "common practice"


@dataclass(frozen=True, slots=True)
class Rule:
    """A fabrication rule: for which process ("" for every), what it asks, where it stands."""

    name: str
    process: str
    says: str
    source: str
    status: str
    value: Callable[[RowPlan], float]
    limit: Callable[[RowPlan, Girder], float]
    bent: bool = False


@dataclass(frozen=True, slots=True)
class Judged:
    """A rule against one row [m].

    ``applies`` if the row is made that way; ``sharp`` if it asks for a bend and there is none.
    """

    rule: Rule
    row: int
    value: float
    limit: float
    applies: bool
    sharp: bool = False

    @property
    def holds(self) -> bool:
        """Whether the row keeps the rule, as drawn."""
        return self.value >= self.limit - ROUNDING

    @property
    def fails(self) -> bool:
        """Whether the row breaks a rule of the way it is made."""
        return self.applies and not self.holds


def smallest(plan: RowPlan) -> float:
    """Lesser size of the holes of a row [m]."""
    return min(plan.row.size, plan.row.along)


def least_web(plan: RowPlan) -> float:
    """Least web of a row to other holes and to the ends [m]."""
    return min(plan.ligament, plan.to_end)


RULES = (
    Rule(
        "hole, punched",
        PUNCHED,
        Said("hole ≥ t, ≥ 2 t in stainless, and ≥ ", Quantity(SMALLEST_PUNCHED, "length")),
        "two punching guides, second-hand",
        SECOND_HAND,
        smallest,
        lambda plan, girder: punched_hole(
            plan.wall, stainless=metal_of(girder.material) == "stainless"
        ),
    ),
    Rule(
        "web, punched",
        PUNCHED,
        "web to the next hole or an end ≥ t",
        "two stamping guides, second-hand",
        SECOND_HAND,
        least_web,
        lambda plan, _: plan.wall,
    ),
    Rule(
        "bend, punched",
        PUNCHED,
        "hole edge to bend ≥ 1.5 t + R",
        "a stamping handbook, second-hand",
        SECOND_HAND,
        lambda plan: plan.to_corner,
        lambda plan, girder: punched_to_bend(plan.wall, girder.corner_radius),
        bent=True,
    ),
    Rule(
        "hole, laser",
        CUT,
        Said("hole ≥ t and ≥ ", Quantity(SMALLEST_CUT, "length")),
        "three laser-cutting guides, second-hand",
        SECOND_HAND,
        smallest,
        lambda plan, _: cut_hole(plan.wall),
    ),
    Rule(
        "web, laser",
        CUT,
        "web between cuts ≥ t",
        "two laser-cutting guides, second-hand",
        SECOND_HAND,
        lambda plan: plan.ligament,
        lambda plan, _: plan.wall,
    ),
    Rule(
        "end, laser",
        CUT,
        "hole edge to the end of the sheet ≥ 1.5 t",
        "a laser-cutting guide, second-hand",
        SECOND_HAND,
        lambda plan: plan.to_end,
        lambda plan, _: BEND_WALLS * plan.wall,
    ),
    Rule(
        "bend, laser",
        CUT,
        "hole edge to bend ≥ 2 t + R",
        "a laser-cutting guide, second-hand",
        SECOND_HAND,
        lambda plan: plan.to_corner,
        lambda plan, girder: cut_to_bend(plan.wall, girder.corner_radius),
        bent=True,
    ),
    Rule(
        "web, crush column",
        "",
        Said("web to the next hole or an end ≥ 2 t and ≥ ", Quantity(LEAST_WEB, "length")),
        "judgement, for a column that folds",
        JUDGEMENT,
        least_web,
        lambda plan, _: column_web(plan.wall),
    ),
    Rule(
        "corner, crush column",
        "",
        "hole edge to corner ≥ 2 t + R",
        "judgement, after the laser rule",
        JUDGEMENT,
        lambda plan: plan.to_corner,
        lambda plan, girder: cut_to_bend(plan.wall, girder.corner_radius),
    ),
)
"""Distances to a bend count from the hole's edge to the outside of the neighbouring wall, with the
outside radius: one wall more on both sides of the rule than from its inside with the inside radius.
A sharp corner (R = 0) is no bend: the bend rules do not apply to it."""


def process_of(plan: RowPlan) -> str:
    """How a row is made: by its tool, and by laser where there is none."""
    if plan.tool is None:
        return CUT
    return PUNCHED if plan.tool.makes == PUNCH else DRILLED


def judge(schedule: Schedule) -> tuple[Judged, ...]:
    """Every rule against every row, rows foot first.

    Parameters
    ----------
    schedule : Schedule

    Returns
    -------
    tuple of Judged
        Rules of another process than the row's do not apply, but are judged too.
    """
    return tuple(_judged(rule, plan, schedule.girder) for plan in schedule.rows for rule in RULES)


def _judged(rule: Rule, plan: RowPlan, girder: Girder) -> Judged:
    sharp = rule.bent and girder.corner_radius == 0.0
    applies = rule.process in ("", process_of(plan)) and not sharp
    return Judged(rule, plan.number, rule.value(plan), rule.limit(plan, girder), applies, sharp)
