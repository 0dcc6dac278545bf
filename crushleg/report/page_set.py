"""Blocks of a page set in lines on paper; nothing is cut, tables give way by size and wrapping.

Places and sizes are in millimetres, type in points.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from matplotlib.font_manager import FontProperties, findfont, get_font

from crushleg.report.plot_labels import clean
from crushleg.report.style import FAMILY, LEADING, POINT

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.report.layout import Table

BODY, SIZES = 7.6, (6.8, 6.4, 6.0, 5.6, 5.2)
"""Type of running text, and of tables from the usual to the smallest."""
GAP, NARROWEST = 3.0, 12.0
"""Between columns of a table, and what no column gives way below."""
MONO = "DejaVu Sans Mono"
EM = 1000.0
FIGURE_SPACE = "\u2007"
PADDING = re.compile(r"(?<= ) |^ ")
"""Blanks that stand for digits."""
KEY = " ◂ key row"
GOVERNS = "governs"


class Setting(NamedTuple):
    """A table that fits: type size, widths of its columns, cells in lines row by row."""

    size: float
    widths: tuple[float, ...]
    head: tuple[list[str], ...]
    rows: tuple[tuple[list[str], ...], ...]


@cache
def advance(character: str, *, bold: bool = False) -> float:
    """How far a character moves the pen, in parts of the type size."""
    weight = "bold" if bold else "normal"
    font = get_font(findfont(FontProperties(family=FAMILY, weight=weight)))
    font.set_size(EM, 72.0)
    return float(font.load_char(ord(character)).linearHoriAdvance) / 65536.0 / EM


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """Width of one line."""
    return sum(advance(c, bold=bold) for c in text) * size * POINT


def leading(size: float) -> float:
    """From one line to the next."""
    return size * POINT * LEADING


def lines_of(text: str, room: float, size: float, *, bold: bool = False) -> list[str]:
    """Text in lines of at most ``room``; a word that is too long goes on in the next line.

    >>> lines_of("one two three", 12.0, 7.6)
    ['one two', 'three']
    """
    done, line = [], ""
    for word in clean(text).split(" "):
        longer = f"{line} {word}" if line else word
        if line and width_of(longer, size, bold=bold) > room:
            done.append(line)
            longer = word
        while len(longer) > 1 and width_of(longer, size, bold=bold) > room:
            fits = _fitting(longer, room, size, bold=bold)
            done.append(longer[:fits])
            longer = longer[fits:]
        line = longer
    return [*done, line]


def _fitting(word: str, room: float, size: float, *, bold: bool) -> int:
    """Count the characters of a word that fit, one at least."""
    fits = len(word) - 1
    while fits > 1 and width_of(word[:fits], size, bold=bold) > room:
        fits -= 1
    return fits


def set_table(table: Table, room: float) -> Setting | None:
    """Set a table in the largest type in which it fits; None if it fits in none.

    Parameters
    ----------
    table : Table
    room : float

    Returns
    -------
    Setting or None
    """
    rows = [tuple(_said(table, i)) for i in range(len(table.rows))]
    for size in SIZES:
        widths = _widths(table, rows, room, size)
        if sum(widths) + GAP * (len(widths) - 1) <= room + 0.01:
            break
    else:
        return None
    head = tuple(
        [line for part in column.head for line in lines_of(part, wide, size, bold=True)]
        for column, wide in zip(table.columns, widths, strict=True)
    )
    cells = tuple(
        tuple(
            lines_of(cell, wide + 0.01, size, bold=True) if column.wraps else [cell]
            for cell, wide, column in zip(row, widths, table.columns, strict=True)
        )
        for row in rows
    )
    return Setting(size, tuple(widths), head, cells)


def _said(table: Table, index: int) -> Iterator[str]:
    """Cells of a row; blanks of numbers are as wide as digits, the row set off says so."""
    row = table.rows[index]
    marked = index == table.strong and not any(GOVERNS in cell for cell in row)
    for k, (cell, column) in enumerate(zip(row, table.columns, strict=True)):
        text = PADDING.sub(FIGURE_SPACE, cell) if column.number else cell
        text = "".join(c if c == FIGURE_SPACE else clean(c) or " " for c in text)
        yield text + KEY if marked and k == 0 else text


def _widths(table: Table, rows: Sequence[tuple[str, ...]], room: float, size: float) -> list[float]:
    """Natural widths; those of columns that wrap give way, the widest first."""
    wide = [
        max(
            [width_of(line, size, bold=True) for line in column.head]
            + [width_of(row[k], size, bold=True) for row in rows]
        )
        for k, column in enumerate(table.columns)
    ]
    give = [k for k, column in enumerate(table.columns) if column.wraps]
    over = sum(wide) + GAP * (len(wide) - 1) - room
    while give and over > 0.0:
        k = max(give, key=lambda k: wide[k])
        if wide[k] <= NARROWEST:
            break
        step = min(1.0, wide[k] - NARROWEST, over + 0.01)
        wide[k] -= step
        over -= step
    return wide
