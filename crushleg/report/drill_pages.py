"""Pages on which a drilling layout is tiled: paper, windows, names, and what reaches into them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from crushleg.errors import InputError, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.report.drill_layout import Layout, Line, Outline

PAPERS = {"a4": (210.0, 297.0), "a3": (297.0, 420.0), "letter": (215.9, 279.4)}
"""Width and height upright [mm]: ISO 216, and ANSI/ASME Y14.1 size A (8 1/2 in × 11 in)."""
RIM, STRIP = 10.0, 14.0
"""Margin that printers leave white, and the strip for page name and scale bar [mm]."""
OVERLAP = 12.0
MOST_PAGES = 400


class Tile(NamedTuple):
    """One page: name, column and row of the grid from the top left, drawing at its lower left."""

    name: str
    column: int
    row: int
    x: float
    y: float


class Grid(NamedTuple):
    """Pages of one layout [mm]: size of the page, of the window on the drawing, and the tiles."""

    page: tuple[float, float]
    window: tuple[float, float]
    columns: int
    rows: int

    def tiles(self) -> Iterator[Tile]:
        """Pages row by row from the top left."""
        across, up = (size - OVERLAP for size in self.window)
        for row in range(self.rows):
            for column in range(self.columns):
                name = f"{column_name(column)}{row + 1}"
                yield Tile(name, column, row, column * across, (self.rows - 1 - row) * up)


def column_name(column: int) -> str:
    """Letters of a column from 0 on.

    >>> column_name(0), column_name(25), column_name(26)
    ('A', 'Z', 'AA')
    """
    before = column_name(column // 26 - 1) if column >= 26 else ""
    return before + chr(ord("A") + column % 26)


def grid_of(layout: Layout, paper: str) -> Grid:
    """Pages for a layout, upright or lying, whichever takes fewer.

    Raises
    ------
    InputError
        More than :data:`MOST_PAGES`.
    """
    upright = PAPERS[paper]
    found = [_grid(layout, page) for page in (upright, upright[::-1])]
    best = min(found, key=lambda grid: grid.columns * grid.rows)
    pages = best.columns * best.rows
    if pages > MOST_PAGES:
        read = f"a layout of {pages} pages on {paper} paper at true scale"
        write = "--paper a3, or --paper none and the SVG on a plotter"
        raise InputError([Problem(read=read, write=write)])
    return best


def _grid(layout: Layout, page: tuple[float, float]) -> Grid:
    window = (page[0] - 2.0 * RIM, page[1] - 2.0 * RIM - STRIP)
    columns, rows = (
        max(1, math.ceil((size - OVERLAP) / (room - OVERLAP) - 1e-9))
        for size, room in zip((layout.width, layout.height), window, strict=True)
    )
    return Grid(page, window, columns, rows)


def reaches(line: Line, tile: Tile, grid: Grid) -> bool:
    """Whether a line along an axis, or its box, meets the window."""
    across = max(line.x1, line.x2) >= tile.x and min(line.x1, line.x2) <= tile.x + grid.window[0]
    up = max(line.y1, line.y2) >= tile.y and min(line.y1, line.y2) <= tile.y + grid.window[1]
    return across and up


def lies_in(one: Outline, tile: Tile, grid: Grid) -> bool:
    """Whether the box of a hole meets the window."""
    across = abs(one.x - tile.x - 0.5 * grid.window[0])
    up = abs(one.y - tile.y - 0.5 * grid.window[1])
    half = 5e2 * one.hole.size, 5e2 * one.hole.along
    return across <= half[0] + 0.5 * grid.window[0] and up <= half[1] + 0.5 * grid.window[1]
