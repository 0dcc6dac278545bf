"""Geometry of the girder for its figure: faces, hole outlines, ligaments, fold bands."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.folds import passes
from crushleg.girder.holes import corner_radius
from crushleg.girder.table import row_table
from crushleg.report.words import drawn

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Girder, Row
    from crushleg.girder.crush import Crush

ARC = 25


class DrilledRow(NamedTuple):
    """A row of one face, and the least ligament of its holes [m]."""

    row: Row
    ligament: float


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
    rows = drilled_rows(girder, crush)
    pairs = (
        ("front and back", girder.width, "left-right"),
        ("left and right", girder.depth, "front-back"),
    )
    found = [
        Face(name, width, tuple(one for one in rows if one.row.faces != other))
        for name, width, other in pairs
    ]
    same = girder.width == girder.depth and found[0].rows == found[1].rows
    return [found[0]._replace(name="all four faces")] if same else found


def drilled_rows(girder: Girder, crush: Crush) -> list[DrilledRow]:
    """Every row with the least ligament of its holes, as the table of rows has it."""
    rows = girder.holes.rows
    if not rows:
        return []
    left = row_table(crush, rows).ligament.tolist()
    return [DrilledRow(row, ligament) for row, ligament in zip(rows, left, strict=True)]


def least_ligament(face: Face) -> DrilledRow | None:
    """Row of the least ligament of a face; None when several share it."""
    if not face.rows:
        return None
    least = min(one.ligament for one in face.rows)
    found = [one for one in face.rows if np.isclose(one.ligament, least)]
    return found[0] if len(found) == 1 else None


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
    """Holes of a row and its ligament: "2 × Ø30, ligament 12", with ``joint`` between."""
    row = one.row
    holes = f"Ø{drawn(row.size, unit)}"
    if row.shape != "circle" or row.along != row.size:
        holes = f"{drawn(row.size, unit)}×{drawn(row.along, unit)}"
    many = f"{row.per_face} × " if row.per_face > 1 else ""
    return f"{many}{holes}{joint}ligament {drawn(one.ligament, unit)}"
