"""Bad input as it is told: each problem, its line, and a caret under the fault."""

from __future__ import annotations

import re
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from rich.cells import cell_len

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.errors import InputError, Problem

WIDEST = 76
"""Characters of a line that are shown."""
QUOTED = re.compile(r"\"[^\"]*\"|'[^']*'")
TABLE = re.compile(r"\s*(\[+[^\]]*\]+)\s*(?:#|$)")


def told(error: InputError) -> str:
    """Say every problem of an input, with its line where the file can be read again.

    Parameters
    ----------
    error : InputError

    Returns
    -------
    str
        A line per problem; below it the line of the file, and carets under what is wrong in it.
    """
    return "\n".join(line for problem in error.problems for line in _told(problem))


def _told(problem: Problem) -> Iterator[str]:
    yield str(problem)
    line = _line(problem)
    if not line.strip():
        return
    start, end = place(problem, line)
    first = max(0, min(start - 8, len(line) - WIDEST))
    cut = line[first : first + WIDEST]
    head = f"{problem.line:>6} | "
    yield f"{head}{cut}"
    before = cell_len(cut[: start - first])
    under = max(cell_len(cut[start - first : end - first]), 1)
    yield f"{'| ':>{len(head)}}{' ' * before}{'^' * under}"


def _line(problem: Problem) -> str:
    """Return the line of a problem without control characters, empty if it cannot be read."""
    path = Path(problem.file)
    if problem.line is None or not path.is_file():
        return ""
    try:
        with path.open("rb") as file:
            raw = next(islice(file, problem.line - 1, None), b"")
    except OSError:
        return ""
    text = raw.decode("utf-8", errors="replace").lstrip("\ufeff").rstrip()
    return "".join(c if c.isprintable() else " " for c in text)


def place(problem: Problem, line: str) -> tuple[int, int]:
    """Start and end of what is wrong in a line: the text quoted, the value, the key, or all of it.

    Examples
    --------
    >>> from crushleg.errors import Problem
    >>> place(Problem(field="leg.cantt", read="the unknown key 'cantt'"), "cantt = 1")
    (0, 5)
    >>> place(Problem(field="girder.wall", read="4, a number without a unit"), "wall = 4")
    (7, 8)
    """
    for quoted in QUOTED.findall(problem.read):
        for text in (quoted, quoted[1:-1]):
            if text and text in line:
                at = line.index(text)
                return at, at + len(text)
    return _value(problem, line) or _whole(line)


def _whole(line: str) -> tuple[int, int]:
    """Place of a line without its indent and without a comment behind a table's head."""
    head = TABLE.match(line)
    return head.span(1) if head else (len(line) - len(line.lstrip()), len(line))


def _value(problem: Problem, line: str) -> tuple[int, int] | None:
    """Place of the value of the problem's key, without a comment behind it."""
    key = re.escape(re.split(r"[.\[]", problem.field.rstrip("]"))[-1])
    found = re.search(rf"(?:^|[\s,{{.]){key}\s*=\s*(\"[^\"]*\"|'[^']*'|[^#]*[^#\s])", line)
    return found.span(1) if found else None
