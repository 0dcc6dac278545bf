"""Force against time of every touchdown, one panel each."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.timing import times
from crushleg.report.plot_curves import FIRST, full_name, leg_lines, stops
from crushleg.report.plot_labels import SIZE, SMALL, clear_spots, fitted, paper_size
from crushleg.report.style import (
    INK,
    LEVELS,
    LINES,
    PAGE,
    SOFT,
    halo,
    marker_face,
    number,
    place,
    plain_ticks,
    scaled,
    sheet,
    styled,
    unit_for,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import FloatArray
    from crushleg.check import Checked
    from crushleg.landing.touchdown import Landed

LEFT, BETWEEN, RIGHT, LOW, ABOVE = 17.0, 8.0, 8.0, 10.0, 11.0
HEADING, UNDER = 4.6, 1.6
TALL = {1: 75.0, 2: 62.0}
PANEL = 44.0
OFF_SCALE = 2.0


class History(NamedTuple):
    """One level up to its stop: time [s], axial load of one leg [N]."""

    time: FloatArray
    load: FloatArray


def histories(landed: Landed, legs: int) -> list[History]:
    """Load of one leg against time, low nominal high, all legs touching together."""
    curve, arrival = landed.curve, landed.arrival
    end = landed.stroke * curve.forces.travel
    speed = np.sqrt(2.0 * arrival.kinetic / arrival.mass)
    reaction, work = legs * curve.reaction, legs * curve.work
    t = times(curve.travel, reaction, work, arrival.net_weight, arrival.mass, speed, end)[:, 0]
    load, at = leg_lines(curve).load, stops(landed).load
    swept = curve.travel[:, 0] <= end
    return [
        History(
            np.append(t[k][swept[k]], landed.duration[k, 0]), np.append(load[k][swept[k]], at[k])
        )
        for k in range(3)
    ]


def time_figure(checked: Checked, system: str = "si") -> Figure:
    """Load of one leg against time up to the stop, a panel for every touchdown.

    Parameters
    ----------
    checked : Checked
    system : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    Figure
        A touchdown on one or two legs first has a panel that says why no curve is drawn.
    """
    with styled():
        legs, landings = checked.case.vehicle.legs, checked.landings
        count = len(landings)
        tall = TALL.get(count, PANEL)
        what = "Force against time of one leg, from contact to stop"
        figure = sheet(checked, what, LOW + -(-count // 2) * (tall + ABOVE))
        known = [histories(one, legs) if alike(one) else [] for one in landings]
        units, ends = _scale(checked, known, system)
        for i, (landed, found) in enumerate(zip(landings, known, strict=True)):
            axes = _placed(figure, i, count, tall)
            axes.set(xlim=(0.0, ends[0]), ylim=(0.0, ends[1]))
            _panel(axes, landed, found, units)
            plain_ticks(axes)
            last = i + 2 >= count
            axes.tick_params(labelbottom=last, labelleft=i % 2 == 0)
            axes.set_xlabel(f"Time since contact ({units[0]})" if last else "")
            axes.set_ylabel(f"Axial load ({units[1]})" if i % 2 == 0 else "")
    return figure


def _placed(figure: Figure, index: int, count: int, tall: float) -> Axes:
    """Axes of one panel, two side by side, row by row from the top."""
    columns = min(count, 2)
    row, column = divmod(index, 2)
    width = (PAGE - LEFT - RIGHT - (columns - 1) * BETWEEN) / columns
    bottom = LOW + (-(-count // 2) - 1 - row) * (tall + ABOVE)
    return place(figure, LEFT + column * (width + BETWEEN), bottom, width, tall)


def alike(landed: Landed) -> bool:
    """Whether all legs touch together and share alike."""
    return landed.touchdown.first_contact == "all"


def _scale(
    checked: Checked, known: Sequence[list[History]], system: str
) -> tuple[tuple[str, str], tuple[float, float]]:
    """Units and ends of both axes, the same in every panel."""
    longest = max(float(landed.duration[:, 0].max()) for landed in checked.landings)
    curves = [float(one.load.max()) for found in known for one in found]
    highest = max(curves, default=max(float(d.peak[:, 0].max()) for d in checked.landings))
    hard = [float(p) for d in checked.landings if alike(d) for p in d.peak[d.bottomed[:, 0], 0]]
    top = max([highest, *(p for p in hard if p <= OFF_SCALE * highest)])
    units = unit_for(np.array(longest), "time", system), unit_for(np.array(top), "force", system)
    return units, (float(scaled(1.08 * longest, units[0])), float(scaled(1.1 * top, units[1])))


def _panel(axes: Axes, landed: Landed, found: list[History], units: tuple[str, str]) -> None:
    """Three curves with their ends named, or the reason why there are none."""
    _note(axes, HEADING, full_name(landed), bold=True)
    _note(axes, UNDER, summary(landed, units[1]))
    if not found:
        axes.text(
            0.5,
            0.5,
            _reason(landed, units),
            transform=axes.transAxes,
            ha="center",
            va="center",
            fontsize=SMALL,
            color=SOFT,
            linespacing=1.5,
        )
        return
    lines = []
    for level, one in enumerate(found):
        t, f = scaled(one.time, units[0]), scaled(one.load, units[1])
        lines.append(np.column_stack([t, f]))
        axes.plot(t, f, gid=LEVELS[level], **LINES[level])
        axes.plot(t[-1], f[-1], "o", markersize=3.2, zorder=5, **marker_face(level))
        if landed.bottomed[level, 0]:
            hard = [f[-1], float(scaled(landed.peak[level, 0], units[1]))]
            axes.plot([t[-1]] * 2, hard, color=LINES[level]["color"], linewidth=0.9, gid="bottoms")
    _end_labels(axes, lines)


def _note(axes: Axes, above: float, text: str, *, bold: bool = False) -> None:
    """Write one line ``above`` mm over the axes, fitted to their width."""
    size = SIZE if bold else SMALL
    width, height = paper_size(axes)
    axes.text(
        0.0,
        1.0 + above / height,
        fitted(text, width, size=size, lines=1, bold=bold),
        transform=axes.transAxes,
        fontsize=size,
        weight="bold" if bold else "normal",
        color=INK if bold else SOFT,
    )


def summary(landed: Landed, unit: str) -> str:
    """Peak axial load, low nominal high, and whether it bottoms."""
    peaks = ", ".join(number(float(peak), unit) for peak in landed.peak[:, 0])
    bottoms = [name for name, bad in zip(LEVELS, landed.bottomed[:, 0], strict=True) if bad]
    which = "all" if len(bottoms) == len(LEVELS) else ", ".join(bottoms)
    end = f"; BOTTOMS: {which}" if bottoms else " (low, nominal, high)"
    return f"peak {peaks} {unit}{end}"


def _end_labels(axes: Axes, lines: Sequence[FloatArray]) -> None:
    """Name of each level at its stop, where it covers least."""
    size = np.array(paper_size(axes))
    per_unit = size / np.array([axes.get_xlim()[1], axes.get_ylim()[1]])
    points = np.array([line[-1] for line in lines]) * per_unit
    spots = clear_spots(points, LEVELS, [line * per_unit for line in lines], size)
    for level, spot in enumerate(spots):
        axes.text(
            float(spot[0] / per_unit[0]),
            float(spot[1] / per_unit[1]),
            LEVELS[level],
            ha="center",
            va="center",
            fontsize=SMALL,
            color=LINES[level]["color"],
            path_effects=halo(),
            zorder=6,
            gid="level",
        )


def _reason(landed: Landed, units: tuple[str, str]) -> str:
    """Why no history is drawn, and what is known without it."""
    t = landed.duration[:, 0]
    span = f"{number(float(t.min()), units[0])} to {number(float(t.max()), units[0])} {units[0]}"
    return (
        f"No curve: {FIRST[landed.touchdown.first_contact]},\n"
        "the others join later, and the energy\n"
        "balance keeps no history in time.\n"
        f"Stops after {span}.\n"
        "For the motion of the vehicle: land."
    )
