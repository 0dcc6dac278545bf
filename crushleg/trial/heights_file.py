"""The CSV of residual heights: leg, front, right, back, left, and if read, reading_error, folds."""

from __future__ import annotations

import csv
import difflib
import hashlib
import re
from typing import TYPE_CHECKING, NamedTuple

from crushleg.case.source import LARGEST, decode, first_bytes
from crushleg.errors import InputError, Problem
from crushleg.trial.height_cells import (
    Place,
    error_of,
    fold_count,
    kept,
    leg_number,
    length_of,
)
from crushleg.trial.heights import FACES, Heights, LegReading, gathered
from crushleg.unit_table import OTHER_SPELLINGS, UNITS
from crushleg.units import quoted

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

COLUMNS = ("leg", *FACES, "reading_error", "folds")
NEEDED = ("leg", *FACES)
LENGTHS = (*FACES, "reading_error")
HEADER = "leg,front mm,right mm,back mm,left mm"
LONGEST_LINE, MOST_LINES = 1000, 1000
"""Characters of a line and lines of readings: a vehicle has a few legs."""
HEAD = re.compile(r"^(?P<name>[A-Za-z]+(?:[ _]error)?)[ _]*[\[(]?(?P<unit>[^\])]*?)[\])]?$")


class Column(NamedTuple):
    """One column: its place from 0, what it holds, the unit of its numbers."""

    at: int
    name: str
    unit: str

    @property
    def label(self) -> str:
        """Column as messages name it."""
        return f"column {self.at + 1} ({self.name})"


def read_heights(path: Path, legs: int) -> Heights:
    """Read the residual heights of all legs from a CSV file.

    The first line names the columns, with the unit: ``leg,front mm,right mm,back mm,left mm``; or
    a second line has the units, or every number its own. Empty lines and lines that begin with #
    are skipped; cells are set apart by commas, semicolons or tabs.

    Parameters
    ----------
    path : Path
    legs : int
        Legs of the case.

    Returns
    -------
    Heights

    Raises
    ------
    InputError
        Every problem with file, line, column and what to write.
    """
    name = str(path)
    try:
        if path.is_dir():
            raise InputError([Problem(file=name, read="a folder", write="the path of a CSV file")])
        raw = first_bytes(path)
    except FileNotFoundError:
        write = "the path of a CSV file that exists"
        raise InputError([Problem(file=name, read="no such file", write=write)]) from None
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        problem = Problem(file=name, read=f"nothing ({reason})", write="a readable file")
        raise InputError([problem]) from error
    if len(raw) > LARGEST:
        much = f"more than {LARGEST} bytes"
        raise InputError([Problem(file=name, read=much, write="a file of a line per leg")])
    rows = _rows(decode(raw, name), name)
    columns, rest = _columns(rows, name)
    problems: list[Problem] = []
    read: list[LegReading] = []
    for line, cells in rest:
        with kept(problems):
            read.append(_reading(cells, columns, Place(name, line)))
    if problems:
        raise InputError(problems)
    return gathered(read, legs, name, hashlib.sha256(raw).hexdigest())


def _rows(text: str, name: str) -> list[tuple[int, list[str]]]:
    """Lines that say something, as cells; the separator is that of the first of them."""
    lines = [
        (number, line)
        for number, line in enumerate(text.split("\n"), 1)
        if line.strip(' \t,;"') and not line.lstrip().startswith("#")
    ]
    if not lines:
        problem = Problem(file=name, read="no readings", write=f'a first line "{HEADER}"')
        raise InputError([problem])
    longest = max(lines, key=lambda line: len(line[1]))
    if len(longest[1]) > LONGEST_LINE:
        read = f"a line of {len(longest[1])} characters"
        raise InputError([Place(name, longest[0]).problem(read, "one line for every leg")])
    mark = next((mark for mark in ";\t" if mark in lines[0][1]), ",")
    return [(number, _cells(line, mark)) for number, line in lines]


def _cells(line: str, mark: str) -> list[str]:
    cells = next(csv.reader([line], delimiter=mark, skipinitialspace=True))
    return [cell.strip() for cell in cells]


