"""Figure of a schedule: wanted line, mean force found, and what the section can reach."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from crushleg.report.plot_labels import Label, margin_labels
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.style import (
    BAND,
    BROKEN,
    DOTS,
    FINE,
    FIRM,
    GREEN,
    HELD,
    INK,
    LINES,
    SOFT,
    THIN,
    plain_ticks,
    quantity,
    scaled,
    styled,
    unit_for,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.design.settled import Schedule

LEFT, RIGHT, LOW = 16.0, 34.0, 10.0
HEIGHT, STRIP, GAP, ABOVE = 70.0, 24.0, 4.0, 3.0


def follow_figure(job: Schedule, units: str = "si") -> Figure:
    """Nominal mean force against crush stroke, and below how far it is from the wanted line.

    Parameters
    ----------
    job : Schedule
    units : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    Figure
    """
    with styled():
        found = job.followed
        force = unit_for(np.concatenate([found.wanted, found.curve.force[2, 0]]), "force", units)
        first, last = (quantity(float(found.wanted[k]), force) for k in (0, -1))
        figure = sheet(
            replace(job.written.checked, case=job.original.case),
            f"Mean folding force of one girder against the wanted one, {first} to {last}",
            LOW + STRIP + GAP + HEIGHT + ABOVE,
        )
        width = PAGE - LEFT - RIGHT
        upper = place(figure, LEFT, LOW + STRIP + GAP, width, HEIGHT)
        lower = place(figure, LEFT, LOW, width, STRIP)
        stroke = unit_for(found.curve.stroke, "length", units)
        _forces(upper, job, stroke, force)
        _deviation(lower, job, stroke, force)
        for axes in (upper, lower):
            axes.set_xlim(0.0, float(scaled(found.curve.stroke[0, -1], stroke)))
        upper.tick_params(labelbottom=False)
        lower.set_xlabel(f"Crush stroke ({stroke})")
    return figure


def _forces(axes: Axes, job: Schedule, stroke: str, force: str) -> None:
    found = job.followed
    curve, reach = found.curve, found.reach
    x = scaled(curve.middle[0], stroke)
    least, most = scaled(reach.least, force), scaled(reach.most, force)
    axes.fill_between(x, least, most, color=BAND, linewidth=0.0, gid="reach")
    labels = [
        Label(float(most[-1]), "plain girder", SOFT),
        Label(float(least[-1]), "largest holes in every row", SOFT),
    ]
    for level, name in enumerate(("low", "found, nominal", "high")):
        y = scaled(curve.force[level, 0], force)
        axes.plot(x, y, gid=name, **LINES[level])
        labels.append(Label(float(y[-1]), name, str(LINES[level]["color"])))
    wanted = scaled(found.wanted, force)
    axes.plot(x, wanted, gid="wanted", **(HELD | {"linestyle": BROKEN}))
    labels.append(Label(float(wanted[-1]), "wanted", GREEN))
    axes.set_ylim(bottom=0.0)
    axes.set_ylabel(f"Mean force ({force})")
    plain_ticks(axes)
    margin_labels(axes, labels, RIGHT)


def _deviation(axes: Axes, job: Schedule, stroke: str, force: str) -> None:
    found = job.followed
    x = scaled(found.curve.middle[0], stroke)
    axes.axhline(0.0, color=SOFT, linewidth=THIN)
    axes.plot(x, scaled(found.deviation, force), color=INK, linewidth=FIRM, gid="deviation")
    rms = float(scaled(found.rms, force))
    for side in (rms, -rms):
        axes.axhline(side, color=SOFT, linewidth=FINE, linestyle=DOTS, gid="rms")
    axes.set_ylabel(f"Found less\nwanted ({force})")
    plain_ticks(axes)
    margin_labels(axes, [Label(rms, "rms", SOFT)], RIGHT)
