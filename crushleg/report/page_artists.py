"""What stands on a sheet of paper: a whole figure at a place, and lines of text.

Places are in inches from the lower left corner.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from matplotlib.artist import Artist

from crushleg.report.style import INK

if TYPE_CHECKING:
    from matplotlib.backend_bases import RendererBase
    from matplotlib.figure import Figure
    from matplotlib.font_manager import FontProperties


class Placed(Artist):
    """A whole figure at a place of another one: left and lower edge [inches]."""

    def __init__(self, drawn: Figure, left: float, low: float) -> None:
        super().__init__()
        self.drawn, self.left, self.low = drawn, left, low

    def draw(self, renderer: RendererBase) -> None:
        """Draw the figure where it is placed, and leave it as it was."""
        figure = self.get_figure(root=True)
        assert figure is not None
        box, dots = self.drawn.bbox_inches, self.drawn.dpi
        before = box.get_points().copy()
        self.drawn.dpi = figure.dpi
        box.set_points(before + np.array([self.left, self.low]))
        try:
            self.drawn.draw(renderer)
        finally:
            box.set_points(before)
            self.drawn.dpi = dots


class Line(NamedTuple):
    """One line of text: start of its baseline from the lower left corner [inches], type."""

    x: float
    y: float
    text: str
    font: FontProperties


class Lines(Artist):
    """All lines of a sheet; without the search for their boxes they are drawn in half the time."""

    def __init__(self) -> None:
        super().__init__()
        self.held: list[Line] = []

    def draw(self, renderer: RendererBase) -> None:
        """Draw them in ink."""
        figure = self.get_figure(root=True)
        assert figure is not None
        pen = renderer.new_gc()
        pen.set_foreground(INK)
        for line in self.held:
            x, y = line.x * figure.dpi, line.y * figure.dpi
            renderer.draw_text(pen, x, y, line.text, line.font, 0.0)
        pen.restore()
