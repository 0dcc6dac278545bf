"""Strokes and loads of all landings in motion against their limits."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from matplotlib.ticker import MaxNLocator

from crushleg.report.plot_labels import fitted, fitted_lines, height_of, paper_size, width_of
from crushleg.report.plot_land_axes import load_limits, stroke_limits
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.style import (
    BOLD,
    FINE,
    INK,
    LEVELS,
    LIMIT,
    SMALL,
    SOFT,
    STROKE,
    WHITE,
    halo,
    marker_face,
    number,
    plain_ticks,
    scaled,
    styled,
    unit_for,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import FloatArray
    from crushleg.land import Move, Moving

LEFT, RIGHT, BETWEEN, LOW, ABOVE = 44.0, 31.0, 6.0, 10.0, 5.0
LEAST_ROW, GAP, TICKS = 5.5, 1.6, 5
OFF_SCALE = 1.6
"""What goes beyond so many times the largest limit is drawn at the edge, with its value."""


class Panel(NamedTuple):
    """One quantity of every landing: name, dimension, values and limit of each [SI]."""

    name: str
    dimension: str
    values: tuple[FloatArray, ...]
    limits: tuple[float | None, ...]


def overview_figure(moving: Moving, system: str = "si") -> Figure:
    """Largest stroke and axial load of any leg in every landing, against the limits.

    Parameters
    ----------
    moving : Moving
    system : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    Figure
        Low, nominal and high of each landing on a line; a tick for the limit of each; outcomes
        in words on the right.
    """
    with styled():
        names = [fitted(move.name, LEFT - 5.0, size=SMALL) for move in moving.moves]
        words = [fitted_lines("\n".join(_words(move)), RIGHT - 5.0, SMALL) for move in moving.moves]
        rows = [
            max(LEAST_ROW, height_of(name, SMALL) + GAP, height_of(word, SMALL) + GAP)
            for name, word in zip(names, words, strict=True)
        ]
        tall = sum(rows)
        note = "The most crushed and the most loaded leg of each landing, with its outcome."
        figure = sheet(moving.checked, "All landings in motion", LOW + tall + ABOVE, note)
        at = tall - np.cumsum(rows) + 0.5 * np.array(rows)
        wide = 0.5 * (PAGE - LEFT - RIGHT - BETWEEN)
        for k, panel in enumerate((strokes(moving), loads(moving))):
            axes = place(figure, LEFT + k * (wide + BETWEEN), LOW, wide, tall)
            axes.set_ylim(0.0, tall)
            _panel(axes, moving, panel, at, system)
            axes.set_yticks(at, names if k == 0 else [""] * len(at), fontsize=SMALL)
            axes.tick_params(axis="y", length=0.0)
            if k == 0:
                _key(axes, moving)
        how: dict[str, Any] = {"transform": axes.get_yaxis_transform(), "va": "center"}
        for y, word in zip(at, words, strict=True):
            axes.text(1.0 + 3.0 / wide, y, word, fontsize=SMALL, gid="outcome", **how)
    return figure


def strokes(moving: Moving) -> Panel:
    """Stroke that the most crushed leg needs, in every column of every landing."""
    values = tuple(move.outcome.needed.max(axis=1) for move in moving.moves)
    limit, _ = stroke_limits(moving)[0]
    return Panel("Stroke needed", "length", values, (limit,) * len(values))


def loads(moving: Moving) -> Panel:
    """Axial load of the most loaded leg, in every column of every landing."""
    values = tuple(move.outcome.axial.max(axis=1) for move in moving.moves)
    limits = [load_limits(moving, move) for move in moving.moves]
    known = tuple(one[0][0] if one else None for one in limits)
    return Panel("Axial load", "force", values, known)


def _words(move: Move) -> list[str]:
    """Outcome, once if all columns end alike."""
    words = move.outcome.word
    if len(set(words)) == 1:
        return [words[0]]
    names = [name for name, _ in move.plan.columns]
    return [
        f"{word} ({', '.join(n for n, w in zip(names, words, strict=True) if w == word)})"
        for word in dict.fromkeys(words)
    ]


def _panel(axes: Axes, moving: Moving, panel: Panel, at: FloatArray, system: str) -> None:
    """Dots of every landing and the tick of its limit; far too much stands at the edge."""
    most = max(float(values.max()) for values in panel.values)
    limits = [limit for limit in panel.limits if limit is not None]
    end = 1.1 * (max(*limits, min(most, OFF_SCALE * max(limits))) if limits else most)
    unit = unit_for(np.array(end), panel.dimension, system)
    axes.set_xlim(0.0, float(scaled(end, unit)))
    plain_ticks(axes)
    axes.xaxis.set_major_locator(MaxNLocator(TICKS, steps=[1, 2, 2.5, 5, 10]))
    axes.set_xlabel(f"{panel.name} ({unit})")
    axes.grid(axis="x")
    for y, move, values, limit in zip(at, moving.moves, panel.values, panel.limits, strict=True):
        shown = np.minimum(scaled(values, unit), 0.98 * axes.get_xlim()[1])
        axes.plot(shown, np.full(len(shown), y), color=SOFT, linewidth=FINE, zorder=2.0)
        for x, (label, _) in zip(shown, move.plan.columns, strict=True):
            axes.plot(x, y, zorder=3.0, gid=label, **_mark(label))
        if limit is not None:
            x = float(scaled(limit, unit))
            tick: dict[str, Any] = {"color": LIMIT, "linewidth": BOLD}
            axes.plot([x, x], [y - 1.8, y + 1.8], zorder=2.5, gid="limit", **tick)
        if float(values.max()) > end:
            _beyond(axes, y, f"{number(float(values.max()), unit)} →")


def _beyond(axes: Axes, y: float, text: str) -> None:
    """Value that is off the scale, over its dot at the edge."""
    how: dict[str, Any] = {"ha": "right", "va": "bottom", "fontsize": SMALL, "color": LIMIT}
    axes.text(0.99 * axes.get_xlim()[1], y + 1.2, text, path_effects=halo(), **how)


def _mark(label: str) -> dict[str, Any]:
    """Marker of a column: low, nominal, high as everywhere, open for mixed legs."""
    if label in LEVELS:
        return {"marker": "o", **marker_face(LEVELS.index(label))}
    return {"marker": "s", "color": INK, "markerfacecolor": WHITE}


def _key(axes: Axes, moving: Moving) -> None:
    """Markers of the columns, and the tick of what is allowed, over the first panel."""
    wide, tall = paper_size(axes)
    labels = [*LEVELS, *(label for move in moving.moves for label, _ in move.plan.columns)]
    tick = {"marker": "|", "markersize": STROKE, "markeredgewidth": BOLD, "color": LIMIT}
    keys = [(label, _mark(label)) for label in dict.fromkeys(labels)]
    at, y = 0.0, 1.0 + 2.5 / tall
    for label, mark in [*keys, ("allowed", tick)]:
        how: dict[str, Any] = {"transform": axes.transAxes, "clip_on": False, "linestyle": ""}
        axes.plot((at + 1.0) / wide, y, gid="key", **how, **mark)
        axes.text(
            (at + 3.0) / wide, y, label, transform=axes.transAxes, fontsize=SMALL, va="center"
        )
        at += 8.0 + width_of(label, size=SMALL)
