"""What is wrong with the lines of a CSV: looked for only when a quick look says there is."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.errors import InputError, Problem
from crushleg.units import quoted

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.arrays import IntArray
    from crushleg.trial.record_table import Head

MISSING = ("", "nan", "na", "n/a", "null", "none", "-", "--")
"""Cells that say there is no number, in any capitals."""
SHOWN = 5


def body_lines(raw: bytes, head: Head) -> Iterator[tuple[int, str]]:
    """Line number and text of every line from the first of the numbers on."""
    text = raw.decode("utf-8-sig", errors="replace").replace("\r\n", "\n")
    for number, line in enumerate(text.split("\n"), start=1):
        if number >= head.first_line:
            yield number, line


def field_counts(name: str, raw: bytes, head: Head, decimal: str) -> list[str]:
    """Note lines that are blank or cut off; one delimiter at the end of each line is fine.

    Raises
    ------
    InputError
        Lines with more fields than there are column names.
    """
    if head.delimiter == decimal:
        write = 'another delimiter than the decimal sign, or decimal = "."'
        read = f"the delimiter {quoted(head.delimiter)}, which is the decimal sign as well"
        raise InputError([Problem(file=name, read=read, write=write)])
    due = len(head.names) - 1
    starts, ends, found = _lines(raw, head.delimiter.encode())
    body = np.arange(len(ends)) >= head.first_line - 1
    odd = np.flatnonzero(body & (found != due))
    texts = [(int(i), raw[starts[i] : ends[i]].decode("utf-8", "replace").strip()) for i in odd]
    more = [(i + 1, text) for i, text in texts if _too_long(text, due, head.delimiter)]
    if more:
        raise InputError(_too_many(name, more, due + 1, head.delimiter))
    fewer = [i + 1 for i, text in texts if text and found[i] < due]
    last = _last_line(raw, starts, ends)
    blank = [i + 1 for i, text in texts if not text and i < last]
    notes = [f"{len(fewer)} lines with too few fields, the first line {fewer[0]}"] if fewer else []
    return notes + ([f"{len(blank)} blank lines, the first line {blank[0]}"] if blank else [])


def _lines(raw: bytes, delimiter: bytes) -> tuple[IntArray, IntArray, IntArray]:
    """Begin and end of every line, and how many delimiters it has."""
    data = np.frombuffer(raw, dtype=np.uint8)
    ends = np.flatnonzero(data == ord("\n"))
    if not raw.endswith(b"\n"):
        ends = np.append(ends, len(raw))
    starts = np.concatenate([[0], ends[:-1] + 1])
    before = np.searchsorted(np.flatnonzero(data == ord(delimiter)), ends)
    return starts, ends, np.diff(before, prepend=0)


def _last_line(raw: bytes, starts: IntArray, ends: IntArray) -> int:
    """Index of the last line that is not blank."""
    last = len(ends) - 1
    while last > 0 and not raw[starts[last] : ends[last]].strip():
        last -= 1
    return last


def _too_long(text: str, due: int, delimiter: str) -> bool:
    """Whether a line has more fields than are due; one empty field at its end is none."""
    found = text.count(delimiter)
    return found > due and not (found == due + 1 and text.endswith(delimiter.strip() or delimiter))


def _too_many(
    name: str, lines: Sequence[tuple[int, str]], due: int, delimiter: str
) -> list[Problem]:
    fields = lines[0][1].count(delimiter) + 1
    commas = delimiter == "," and fields == 2 * due
    hint = 'decimal commas? save with ";" between columns and write decimal = ","' if commas else ""
    more = f" ({len(lines)} such lines)" if len(lines) > 1 else ""
    read = f"{fields} fields where {due} columns have names{more}: {quoted(lines[0][1])}"
    write = f"{due} fields per line"
    return [Problem(file=name, line=lines[0][0], read=read, write=write, hint=hint)]


def bad_cells(
    name: str, raw: bytes, head: Head, places: Sequence[int], decimal: str, said: str
) -> InputError:
    """Every cell that is no number: the first few with line and column, then how many."""
    problems: list[Problem] = []
    count = 0
    for number, line in body_lines(raw, head):
        cells = line.split(head.delimiter)
        for at in places:
            cell = cells[at].strip().strip('"').strip() if at < len(cells) else ""
            if cell.lower() in MISSING or _is_number(cell, decimal):
                continue
            count += 1
            if count <= SHOWN:
                problems.append(_bad_cell(name, number, head.names[at], cell, decimal))
    if count > SHOWN:
        read = f"{count} cells that are no numbers; the first {SHOWN} are listed"
        problems.append(Problem(file=name, read=read))
    if not problems:
        problems.append(Problem(file=name, read=f"what is no table of numbers ({said})"))
    return InputError(problems)


def _bad_cell(name: str, line: int, column: str, cell: str, decimal: str) -> Problem:
    write, hint = f'a number such as "12{decimal}5", or nothing where a sample is missing', ""
    other = "," if decimal == "." else "."
    if _is_number(cell, other):
        write = f'decimal = "{other}", if all numbers are written so'
    elif _begins_with_number(cell):
        hint = "units stand in the TOML, not in the cells"
    return Problem(file=name, line=line, field=column, read=quoted(cell), write=write, hint=hint)


def _is_number(cell: str, decimal: str) -> bool:
    if "_" in cell or (decimal != "." and "." in cell):
        return False
    try:
        float(cell.replace(decimal, "."))
    except ValueError:
        return False
    return True


def _begins_with_number(cell: str) -> bool:
    return _is_number(cell.split(maxsplit=1)[0], ".") if cell.split() else False
