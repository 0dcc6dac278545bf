"""Columns of a CSV: delimiter, head, units line, numbers; what is left out is counted."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, NoReturn

import numpy as np
import pandas as pd

from crushleg.case.tables import did_you_mean
from crushleg.errors import InputError, Problem
from crushleg.trial.record_faults import MISSING, bad_cells, field_counts
from crushleg.unit_table import OTHER_SPELLINGS, UNITS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from crushleg.arrays import FloatArray, IntArray
    from crushleg.trial.record_keys import Channel, Setup

BEGINNING = 65_536
"""Bytes in which the head must stand."""
DELIMITERS = ("\t", ";", ",")
WIDE = (b"\xff\xfe", b"\xfe\xff")
IN_BRACKETS = re.compile(r"[\[(]\s*([^\])]*?)\s*[\])]\s*$")
NUMBER = re.compile(r"^[+-]?(\d+[.,]?\d*|[.,]\d+)([eE][+-]?\d+)?$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """How a CSV begins: delimiter, names, line where the numbers start."""

    delimiter: str
    names: tuple[str, ...]
    first_line: int
    units: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Numbers of the columns asked for, by position, with their lines in the file."""

    values: Mapping[int, FloatArray]
    places: Mapping[str | int, int]
    lines: IntArray
    legs: pd.Series | None
    notes: tuple[str, ...]


def read_head(name: str, raw: bytes, setup: Setup) -> Head:
    """Find delimiter, column names and where the numbers begin.

    Raises
    ------
    InputError
        Empty file, no text, no head.
    """
    if not raw.strip():
        _fail(name, "an empty file", "a CSV with column names and numbers")
    if raw[:2] in WIDE or b"\0" in raw[:BEGINNING]:
        _fail(name, "a text in UTF-16 or no text", "the file saved as CSV in UTF-8")
    lines = _first_lines(name, raw)
    at = setup.keys.header_line
    index = next((i for i, line in enumerate(lines) if line.strip() and line[0] != "#"), None)
    if index is None or (at is not None and at > len(lines)):
        _fail(name, "no line of column names", "header_line, the line where they stand")
    index = index if at is None else at - 1
    delimiter = next((d for d in DELIMITERS if d in lines[index]), ",")
    names = _cells(lines[index], delimiter)
    notes = [f"{index} lines above the column names were not read"] if index else []
    if all(NUMBER.match(cell) for cell in names if cell):
        if not _all_by_number(setup):
            read = f"numbers where column names are due: {lines[index].strip()[:60]}"
            _fail(name, read, "a line of column names, or columns by number from 1", index + 1)
        return Head(
            delimiter=delimiter,
            names=tuple(str(i + 1) for i in range(len(names))),
            first_line=index + 1,
            units=(),
            notes=(*notes, "no column names; columns taken by number"),
        )
    units: tuple[str, ...] = ()
    below = _cells(lines[index + 1], delimiter) if index + 1 < len(lines) else []
    if any(below) and not any(NUMBER.match(c) or c.lower() in MISSING for c in below if c):
        units = tuple(cell.strip("[]() ") for cell in below)
        notes.append(f"line {index + 2} taken as a line of units: {', '.join(units)}")
    return Head(
        delimiter=delimiter,
        names=tuple(names),
        first_line=index + 2 + bool(units),
        units=units,
        notes=tuple(notes),
    )


def _first_lines(name: str, raw: bytes) -> list[str]:
    beginning = raw[:BEGINNING]
    cut = beginning if len(raw) <= BEGINNING else beginning[: beginning.rfind(b"\n") + 1]
    try:
        text = cut.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = cut.count(b"\n", 0, error.start) + 1
        _fail(name, f"byte 0x{cut[error.start]:02x}, not UTF-8", "the file saved as UTF-8", line)
    return text.replace("\r\n", "\n").split("\n")


def _cells(line: str, delimiter: str) -> list[str]:
    return [cell.strip().strip('"').strip() for cell in line.split(delimiter)]


def _all_by_number(setup: Setup) -> bool:
    wanted = [c.column for _, channels in setup.legs for c in channels.values()]
    return all(isinstance(c, int) for c in (*wanted, setup.leg_column or 0))


def position(column: str | int, head: Head) -> int | None:
    """Place of a column from 0, by name or number; None where there is none."""
    if isinstance(column, int):
        return column - 1 if 0 < column <= len(head.names) else None
    return head.names.index(column) if head.names.count(column) == 1 else None


