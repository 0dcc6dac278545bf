"""The drilling layout as PDF, tiled on pages at true scale.

Neighbouring pages overlap; the registration crosses of one lie on those of the next. Every page
has its place in the grid and a scale bar to measure.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import numpy as np
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.collections import LineCollection, PathCollection
from matplotlib.figure import Figure
from matplotlib.path import Path
from matplotlib.transforms import Affine2D

from crushleg.report.drill_layout import bar
from crushleg.report.drill_pages import OVERLAP, RIM, STRIP, grid_of, lies_in, reaches
from crushleg.report.plot_labels import fitted
from crushleg.report.style import (
    BAR,
    BROKEN,
    FAINT,
    FINE,
    FIRM,
    HAIR,
    INCH,
    INK,
    LONG,
    PLACE,
    SIZE,
    SOFT,
    SOLID,
    THIN,
    styled,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from crushleg.report.drill_layout import Layout, Line, Outline
    from crushleg.report.drill_pages import Grid, Tile

MARK, RING = 4.0, 2.2
"""Half length of a registration cross, and radius of its ring [mm]."""
NAMED = 88.0
"""Room for grid, input and revision beside the name of the page [mm]."""
LINES = {
    "edge": (FINE, INK, SOLID),
    "foot": (BAR, INK, SOLID),
    "bend": (FINE, SOFT, BROKEN),
    "step": (FINE, SOFT, LONG),
    "centre": (HAIR, SOFT, SOLID),
    "leader": (HAIR, SOFT, SOLID),
    "bar": (FINE, INK, SOLID),
}
"""Width [points], colour and dashes of every kind of line."""


def pdf(layout: Layout, title: str, stamp: str, paper: str, system: str = "si") -> bytes:
    """PDF of a layout, one page per tile.

    Parameters
    ----------
    layout : Layout
    title : str
    stamp : str
        Input and revision, for every page: pages of two revisions must not be mixed.
    paper : str
        A key of :data:`crushleg.report.drill_pages.PAPERS`.
    system : str, optional
        Units of the scale bar, "si" or "us".

    Returns
    -------
    bytes

    Raises
    ------
    InputError
        Too many pages.
    """
    grid = grid_of(layout, paper)
    buffer = io.BytesIO()
    about = {"CreationDate": None, "Title": title}
    with styled(), PdfPages(buffer, metadata=about) as pages:
        for tile in grid.tiles():
            pages.savefig(_page(layout, grid, tile, (title, stamp), system))
    return buffer.getvalue()


def _page(layout: Layout, grid: Grid, tile: Tile, names: tuple[str, str], system: str) -> Figure:
    """Draw one tile: its window on the drawing, crosses, name, revision and scale bar."""
    wide, tall = grid.page
    figure = Figure(figsize=(wide / INCH, tall / INCH))
    figure.patch.set_visible(False)
    window = _axes(figure, grid.page, (RIM, RIM + STRIP, *grid.window))
    window.set(xlim=(tile.x, tile.x + grid.window[0]), ylim=(tile.y, tile.y + grid.window[1]))
    _lines(window, [line for line in layout.lines if reaches(line, tile, grid)])
    _holes(window, [one for one in layout.holes if lies_in(one, tile, grid)])
    _words(window, layout, tile, grid)
    _crosses(window, tile, grid)
    strip = _axes(figure, grid.page, (0.0, 0.0, wide, RIM + STRIP))
    strip.set(xlim=(0.0, wide), ylim=(0.0, RIM + STRIP))
    lines, text = bar(RIM + 2.0, RIM, system)
    _lines(strip, lines)
    strip.text(text.x, text.y, text.text, fontsize=text.size)
    title, stamp = names
    size = f"{grid.columns} × {grid.rows} pages, A1 at the top left · {stamp}"
    strip.text(RIM + 2.0, RIM + 6.0, tile.name, fontsize=PLACE, weight="bold")
    strip.text(RIM + 16.0, RIM + 6.0, fitted(size, NAMED, size=SIZE, lines=1), fontsize=SIZE)
    about = fitted(title, wide - 2.0 * RIM - NAMED - 20.0, size=SIZE, lines=1)
    strip.text(wide - RIM - 2.0, RIM + 6.0, about, fontsize=SIZE, ha="right")
    return figure


def _axes(
    figure: Figure, page: tuple[float, float], box: tuple[float, float, float, float]
) -> Axes:
    """Axes over a box of the page [mm], whose units will be millimetres."""
    x, y, width, height = box
    wide, tall = page
    axes = figure.add_axes((x / wide, y / tall, width / wide, height / tall))
    axes.set_axis_off()
    return axes


def _lines(axes: Axes, lines: list[Line]) -> None:
    for kind in dict.fromkeys(line.kind for line in lines):
        width, colour, dashes = LINES[kind]
        ends = [[(one.x1, one.y1), (one.x2, one.y2)] for one in lines if one.kind == kind]
        axes.add_collection(
            LineCollection(ends, linewidths=width, colors=colour, linestyles=[dashes]),
            autolim=False,
        )


def _holes(axes: Axes, holes: list[Outline]) -> None:
    paths = [hole_path(one) for one in holes]
    axes.add_collection(
        PathCollection(paths, facecolors="none", edgecolors=INK, linewidths=FIRM),
        autolim=False,
    )


def hole_path(one: Outline) -> Path:
    """Outline of a hole on the sheet [mm]."""
    hole = one.hole
    size, along, r = 1e3 * hole.size, 1e3 * hole.along, 1e3 * hole.radius
    place = Affine2D().translate(one.x, one.y)
    if hole.round:
        return Path.unit_circle().transformed(Affine2D().scale(r) + place)
    if not r:
        box = Affine2D().translate(-0.5, -0.5).scale(size, along)
        return Path.unit_rectangle().transformed(box + place)
    half = 0.5 * abs(along - size)
    turn = Affine2D() if along >= size else Affine2D().rotate_deg(90.0)
    upper = Path.arc(0.0, 180.0).transformed(Affine2D().scale(r).translate(0.0, half))
    lower = Path.arc(180.0, 360.0).transformed(Affine2D().scale(r).translate(0.0, -half))
    ends = Path.make_compound_path(upper, lower)
    points, codes = np.asarray(ends.vertices), np.array(ends.codes)
    codes[len(points) // 2] = Path.LINETO
    closed = np.append(points, points[:1], axis=0), np.append(codes, Path.CLOSEPOLY)
    return Path(*closed).transformed(turn + place)


def _words(axes: Axes, layout: Layout, tile: Tile, grid: Grid) -> None:
    """Texts that reach into the window, cut at its edge."""
    across = {"start": "left", "middle": "center", "end": "right"}
    low, high = tile.y - 5.0, tile.y + grid.window[1] + 5.0
    for words in layout.words:
        if low <= words.y <= high:
            axes.text(
                words.x,
                words.y,
                words.text,
                fontsize=words.size,
                weight="bold" if words.bold else "normal",
                ha=across[words.anchor],
                va="baseline",
                clip_on=True,
            )


def _crosses(axes: Axes, tile: Tile, grid: Grid) -> None:
    """Registration crosses in rings in the middle of the overlaps, and the edge of the window."""
    half = 0.5 * OVERLAP
    width, height = grid.window
    ends = []
    for x in (tile.x + half, tile.x + width - half):
        for y in (tile.y + half, tile.y + height - half):
            ends += [[(x - MARK, y), (x + MARK, y)], [(x, y - MARK), (x, y + MARK)]]
    axes.add_collection(LineCollection(ends, linewidths=THIN, colors=INK), autolim=False)
    rings = [
        Path.unit_circle().transformed(Affine2D().scale(RING).translate(x, y))
        for x in (tile.x + half, tile.x + width - half)
        for y in (tile.y + half, tile.y + height - half)
    ]
    axes.add_collection(
        PathCollection(rings, facecolors="none", edgecolors=INK, linewidths=THIN), autolim=False
    )
    x, y = tile.x, tile.y
    frame = [[(x, y), (x + width, y), (x + width, y + height), (x, y + height), (x, y)]]
    axes.add_collection(LineCollection(frame, linewidths=HAIR, colors=FAINT), autolim=False)
