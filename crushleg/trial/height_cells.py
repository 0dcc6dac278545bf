"""One cell or option with a reading: its quantity, or what is wrong with it and where."""

from __future__ import annotations

import math
from contextlib import contextmanager
from typing import TYPE_CHECKING, NamedTuple

from crushleg.errors import InputError, Problem
from crushleg.units import article, parse, quoted, show

if TYPE_CHECKING:
    from collections.abc import Iterator

LARGEST_ERROR = 0.1
MOST_FOLDS = 1000.0


class Place(NamedTuple):
    """Where a reading was written: file and line, or the option."""

    file: str = ""
    line: int | None = None
    field: str = ""

    def problem(self, read: str, write: str, column: str = "", hint: str = "") -> Problem:
        """Say what is wrong here."""
        return Problem(
            file=self.file,
            line=self.line,
            field=column or self.field,
            read=read,
            write=write,
            hint=hint,
        )


@contextmanager
def kept(problems: list[Problem]) -> Iterator[None]:
    """Keep what is wrong with the input for later, and go on."""
    try:
        yield
    except InputError as error:
        problems += error.problems


def unit_in(cell: str) -> str:
    """Find the unit at the end of a cell, empty if there is none.

    >>> unit_in("31 15/16 in"), unit_in("812")
    ('in', '')
    """
    return cell[len(cell.rstrip("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")) :]


def length_of(cell: str, unit: str, place: Place, column: str = "") -> float:
    """Read a height, in its own unit or in the column's.

    Raises
    ------
    InputError
        Empty, no number, no unit, not above zero.
    """
    text = cell if unit_in(cell) or not cell else f"{cell} {unit}".strip()
    try:
        value = parse(text, "length")
    except InputError as error:
        one = error.problems[0]
        raise InputError([place.problem(one.read, one.write, column, one.hint)]) from None
    if not 0.0 < value <= 1e3:
        read = f"{quoted(cell)}, a height of {show(value, 'length')}"
        write = "the height that is left, above zero"
        raise InputError([place.problem(read, write, column)])
    return value


def error_of(cell: str, unit: str, place: Place, column: str = "") -> float:
    """Read a reading error, from zero to :data:`LARGEST_ERROR`."""
    text = cell if unit_in(cell) else f"{cell} {unit}".strip()
    return bounded(text, "length", LARGEST_ERROR, place._replace(field=column or place.field))


def bounded(text: str, dimension: str, most: float, place: Place) -> float:
    """Read a quantity from zero to ``most`` (SI).

    Raises
    ------
    InputError
        Not such a quantity.
    """
    try:
        value = parse(text, dimension)
    except InputError as error:
        one = error.problems[0]
        raise InputError([place.problem(one.read, one.write, hint=one.hint)]) from None
    if not 0.0 <= value <= most:
        write = f"{article(dimension)} from 0 to {show(most, dimension)}"
        write += ', such as "2 %"' if dimension == "number" else ""
        raise InputError([place.problem(quoted(text), write)])
    return value


def leg_number(cell: str, place: Place, column: str = "") -> int:
    """Read the number of a leg: "1" or "leg 1"."""
    text = cell.strip().lower().removeprefix("leg").strip()
    if not (text.isascii() and text.isdigit() and len(text) < 6):
        read = quoted(cell.strip()) if cell.strip() else "nothing"
        raise InputError([place.problem(read, "the number of the leg, such as 1", column)])
    return int(text)


def fold_count(cell: str, place: Place, column: str = "") -> float:
    """Read a count of folds; halves are allowed."""
    try:
        value = float(cell)
    except ValueError:
        value = math.nan
    if not 0.0 <= value <= MOST_FOLDS:
        raise InputError([place.problem(quoted(cell), "a count of folds, such as 3.5", column)])
    return value