def _columns(
    rows: list[tuple[int, list[str]]], name: str
) -> tuple[list[Column], list[tuple[int, list[str]]]]:
    """Columns with their units, and the lines below them."""
    place = Place(name, rows[0][0])
    found = [_column(i, cell) for i, cell in enumerate(rows[0][1])]
    problems = list(_wrong(found, rows[0][1], place))
    if problems:
        raise InputError(problems)
    rest = rows[1:]
    if rest and _is_units(rest[0][1], found):
        under = Place(name, rest[0][0])
        units = rest[0][1] + [""] * len(found)
        found = [c._replace(unit=c.unit or _bare(units[c.at])) for c in found]
        place, rest = under, rest[1:]
    bad = [
        place.problem(
            f"the unit {quoted(column.unit)}",
            "mm, cm, m, in or ft",
            column.label,
            _meant(column.unit),
        )
        for column in found
        if column.name in LENGTHS and column.unit and column.unit not in UNITS["length"]
    ]
    if bad:
        raise InputError(bad)
    if not rest:
        raise InputError([place.problem("no line below the header", "one line for every leg")])
    if len(rest) > MOST_LINES:
        raise InputError([place.problem(f"{len(rest)} lines below it", "one line for every leg")])
    return found, rest


def _meant(unit: str) -> str:
    guess = OTHER_SPELLINGS.get(unit, unit.lower())
    return f'did you mean "{guess}"?' if guess in UNITS["length"] else ""


def _column(index: int, cell: str) -> Column:
    """Column of a header cell such as "front mm", "Front (mm)" or "reading error [mm]"."""
    found = HEAD.match(cell)
    name = found["name"].lower().replace(" ", "_") if found else cell
    return Column(index, name, found["unit"].strip(" _") if found else "")


def _wrong(found: Sequence[Column], cells: Sequence[str], place: Place) -> Iterator[Problem]:
    names = [column.name for column in found]
    for column in found:
        where = f"column {column.at + 1}"
        if column.name not in COLUMNS:
            near = difflib.get_close_matches(column.name, COLUMNS, n=1)
            hint = f'did you mean "{near[0]}"?' if near else ""
            read = quoted(cells[column.at]) if cells[column.at] else "a column without name"
            yield place.problem(read, f"columns {', '.join(COLUMNS)}", where, hint)
        elif names.index(column.name) < column.at:
            yield place.problem(f"{column.name} a second time", "every column once", where)
        elif column.name not in LENGTHS and column.unit:
            read = f"{column.name} with {quoted(column.unit)}"
            yield place.problem(read, f"{column.name} alone", where)
    missing = [name for name in NEEDED if name not in names]
    if missing:
        yield place.problem(f"no column {', '.join(missing)}", f'a first line such as "{HEADER}"')


def _bare(cell: str) -> str:
    return cell.strip("[]() ")


def _is_units(cells: Sequence[str], columns: Sequence[Column]) -> bool:
    """Whether a line holds units in place of readings."""
    held = {c.name: cells[c.at] for c in columns if c.at < len(cells)}
    no_leg = not any(char.isdigit() for char in held.get("leg", ""))
    return no_leg and not any(char.isdigit() for name in FACES for char in held.get(name, ""))


def _reading(cells: list[str], columns: Sequence[Column], place: Place) -> LegReading:
    """One leg; every cell that does not read is told."""
    if any(cells[len(columns) :]):
        read = f"{len(cells)} cells where the header has {len(columns)}"
        raise InputError([place.problem(read, "as many", hint="a decimal point, not a comma?")])
    problems: list[Problem] = []
    values: dict[str, float] = {}
    for column, cell in zip(columns, cells + [""] * len(columns), strict=False):
        if cell or column.name in NEEDED:
            with kept(problems):
                values[column.name] = _value(cell, column, place)
    if problems:
        raise InputError(problems)
    faces = tuple(values[face] for face in FACES)
    error, folds = values.get("reading_error"), values.get("folds")
    return LegReading(int(values["leg"]), faces, error, folds, place)


def _value(cell: str, column: Column, place: Place) -> float:
    if column.name == "leg":
        return leg_number(cell, place, column.label)
    if column.name == "folds":
        return fold_count(cell, place, column.label)
    read = error_of if column.name == "reading_error" else length_of
    return read(cell, column.unit, place, column.label)
