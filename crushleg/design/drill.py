"""Drilling schedule: every hole of every face, its tool, and the metal left round it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from crushleg.design.stock import tool_for
from crushleg.girder.holes import corner_radius

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Girder, Row
    from crushleg.design.stock import Stock, Tool

FACES = (("front", 1), ("right", 1), ("back", -1), ("left", -1))
"""Faces in the order in which one walks round the girder, each to the right of the one before, and
the sense of offsets seen from outside: a −1 is the mirror image of the face opposite, because both
walls are drilled through in one setting."""
BOTH_PAIRS = "all"
PAIR = {"front": "front-back", "back": "front-back", "right": "left-right", "left": "left-right"}


@dataclass(frozen=True, slots=True, kw_only=True)
class DrilledHole:
    """One hole of one face, seen from outside, lengths [m].

    ``row`` counts from the foot, from 1; ``offset`` is to the right of the middle of the face.
    ``ligament`` is the least web to another hole of the face, infinite if there is none,
    ``to_end`` that to the nearer end of the girder, ``to_corner`` the distance from the hole's
    edge to the outside of the neighbouring wall. ``wall`` is the thickest wall it cuts.
    """

    row: int
    face: str
    height: float
    offset: float
    shape: str
    size: float
    along: float
    wall: float
    ligament: float
    to_end: float
    to_corner: float

    @property
    def radius(self) -> float:
        """Corner radius of its outline: half of a circle or slot, none of a rectangle [m]."""
        return corner_radius(self.shape, self.size, self.along)

    @property
    def round(self) -> bool:
        """Whether one round tool makes it."""
        return self.radius > 0.0 and self.size == self.along


@dataclass(frozen=True, slots=True, kw_only=True)
class RowPlan:
    """One row of the schedule: what is drilled, on which faces, with which tool, what is left.

    Lengths [m]; ``holes`` is the count on all faces. ``tool`` is None where no stock tool makes
    the hole: laser or punch.
    """

    number: int
    row: Row
    faces: tuple[str, ...]
    holes: int
    tool: Tool | None
    wall: float
    ligament: float
    to_end: float
    to_corner: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One face seen from outside: name, width [m], its holes foot first, left to right."""

    name: str
    width: float
    holes: tuple[DrilledHole, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Schedule:
    """All that is to be drilled in one girder; faces in the order front, right, back, left."""

    girder: Girder
    faces: tuple[Face, ...]
    rows: tuple[RowPlan, ...]

    @property
    def holes(self) -> tuple[DrilledHole, ...]:
        """Every hole, face by face."""
        return tuple(hole for face in self.faces for hole in face.holes)


def schedule_of(girder: Girder, stock: Stock) -> Schedule:
    """Drilling schedule of a girder.

    Parameters
    ----------
    girder : Girder
    stock : Stock
        Where the tools come from.

    Returns
    -------
    Schedule
    """
    faces = tuple(_face(girder, name, hand) for name, hand in FACES)
    tolerance = girder.hole_tolerance
    rows = []
    for number, row in enumerate(girder.holes.rows, start=1):
        holes = [hole for face in faces for hole in face.holes if hole.row == number]
        tool = tool_for(stock, row.size, tolerance) if holes[0].round else None
        rows.append(
            RowPlan(
                number=number,
                row=row,
                faces=tuple(face.name for face in faces if on_face(row, face.name)),
                holes=len(holes),
                tool=tool,
                wall=holes[0].wall,
                ligament=min(hole.ligament for hole in holes),
                to_end=min(hole.to_end for hole in holes),
                to_corner=min(hole.to_corner for hole in holes),
            )
        )
    return Schedule(girder=girder, faces=faces, rows=tuple(rows))


def on_face(row: Row, face: str) -> bool:
    """Whether a row is drilled in a face."""
    return row.faces in (BOTH_PAIRS, PAIR[face])


def sideways(row: Row) -> FloatArray:
    """Hole centres from the middle of the face, left to right [m], shape (per_face,)."""
    places = np.arange(row.per_face, dtype=np.float64) - 0.5 * (row.per_face - 1)
    return np.asarray(row.offset + places * row.spacing)


def thickest_wall(girder: Girder, low: float, high: float) -> float:
    """Thickest wall between two heights, as drawn [m]."""
    starts = [0.0, *(step.start for step in girder.wall_steps)]
    walls = [girder.wall, *(step.wall for step in girder.wall_steps)]
    ends = [*starts[1:], math.inf]
    return max(t for t, a, b in zip(walls, starts, ends, strict=True) if a < high and low < b)


def _face(girder: Girder, name: str, hand: int) -> Face:
    rows = [(i, row) for i, row in enumerate(girder.holes.rows, start=1) if on_face(row, name)]
    width = girder.width if PAIR[name] == "front-back" else girder.depth
    webs = ligaments([row for _, row in rows])
    holes = [
        hole
        for (number, row), web in zip(rows, webs, strict=True)
        for hole in _holes(girder, name, width, hand, number, row, web)
    ]
    return Face(name=name, width=width, holes=tuple(holes))


def _holes(
    girder: Girder, face: str, width: float, hand: int, number: int, row: Row, webs: FloatArray
) -> list[DrilledHole]:
    """Holes of one row of a face, left to right as seen from outside."""
    low, high = row.height - 0.5 * row.along, row.height + 0.5 * row.along
    across = hand * sideways(row)
    return [
        DrilledHole(
            row=number,
            face=face,
            height=row.height,
            offset=float(across[i]) + 0.0,
            shape=row.shape,
            size=row.size,
            along=row.along,
            wall=thickest_wall(girder, low, high),
            ligament=float(webs[i]),
            to_end=min(low, girder.length - high),
            to_corner=0.5 * width - abs(float(across[i])) - 0.5 * row.size,
        )
        for i in np.argsort(across, kind="stable")
    ]


def ligaments(rows: list[Row]) -> list[FloatArray]:
    """Least web of every hole to the others of its face [m], infinite if there are none.

    Parameters
    ----------
    rows : list of Row
        Rows of one face, rising.

    Returns
    -------
    list of ndarray
        Shape (per_face,) for every row.
    """
    found = []
    tallest = max((row.along for row in rows), default=0.0)
    for i, row in enumerate(rows):
        beside = row.spacing - row.size if row.per_face > 1 else math.inf
        least = np.full(row.per_face, beside)
        for others in (rows[i + 1 :], rows[:i][::-1]):
            for other in others:
                if abs(other.height - row.height) - 0.5 * (row.along + tallest) > least.max():
                    break
                least = np.minimum(least, _gaps(row, other))
        found.append(least)
    return found


def _gaps(row: Row, other: Row) -> FloatArray:
    """Least metal from every hole of one row to the holes of another [m].

    A hole is a box grown by its corner radius: boxes lie hypot(across, up) apart, less both
    radii.
    """
    r, s = (corner_radius(one.shape, one.size, one.along) for one in (row, other))
    apart = np.abs(sideways(row)[:, None] - sideways(other))
    across = np.maximum(apart - 0.5 * (row.size + other.size) + r + s, 0.0)
    up = max(abs(row.height - other.height) - 0.5 * (row.along + other.along) + r + s, 0.0)
    return np.asarray(np.hypot(across, up).min(axis=1) - r - s)
