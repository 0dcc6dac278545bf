"""Figure of a sizing: every girder looked at, and those that no other betters."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from crushleg.design.judge import LOAD, MASS, STROKE
from crushleg.report.plot_labels import clear_spots
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.style import (
    DOT,
    GREEN,
    INCH,
    INK,
    LIMIT,
    LIMITED,
    MUTED,
    SMALL,
    THIN,
    halo,
    plain_ticks,
    quantity,
    scaled,
    styled,
    unit_for,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.design.settled import Sizing

LEFT, RIGHT, LOW = 16.0, 4.0, 16.0
MISSES: dict[str, Any] = {"marker": "x", "markersize": DOT, "markeredgewidth": THIN, "color": MUTED}
MEETS: dict[str, Any] = {"marker": "o", "markersize": DOT, "markeredgewidth": 0.0, "color": GREEN}
HEIGHT, GAP, ABOVE = 52.0, 5.0, 3.0
WIDER = 1.6
"""Candidates beyond so many times what the designs need are left out of the axes."""


class Panel(NamedTuple):
    """One value against mass."""

    column: int
    dimension: str
    label: str


PANELS = (
    Panel(LOAD, "force", "Largest axial load of a leg"),
    Panel(STROKE, "length", "Largest stroke, low force"),
)


def size_figure(job: Sizing, units: str = "si") -> Figure:
    """Leg load and stroke against mass: candidates, designs, and the numbered front.

    Parameters
    ----------
    job : Sizing
    units : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    Figure
    """
    with styled():
        figure = sheet(job.sized.before, _what(job), LOW + 2 * HEIGHT + GAP + ABOVE)
        width = PAGE - LEFT - RIGHT
        upper = place(figure, LEFT, LOW + HEIGHT + GAP, width, HEIGHT)
        lower = place(figure, LEFT, LOW, width, HEIGHT)
        values = job.sized.archive.values
        shown = _shown(job)
        mass = unit_for(values[shown, MASS], "mass", units)
        for axes, panel in zip((upper, lower), PANELS, strict=True):
            _panel(
                axes,
                job,
                panel,
                (mass, unit_for(_kept(values, shown, panel), panel.dimension, units)),
            )
        upper.tick_params(labelbottom=False)
        lower.set_xlabel(f"Mass of one girder ({mass})")
        lower.legend(
            loc="upper left",
            bbox_to_anchor=(0.0, -11.0 / HEIGHT),
            ncols=4,
            markerscale=1.6,
            handletextpad=0.4,
        )
    return figure


def _what(job: Sizing) -> str:
    count = len(job.sized.archive)
    if job.written is None:
        return f"NO DESIGN among {count} girders: load and stroke against mass"
    return f"{count} girders looked at: load and stroke against mass; no. 1 is written"


def _shown(job: Sizing) -> BoolArray:
    """Candidates with an end of their stroke, not far beyond what designs need, shape (N,)."""
    values = job.sized.archive.values
    finite: BoolArray = np.asarray(np.isfinite(values).all(axis=1))
    chosen = list(job.sized.front) or [job.place]
    most = WIDER * values[chosen].max(axis=0)
    found: BoolArray = finite & np.asarray((values <= most).all(axis=1))
    found[job.place] = finite[job.place]
    return found


def _kept(values: FloatArray, shown: BoolArray, panel: Panel) -> FloatArray:
    kept: FloatArray = values[shown, panel.column]
    return kept if kept.size else np.ones(1)


def _panel(axes: Axes, job: Sizing, panel: Panel, units: tuple[str, str]) -> None:
    """Draw one value against mass."""
    sized = job.sized
    values, shown = sized.archive.values, _shown(job)
    x, y = scaled(values[:, MASS], units[0]), scaled(values[:, panel.column], units[1])
    fits = sized.feasible
    for on, look, text in (
        (shown & ~fits, MISSES, "misses a margin"),
        (shown & fits, MEETS, "meets every margin"),
    ):
        if on.any():
            axes.plot(x[on], y[on], linestyle="none", label=text, gid=text, **look)
    axes.set_ylabel(f"{panel.label} ({units[1]})")
    axes.set_ylim(bottom=0.0)
    plain_ticks(axes)
    _limits(axes, job, panel, units[1])
    if not sized.front:
        axes.plot(x[job.place], y[job.place], "D", color=INK, label="lacks least", gid="nearest")
        return
    at = list(sized.front)
    axes.plot(
        x[at], y[at], "o", color=INK, markerfacecolor="none", label="no other betters", gid="front"
    )
    _numbers(axes, x[at], y[at])


def _numbers(axes: Axes, x: FloatArray, y: FloatArray) -> None:
    """Write the numbers of the front beside its markers."""
    box = axes.get_position()
    figure = axes.get_figure(root=True)
    assert figure is not None
    paper = np.array([box.width, box.height]) * figure.get_size_inches() * INCH
    ends = np.array([axes.get_xlim(), axes.get_ylim()])
    points = (np.column_stack([x, y]) - ends[:, 0]) / np.diff(ends, axis=1)[:, 0] * paper
    texts = [str(i + 1) for i in range(len(x))]
    spots = clear_spots(points, texts, [points], paper, points)
    for text, spot in zip(texts, spots, strict=True):
        axes.text(
            float(spot[0] / paper[0]),
            float(spot[1] / paper[1]),
            text,
            transform=axes.transAxes,
            ha="center",
            va="center",
            fontsize=SMALL,
            color=INK,
            path_effects=halo(),
        )


def _limits(axes: Axes, job: Sizing, panel: Panel, unit: str) -> None:
    """Draw the limit load, where the axes reach it."""
    limit = job.original.case.limits.leg_limit_load
    if panel.column != LOAD or limit is None:
        return
    at = float(scaled(limit, unit))
    top = axes.get_ylim()[1]
    if at <= top:
        axes.axhline(at, gid="limit load", **LIMITED)
        axes.annotate(
            _limit_text(job, limit, unit), (1.0, at), (0.0, 2.0),
            xycoords=axes.get_yaxis_transform(), textcoords="offset points",
            ha="right", va="bottom", fontsize=SMALL, color=LIMIT,
        )  # fmt: skip


def _limit_text(job: Sizing, limit: float, unit: str) -> str:
    """Name the limit line; the load of a reserve case is judged on ultimate times it."""
    case = job.original.case
    reserve = any(touchdown.reserve for touchdown in case.touchdowns)
    more = f", in reserve × {case.factors.ultimate:g}" if reserve else ""
    return f"limit load {quantity(limit, unit)}{more}"
