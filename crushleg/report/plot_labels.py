"""Text of the figures: its size on paper, and places where labels do not overlap.

Sizes and places are in millimetres of paper.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from matplotlib.font_manager import FontProperties, findfont, get_font
from matplotlib.textpath import TextToPath

from crushleg.report.style import FAMILY, HAIR, INCH, INK, LEADING, POINT, SIZE, SMALL, SOLID, SPOT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes

    from crushleg.arrays import FloatArray

STEP, NEAR, RIM = 0.4, 1.2, 0.4
SIDES = ((0, 1), (1, 0), (0, -1), (1, 1), (1, -1), (-1, 1), (-1, -1), (-1, 0))
"""Where a label may stand from its point, the first the best."""
BOX = np.array([(-1, 0), (1, 0), (1, 1), (-1, 1), (-1, -1), (1, -1), (1, 0)])
MARK = 0.7 * np.array([(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1)])
"""What a marker covers around its point."""


class Label(NamedTuple):
    """Text for the right margin, wanted beside the value ``at`` (of the y axis).

    ``face`` is the filling of its marker, its colour if left out.
    """

    at: float
    text: str
    colour: str = INK
    marker: str = ""
    face: str = ""


@cache
def _drawable() -> frozenset[int]:
    return frozenset(get_font(findfont(FontProperties(family=FAMILY))).get_charmap())


def clean(text: str) -> str:
    """One line of text; a character that the figure's font does not have becomes a box."""
    line = " ".join(text.split())
    return "".join(c if ord(c) in _drawable() else "\u25a1" for c in line)


@cache
def width_of(text: str, *, size: float = SIZE, bold: bool = False) -> float:
    """Width of one line of text on paper [mm]."""
    font = FontProperties(family=FAMILY, weight="bold" if bold else "normal", size=size)
    return TextToPath().get_text_width_height_descent(text, font, ismath=False)[0] * POINT


def fitted(
    text: str, room: float, *, size: float = SIZE, lines: int = 2, bold: bool = False
) -> str:
    """Text broken into at most so many lines of ``room`` mm, the rest cut with an ellipsis."""
    done: list[str] = []
    line = ""
    for word in clean(text).split():
        longer = f"{line} {word}".strip()
        if line and width_of(longer, size=size, bold=bold) > room:
            done.append(line)
            longer = word
        line = longer
    done.append(line)
    kept = done[:lines]
    if len(done) > lines:
        kept[-1] += " …"
    return "\n".join(_cut(one, room, size=size, bold=bold) for one in kept)


def _cut(line: str, room: float, *, size: float, bold: bool) -> str:
    if width_of(line, size=size, bold=bold) <= room:
        return line
    kept = line.removesuffix(" …")
    while kept and width_of(f"{kept}…", size=size, bold=bold) > room:
        kept = kept[:-1]
    return f"{kept}…"


def height_of(text: str, size: float = SIZE) -> float:
    """Height that text takes on paper, with the gap to its neighbour [mm]."""
    return (text.count("\n") + 1) * size * POINT * LEADING + 0.4


def spread(
    wanted: Sequence[float], heights: Sequence[float], low: float, high: float
) -> list[float]:
    """Middles of labels that do not overlap, as near as can be to where they are wanted.

    Least squares in the order wanted (pool adjacent violators), then moved into low..high.

    >>> spread([1.0, 1.0, 9.0], [2.0, 2.0, 2.0], 0.0, 10.0)
    [1.0, 3.0, 9.0]
    """
    order = np.argsort(wanted, kind="stable")
    tall = np.asarray(heights)[order]
    below = np.concatenate([[0.0], np.cumsum(0.5 * (tall[1:] + tall[:-1]))])
    pools: list[list[float]] = []
    for target in np.asarray(wanted)[order] - below:
        pools.append([float(target), 1.0])
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            mean, count = pools.pop()
            before, many = pools[-1]
            pools[-1] = [(mean * count + before * many) / (count + many), count + many]
    free = np.concatenate([np.full(int(count), mean) for mean, count in pools])
    inside = np.clip(free, low + 0.5 * tall[0], high - 0.5 * tall[-1] - below[-1])
    found = np.empty(len(order))
    found[order] = inside + below
    return [float(y) for y in found]


