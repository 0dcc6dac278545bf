"""Force against time of every touchdown, one panel each."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.timing import times
from crushleg.report.plot_curves import FIRST, leg_lines, stops
from crushleg.report.plot_heads import head, write_head
from crushleg.report.plot_labels import clear_spots, paper_size
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.style import (
    FIRM,
    LEADING,
    LEVELS,
    LINES,
    SMALL,
    SOFT,
    halo,
    marker_face,
    number,
    plain_ticks,
    quantity,
    scaled,
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

LEFT, BETWEEN, RIGHT, LOW = 17.0, 8.0, 8.0, 10.0
TALL = {1: 75.0, 2: 62.0}
PANEL = 44.0
OFF_SCALE = 2.0
LABEL = 6.4
"""Height of a label of bottoming [mm]; they stand below each other at the top of a panel."""


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
        known = [histories(one, legs) if alike(one) else [] for one in landings]
        units, ends = _scale(checked, known, system, tall)
        foot = bool(checked.crush.sequence.from_foot[0])
        heads = [head(one, units[1], _width(count), foot=foot) for one in landings]
        above = max(one.height for one in heads)
        figure = sheet(checked, what, LOW + -(-count // 2) * (tall + above), _said(landings))
        for i, (landed, found) in enumerate(zip(landings, known, strict=True)):
            axes = _placed(figure, i, count, tall, above)
            axes.set(xlim=(0.0, ends[0]), ylim=(0.0, ends[1]))
            write_head(axes, heads[i])
            _panel(axes, landed, found, units)
            plain_ticks(axes)
            last = i + 2 >= count
            axes.tick_params(labelbottom=last, labelleft=i % 2 == 0)
            axes.set_xlabel(f"Time since contact ({units[0]})" if last else "")
            axes.set_ylabel(f"Axial load ({units[1]})" if i % 2 == 0 else "")
    return figure


def _width(count: int) -> float:
    """Width of a panel [mm]."""
    columns = min(count, 2)
    return (PAGE - LEFT - RIGHT - (columns - 1) * BETWEEN) / columns


def _placed(figure: Figure, index: int, count: int, tall: float, above: float) -> Axes:
    """Axes of one panel, two side by side, row by row from the top."""
    row, column = divmod(index, 2)
    width = _width(count)
    bottom = LOW + (-(-count // 2) - 1 - row) * (tall + above)
    return place(figure, LEFT + column * (width + BETWEEN), bottom, width, tall)


def alike(landed: Landed) -> bool:
    """Whether all legs touch together and share alike."""
    return landed.touchdown.first_contact == "all"


def _scale(
    checked: Checked, known: Sequence[list[History]], system: str, tall: float
) -> tuple[tuple[str, str], tuple[float, float]]:
    """Units and ends of both axes, the same in every panel ``tall`` mm high."""
    longest = max(float(landed.duration[:, 0].max()) for landed in checked.landings)
    curves = [float(one.load.max()) for found in known for one in found]
    highest = max(curves, default=max(float(d.peak[:, 0].max()) for d in checked.landings))
    hard = [float(p) for d in checked.landings if alike(d) for p in d.peak[d.bottomed[:, 0], 0]]
    top = max([highest, *(p for p in hard if p <= OFF_SCALE * highest)])
    labels = max((int(d.bottomed[:, 0].sum()) for d in checked.landings if alike(d)), default=0)
    clear = max(1.1 * top, highest / (0.96 - labels * LABEL / tall))
    units = unit_for(np.array(longest), "time", system), unit_for(np.array(top), "force", system)
    return units, (float(scaled(1.08 * longest, units[0])), float(scaled(clear, units[1])))


def _panel(axes: Axes, landed: Landed, found: list[History], units: tuple[str, str]) -> None:
    """Three curves with their ends named, or the reason why there are none."""
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
        axes.plot(t[-1], f[-1], "o", zorder=5, gid="stop", **marker_face(level))
        if landed.bottomed[level, 0]:
            hard = [f[-1], float(scaled(landed.peak[level, 0], units[1]))]
            axes.plot([t[-1]] * 2, hard, color=LINES[level]["color"], linewidth=FIRM, gid="bottoms")
    _end_labels(axes, landed, lines, units[1])


def _said(landings: Sequence[Landed]) -> str:
    """Say what the markers of legs that bottom mean."""
    hard = any(alike(landed) and landed.bottomed[:, 0].any() for landed in landings)
    return (
        "A leg that bottoms: marker at the end of its curve, then the load rises." if hard else ""
    )


def _end_labels(axes: Axes, landed: Landed, lines: Sequence[FloatArray], unit: str) -> None:
    """Name of each level where it covers least: at its stop, or up where it bottoms."""
    size = np.array(paper_size(axes))
    per_unit = size / np.array([axes.get_xlim()[1], axes.get_ylim()[1]])
    ends = np.array([line[-1] for line in lines])
    hard = landed.bottomed[:, 0]
    peak = scaled(landed.peak[:, 0], unit)
    at = ends.copy()
    high = axes.get_ylim()[1] * (1.0 - LABEL / size[1] * (0.55 + np.arange(hard.sum())))
    at[hard, 1] = np.minimum(peak[hard], high)
    texts = [
        f"{name} bottoms\n{quantity(float(landed.peak[k, 0]), unit)}" if hard[k] else name
        for k, name in enumerate(LEVELS)
    ]
    risen = [np.stack([ends[k], [ends[k, 0], peak[k]]]) for k in np.flatnonzero(hard)]
    taken = [line * per_unit for line in (*lines, *risen)]
    spots = clear_spots(at * per_unit, texts, taken, size, ends * per_unit)
    for level, spot in enumerate(spots):
        axes.text(
            float(spot[0] / per_unit[0]),
            float(spot[1] / per_unit[1]),
            texts[level],
            ha="center",
            va="center",
            fontsize=SMALL,
            color=LINES[level]["color"],
            path_effects=halo(),
            linespacing=LEADING,
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
        "For the motion of the whole\n"
        "vehicle: crushleg land."
    )
