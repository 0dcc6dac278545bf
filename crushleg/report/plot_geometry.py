"""Geometry of the girder for its figure: faces, hole outlines, webs, fold bands."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.folds import passes
from crushleg.girder.holes import corner_radius
from crushleg.girder.ligaments import ligaments
from crushleg.units import express

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Girder, Row
    from crushleg.girder.crush import Crush

ARC = 25
DECIMALS = {"mm": 1, "in": 2}


class DrilledRow(NamedTuple):
    """A row of one face, and its least web [m] (infinite without neighbour or end)."""

    row: Row
    web: float


class Face(NamedTuple):
    """One pair of faces: what it is called, its width [m] and its rows, foot first."""

    name: str
    width: float
    rows: tuple[DrilledRow, ...]


class Band(NamedTuple):
    """Metal of one fold: its number and the heights it lies between [m]."""

    order: int
    bottom: float
    top: float


def faces(girder: Girder, crush: Crush) -> list[Face]:
    """Both pairs of faces when they differ, else one for all four."""
    webs = row_webs(girder, crush)
    pairs = (
        ("front and back", girder.width, "left-right"),
        ("left and right", girder.depth, "front-back"),
    )
    found = [
        Face(name, width, tuple(one for one in webs if one.row.faces != other))
        for name, width, other in pairs
    ]
    same = girder.width == girder.depth and found[0].rows == found[1].rows
    return [found[0]._replace(name="all four faces")] if same else found


def row_webs(girder: Girder, crush: Crush) -> list[DrilledRow]:
    """Every row with the least web of its holes, first girder."""
    web = ligaments(crush.girders).web[0]
    ends = np.cumsum([row.per_face for row in girder.holes.rows])
    return [
        DrilledRow(row, float(web[end - row.per_face : end].min()))
        for row, end in zip(girder.holes.rows, ends, strict=True)
    ]


def outlines(row: Row) -> list[FloatArray]:
    """Outline of every hole of a row: x from the middle of the face, height [m], (4·ARC, 2)."""
    r = corner_radius(row.shape, row.size, row.along)
    quarter = np.linspace(0.0, 0.5 * np.pi, ARC)
    corners = []
    for turn, (right, up) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        angle = quarter + 0.5 * np.pi * turn
        x = right * (0.5 * row.size - r) + r * np.cos(angle)
        z = up * (0.5 * row.along - r) + r * np.sin(angle)
        corners.append(np.column_stack([x, z]))
    shape = np.concatenate(corners)
    return [
        shape + np.array([row.offset + (i - 0.5 * (row.per_face - 1)) * row.spacing, row.height])
        for i in range(row.per_face)
    ]


def fold_bands(crush: Crush) -> list[Band]:
    """Metal of every fold of the nominal order; in pieces when it does not run from the foot."""
    real = int((crush.folds.length[0] > 0.0).sum())
    if crush.sequence.from_foot[0]:
        low, high = crush.folds.bottom[0], crush.folds.top[0]
        return [Band(k + 1, float(low[k]), float(high[k])) for k in range(real)]
    way = passes(crush.front, crush.sequence, crush.girders.length)[1]
    middle = 0.5 * (way.stroke[0, 1:] + way.stroke[0, :-1])
    order = np.empty(len(middle), dtype=np.intp)
    order[way.order[0]] = np.searchsorted(crush.folds.stroke[0, 1:real], middle, side="right") + 1
    edges = np.flatnonzero(np.diff(order)) + 1
    starts, ends = np.append(0, edges), np.append(edges, len(order))
    cell = float(crush.girders.length[0]) / len(order)
    return [
        Band(int(order[a]), float(cell * a), float(cell * b))
        for a, b in zip(starts, ends, strict=True)
    ]


def wall_segments(crush: Crush) -> list[tuple[float, float, float]]:
    """Bottom, top and thickness of every wall segment, foot first [m]."""
    length = float(crush.girders.length[0])
    start, wall = crush.girders.wall_start[0], crush.girders.wall[0]
    real = np.isfinite(start) & (start < length)
    tops = np.append(start[real][1:], length)
    return [
        (float(a), float(b), float(t))
        for a, b, t in zip(start[real], tops, wall[real], strict=True)
    ]


def row_text(one: DrilledRow, unit: str, joint: str) -> str:
    """Holes of a row and its least web: "2 × Ø30, web 12", with ``joint`` between."""
    row = one.row
    holes = f"Ø{dimension(row.size, unit)}"
    if row.shape != "circle" or row.along != row.size:
        holes = f"{dimension(row.size, unit)} × {dimension(row.along, unit)}"
    times = " × " if row.shape == "circle" else " of "
    many = f"{row.per_face}{times}" if row.per_face > 1 else ""
    return f"{many}{holes}{joint}web {dimension(one.web, unit)}"


def dimension(value: float, unit: str) -> str:
    """Length [m] as a number in the unit, to 0.1 mm or 0.01 in.

    >>> dimension(0.0123, "mm"), dimension(0.0123, "in"), dimension(0.14, "mm")
    ('12.3', '0.48', '140')
    """
    text = f"{express(value, unit):.{DECIMALS[unit]}f}"
    return text.removesuffix(".0") if unit == "mm" else text
