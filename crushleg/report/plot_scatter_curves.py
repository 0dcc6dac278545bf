"""Fan of the crush curves of a study: percentiles of the load at every stroke."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.report.plot_labels import Label, margin_labels
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.style import (
    BAND,
    CORE,
    LIMIT,
    LIMITED,
    LINES,
    SOFT,
    THIN,
    plain_ticks,
    quantity,
    scaled,
    styled,
    unit_for,
)
from crushleg.scatter.statistics import percentiles

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.scatter.outcome import Curves, Outcome

LEFT, RIGHT, LOW, ABOVE = 16.0, 30.0, 16.0, 3.0
HEIGHT = 78.0
AT = (5, 25, 50, 75, 95)


def curves_figure(outcome: Outcome, curves: Curves, units: str = "si") -> Figure:
    """Percentiles of the axial load against crush stroke, and the band of the case itself."""
    with styled():
        what = f"Load against crush stroke of one leg: {len(curves.load)} of the landings"
        note = (
            "Percentiles at each stroke, nominal curve of each landing; no single curve follows "
            "them. Broken: low and high of the case itself, all scatter in its band."
        )
        figure = sheet(outcome.checked, what, LOW + HEIGHT + ABOVE, note)
        axes = place(figure, LEFT, LOW, PAGE - LEFT - RIGHT, HEIGHT)
        names = (unit_for(curves.stroke, "length", units), unit_for(curves.load, "force", units))
        _fan(axes, curves, names)
        _band(axes, outcome, names)
        axes.set_xlim(0.0, float(scaled(curves.stroke[-1], names[0])))
        axes.set_ylim(bottom=0.0)
        axes.set_xlabel(f"Crush stroke ({names[0]})")
        axes.set_ylabel(f"Axial load at the leg attachment ({names[1]})")
        plain_ticks(axes)
        _limit(axes, outcome, names[1])
        axes.legend(loc="upper left", bbox_to_anchor=(0.0, -10.5 / HEIGHT), ncols=5)
    return figure


def _fan(axes: Axes, curves: Curves, units: tuple[str, str]) -> None:
    """Shades between the percentiles, and the median."""
    x = scaled(curves.stroke, units[0])
    low, lower, median, upper, high = scaled(percentiles(curves.load, AT), units[1])
    bands = (("5 to 95 %", (low, high), BAND), ("25 to 75 %", (lower, upper), CORE))
    for name, ends, colour in bands:
        axes.fill_between(x, *ends, color=colour, linewidth=0.0, label=name, gid=name)
    for edge in (low, high):
        axes.plot(x, edge, color=SOFT, linewidth=THIN)
    axes.plot(x, median, label="median", gid="median", **LINES[1])


def _band(axes: Axes, outcome: Outcome, units: tuple[str, str]) -> None:
    """Low and high curve of the case itself."""
    crushed = outcome.checked.crush
    axial = float(outcome.checked.landings[0].curve.forces.axial)
    x = scaled(crushed.curve.stroke[0], units[0])
    for level, name in ((0, "low of the case"), (2, "high of the case")):
        y = scaled(axial * crushed.curve.force[level, 0], units[1])
        axes.plot(x, y, label=name, gid=name, **LINES[level])


def _limit(axes: Axes, outcome: Outcome, unit: str) -> None:
    """Limit load, where the axes reach it or told at their top."""
    limit = outcome.case.limits.leg_limit_load
    if limit is None:
        return
    at, top = float(scaled(limit, unit)), axes.get_ylim()[1]
    if at <= 1.3 * top:
        axes.set_ylim(0.0, max(top, 1.04 * at))
        axes.axhline(at, gid="limit load", **LIMITED)
    arrow = "" if at <= 1.3 * top else "↑ "
    text = f"{arrow}limit load\n{quantity(limit, unit)}"
    margin_labels(axes, [Label(min(at, axes.get_ylim()[1]), text, LIMIT)], RIGHT)
