"""One column of a CSV file of samples, in SI; gaps are refused, never skipped."""

from __future__ import annotations

import csv
import math
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING, NoReturn

from crushleg.case.tables import Unread, did_you_mean
from crushleg.unit_table import UNITS, ZEROS

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path as FilePath

    from crushleg.case.lines import Path
    from crushleg.case.scatter_records import ScatterInput
    from crushleg.case.sheet import Sheet

MOST = 10_000_000
LARGEST = 1e100
"""Number of a sample: in any unit its SI value is one too."""
FEWEST = 10
"""Rows of a file of samples: fewer say nothing on a distribution (judgement)."""


def read_column(
    of: ScatterInput, path: Path, base_dir: FilePath, sheet: Sheet
) -> tuple[float, ...]:
    """Values of the column, in SI and in the order of the file.

    Raises
    ------
    Unread
        The file, the column, the unit or a value could not be read; the sheet says which.
    """
    file = base_dir / (of.file or "")
    scale, zero = _unit(of, path, sheet)
    try:
        with file.open(encoding="utf-8-sig", newline="") as stream:
            lines = iter(partial(stream.readline, csv.field_size_limit()), "")
            found = list(_values(of, csv.reader(lines), path, sheet))
    except FileNotFoundError:
        _refuse((*path, "file"), f"{file}, no such file", "a CSV beside the case", sheet)
    except (OSError, ValueError, csv.Error) as error:
        _refuse((*path, "file"), f"{file}: {error}", "a readable CSV in UTF-8", sheet)
    if len(found) < FEWEST:
        read = f"{len(found)} samples"
        _refuse((*path, "file"), read, f"at least {FEWEST}, or a distribution", sheet)
    return tuple(float((Fraction(repr(value)) + zero) * scale) for value in found)


def _values(
    of: ScatterInput, rows: Iterator[list[str]], path: Path, sheet: Sheet
) -> Iterator[float]:
    heads = [head.strip() for head in next(rows, [])]
    column = of.column or ""
    if column not in heads:
        read = f'"{column}", which is no column of {of.file}'
        write = "one of: " + (", ".join(heads) or "none, the file is empty")
        _refuse((*path, "column"), read, write, sheet, did_you_mean(column, heads))
    at = heads.index(column)
    for number, row in enumerate(rows, start=2):
        if number > MOST:
            _refuse((*path, "file"), f"more than {MOST} rows", "fewer", sheet)
        if not any(cell.strip() for cell in row):
            _refuse((*path, "file"), f"{of.file} line {number}: an empty line", "no gaps", sheet)
        text = row[at].strip() if at < len(row) else ""
        try:
            value = float(text)
        except ValueError:
            value = math.nan
        if not abs(value) <= LARGEST:
            read = f"{of.file} line {number}: " + (f'"{text}"' if text else "a gap")
            _refuse((*path, "file"), read, f"a number in every line of {column}", sheet)
        yield value


def _unit(of: ScatterInput, path: Path, sheet: Sheet) -> tuple[Fraction, Fraction]:
    """Scale and zero of the unit of the column."""
    units = UNITS[of.kind]
    unit = "" if of.unit is None else of.unit.strip()
    if unit not in units:
        read = f'"{unit}"' if unit else "nothing (unit of the column)"
        names = ", ".join(name or "none" for name in units)
        _refuse((*path, "unit"), read, f"unit = one of: {names}", sheet)
    return units[unit], Fraction(ZEROS.get(unit, 0))


def _refuse(path: Path, read: str, write: str, sheet: Sheet, hint: str = "") -> NoReturn:
    sheet.report(path, read, write, hint)
    raise Unread
