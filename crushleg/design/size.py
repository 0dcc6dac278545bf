"""Least-mass girder that meets every margin of a case: search, front, and what stops it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.check import check_case
from crushleg.design.archive import BATCH, Archive, shortfall
from crushleg.design.judge import LOAD, MASS, STROKE, LegJudge, masses
from crushleg.design.moves import moves
from crushleg.design.search import cost_of, descend, explore, starts
from crushleg.errors import InputError, Problem
from crushleg.units import show

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import BoolArray, FloatArray, IntArray
    from crushleg.case.records import Case
    from crushleg.check import Checked
    from crushleg.design.choice import Space

STRONGEST = ("energy", "stroke")
"""Margins that no girder meets which the plain one of its wall misses: removing metal never
strengthens."""
SHOWN = 10
ALIKE = 0.005
"""Designs are one where none of their values differs by more."""
ASIDE = 200
EXPECTED = 3000
"""Girders that a search looks at, about, at most."""


class Label(NamedTuple):
    """A margin by its check and its touchdown."""

    check: str
    touchdown: str


class Lighter(NamedTuple):
    """A lighter neighbour of the design: its place, mass [kg], and its lowest margin."""

    place: int
    mass: float
    label: Label
    margin: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized:
    """What a search found.

    ``best`` is the place of the lightest design that meets every margin, None where there is
    none; ``nearest`` that of the candidate that lacks least. ``front`` are the places of designs
    that no other betters in mass, load and stroke, lightest first; ``lighter`` are neighbours of
    the best, heaviest first. ``before`` is the case as it came; ``walls_asked``
    are all walls of the space, those too weak included.
    """

    case: Case
    before: Checked
    archive: Archive
    labels: tuple[Label, ...]
    best: int | None
    nearest: int
    front: tuple[int, ...]
    lighter: tuple[Lighter, ...]
    interrupted: bool
    walls_asked: tuple[float, ...]

    @property
    def feasible(self) -> BoolArray:
        """Which candidates meet every margin, shape (N,)."""
        return self.archive.fits


def size(
    case: Case,
    space: Space,
    *,
    held: bool,
    seed: int = 1,
    tell: Callable[[int, str], None] = lambda *_: None,
) -> Sized:
    """Find the least-mass girder in a space that meets every counted margin of a case.

    Parameters
    ----------
    case : Case
        Vehicle, touchdowns, standings and limits.
    space : Space
        What may be chosen.
    held : bool
        Whether the case gives the free length of its legs; else it is the girder's length.
    seed : int
        The same seed gives the same designs.
    tell : callable
        Told how many girders are done, and what is going on.

    Returns
    -------
    Sized
        Of what was found until then, when interrupted.

    Raises
    ------
    KeyboardInterrupt
        Before anything was found.
    """
    before = check_case(case)
    labels = tuple(Label(m.check, m.touchdown) for m in before.margins)
    judge = LegJudge(case=case, held=held)
    archive = Archive(without_weak_walls(space, judge, labels), judge, tell, masses)
    interrupted = False
    try:
        _search(archive, seed)
        if len(archive.space.walls) < len(space.walls) and not archive.fits.any():
            archive = widened(archive, space)
            _search(archive, seed)
    except KeyboardInterrupt:
        if not len(archive):
            raise
        interrupted = True
    places = np.arange(len(archive))
    nearest = int(np.argmin(cost_of(archive, places, MASS)))
    front = _front(archive)
    best = front[0] if front else None
    lighter = () if best is None or interrupted else _lighter(archive, best, labels)
    return Sized(
        case=case,
        before=before,
        archive=archive,
        labels=labels,
        best=best,
        nearest=nearest if best is None else best,
        front=front,
        lighter=lighter,
        interrupted=interrupted,
        walls_asked=space.walls,
    )


def _search(archive: Archive, seed: int) -> None:
    """Look everywhere, then step down to the lightest, the least loaded and the shortest."""
    archive.stage = "looking everywhere"
    explore(archive, seed)
    need_any(archive)
    archive.stage = "lightest"
    for start in starts(archive, MASS):
        descend(archive, start, MASS, seed)
    best = starts(archive, MASS)[0]
    if archive.shortfall[archive.place[best]] > 0.0:
        return
    for value, stage in ((LOAD, "least load"), (STROKE, "least stroke")):
        archive.stage = stage
        descend(archive, starts(archive, value)[0], value, seed, ASIDE)
    archive.stage = "lightest"
    descend(archive, starts(archive, MASS)[0], MASS, seed)


def without_weak_walls(space: Space, judge: LegJudge, labels: tuple[Label, ...]) -> Space:
    """Space without walls whose plain girder, the strongest, misses energy or stroke.

    All walls stay where none would be left. Weak walls are the thinnest.
    """
    judged = [i for i, label in enumerate(labels) if label.check in STRONGEST]
    plain = [space.section(wall, space.lengths[-1]) for wall in space.walls]
    lacks = shortfall(judge(plain).margins[judged])
    enough = np.flatnonzero(lacks <= 0.0)
    return replace(space, walls=space.walls[enough[0] :]) if len(enough) else space


def need_any(archive: Archive) -> None:
    """Refuse ranges in which no pattern keeps its ligaments.

    Raises
    ------
    InputError
        Nothing was found to compute.
    """
    if not len(archive):
        rows, space = archive.space.rows, archive.space
        read = f"{rows[0]} to {rows[1]} rows that find no room with their webs in these ranges"
        write = "fewer rows, a wider --pitch or a longer girder"
        hint = f"smallest hole {show(space.sizes[0], 'length')}"
        raise InputError([Problem(field="--rows", read=read, write=write, hint=hint)])


def widened(archive: Archive, space: Space) -> Archive:
    """Archive on all walls of a space, with the nearest candidates of another.

    Where nothing fits, weak walls show which limits conflict.
    """
    nearest = np.argsort(archive.shortfall, kind="stable")[:BATCH]
    wider = Archive(space, archive.judge, archive.tell, archive.masses)
    offset = len(space.walls) - len(archive.space.walls)
    near = (archive.choices[place] for place in nearest.tolist())
    wider.look([choice._replace(wall=choice.wall + offset) for choice in near])
    return wider


def _front(archive: Archive) -> tuple[int, ...]:
    """Places of designs that meet every margin and that none betters, lightest first."""
    places = np.flatnonzero(archive.fits)
    values = archive.values[places]
    alike = np.round(values / (1e-9 * np.maximum(values.max(axis=0, initial=0.0), 1e-300)))
    order = np.lexsort(alike.T[::-1])
    kept: list[int] = []
    for i in order.tolist():
        if not any((values[k] <= (1.0 + ALIKE) * values[i]).all() for k in kept):
            kept.append(i)
    return _spread(places[kept], archive.values)


def _spread(front: IntArray, values: FloatArray) -> tuple[int, ...]:
    """At most :data:`SHOWN` of a front: the best of each value, then always the most different."""
    logs = np.log(np.maximum(values[front], 1e-12))
    wide = np.maximum(np.ptp(logs, axis=0), 1e-12) if len(front) else np.ones(3)
    at = logs / wide
    kept = list(dict.fromkeys(int(at[:, v].argmin()) for v in (MASS, LOAD, STROKE) if len(at)))
    while len(kept) < min(SHOWN, len(front)):
        away = np.min([np.abs(at - at[k]).max(axis=1) for k in kept], axis=0)
        kept.append(int(away.argmax()))
    return tuple(int(front[k]) for k in sorted(kept))


def _lighter(archive: Archive, best: int, labels: tuple[Label, ...]) -> tuple[Lighter, ...]:
    """Neighbours of the best that are lighter: each misses a margin; heaviest first."""
    near = moves(archive.space, archive.chains, archive.choices[best], 1)
    places = archive.look(near)
    mass, margins = archive.values[:, MASS], archive.margins
    found = []
    for place in places.tolist():
        worst = int(np.nanargmin(margins[:, place]))
        if mass[place] < mass[best] and margins[worst, place] < 0.0:
            found.append(
                Lighter(place, float(mass[place]), labels[worst], float(margins[worst, place]))
            )
    return tuple(sorted(found, key=lambda one: -one.mass))
