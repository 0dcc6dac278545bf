"""Blocks of a report on pages of paper: set in lines, columns beside each other, page by page.

Places are in millimetres from the upper left corner of the page.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from crushleg.report.layout import Heading, Items, Pairs, Paragraph, Table
from crushleg.report.plot_labels import clean, fitted, width_of
from crushleg.report.style import INCH, INK, LEADING, POINT, SMALL, THIN

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from matplotlib.axes import Axes

    from crushleg.report.layout import Block

SIZES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
MARGIN, FOOT = 12.0, 16.0
LINE = SMALL * POINT * LEADING
APART = 2.2
"""Between blocks [mm]."""
BETWEEN = 3.0
"""Between columns of a table [mm]."""
MOST_LINES = 60
KEPT = 4
"""Lines that must follow a heading on its page."""
NARROWEST = 12.0
"""No column gives way below it [mm]."""
FIGURE_SPACE = "\u2007"


class Bit(NamedTuple):
    """One line of text at x from the left and y from the top [mm]; ``right`` ends there."""

    x: float
    y: float
    text: str
    bold: bool = False
    right: bool = False


class Column(NamedTuple):
    """Blocks that stand under each other: left edge and width [mm], height of a table's row."""

    x: float
    width: float
    blocks: Sequence[Block]
    row: float = LINE


class Pages:
    """Pages that fill from the top; ``y`` is where the next thing goes."""

    def __init__(self, paper: str) -> None:
        self.width, self.height = SIZES[paper]
        self.figures: list[Figure] = []
        self.turn()

    @property
    def room(self) -> float:
        """Width between the margins [mm]."""
        return self.width - 2.0 * MARGIN

    def turn(self) -> None:
        """Begin a new page."""
        self.figures.append(Figure(figsize=(self.width / INCH, self.height / INCH)))
        self.y = MARGIN

    def need(self, height: float) -> None:
        """Turn the page unless so much of it is left [mm]."""
        if self.y > MARGIN and self.y + height > self.height - FOOT:
            self.turn()

    def columns(self, *columns: Column) -> None:
        """Lay columns beside each other; a single one that is too long goes on overleaf."""
        if len(columns) == 1:
            self._run(columns[0])
            return
        ready = [list(_stack(column)) for column in columns]
        height = max(tall for blocks in ready for _, _, tall in blocks)
        self.need(height)
        for column, blocks in zip(columns, ready, strict=True):
            for bits, top, _ in blocks:
                self._write(bits, MARGIN + column.x, self.y + top)
        self.y += height + APART

    def _run(self, column: Column) -> None:
        """Write line after line, overleaf where the page ends; a heading stays with its text."""
        for block in column.blocks:
            bits, height = typeset(block, column.width, column.row)
            self.need(KEPT * LINE if isinstance(block, Heading) else LINE)
            start = 0.0
            for bit in sorted(bits, key=lambda bit: bit.y):
                if self.y + bit.y - start + LINE > self.height - FOOT:
                    self.turn()
                    start = bit.y
                self._write([bit], MARGIN + column.x, self.y - start)
            self.y += height - start + APART * 0.6

    def axes(self, height: float, left: float) -> Axes:
        """Axes over the whole width, ``left`` mm kept for labels."""
        self.need(height)
        box = (
            (MARGIN + left) / self.width,
            1.0 - (self.y + height) / self.height,
            (self.room - left) / self.width,
            height / self.height,
        )
        self.y += height + APART
        return self.figures[-1].add_axes(box)

    def rule(self, x: float, y: float, length: float) -> None:
        """Draw a line to write on, from x, y [mm]."""
        across = [(MARGIN + x) / self.width, (MARGIN + x + length) / self.width]
        up = 1.0 - y / self.height
        self.figures[-1].add_artist(Line2D(across, [up, up], linewidth=THIN, color=INK))

    def write(self, x: float, y: float, text: str, *, size: float = SMALL, **how: object) -> None:
        """Write a line that begins at x from the margin, y from the top [mm]."""
        self._put(self.figures[-1], MARGIN + x, y, text, fontsize=size, **how)

    def foot(self, text: str) -> None:
        """Write a line at the foot of every page, with its number."""
        for i, figure in enumerate(self.figures, 1):
            said = f"{text} · page {i} of {len(self.figures)}"
            lines = fitted(said, self.room, size=SMALL, lines=3)
            y = self.height - FOOT + 5.0
            self._put(figure, MARGIN, y, lines, fontsize=SMALL, linespacing=LEADING)

    def _write(self, bits: Iterable[Bit], x: float, y: float) -> None:
        for bit in bits:
            how = {"ha": "right"} if bit.right else {}
            if bit.bold:
                how["weight"] = "bold"
            self._put(self.figures[-1], x + bit.x, y + bit.y, bit.text, fontsize=SMALL, **how)

    def _put(self, figure: Figure, x: float, y: float, text: str, **how: object) -> None:
        figure.text(x / self.width, 1.0 - y / self.height, text, va="top", **how)  # type: ignore[arg-type] # text properties


