"""Axial load of every leg and strokes of all against time, one landing in motion."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from crushleg.report.plot_labels import (
    Label,
    fitted,
    height_of,
    margin_labels,
    paper_size,
    width_of,
)
from crushleg.report.plot_land_axes import (
    OVER,
    Axis,
    framed,
    load_axis,
    stroke_axis,
    time_axis,
)
from crushleg.report.plot_land_legs import Alike, column_line, groups, main_column
from crushleg.report.plot_sheet import FOOT, PAGE, place, put, sheet
from crushleg.report.style import (
    FIRM,
    INK,
    LEADING,
    LIMIT,
    LIMITED,
    MARKERS,
    SMALL,
    SOFT,
    SPOT,
    THIN,
    number,
    quantity,
    scaled,
    styled,
    way,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.land import Move, Moving

LEFT, RIGHT, LOW, BETWEEN, APART, KEY = 17.0, 46.0, 10.0, 2.5, 6.0, 6.0
STROKES, LEAST_STRIP, MOST_STRIP, STRIPS = 58.0, 11.0, 27.0, 110.0
"""Heights: of the strokes, of a strip at least and at most, of all strips together [mm]."""
OTHERS = 16.0
"""Room for the labels of limits and of other columns beside the strokes [mm]."""
TICK = 5.0
"""Least height of a strip for each of its ticks [mm]."""


def land_time_figure(moving: Moving, move: Move, system: str = "si") -> Figure:
    """Axial load of every leg, a strip each, and strokes of all below, until the crush is over.

    Parameters
    ----------
    moving : Moving
    move : Move
        One of its landings.
    system : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    Figure
        Legs that do the same share a strip. Strokes are those of the main column, with the other
        columns of the most crushed leg.
    """
    with styled():
        alike = groups(moving.checked.case, move)
        time, load = time_axis(move, system), load_axis(moving, move, system)
        stroke = stroke_axis(moving, move, system)
        strip = float(np.clip(STRIPS / len(alike), LEAST_STRIP, MOST_STRIP))
        strokes = max(STROKES, len(alike) * height_of("name\nstroke", SMALL) + OTHERS)
        bottom = LOW + strokes + APART
        above = len(alike) * (strip + BETWEEN) + KEY
        what = f"{move.name}: axial load and stroke of every leg against time"
        figure = sheet(moving.checked, what, bottom + above, _note(move, load, stroke))
        for k, group in enumerate(reversed(alike)):
            at = bottom + k * (strip + BETWEEN)
            axes = place(figure, LEFT, at, PAGE - LEFT - RIGHT, strip)
            _strip(axes, move, group, time, load)
        _key(axes, move, load)
        _beside_strips(figure, f"Axial load ({load.unit})", FOOT + bottom + 0.5 * (above - KEY))
        axes = place(figure, LEFT, LOW, PAGE - LEFT - RIGHT, strokes)
        _strokes(axes, move, alike, time, stroke)
    return figure


def _note(move: Move, load: Axis, stroke: Axis) -> str:
    """How each column ends, where the time axis ends, and which limits are off the axes."""
    end = f"Time axis: until {100.0 * OVER:g} % of the crush is over."
    return " ".join(part for part in (ending(move), end, load.far, stroke.far) if part)


def ending(move: Move) -> str:
    """Outcome of every column, and when it was at rest."""
    outcome = move.outcome
    names = [name for name, _ in move.plan.columns]
    ends = list(zip(names, outcome.word, strict=True))
    said = [
        f"{word} ({', '.join(name for name, end in ends if end == word)})"
        for word in dict.fromkeys(outcome.word)
    ]
    if len(said) == 1:
        said = [outcome.word[0]]
    state = "at rest" if outcome.rested.all() else "ended"
    times = " / ".join(f"{time:.2f}" for time in outcome.time)
    return f"{', '.join(said).capitalize()}; {state} after {times} s ({' / '.join(names)})."


def _beside_strips(figure: Figure, text: str, middle: float) -> None:
    """Name the load axis of all strips, once."""
    put(figure, 4.0, middle, text, rotation=90, va="center", ha="left", gid="load axis")


def _strip(axes: Axes, move: Move, group: Alike, time: Axis, load: Axis) -> None:
    """Load of one leg of a group in every column, with its contact and its numbers."""
    leg, main = group.legs[0], main_column(move)
    framed(axes, time, load, max(2, int(paper_size(axes)[1] / TICK)))
    axes.tick_params(labelbottom=False)
    axes.grid(axis="y")
    for k in sorted(range(len(move.histories)), key=lambda k: k == main):
        history, label = move.histories[k], move.plan.columns[k][0]
        t, f = scaled(history.time, time.unit), scaled(history.strut[:, leg], load.unit)
        width = FIRM if k == main else THIN
        axes.plot(t, f, gid=label, **(column_line(label) | {"linewidth": width}))
    contact = float(move.outcome.contact[main, leg])
    if contact <= time.end:
        at = float(scaled(contact, time.unit))
        axes.plot(at, 0.0, "^", color=INK, markersize=SPOT, clip_on=False, zorder=6, gid="contact")
    _numbers(axes, move, group, time, load)


def _numbers(axes: Axes, move: Move, group: Alike, time: Axis, load: Axis) -> None:
    """Name of the group, its contact and its peaks, right of a strip."""
    leg, outcome = group.legs[0], move.outcome
    touched = outcome.contact[main_column(move)]
    contact = float(touched[leg] - np.nanmin(touched))
    peaks = ", ".join(number(float(peak), load.unit) for peak in outcome.axial[:, leg])
    lines = [
        "never loaded" if np.isnan(contact) else f"▲ contact {_soon(contact, time)}",
        f"peak {peaks} {load.unit}",
    ]
    labels = [label for label, _ in move.plan.columns]
    hard = [label for label, bad in zip(labels, outcome.bottomed[:, leg], strict=True) if bad]
    if hard:
        off = "; off the scale" if outcome.axial[:, leg].max() > load.end else ""
        lines.append(f"BOTTOMS ({', '.join(hard)}){off}")
    name = fitted(group.name, RIGHT - 5.0, size=SMALL, bold=True)
    below = "\n".join(fitted(line, RIGHT - 5.0, size=SMALL) for line in lines)
    wide, tall = paper_size(axes)
    top = 0.5 + 0.5 * (height_of(name, SMALL) + height_of(below, SMALL)) / tall
    how: dict[str, Any] = {"transform": axes.transAxes, "fontsize": SMALL, "va": "top"}
    how["linespacing"] = LEADING
    axes.text(1.0 + 2.0 / wide, top, name, weight="bold", gid="leg", **how)
    under = top - height_of(name, SMALL) / tall
    axes.text(1.0 + 2.0 / wide, under, below, color=SOFT, gid="numbers", **how)


def _soon(contact: float, time: Axis) -> str:
    """Time of contact, to a thousandth of the axis."""
    step = 10.0 ** np.floor(np.log10(1e-3 * time.end))
    return quantity(float(step * np.round(contact / step)), time.unit)


def _key(axes: Axes, move: Move, load: Axis) -> None:
    """Name the lines of the strips, over the first of them."""
    wide, tall = paper_size(axes)
    y, at = 1.0 + 3.0 / tall, 0.0
    names = [(name, column_line(name)) for name, _ in move.plan.columns]
    names += [(f"{name} {quantity(value, load.unit)}", LIMITED) for value, name in load.limits]
    for name, line in names:
        ends = [at / wide, (at + 9.0) / wide]
        axes.plot(ends, [y, y], transform=axes.transAxes, clip_on=False, gid="key", **line)
        how: dict[str, Any] = {"transform": axes.transAxes, "fontsize": SMALL, "va": "center"}
        axes.text((at + 10.5) / wide, y, name, **how)
        at += 14.0 + width_of(name, size=SMALL)


def _strokes(axes: Axes, move: Move, alike: Sequence[Alike], time: Axis, stroke: Axis) -> None:
    """Strokes of all groups in the main column; of the most crushed also in the others."""
    framed(axes, time, stroke)
    axes.set_xlabel(f"Time since contact ({time.unit})")
    axes.set_ylabel(f"Stroke, crush and elastic ({stroke.unit})")
    main = main_column(move)
    labels = [
        Label(float(scaled(value, stroke.unit)), f"{name}\n{quantity(value, stroke.unit)}", LIMIT)
        for value, name in stroke.limits
    ]
    most = max(alike, key=lambda g: float(move.outcome.stroke[:, g.legs[0]].max())).legs[0]
    for k, group in enumerate(alike):
        leg, mark = group.legs[0], MARKERS[k % len(MARKERS)]
        label = f"{group.name}\n{quantity(_at(move, main, leg, time.end), stroke.unit)}"
        end = _line(axes, move, (main, leg), (time, stroke), group.name, way(k), mark)
        labels.append(Label(end, label, str(way(k)["color"]), mark))
    for column, (name, _) in enumerate(move.plan.columns):
        if column != main:
            thin = column_line(name)
            end = _line(axes, move, (column, most), (time, stroke), name, thin)
            value = quantity(_at(move, column, most, time.end), stroke.unit)
            labels.append(Label(end, f"leg {most + 1}, {name}: {value}", str(thin["color"])))
    margin_labels(axes, labels, RIGHT)


def _at(move: Move, column: int, leg: int, time: float) -> float:
    """Stroke of a leg at a time [m]."""
    history = move.histories[column]
    return float(np.interp(time, history.time, history.travel[:, leg]))


def _line(
    axes: Axes,
    move: Move,
    what: tuple[int, int],
    ends: tuple[Axis, Axis],
    name: str,
    line: dict[str, Any],
    mark: str = "",
) -> float:
    """Draw the stroke of a column and leg; return where it leaves the axes."""
    column, leg = what
    time, stroke = ends
    history = move.histories[column]
    t, x = scaled(history.time, time.unit), scaled(history.travel[:, leg], stroke.unit)
    shown = np.flatnonzero(history.time <= time.end)
    every = max(1, len(shown) // 6)
    axes.plot(
        t, x, marker=mark or None, markersize=SPOT, markevery=(every // 2, every), gid=name, **line
    )  # fmt: skip
    return float(scaled(_at(move, column, leg, time.end), stroke.unit))
