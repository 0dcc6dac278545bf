"""Nomogram from measured crush to work and speed: rulers under each other, read straight down."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from matplotlib.ticker import MaxNLocator

from crushleg.report.plot_labels import fitted, paper_size, width_of
from crushleg.report.plot_sheet import EDGE, PAGE, place, sheet
from crushleg.report.predict_tables import leg_names, readings_note, speed_unit
from crushleg.report.style import (
    BAR,
    GUIDE,
    INK,
    LEVELS,
    LIMIT,
    LIMITED,
    LINES,
    SMALL,
    SOFT,
    SOLID,
    STROKE,
    THIN,
    grouped,
    halo,
    styled,
)
from crushleg.report.words import common_unit, small_length
from crushleg.trial.predict import back, distinct
from crushleg.units import express, plain

if TYPE_CHECKING:
    from typing import Any

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import FloatArray
    from crushleg.trial.predict import Event, Prediction

POINTS = 801
ROWS = 8
"""Rulers: crush, three of work, three of speed, crush again."""
BARS = 4
"""So many events are drawn as bars."""
LEAST, MINOR = 8.0, 1.2
"""Between numbers, and between ticks [mm]."""
LEFT, RIGHT = 44.0, 5.0
HEIGHT = 68.0
MANY = range(24, 3, -2)
"""Numbers tried on a ruler."""
DROPPED = 2
"""So many of them may lack room."""
PARTS = (1, 2, 5, 10)
RULERS = tuple(line | {"linestyle": SOLID} for line in LINES)
"""Low, nominal, high without dashes, among which ticks would be lost; each has its name."""
FLAT = 1e-6
"""Rise of a ruler that has no numbers: the weight alone crushes the legs to the end."""


def nomogram_figures(prediction: Prediction, system: str = "si") -> dict[str, Figure]:
    """One nomogram for each mass and net weight that is predicted.

    Parameters
    ----------
    prediction : Prediction
    system : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    dict
        nomogram, nomogram-2, ...
    """
    found = {}
    with styled():
        for i, (event, names) in enumerate(distinct(prediction)):
            note = readings_note(event, names, system)
            what = f"Test prediction of {prediction.date.isoformat()}: crush to work and speed"
            figure = sheet(prediction.checked, what, HEIGHT + 4.0, note)
            axes = place(figure, LEFT, 2.0, PAGE - LEFT - RIGHT, HEIGHT)
            draw_nomogram(axes, prediction, event, system)
            found["nomogram" if i == 0 else f"nomogram-{i + 1}"] = figure
    return found


def draw_nomogram(axes: Axes, prediction: Prediction, event: Event, system: str) -> None:
    """Draw the rulers of one event, with bars for all that share its mass.

    Parameters
    ----------
    axes : Axes
        Room for them; labels stand in the margin left of it.
    prediction : Prediction
    event : Event
    system : str
        "si" or "us".
    """
    usable = float(prediction.checked.crush.usable[0])
    found = back(prediction, event, np.linspace(0.0, usable, POINTS))
    length = small_length(system)
    work, speed = common_unit(found.energy.ravel(), "energy", system), speed_unit(system)
    crush = _shown(found.crush, length)
    bars = _bars(prediction, event, length)
    axes.set_xlim(0.0, float(crush[-1]))
    axes.set_ylim(ROWS - 0.6, -0.75 - 0.55 * len(bars))
    axes.set_axis_off()
    across = paper_size(axes)[0] / float(crush[-1])
    numbered = _ruler(axes, 0.0, crush, crush, across, 1)
    for row, level in enumerate(range(3)):
        style = LINES[level]
        _ruler(axes, 1.0 + row, _shown(found.energy[level], work), crush, across, level)
        _ruler(axes, 4.0 + row, _shown(found.speed[level], speed), crush, across, level)
        _name(axes, 1.0 + row, f"work of one leg, {LEVELS[level]} ({work})", style)
        _name(axes, 4.0 + row, f"speed, {LEVELS[level]} ({speed})", style)
    _ruler(axes, 7.0, crush, crush, across, 1)
    for end in (0.0, 7.0):
        _name(axes, end, f"measured crush ({length})", LINES[1])
    for x in numbered:
        axes.plot([x, x], [0.0, 7.0], zorder=0, **GUIDE)
    _limit(axes, float(_shown(np.asarray(prediction.rejects.crush), length)))
    for i, (name, ends) in enumerate(bars):
        _bar(axes, -0.95 - 0.55 * i, name, ends)


def _shown(values: FloatArray, unit: str) -> FloatArray:
    return np.asarray(values * express(1.0, unit), dtype=np.float64)


def _ruler(
    axes: Axes, row: float, values: FloatArray, crush: FloatArray, across: float, level: int
) -> list[float]:
    """Draw a line with ticks at round values where the crush gives them; where numbers stand."""
    rising = np.maximum.accumulate(values)
    axes.plot([0.0, crush[-1]], [row, row], gid=f"ruler {row:g}", clip_on=False, **RULERS[level])
    ticks, written = _numbers(rising, crush, across)
    for tick, following in pairwise(ticks):
        ends = np.interp([tick, following], rising, crush)
        parts = max((n for n in PARTS if (ends[1] - ends[0]) * across >= MINOR * n), default=1)
        for k, value in enumerate(np.linspace(tick, following, parts, endpoint=False)):
            if rising[0] <= value <= rising[-1]:
                _tick(axes, float(np.interp(value, rising, crush)), row, tall=k == 0)
    for x, value in written:
        axes.text(
            x,
            row - 0.26,
            grouped(plain(value, 6)),
            ha="center",
            va="bottom",
            fontsize=SMALL,
            path_effects=halo(),
        )
    return [x for x, _ in written]


def _numbers(
    rising: FloatArray, crush: FloatArray, across: float
) -> tuple[FloatArray, list[tuple[float, float]]]:
    """Round values, as close as nearly all of them can be written, and where they are."""
    ticks = np.zeros(0)
    found: list[tuple[float, float]] = []
    for many in MANY if rising[-1] > rising[0] * (1.0 + FLAT) else ():
        locator = MaxNLocator(many, steps=[1, 2, 5, 10])
        ticks = np.asarray(locator.tick_values(float(rising[0]), float(rising[-1])))
        shown = ticks[(ticks >= rising[0] - 1e-9) & (ticks <= rising[-1] + 1e-9)]
        found = []
        for value in shown[::-1].tolist():
            x = float(np.interp(value, rising, crush))
            room = max(LEAST, 1.4 * width_of(grouped(plain(value, 6)), size=SMALL)) / across
            if not found or found[-1][0] - x >= room:
                found.append((x, value))
        if len(shown) - len(found) <= DROPPED:
            break
    return ticks, found[::-1]


def _tick(axes: Axes, x: float, row: float, *, tall: bool) -> None:
    top = row - (0.22 if tall else 0.12)
    axes.plot([x, x], [row, top], color=INK, linewidth=THIN, clip_on=False)


def _name(axes: Axes, row: float, text: str, style: dict[str, Any]) -> None:
    wide = paper_size(axes)[0]
    said = fitted(text, LEFT - EDGE - 2.0, size=SMALL)
    axes.text(
        -2.0 / wide,
        row,
        said,
        transform=axes.get_yaxis_transform(),
        ha="right",
        va="center",
        fontsize=SMALL,
        color=style["color"],
    )


def _limit(axes: Axes, x: float) -> None:
    axes.plot([x, x], [-0.1, 7.1], gid="reject", **LIMITED)
    axes.text(
        x,
        7.15,
        "reject",
        ha="center",
        va="top",
        fontsize=SMALL,
        color=LIMIT,
        clip_on=False,
    )


def _bars(prediction: Prediction, event: Event, unit: str) -> list[tuple[str, FloatArray]]:
    """Name and predicted crush, low nominal high, of the events that share the mass."""
    bars = []
    for one in prediction.events:
        for group in one.groups if one.stopped == event.stopped else ():
            apart = f"{leg_names(group.legs)}, " if len(one.groups) > 1 else "predicted, "
            bars.append((apart + one.name, _shown(group.crush, unit)))
    return bars[:BARS]


def _bar(axes: Axes, row: float, name: str, ends: FloatArray) -> None:
    """Bar from the crush at high force to that at low force, the nominal one marked."""
    axes.plot(
        [ends.min(), ends.max()],
        [row, row],
        color=SOFT,
        linewidth=BAR,
        solid_capstyle="butt",
        gid=name,
        clip_on=False,
    )
    axes.plot(ends[1], row, "|", color=INK, markersize=STROKE, clip_on=False)
    wide = paper_size(axes)[0]
    axes.text(
        -2.0 / wide,
        row,
        fitted(name, LEFT - EDGE - 2.0, size=SMALL, lines=1),
        transform=axes.get_yaxis_transform(),
        ha="right",
        va="center",
        fontsize=SMALL,
    )