def _stack(column: Column) -> Iterator[tuple[list[Bit], float, float]]:
    """Bits of each block, its top, and how far down the column reaches with it."""
    top = 0.0
    for block in column.blocks:
        bits, height = typeset(block, column.width, column.row)
        yield bits, top, top + height
        top += height + APART * 0.6


def typeset(block: Block, width: float, row: float = LINE) -> tuple[list[Bit], float]:
    """Set a block in lines of at most ``width`` mm; the bits and their height [mm]."""
    if isinstance(block, Heading):
        return [Bit(0.0, 0.8, clean(block.text), bold=True)], LINE + 0.8
    if isinstance(block, Paragraph):
        lines = _wrapped(block.text, width, bold="bold" in block.style)
        bold = "bold" in block.style
        return [Bit(0.0, i * LINE, line, bold) for i, line in enumerate(lines)], LINE * len(lines)
    if isinstance(block, Items):
        return _pairs([("–", item) for item in block.items], width)
    if isinstance(block, Pairs):
        return _pairs(block.pairs, width)
    return _table(block, width, row)


def _wrapped(text: str, width: float, *, bold: bool = False) -> list[str]:
    return fitted(text, width, size=SMALL, lines=MOST_LINES, bold=bold).split("\n")


def _pairs(pairs: Sequence[tuple[str, str]], width: float) -> tuple[list[Bit], float]:
    left = max(width_of(clean(label), size=SMALL) for label, _ in pairs) + BETWEEN
    bits, y = [], 0.0
    for label, text in pairs:
        bits.append(Bit(0.0, y, clean(label)))
        for line in _wrapped(text, width - left):
            bits.append(Bit(left, y, line))
            y += LINE
    return bits, y


def _table(table: Table, width: float, row: float) -> tuple[list[Bit], float]:
    """Set heads, then rows; columns that wrap give way, the widest first."""
    wide = [
        max(
            [_wide(line, bold=True) for line in column.head]
            + [_wide(cells[k], number=column.number) for cells in table.rows]
        )
        for k, column in enumerate(table.columns)
    ]
    wrapping = [k for k, column in enumerate(table.columns) if column.wraps]
    while wrapping and sum(wide) + BETWEEN * (len(wide) - 1) > width:
        widest = max(wrapping, key=lambda k: wide[k])
        if wide[widest] < NARROWEST:
            break
        wide[widest] -= 1.0
    heads = [list(column.head) for column in table.columns]
    bits, y = _lines(table, heads, wide, 0.0, LINE, bold=True)
    for cells in table.rows:
        texts = [
            _wrapped(cell, wide[k] + 0.1)
            if table.columns[k].wraps
            else [_spaced(cell, number=table.columns[k].number)]
            for k, cell in enumerate(cells)
        ]
        more, y = _lines(table, texts, wide, y + (row - LINE), LINE)
        bits += more
    return bits, y


def _lines(
    table: Table,
    texts: list[list[str]],
    wide: list[float],
    y: float,
    line: float,
    *,
    bold: bool = False,
) -> tuple[list[Bit], float]:
    """One row of cells, each of one or more lines, and where the next row begins."""
    bits, x = [], 0.0
    for column, cell, across in zip(table.columns, texts, wide, strict=True):
        at = x + across if column.number else x
        bits += [Bit(at, y + i * line, t, bold, column.number) for i, t in enumerate(cell)]
        x += across + BETWEEN
    return bits, y + line * max(len(cell) for cell in texts)


def _spaced(cell: str, *, number: bool = False) -> str:
    """Return a cell; blanks of numbers are as wide as their digits."""
    return "".join(clean(c) or FIGURE_SPACE for c in cell) if number else clean(cell)


def _wide(cell: str, *, bold: bool = False, number: bool = False) -> float:
    return width_of(_spaced(cell, number=number), size=SMALL, bold=bold)
