"""Studies judged by plain sums, so that what a report says of them can be counted by hand."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from crushleg.case.reader import read_case
from crushleg.check import check_case
from crushleg.scatter.outcome import Outcome, checked_again, worst_landing
from crushleg.scatter.plan import plan_of
from crushleg.scatter.records import Judged
from crushleg.scatter.sensitivity import indices, tornado
from crushleg.scatter.study import study

if TYPE_CHECKING:
    from crushleg.case.records import Case
    from crushleg.scatter.records import Draws

DUNLIN = Path(__file__).parents[2] / "examples" / "dunlin-scatter.toml"
LIMIT = 420e3
NAMES = (
    ("leg_load", "nominal"),
    ("stroke", "nominal"),
    ("tip_over", "nominal"),
    ("lean", "reserve"),
)
SMALL_BASE = 64


def judged(case: Case, draws: Draws) -> Judged:
    """Leg load 108 kN s/m × speed × thickest wall / 4 mm; stroke 60 ms × speed."""
    speed = draws.values["touchdown.nominal.vertical_speed"]
    wall = draws.values.get("girder.wall", np.full(draws.landings, case.girder.wall))
    load = 108e3 * speed * (wall if wall.ndim == 1 else wall.max(axis=1)) / 4e-3
    strength = draws.values.get("girder.material.yield_strength", np.full(draws.landings, 295e6))
    stroke = 0.06 * speed * 295e6 / strength
    nothing = np.full(draws.landings, np.nan)
    return Judged(
        (
            ("leg_load", "nominal"),
            ("stroke", "nominal"),
            ("tip_over", "nominal"),
            ("lean", "reserve"),
        ),
        np.stack([LIMIT / load - 1.0, 0.7 / stroke - 1.0, nothing, 1.0 - speed / 4.0]),
        np.array([True, True, True, False]),
        {"stroke_m nominal": stroke, "leg_load_N nominal": load},
    )


@cache
def outcome(samples: int = 1024, *overrides: str, shares: bool = False) -> Outcome:
    """Study of the example with everything that is said of it."""
    case = read_case(DUNLIN, (f"scatter.samples={samples}", *overrides))
    result = study(case, judged)
    landing = worst_landing(case, result, Path("dunlin-worst.toml"))
    return Outcome(
        checked=check_case(case),
        plan=plan_of(case),
        study=result,
        tornado=tornado(case, judged),
        indices=indices(case, judged, base=SMALL_BASE) if shares else None,
        worst=None if landing is None else checked_again(landing, check_case(case)),
    )