def margin_labels(axes: Axes, labels: Sequence[Label], room: float, size: float = SMALL) -> None:
    """Write labels into the margin right of the axes, each led to its value.

    Parameters
    ----------
    axes : Axes
        With its limits set.
    labels : sequence of Label
    room : float
        Width of the margin [mm].
    size : float, optional
        Type size [points].
    """
    width, height = paper_size(axes)
    bottom, top = axes.get_ylim()
    texts = [fitted_lines(label.text, room - 8.5, size) for label in labels]
    at = [height * (label.at - bottom) / (top - bottom) for label in labels]
    tall = [height_of(text, size) for text in texts]
    middles = spread(at, tall, -2.0, height + 2.0)
    for label, text, wanted, middle in zip(labels, texts, at, middles, strict=True):
        ends = [1.0 + 0.7 / width, 1.0 + 3.2 / width]
        axes.plot(
            ends,
            [wanted / height, middle / height],
            transform=axes.transAxes,
            clip_on=False,
            color=label.colour,
            linewidth=HAIR,
            linestyle=SOLID,
            gid="leader",
        )
        if label.marker:
            axes.plot(
                ends[1],
                middle / height,
                label.marker,
                transform=axes.transAxes,
                clip_on=False,
                color=label.colour,
                markerfacecolor=label.face or label.colour,
                markersize=SPOT,
                gid="key",
            )
        axes.text(
            1.0 + (5.0 if label.marker else 4.0) / width,
            middle / height,
            text,
            transform=axes.transAxes,
            fontsize=size,
            color=label.colour,
            va="center",
            linespacing=LEADING,
        )


def fitted_lines(text: str, room: float, size: float) -> str:
    """Every line of a text fitted into three of ``room`` mm."""
    return "\n".join(fitted(line, room, size=size, lines=3) for line in text.split("\n"))


def paper_size(axes: Axes) -> tuple[float, float]:
    """Width and height of axes on paper [mm]."""
    figure = axes.get_figure(root=True)
    across, up = figure.get_size_inches() * INCH if figure is not None else (0.0, 0.0)
    box = axes.get_position()
    return float(box.width * across), float(box.height * up)


def clear_spots(
    points: FloatArray,
    texts: Sequence[str],
    lines: Sequence[FloatArray],
    room: FloatArray,
    markers: FloatArray,
) -> list[FloatArray]:
    """Middles of labels beside their points, where they cover least of the lines.

    Parameters
    ----------
    points : ndarray
        Shape (K, 2).
    texts : sequence of str
    lines : sequence of ndarray
        Shape (n, 2) each.
    room : ndarray
        Width and height to stay in, shape (2,).
    markers : ndarray
        Points with a marker, shape (M, 2).

    Returns
    -------
    list of ndarray
        Shape (2,) each; no marker is covered if it can be helped, and a label counts
        as a line for those after it.
    """
    marks = markers[:, None, :] + MARK
    taken = [*map(_dotted, lines), np.repeat(marks.reshape(-1, 2), 50, axis=0)]
    found = []
    for point, text in zip(points, texts, strict=True):
        wide = max(width_of(line, size=SMALL) for line in text.split("\n"))
        half = 0.5 * np.array([wide, height_of(text, SMALL)]) + RIM
        spots = [point + (half + NEAR) * side for side in SIDES]
        dots = np.concatenate(taken)
        cost = [
            int((np.abs(dots - spot) < half).all(axis=1).sum())
            + 10_000 * bool((spot + half > room).any() or (spot < half).any())
            for spot in spots
        ]
        best = spots[int(np.argmin(cost))]
        found.append(best)
        across = best + half * BOX
        taken.append(np.repeat(_dotted(across), 50, axis=0))
    return found


def _dotted(line: FloatArray) -> FloatArray:
    """Points along a line of straight pieces, evenly spaced."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    at = np.arange(0.0, along[-1] + STEP, STEP)
    return np.column_stack([np.interp(at, along, line[:, 0]), np.interp(at, along, line[:, 1])])
