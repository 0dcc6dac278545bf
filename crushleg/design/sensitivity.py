"""How stroke and leg load answer to wall, hole size and speed: central differences."""

from __future__ import annotations

import math
from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.case.records import Case, Girder, Row, Touchdown
    from crushleg.landing.touchdown import Landed

STEP = 0.01
"""Half width of the central difference, as a share of the input."""
INPUTS = ("wall", "holes", "speed")


class Sensitivity(NamedTuple):
    """Change in % per +1 % of each input, by the names of :data:`INPUTS`; None without holes.

    ``stroke`` is that needed at low force, ``load`` the largest axial load.
    """

    stroke: dict[str, float | None]
    load: dict[str, float | None]


def varied_cases(case: Case) -> list[Case]:
    """Cases with wall, holes and speed down and up by :data:`STEP`, in that order.

    None at all where an input stands at the end of its bounds.
    """
    with suppress(ValueError):
        return [
            change(case, 1.0 + sign * STEP)
            for change in (_other_wall, _other_holes, _other_speed)
            for sign in (-1.0, 1.0)
        ]
    return []


def sensitivity(
    case: Case, middle: Landed, landings: Sequence[tuple[Landed, ...]], touchdown: int
) -> Sensitivity:
    """Change of stroke and leg load in per cent per per cent of wall, holes and speed.

    Parameters
    ----------
    case : Case
    middle : Landed
        Landing of the case itself.
    landings : sequence of tuple of Landed
        Of the varied cases, in their order.
    touchdown : int
        Number of the touchdown.

    Returns
    -------
    Sensitivity
        (f(x + h) − f(x − h))/(2 h f(x)) with h of :data:`STEP`.

    Notes
    -----
    Means: What 1 % more of wall, hole size or speed does to stroke and leg load.
    Formula: slope = [f(x + h) − f(x − h)]/(2 h f(x)), h = 1 %
    Range: Small changes; not there where an input stands at the end of its bounds.
    Band: Stroke at low force, load from the largest of the three.
    Limits: the touchdown compared

    References
    ----------
    Central difference [common practice]
    """
    stroke: dict[str, float | None] = {}
    load: dict[str, float | None] = {}
    for k, name in enumerate(INPUTS):
        down, up = (landings[2 * k + side][touchdown] for side in (0, 1))
        there = name != "holes" or bool(case.girder.holes.rows)
        for found, read in ((stroke, _stroke), (load, _load)):
            slope = (read(up) - read(down)) / (2.0 * STEP * read(middle))
            found[name] = slope if there and math.isfinite(slope) else None
    return Sensitivity(stroke, load)


def _stroke(landed: Landed) -> float:
    return float(landed.stroke_needed[0, 0])


def _load(landed: Landed) -> float:
    return float(landed.peak[:, 0].max())


def _other_wall(case: Case, factor: float) -> Case:
    """Every wall, drawn or measured, times a factor; tolerances and radius kept."""
    girder, measured = case.girder, case.girder.measured
    if measured is not None and measured.wall is not None:
        measured = replace(measured, wall=factor * measured.wall)
    steps = tuple(replace(step, wall=factor * step.wall) for step in girder.wall_steps)
    return _with(
        case, replace(girder, wall=factor * girder.wall, wall_steps=steps, measured=measured)
    )


def _other_holes(case: Case, factor: float) -> Case:
    """Every hole times a factor, both ways; where it lies is kept."""
    holes = case.girder.holes
    rows = tuple(_scaled(row, factor) for row in holes.rows)
    return _with(case, replace(case.girder, holes=replace(holes, rows=rows)))


def _scaled(row: Row, factor: float) -> Row:
    along = None if row.size_along is None else factor * row.size_along
    return replace(row, size=factor * row.size, size_along=along)


def _other_speed(case: Case, factor: float) -> Case:
    """Every speed at touchdown times a factor."""
    return replace(case, touchdowns=tuple(_faster(one, factor) for one in case.touchdowns))


def _faster(touchdown: Touchdown, factor: float) -> Touchdown:
    return replace(
        touchdown,
        vertical_speed=factor * touchdown.vertical_speed,
        horizontal_speed=factor * touchdown.horizontal_speed,
        attitude_rate=factor * touchdown.attitude_rate,
    )


def _with(case: Case, girder: Girder) -> Case:
    return replace(case, girder=girder)
