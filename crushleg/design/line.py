"""The force line that a schedule is to follow: constant, ramp, points in a list or a file."""

from __future__ import annotations

import csv
import io
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, NoReturn

import numpy as np

from crushleg.case.source import decode, first_bytes
from crushleg.errors import InputError, Problem
from crushleg.units import parse

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.arrays import FloatArray

FORMS = (
    "constant:120kN, ramp:80kN:200kN, points 0mm:80kN,300mm:120kN, or a CSV file with the columns "
    "stroke_mm and force_kN"
)
COLUMNS = {"stroke": "length", "force": "force"}
OPTION = "--follow"


class Line(NamedTuple):
    """Wanted force of one girder [N] against crush stroke [m], or against the share of it.

    Straight between points, level before the first and beyond the last.
    """

    text: str
    stroke: FloatArray
    force: FloatArray
    shares: bool

    def at(self, stroke: FloatArray, usable: FloatArray | float) -> FloatArray:
        """Wanted force at crush strokes [N]; ``usable`` is the stroke that share 1 means [m]."""
        x = stroke / usable if self.shares else stroke
        found: FloatArray = np.interp(x, self.stroke, self.force)
        return found


def read_line(text: str) -> Line:
    """Read a wanted force line.

    Parameters
    ----------
    text : str
        One of :data:`FORMS`.

    Returns
    -------
    Line

    Raises
    ------
    InputError
        What was read and what to write.

    Examples
    --------
    >>> line = read_line("ramp:80kN:200kN")
    >>> line.force.tolist(), line.shares
    ([80000.0, 200000.0], True)
    """
    kind, _, rest = text.strip().partition(":")
    if kind in ("constant", "ramp"):
        forces = [_quantity(part, "force") for part in rest.split(":")]
        if len(forces) != (1 if kind == "constant" else 2):
            _fail(f"{text}, number of forces {len(forces)}")
        return _line(text, [0.0, 1.0], [forces[0], forces[-1]], shares=True)
    if Path(text).suffix.lower() == ".csv" or Path(text).is_file():
        return _file(Path(text))
    pairs = [point.split(":") for point in text.split(",")]
    if any(len(pair) != 2 for pair in pairs):
        _fail(f'"{text}"')
    points = [(_quantity(s, "length"), _quantity(f, "force")) for s, f in pairs]
    return _line(text, [s for s, _ in points], [f for _, f in points], shares=False)


def _quantity(text: str, dimension: str) -> float:
    try:
        return parse(text, dimension)
    except InputError as error:
        one = error.problems[0]
        raise InputError(
            [Problem(field=OPTION, read=one.read, write=one.write, hint=one.hint)]
        ) from None


def _file(path: Path) -> Line:
    """Read points of a CSV file; the columns end in their unit."""
    name = str(path)
    try:
        text = decode(first_bytes(path), name)
    except OSError as error:
        reason = (error.strerror or "an error").lower()
        _fail(f"nothing ({reason})", "the path of a readable CSV file", name)
    rows = [(i, row) for i, row in enumerate(csv.reader(io.StringIO(text)), 1) if any(row)]
    if not rows:
        _fail("an empty file", FORMS, name)
    head = [cell.strip() for cell in rows[0][1]]
    places = {kind: _column(head, kind, name) for kind in COLUMNS}
    found: dict[str, list[float]] = {kind: [] for kind in COLUMNS}
    for line, row in rows[1:]:
        for kind, dimension in COLUMNS.items():
            place = places[kind]
            cell = row[place].strip() if place < len(row) else ""
            unit = head[place].removeprefix(f"{kind}_")
            try:
                found[kind].append(parse(f"{cell} {unit}", dimension))
            except InputError:
                _fail(f'"{cell}"', f"a number of {unit}", name, line, head[place])
    return _line(name, found["stroke"], found["force"], shares=False)


def _column(head: Sequence[str], kind: str, name: str) -> int:
    places = [i for i, cell in enumerate(head) if cell.startswith(f"{kind}_")]
    example = {"stroke": "stroke_mm", "force": "force_kN"}[kind]
    if len(places) != 1:
        _fail(f"{len(places)} columns {kind}_...", f"one, such as {example}", name, 1)
    try:
        parse(f"1 {head[places[0]].removeprefix(f'{kind}_')}", COLUMNS[kind])
    except InputError:
        _fail(f'the column "{head[places[0]]}"', f"its unit behind it: {example}", name, 1)
    return places[0]


def _line(text: str, stroke: Sequence[float], force: Sequence[float], *, shares: bool) -> Line:
    if not stroke:
        _fail("no point", FORMS)
    if any(b <= a for a, b in pairwise(stroke)) or stroke[0] < 0.0:
        _fail("strokes that do not rise from 0 or more", "points in the order of their stroke")
    if min(force) <= 0.0:
        _fail("a force of zero or less", "forces above zero")
    return Line(text, np.array(stroke), np.array(force), shares)


def _fail(
    read: str, write: str = FORMS, file: str = "", line: int | None = None, field: str = ""
) -> NoReturn:
    field = field or ("" if file else OPTION)
    raise InputError([Problem(file=file, line=line, field=field, read=read, write=write)])
