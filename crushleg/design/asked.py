"""From a case, its stock and the ranges asked for to the space of a search."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NoReturn

from crushleg.design.choice import Pattern, Space
from crushleg.design.stock import sheets_in, stock_of
from crushleg.errors import InputError, Problem
from crushleg.units import show

if TYPE_CHECKING:
    from crushleg.case.records import Case, Girder
    from crushleg.design.ranges import Asked, Range
    from crushleg.design.stock import Tool

SLENDER = (7.5, 100.0)
"""C/t of the published modes."""
SMALLEST = 0.1
"""Smallest hole over the width of the face: below it removes nothing (judgement)."""
ROWS, FOLLOW_ROWS = (2, 10), (0, 14)
LENGTHS = 9
LARGE, FINE, COARSE = 0.2, 1e-4, 5e-4
"""Heights in half millimetres on girders from this length on, in tenths below it [m]."""
NEAR = 1e-9


def space_of(case: Case, given: frozenset[str], asked: Asked, *, held: bool = False) -> Space:
    """Space of a sizing: sheets and tools of the stock, ranges asked for or their defaults.

    Parameters
    ----------
    case : Case
    given : frozenset of str
        Keys that [girder] of the case file has.
    asked : Asked
    held : bool
        Whether the case gives the free length of its legs, which no girder may exceed.

    Returns
    -------
    Space

    Raises
    ------
    InputError
        Nothing to choose from: no sheet, no tool, no room for a row.
    """
    lengths = _lengths(case, asked.length, held=held)
    base = replace(case.girder, wall_steps=(), measured=None)
    space = Space(
        base=base,
        given=given,
        walls=_walls(case, asked.walls, tolerance="wall_tolerance" in given),
        lengths=lengths,
        sizes=(),
        rows=asked.rows or ROWS,
        pitch=asked.pitch or (0.0, lengths[-1]),
        grid=COARSE if lengths[0] >= LARGE else FINE,
        pattern=pattern_of(case.girder),
    )
    return with_sizes(space, case, free=asked.free_holes, fewest=asked.rows is None)


def fixed_space(case: Case, given: frozenset[str], asked: Asked) -> Space:
    """Space of a schedule on the section that the case has."""
    girder = case.girder
    space = Space(
        base=girder,
        given=given,
        walls=(girder.wall,),
        lengths=(girder.length,),
        sizes=(),
        rows=asked.rows or FOLLOW_ROWS,
        pitch=asked.pitch or (0.0, girder.length),
        grid=COARSE if girder.length >= LARGE else FINE,
        pattern=pattern_of(girder),
    )
    return with_sizes(space, case, free=asked.free_holes, fewest=asked.rows is None)


def pattern_of(girder: Girder) -> Pattern:
    """Take what all rows share from the foot row; one round hole on each face for none."""
    rows = girder.holes.rows
    if not rows:
        return Pattern()
    foot, others = rows[0], {row.offset for row in rows[1:2]}
    along = None if foot.shape == "circle" else foot.along
    stagger = next(iter(others), 0.0) if foot.offset == 0.0 else 0.0
    return Pattern(foot.shape, foot.per_face, foot.spacing, stagger, foot.faces, along)


def with_sizes(space: Space, case: Case, *, free: bool, fewest: bool) -> Space:
    """Space with the hole sizes that fit at least one of its walls, and rows that find room."""
    face = min(space.base.width, space.base.depth)
    widest = max(space.widest(wall) for wall in space.walls)
    least = max(SMALLEST * face, space.base.hole_tolerance + NEAR)
    if free:
        steps = range(round(least / space.grid), int(widest / space.grid + NEAR) + 1)
        sizes = [space.metres(step) for step in steps]
    else:
        sizes = sorted({tool.size for tool in _tools(case)})
    fitting = tuple(size for size in sizes if least <= size <= widest)
    if not fitting:
        _refuse(_no_hole(sizes, least, widest, free=free))
    space = replace(space, walls=tuple(t for t in space.walls if space.widest(t) >= fitting[0]))
    most = int(
        space.lengths[-1]
        / max(space.pitch[0], space.closest(space.walls[0], fitting[0], fitting[0]))
    )
    low, high = space.rows
    if most < 1 or (most < low and not fewest):
        _refuse(
            Problem(
                field="--rows",
                read=f"{max(low, 1)} rows or more on {_mm(space.lengths[-1])}",
                write=f"a longer girder: rows of {_mm(fitting[0])} that find room: {most}",
            )
        )
    return replace(space, sizes=fitting, rows=(min(low, max(most, 1)), min(high, max(most, 1))))


def _tools(case: Case) -> tuple[Tool, ...]:
    if pattern_of(case.girder).shape == "rectangle":
        _refuse(
            Problem(
                field="girder.holes.shape",
                read="a pattern of rectangles, which round tools do not make",
                write="--free-holes for laser or punch, or another shape in [girder.holes]",
            )
        )
    return stock_of(case).tools


def _walls(case: Case, asked: Range | None, *, tolerance: bool) -> tuple[float, ...]:
    """Sheets of the stock with C/t of the published modes, within the range asked for.

    A ``tolerance`` given in the case must be less than the wall.
    """
    sheets = sheets_in(stock_of(case))
    face = min(case.girder.width, case.girder.depth)
    low, high = asked or (0.0, face)
    slender = [
        t
        for t in sheets
        if SLENDER[0] <= (face - t) / t <= SLENDER[1]
        and (case.girder.wall_tolerance < t or not tolerance)
    ]
    found = tuple(t for t in slender if low - NEAR <= t <= high + NEAR)
    if not found:
        listed = ", ".join(map(_mm, slender))
        span = f"from {_mm(low)} to {_mm(high)} " if asked else ""
        _refuse(
            Problem(
                field="--walls" if asked else "stock",
                read=f"no sheet {span}in stock for {case.girder.material.name}",
                write='[stock] sheets = ["2.5 mm"] with their source'
                + (f", or a range that holds one of: {listed}" if slender else ""),
                hint=f"C/t of a {_mm(face)} face must be {SLENDER[0]:g} to {SLENDER[1]:g}",
            )
        )
    return found


def _lengths(case: Case, asked: Range | None, *, held: bool) -> tuple[float, ...]:
    """Length of the case, or lengths from end to end of a range, on whole millimetres."""
    if asked is None:
        return (case.girder.length,)
    low, high = asked
    free = case.leg.free_length
    if held and free is not None and high > free + NEAR:
        _refuse(
            Problem(
                field="--length",
                read=f"up to {_mm(high)}, above leg.free_length",
                write=f"at most {_mm(free)}, or a longer free_length in the case",
            )
        )
    steps = [low + (high - low) * i / (LENGTHS - 1) for i in range(LENGTHS)]
    return tuple(sorted({round(length * 1e3) / 1e3 for length in steps}))


def _no_hole(sizes: list[float], least: float, widest: float, *, free: bool) -> Problem:
    if free or not sizes:
        read = f"no hole from {_mm(least)} to {_mm(widest)}, what this face and its corners allow"
        return Problem(field="girder.holes", read=read, write="fewer holes on a face")
    return Problem(
        field="stock",
        read=f"no hole tool from {_mm(least)} to {_mm(widest)}, what the face allows",
        write='[stock] hole_tools = ["..."] with their source, or --free-holes',
    )


def _refuse(problem: Problem) -> NoReturn:
    raise InputError([problem])


def _mm(value: float) -> str:
    return show(value, "length", digits=5)
