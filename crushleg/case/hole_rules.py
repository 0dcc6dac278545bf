"""Rules between hole rows, faces and girder: each reports what does not fit."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from crushleg.units import show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.case.drafts import Drafts
    from crushleg.case.holes import PlacedRow
    from crushleg.case.records import Row
    from crushleg.case.sheet import Sheet

TOUCH = 1e-9
"""Rounding of heights and offsets [m]: metal thinner than this is none."""


def circle_has_one_size(drafts: Drafts, sheet: Sheet) -> None:
    """Second sizes belong to slots, which need one, and to rectangles."""
    for row, path in drafts.drilled():
        if row.shape == "circle" and row.size_along not in (None, row.size):
            sheet.report(path, "size_along of a circle", 'shape = "slot" or "rectangle"')
        if row.shape == "slot" and row.size_along is None:
            sheet.report(path, "a slot without size_along", 'size_along = "90 mm"')


def holes_lie_inside_the_face(drafts: Drafts, sheet: Sheet) -> None:
    """|offset| + (n−1)/2·spacing + size/2 < face/2 − wall/2, the mid-line of the corner.

    The front and back faces measure ``width``, the left and right faces ``depth``.
    """
    faces = {"front-back": drafts.girder["width"], "left-right": drafts.girder["depth"]}
    faces["all"] = min(faces.values())
    walls = drafts.walls()
    for row, path in drafts.drilled():
        wall = [wall for start, wall, _ in walls if start <= row.height][-1]
        reach = abs(row.offset) + (row.per_face - 1) / 2 * row.spacing + row.size / 2
        room = (faces[row.faces] - wall) / 2
        if 0.0 < room <= reach + TOUCH:
            read = f"{name(row)}: edge {length(reach)} from the middle of the face"
            sheet.report(path, read, f"less than {length(room)}, the mid-line of the corner")


def holes_of_a_row_stand_apart(drafts: Drafts, sheet: Sheet) -> None:
    """Two or more holes side by side need a spacing wider than the hole."""
    for row, path in drafts.drilled():
        if row.per_face >= 2 and row.spacing <= row.size + TOUCH:
            given = f"spacing {length(row.spacing)}" if row.spacing else "no spacing"
            read = f"{name(row)}: {row.per_face} holes on a face and {given}"
            sheet.report(path, read, f"spacing of more than {length(row.size)}, the hole size")


def rows_stand_apart(drafts: Drafts, sheet: Sheet) -> None:
    """Holes of different rows on one face leave metal between them; the first overlap of a row."""
    rows = drafts.drilled()
    for i, below in enumerate(rows):
        above = next((o for o in neighbours(rows, i) if min_gap(below.row, o.row) <= TOUCH), None)
        if above is not None:
            read = f"{name(below.row)} overlaps {name(above.row)}"
            sheet.report(above.path, read, "a larger row_pitch (or height), or smaller holes")


def rows_lie_on_the_girder(drafts: Drafts, sheet: Sheet) -> None:
    """No hole reaches over the foot end or the top end."""
    top = drafts.girder["length"]
    for row, path in drafts.drilled():
        if row.along >= top - 2 * TOUCH:
            read = f"{name(row)}: {length(row.along)} along the girder"
            sheet.report(path, read, f"a hole shorter than the girder, {length(top)}")
            continue
        if row.height - row.along / 2 <= TOUCH:
            write = f"a height of more than {length(row.along / 2)}"
            sheet.report(path, f"{name(row)}: beyond the foot end", write)
        if row.height + row.along / 2 >= top - TOUCH:
            write = f"a height of less than {length(top - row.along / 2)}"
            sheet.report(path, f"{name(row)}: beyond the top end at {length(top)}", write)


def tolerance_leaves_holes(drafts: Drafts, sheet: Sheet) -> None:
    """Tolerance on a hole is less than the hole."""
    sizes = [size for row, _ in drafts.drilled() for size in (row.size, row.along)]
    tolerance = drafts.girder["hole_tolerance"]
    if sizes and tolerance >= min(sizes):
        write = f"less than the smallest hole, {length(min(sizes))}"
        sheet.report(("girder", "hole_tolerance"), f"± {length(tolerance)}", write)


def neighbours(rows: list[PlacedRow], i: int) -> Iterator[PlacedRow]:
    """Rows above row ``i`` (rows sorted by height) near enough to touch it on a common face."""
    below = rows[i].row
    tallest = max(placed.row.along for placed in rows)
    for placed in rows[i + 1 :]:
        if placed.row.height - below.height > tallest + TOUCH:
            return
        if below.faces == placed.row.faces or "all" in (below.faces, placed.row.faces):
            yield placed


def min_gap(one: Row, other: Row) -> float:
    """Least metal between any hole of one row and any hole of the other [m].

    Every shape is a box with half sides (a, b) grown by a radius r: a circle (0, 0, d/2), a slot
    a segment with half its lesser size, a rectangle (d/2, s/2, 0). Boxes are apart by
    hypot(max(|Δx| − a1 − a2, 0), max(|Δy| − b1 − b2, 0)) − r1 − r2.
    """
    a1, b1, r1 = core(one)
    a2, b2, r2 = core(other)
    up = max(abs(other.height - one.height) - b1 - b2, 0.0)
    return min(
        math.hypot(max(abs(x2 - x1) - a1 - a2, 0.0), up) - r1 - r2
        for x1 in centres(one)
        for x2 in centres(other)
    )


def core(row: Row) -> tuple[float, float, float]:
    """Half sides across and along of the inner box, and the radius around it [m]."""
    across, along = row.size / 2, row.along / 2
    radius = 0.0 if row.shape == "rectangle" else min(across, along)
    return across - radius, along - radius, radius


def centres(row: Row) -> list[float]:
    """Hole centres sideways from the middle of the face [m]."""
    return [row.offset + (i - (row.per_face - 1) / 2) * row.spacing for i in range(row.per_face)]


def name(row: Row) -> str:
    """Row as it is named in a message: its size and height."""
    return f"row of {length(row.size)} at {length(row.height)}"


def length(value: float) -> str:
    """Length in the units of a drawing."""
    return show(value, "length", digits=5)
