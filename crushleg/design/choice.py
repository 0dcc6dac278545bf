"""What a search may choose: sheet, length, rows, pitch and hole sizes, and the girder they make."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from crushleg.case.assume import CORNER_WALLS, WALL_TOLERANCE
from crushleg.case.hole_rules import min_gap
from crushleg.case.records import Holes, Row
from crushleg.girder.ligaments import LEAST_WALLS, LEAST_WEB
from crushleg.girder.modes import plain_fold

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.case.records import Girder

WIDEST = 0.6
"""Largest d/C of the hole law's range."""
ROUNDING, MICRO = 1e-9, 1e-6
KEPT = 1.0 + 1e-5
"""Webs and edges are kept by so much more, that rounding cannot turn the ligament margin."""
MILLION = 1e6


class Choice(NamedTuple):
    """One candidate: index of sheet and length, steps of first height and pitch, sizes by index.

    ``sizes`` are foot first and never grow upward; no sizes are no holes.
    """

    wall: int
    length: int
    first: int
    pitch: int
    sizes: tuple[int, ...]


class Pattern(NamedTuple):
    """What all rows share: shape, holes side by side, faces, second size [m], sideways shifts."""

    shape: str = "circle"
    per_face: int = 1
    spacing: float = 0.0
    stagger: float = 0.0
    faces: str = "all"
    along: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """Everything a search may choose from; lengths in metres, lists ascending.

    ``base`` holds what stays: section, material, tolerances. ``given`` are the girder keys that
    the case file has. A height is a whole number of ``grid``.
    """

    base: Girder
    given: frozenset[str]
    walls: tuple[float, ...]
    lengths: tuple[float, ...]
    sizes: tuple[float, ...]
    rows: tuple[int, int]
    pitch: tuple[float, float]
    grid: float
    pattern: Pattern

    def girder(self, choice: Choice) -> Girder:
        """Girder of a choice; a section on another wall gets the tolerance and corner of it."""
        section = self.section(self.walls[choice.wall], self.lengths[choice.length])
        rows = self.hole_rows(choice)
        return replace(section, holes=Holes(law="stepped" if rows else "none", rows=rows))

    def section(self, wall: float, length: float) -> Girder:
        """Undrilled girder of a wall and length [m].

        A tolerance that the case gives is kept for thinner walls and grows with thicker ones; a
        given corner radius is kept where the wall allows it, else it is two walls, as by default.
        """
        base = self.base
        if wall == base.wall:
            return replace(base, length=length, holes=Holes(law="none"))
        tolerance = WALL_TOLERANCE * wall
        if "wall_tolerance" in self.given:
            tolerance = base.wall_tolerance * max(wall / base.wall, 1.0)
            tolerance = round(tolerance * MILLION) / MILLION
        half = min(base.width, base.depth) / 2
        radius = base.corner_radius
        kept = "corner_radius" in self.given and (radius == 0.0 or wall <= radius <= half)
        return replace(
            base,
            wall=wall,
            length=length,
            wall_tolerance=tolerance,
            corner_radius=radius if kept else CORNER_WALLS * wall,
            holes=Holes(law="none"),
        )

    def hole_rows(self, choice: Choice) -> tuple[Row, ...]:
        """Rows of a choice, foot first."""
        shared = self.pattern
        return tuple(
            Row(
                height=self.height(choice, i),
                size=self.sizes[size],
                size_along=shared.along,
                shape=shared.shape,
                per_face=shared.per_face,
                spacing=shared.spacing,
                offset=shared.stagger if i % 2 else 0.0,
                faces=shared.faces,
            )
            for i, size in enumerate(choice.sizes)
        )

    def height(self, choice: Choice, row: int) -> float:
        """Height of a row [m], as the law adds it up from the written first height and pitch."""
        return self.metres(choice.first) + row * self.metres(choice.pitch)

    def metres(self, steps: int) -> float:
        """Whole steps of the grid as a length [m], rounded as its text is read."""
        return round(steps * self.grid * MILLION) / MILLION

    def along(self, size: float) -> float:
        """Size along the girder of a hole [m]."""
        return size if self.pattern.along is None else self.pattern.along

    def widest(self, wall: float) -> float:
        """Largest hole that a wall may have [m]: d/C, corner, and holes side by side."""
        girder, shared = self.section(wall, self.lengths[0]), self.pattern
        faces = {"front-back": girder.width, "left-right": girder.depth}
        face = faces.get(shared.faces, min(girder.width, girder.depth))
        edge = KEPT * (LEAST_WALLS * wall + girder.corner_radius)
        room = face - 2.0 * (edge + abs(shared.stagger)) - (shared.per_face - 1) * shared.spacing
        beside = shared.spacing - web(wall) if shared.per_face > 1 else face
        return min(self.ranged(wall), room, beside)

    def ranged(self, wall: float) -> float:
        """Largest hole within the range of the hole law [m], C that of the narrower face."""
        return WIDEST * (min(self.base.width, self.base.depth) - wall) + ROUNDING

    def highest_foot(self, choice: Choice) -> float:
        """Height up to which the foot row may lie [m]: within the first fold, 2H.

        The curve is taken to begin at the foot, and a fold begins at the weakest metal: a foot row
        higher up would make the model promise plain metal first. A hole that needs more room for
        its web may lie so much higher.
        """
        wall = self.walls[choice.wall]
        side = 0.5 * (self.base.width + self.base.depth) - wall
        fold = 2.0 * float(plain_fold(side, wall, 1.0).half_length)
        if not choice.sizes:
            return self.lengths[choice.length]
        return max(fold, self.closest(wall, self.sizes[choice.sizes[0]], 0.0)) + self.grid

    def closest(self, wall: float, one: float, other: float) -> float:
        """Least pitch of two rows one above the other [m]; size 0 is an end of the girder."""
        holes = sum(self.along(size) for size in (one, other) if size)
        return 0.5 * holes + web(wall)

    def allows(self, choice: Choice) -> bool:
        """Whether a choice lies in the lists and ranges and its sizes never grow upward."""
        sizes = choice.sizes
        return (
            0 <= choice.wall < len(self.walls)
            and 0 <= choice.length < len(self.lengths)
            and self.rows[0] <= len(sizes) <= self.rows[1]
            and all(0 <= size < len(self.sizes) for size in sizes)
            and all(a >= b for a, b in pairwise(sizes))
            and (not sizes or self.sizes[sizes[0]] <= self.ranged(self.walls[choice.wall]))
            and 0 < self.metres(choice.first) <= self.highest_foot(choice)
            and choice.pitch > 0
            and (
                len(sizes) < 2
                or self.pitch[0] - ROUNDING <= self.metres(choice.pitch) <= self.pitch[1] + ROUNDING
            )
        )

    def keeps(self, choice: Choice) -> bool:
        """Whether the ligaments of a choice are kept; what :meth:`allows` refuses is not asked."""
        wall, rows = self.walls[choice.wall], self.hole_rows(choice)
        return not rows or (
            self.sizes[choice.sizes[0]] <= self.widest(wall)
            and least_gap(rows, self.lengths[choice.length]) >= web(wall)
        )

    def readable(self, choice: Choice) -> bool:
        """Whether the reader takes a choice: holes apart, on the face, on the girder."""
        rows, wall = self.hole_rows(choice), self.walls[choice.wall]
        face = min(self.base.width, self.base.depth)
        shared = self.pattern
        reach = abs(shared.stagger) + (shared.per_face - 1) / 2 * shared.spacing
        return not rows or (
            reach + rows[0].size / 2 < (face - wall) / 2 - MICRO
            and (shared.per_face == 1 or shared.spacing > rows[0].size + MICRO)
            and least_gap(rows, self.lengths[choice.length]) > MICRO
        )


def web(wall: float) -> float:
    """Metal to keep between holes and to the ends [m]."""
    return KEPT * max(LEAST_WALLS * wall, LEAST_WEB)


def least_gap(rows: Sequence[Row], length: float) -> float:
    """Least metal between holes of different rows and to both ends of a girder [m]."""
    gaps = [rows[0].height - rows[0].along / 2, length - rows[-1].height - rows[-1].along / 2]
    for apart in (1, 2):
        gaps += [min_gap(a, b) for a, b in zip(rows, rows[apart:], strict=False)]
    return min(gaps)
