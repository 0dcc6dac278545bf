"""Blocks of a report, and how they look on a terminal and in plain text.

On a terminal rich wraps and aligns them, and a table that is too wide goes out row by row, a line
per cell; where standard output is none, every line is whole, without colour or trailing spaces,
one line per row of a table.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from rich.cells import cell_len
from rich.console import Group
from rich.table import Table as RichTable
from rich.text import Text

from crushleg.said import shown

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from rich.console import Console, RenderableType

WIDEST = 100
NARROWEST, USUAL = 20, 80
LONGEST_WORD = 16
GAP = 2


@dataclass(frozen=True, slots=True)
class Heading:
    """Title of a section."""

    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text; ``style`` only repeats what the words say."""

    text: str
    style: str = ""


@dataclass(frozen=True, slots=True)
class Items:
    """Paragraphs of a list."""

    items: Sequence[str]


def items(texts: Iterable[str], units: str) -> Items:
    """List of sentences with their quantities in the units of display."""
    return Items([shown(text, units) for text in texts])


@dataclass(frozen=True, slots=True)
class Pairs:
    """Labels and what they stand for."""

    pairs: Sequence[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class Column:
    """Head of a column, its lines joined in plain text; numbers are right-aligned.

    Only cells of a column that ``wraps`` may take two lines, when the terminal is too narrow.
    """

    head: tuple[str, ...]
    number: bool = True
    wraps: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Cells as text; ``strong`` is the row set off in bold, -1 for none."""

    columns: tuple[Column, ...]
    rows: Sequence[tuple[str, ...]]
    strong: int = -1


Block: TypeAlias = Heading | Paragraph | Items | Pairs | Table


def print_blocks(blocks: Sequence[Block], console: Console) -> None:
    """Print blocks on a console: for the eye on a terminal, plain text elsewhere.

    A terminal that says it is narrower than :data:`NARROWEST` is taken as :data:`USUAL`.
    """
    if console.is_terminal:
        if console.width < NARROWEST:
            console.width = USUAL
        for block in blocks:
            _print(block, console)
    else:
        console.out(plain_text(blocks), highlight=False, end="")


def _print(block: Block, console: Console) -> None:
    """Print one block; of a table too wide for the terminal every cell gets its line."""
    room = min(console.width, WIDEST)
    if not isinstance(block, Table):
        console.print(_terminal(block), width=room, highlight=False)
        return
    widths = _widths(block, room)
    if sum(widths) + GAP * (len(widths) - 1) > room:
        for style, label, cell in _cells(block):
            console.print(_grid([(label, cell)], style), width=room, highlight=False)
    else:
        console.print(_table(block, widths), width=room, highlight=False)


def _cells(block: Table) -> Iterator[tuple[str, str, str]]:
    """Style, head and text of every cell that says something, rows after each other."""
    for index, row in enumerate(block.rows):
        style = "bold" if index == block.strong else ""
        for k, (column, cell) in enumerate(zip(block.columns, row, strict=True)):
            if cell:
                yield style, ("  " if k else "") + " ".join(column.head), cell


def plain_text(blocks: Sequence[Block]) -> str:
    """Blocks as plain text, lines whole."""
    return "".join(f"{line.rstrip()}\n" for block in blocks for line in _plain(block))


def _clean(text: str) -> str:
    """Text without control characters, which a title could carry to the terminal."""
    return "".join(c if c.isprintable() else " " for c in text)


def _terminal(block: Heading | Paragraph | Items | Pairs) -> RenderableType:
    if isinstance(block, Heading):
        return Group(Text(), Text(_clean(block.text), "bold underline"))
    if isinstance(block, Paragraph):
        return Text(_clean(block.text), block.style, overflow="fold")
    if isinstance(block, Items):
        return _grid([("-", item) for item in block.items])
    return _grid(block.pairs)


def _grid(pairs: Sequence[tuple[str, str]], style: str = "") -> RichTable:
    grid = RichTable.grid(padding=(0, GAP, 0, 0))
    grid.add_column(no_wrap=True)
    grid.add_column(overflow="fold")
    for pair in pairs:
        grid.add_row(*(Text(_clean(text)) for text in pair), style=style)
    return grid


def _widths(block: Table, room: int) -> list[int]:
    """Width of each column: that of its longest cell; wrapping ones give way, widest first."""
    widths, least = [], []
    for k, column in enumerate(block.columns):
        lines = [*column.head, *(_clean(row[k]) for row in block.rows)]
        word = max((cell_len(word) for line in lines for word in line.split()), default=0)
        widths.append(max(map(cell_len, lines)))
        least.append(min(word, LONGEST_WORD) if column.wraps else widths[k])
    over = sum(widths) + GAP * (len(widths) - 1) - room
    for _ in range(over):
        k = max(range(len(widths)), key=lambda k: widths[k] if widths[k] > least[k] else 0)
        widths[k] -= widths[k] > least[k]
    return widths


def _table(block: Table, widths: Sequence[int]) -> RichTable:
    table = RichTable(box=None, padding=(0, GAP // 2), pad_edge=False, header_style="italic")
    for column, width in zip(block.columns, widths, strict=True):
        table.add_column(
            Text("\n".join(column.head)),
            justify="right" if column.number else "left",
            width=width,
            overflow="fold",
        )
    for index, row in enumerate(block.rows):
        style = "bold" if index == block.strong else None
        table.add_row(*(Text(_clean(cell)) for cell in row), style=style)
    return table


def _plain(block: Block) -> Iterator[str]:
    if isinstance(block, Heading):
        yield ""
        yield _clean(block.text)
    elif isinstance(block, Paragraph):
        yield _clean(block.text)
    elif isinstance(block, Items):
        yield from (f"- {_clean(item)}" for item in block.items)
    elif isinstance(block, Pairs):
        wide = max(len(label) for label, _ in block.pairs)
        yield from (f"{label:<{wide}}  {_clean(text)}" for label, text in block.pairs)
    else:
        yield from _plain_table(block)


def _plain_table(block: Table) -> Iterator[str]:
    heads = tuple(" ".join(column.head) for column in block.columns)
    lines = [heads, *(tuple(_clean(cell) for cell in row) for row in block.rows)]
    wide = [max(len(line[k]) for line in lines) for k in range(len(heads))]
    for line in lines:
        cells = (
            text.rjust(width) if column.number else text.ljust(width)
            for text, width, column in zip(line, wide, block.columns, strict=True)
        )
        yield (GAP * " ").join(cells)