def locate(head: Head, setup: Setup) -> dict[str | int, int]:
    """Place of every column asked for; checks units that the file itself names.

    Raises
    ------
    InputError
        A column that is not there, or is there twice; a unit against that of the file.
    """
    problems: list[Problem] = []
    found: dict[str | int, int] = {}
    channels = [(f"{k}", c) for _, group in setup.legs for k, c in group.items()]
    for field, channel in channels:
        at = position(channel.column, head)
        if at is None:
            problems.append(_no_column(field, channel.column, head, setup, channel.line))
            continue
        found[channel.column] = at
        problem = _other_unit(field, channel, head, at, setup)
        problems += [problem] if problem else []
    if setup.leg_column is not None:
        at = position(setup.leg_column, head)
        if at is None:
            problems.append(_no_column("leg", setup.leg_column, head, setup, None))
        elif at in found.values():
            read, write = f"{head.names[at]}, a column of numbers", "the column that names the leg"
            problems.append(Problem(file=setup.file, field="columns.leg", read=read, write=write))
        else:
            found[setup.leg_column] = at
    if problems:
        raise InputError(dict.fromkeys(problems))
    return found


def _no_column(
    field: str, column: str | int, head: Head, setup: Setup, line: int | None
) -> Problem:
    names = [cell for cell in head.names if cell]
    if isinstance(column, str) and head.names.count(column) > 1:
        read, write = f'"{column}", which two columns are called', "its number from 1"
        return Problem(file=setup.file, line=line, field=field, read=read, write=write)
    write = "one of: " + ", ".join(names[:12]) + (", …" if len(names) > 12 else "")
    bare = {IN_BRACKETS.sub("", cell).strip(): cell for cell in names}
    hint = did_you_mean(str(column), names)
    if column in bare:
        hint = f'did you mean "{bare[str(column)]}"?'
    read = (
        f"column {column!r}, which is not in the CSV"
        if isinstance(column, int)
        else (f'"{column}", which is no column of the CSV')
    )
    return Problem(file=setup.file, line=line, field=field, read=read, write=write, hint=hint)


def _other_unit(field: str, channel: Channel, head: Head, at: int, setup: Setup) -> Problem | None:
    """Look for a unit that the file names beside or below the column, where it is another one."""
    bracket = IN_BRACKETS.search(head.names[at])
    said = [bracket.group(1)] if bracket else []
    said += [head.units[at]] if at < len(head.units) else []
    known = {unit for units in UNITS.values() for unit in units if unit}
    for text in said:
        unit = OTHER_SPELLINGS.get(text, text)
        if unit in known and unit != channel.unit:
            read = f'"{channel.unit}", where the CSV says "{text}" for {head.names[at]}'
            write = f'unit = "{unit}", or correct the CSV'
            return Problem(
                file=setup.file, line=channel.line, field=f"{field}.unit", read=read, write=write
            )
    return None


def read_columns(name: str, raw: bytes, head: Head, setup: Setup) -> Columns:
    """Read the numbers of the columns asked for.

    Raises
    ------
    InputError
        Text in numbers, rows with too many fields, no rows: line, column, what to write.
    """
    places = locate(head, setup)
    if raw.count(b"\n") + (not raw.endswith(b"\n")) < head.first_line:
        _fail(name, "no numbers below the column names", "one line per sample")
    counts = field_counts(name, raw, head, setup.keys.decimal)
    leg_at = places.get(setup.leg_column) if setup.leg_column is not None else None
    numbers = sorted(set(places.values()) - ({leg_at} if leg_at is not None else set()))
    dtype: dict[int, str] = dict.fromkeys(numbers, "float64")
    if leg_at is not None:
        dtype[leg_at] = "str"
    try:
        frame = pd.read_csv(
            io.BytesIO(raw), sep=head.delimiter, header=None, names=range(len(head.names)),
            skiprows=head.first_line - 1, usecols=sorted(dtype), dtype=dtype,
            keep_default_na=False, na_values=list(MISSING) + [m.upper() for m in MISSING] + ["NaN"],
            skip_blank_lines=False, index_col=False, skipinitialspace=True,
            decimal=setup.keys.decimal, encoding="utf-8-sig",
        )  # fmt: skip
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        _fail(name, f"byte 0x{raw[error.start]:02x}, not UTF-8", "the file saved as UTF-8", line)
    except (ValueError, pd.errors.ParserError) as error:
        raise bad_cells(name, raw, head, numbers, setup.keys.decimal, str(error)) from None
    values = {at: frame[at].to_numpy(dtype=np.float64) for at in numbers}
    lines = np.arange(len(frame)) + head.first_line
    legs = frame[leg_at] if leg_at is not None else None
    unnamed = int((legs.fillna("").str.strip() == "").sum()) if legs is not None else 0
    counts += [f"{unnamed} lines without a leg's name left out"] if unnamed else []
    return Columns(
        values=values, places=places, lines=lines, legs=legs, notes=(*head.notes, *counts)
    )


def _fail(name: str, read: str, write: str, line: int | None = None) -> NoReturn:
    raise InputError([Problem(file=name, line=line, read=read, write=write)])
