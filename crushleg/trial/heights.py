"""Heights of crushed girders as they were read: four faces per leg, and how well they were read."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.arrays import lock
from crushleg.errors import InputError, Problem
from crushleg.trial.height_cells import Place, fold_count, kept, leg_number, length_of, unit_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from crushleg.arrays import FloatArray

FACES = ("front", "right", "back", "left")
EXAMPLE = '"1=812,815,811,813 mm"'
LEG_OPTION, FOLDS_OPTION = "--leg", "--folds"


class LegReading(NamedTuple):
    """One leg as read: heights of its faces [m], ± on the reading [m], folds counted."""

    leg: int
    faces: tuple[float, ...]
    error: float | None
    folds: float | None
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Heights:
    """Readings of all n legs, leg 1 first.

    Attributes
    ----------
    source : str
        File they came from, or the option.
    sha256 : str
        Hash of that file; empty for options.
    faces : ndarray, shape (n, 4)
        Height from the foot plate to the top of what may fold: front, right, back, left [m].
    error : ndarray, shape (n,)
        ± on a leg's height, a 95 % limit [m]; NaN where none was read with it.
    folds : ndarray, shape (n,)
        Folds counted; NaN where they were not.
    places : tuple of Place
        Where each leg was written.
    """

    source: str
    sha256: str
    faces: FloatArray
    error: FloatArray
    folds: FloatArray
    places: tuple[Place, ...]

    def __post_init__(self) -> None:
        lock(self)


def gathered(readings: Sequence[LegReading], legs: int, source: str, sha256: str = "") -> Heights:
    """Put the readings of all legs together; each leg is read once.

    Raises
    ------
    InputError
        A leg that the vehicle does not have, is read twice, or is missing.
    """
    problems = list(_misplaced(readings, legs))
    missing = sorted(set(range(1, legs + 1)) - {one.leg for one in readings})
    if missing:
        names = ", ".join(map(str, missing[:6])) + (", …" if len(missing) > 6 else "")
        which = f"leg {names}" if len(missing) == 1 else f"legs {names}"
        read = f"no reading of {which}; the case has {legs} leg{'s' * (legs > 1)}"
        problems.append(Problem(file=source, read=read, write="the heights of every leg"))
    if problems:
        raise InputError(problems)
    rows = sorted(readings, key=lambda one: one.leg)
    return Heights(
        source=source,
        sha256=sha256,
        faces=np.array([one.faces for one in rows]),
        error=np.array([math.nan if one.error is None else one.error for one in rows]),
        folds=np.array([math.nan if one.folds is None else one.folds for one in rows]),
        places=tuple(one.place for one in rows),
    )


def _misplaced(readings: Iterable[LegReading], legs: int) -> Iterator[Problem]:
    seen: set[int] = set()
    for one in readings:
        if not 1 <= one.leg <= legs:
            write = f"a leg from 1 to {legs}" if legs > 1 else "leg 1, the only one of the case"
            yield one.place.problem(f"leg {one.leg}", write)
        elif one.leg in seen:
            yield one.place.problem(f"leg {one.leg} a second time", "every leg once")
        seen.add(one.leg)


def from_options(legs: Sequence[str], folds: Sequence[str], count: int) -> Heights:
    """Take readings given as options: ``1=812,815,811,813 mm`` per leg, ``1=3`` folds counted.

    Raises
    ------
    InputError
        Every option that does not read, and what to write.
    """
    problems: list[Problem] = []
    read: list[LegReading] = []
    counted: dict[int, float] = {}
    for text in folds:
        with kept(problems):
            counted.update([_folds(text)])
    for text in legs:
        with kept(problems):
            read.append(_leg(text))
    known = {one.leg for one in read}
    problems += [
        Problem(field=FOLDS_OPTION, read=f"leg {leg}", write=f"a leg given by {LEG_OPTION}")
        for leg in counted
        if leg not in known and not problems
    ]
    if problems:
        raise InputError(problems)
    return gathered([one._replace(folds=counted.get(one.leg)) for one in read], count, LEG_OPTION)


def _leg(text: str) -> LegReading:
    place = Place(field=f"{LEG_OPTION} {text}")
    number, equals, rest = text.partition("=")
    if not equals:
        raise InputError([place.problem("no =", EXAMPLE)])
    cells = [cell.strip() for cell in rest.split(",")]
    if len(cells) != len(FACES):
        read = f"{len(cells)} height{'s' * (len(cells) != 1)}"
        write = f"four, {', '.join(FACES)}: {EXAMPLE}"
        hint = "a decimal point, not a comma" if len(cells) > len(FACES) else ""
        raise InputError([place.problem(read, write, hint=hint)])
    unit = unit_in(cells[-1])
    faces = tuple(length_of(cell, unit, place) for cell in cells)
    return LegReading(leg_number(number, place), faces, None, None, place)


def _folds(text: str) -> tuple[int, float]:
    place = Place(field=f"{FOLDS_OPTION} {text}")
    number, equals, rest = text.partition("=")
    if not equals:
        raise InputError([place.problem("no =", 'leg and folds, such as "1=3"')])
    return leg_number(number, place), fold_count(rest, place)
