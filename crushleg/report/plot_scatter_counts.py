"""Histograms of a study with the limits, and its probability against the number of landings."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from matplotlib.lines import Line2D
from matplotlib.ticker import FixedLocator, FuncFormatter, MaxNLocator, NullLocator

from crushleg.report.plot_labels import Label, margin_labels
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.scatter_words import Quantity, limit_of, percent, shown_quantities
from crushleg.report.style import (
    BAND,
    CHAIN,
    DOTS,
    FINE,
    FIRM,
    INCH,
    INK,
    LIMIT,
    LIMITED,
    LINES,
    SMALL,
    SOFT,
    grouped,
    halo,
    plain_ticks,
    scaled,
    styled,
    unit_for,
)
from crushleg.scatter.statistics import CONFIDENCE, binomial_interval
from crushleg.scatter.tolerance import least_landings, upper_limit
from crushleg.units import plain

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import FloatArray
    from crushleg.scatter.outcome import Outcome

LEFT, RIGHT, LOW, ABOVE = 17.0, 4.0, 20.0, 3.0
HEIGHT, GAP = 50.0, 9.0
NAMES = 32.0
"""Room for the labels of the convergence [mm]."""
MOST_BINS = 40
FIRST, SHARE = 16, 32
"""Landings from which on the probability is drawn: so many, and a share of all."""
WITHIN = 3.0
"""A limit farther off than so many times the spread of the values is told, not drawn."""
DASHES = {0.90: DOTS, 0.99: CHAIN}


def histogram_figure(outcome: Outcome, units: str = "si") -> Figure:
    """Histograms of the lowest margin, stroke and leg load, with limits and tolerance limits.

    Stroke and leg load are those of the touchdown whose margin comes nearest to failing.
    """
    quantities = [one for what in ("stroke", "leg load") if (one := nearest(outcome, what))]
    with styled():
        count = len(outcome.study.number)
        figure = sheet(outcome.checked, f"{count} landings: margin and loads", LOW + HEIGHT + ABOVE)
        wide = (PAGE - LEFT - RIGHT - len(quantities) * GAP) / (1 + len(quantities))
        panels = [place(figure, LEFT + k * (wide + GAP), LOW, wide, HEIGHT) for k in range(3)]
        _lowest(panels[0], outcome)
        for axes, one in zip(panels[1:], quantities, strict=False):
            _one_quantity(axes, outcome, one, units)
        panels[0].set_ylabel("Landings (logarithmic on the left)")
        figure.legend(
            handles=_legend(count),
            loc="lower left",
            bbox_to_anchor=((LEFT - 1.0) / PAGE, 9.8 / (figure.get_size_inches()[1] * INCH)),
            ncols=4,
        )
    return figure


def _legend(landings: int) -> list[Line2D]:
    """Name the limit, and the tolerance limits that so many landings give."""
    lines = [Line2D([], [], label="limit", **LIMITED)]
    for coverage, dash in DASHES.items():
        if landings >= least_landings(coverage, CONFIDENCE):
            name = f"{100.0 * coverage:g} % lie below, {100.0 * CONFIDENCE:g} % confidence by rank"
            lines.append(Line2D([], [], color=INK, linewidth=FIRM, linestyle=dash, label=name))
    return lines


def nearest(outcome: Outcome, what: str) -> Quantity | None:
    """Quantity at the touchdown where its margin is lowest; the first where none is judged."""
    study = outcome.study
    there = shown_quantities(outcome, [what])

    def least(one: Quantity) -> float:
        name = (what.replace(" ", "_"), one.touchdown)
        margin = study.margin[study.names.index(name)] if name in study.names else np.array([])
        return float(np.nanmin(margin)) if np.isfinite(margin).any() else np.inf

    return min(there, key=least, default=None)


def _counts(axes: Axes, values: FloatArray) -> None:
    known = values[np.isfinite(values)]
    bins = int(np.clip(np.sqrt(len(known)), 8, MOST_BINS))
    axes.hist(known, bins=bins, histtype="stepfilled", color=BAND, edgecolor=SOFT, linewidth=FINE)
    axes.xaxis.set_major_locator(MaxNLocator(4, steps=[1, 2, 2.5, 5, 10]))
    axes.yaxis.set_major_locator(MaxNLocator(6, integer=True))
    formatter = FuncFormatter(lambda value, _: grouped(plain(value, 6)))
    axes.xaxis.set_major_formatter(formatter)
    axes.yaxis.set_major_formatter(formatter)


def _lowest(axes: Axes, outcome: Outcome) -> None:
    """Lowest counted margin of every landing; zero is the limit."""
    values = outcome.lowest
    if np.isfinite(values).any():
        _counts(axes, values)
        axes.set_yscale("log")
        axes.set_ylim(bottom=0.7)
        axes.yaxis.set_major_formatter(FuncFormatter(lambda value, _: grouped(plain(value, 6))))
        axes.yaxis.set_minor_locator(NullLocator())
        _limit(axes, 0.0, values, "0")
    axes.set_xlabel("Lowest counted margin")


def _one_quantity(axes: Axes, outcome: Outcome, one: Quantity, units: str) -> None:
    """One quantity with its limit and tolerance limits."""
    found = outcome.study.quantities[one.name]
    unit = unit_for(found[np.isfinite(found)], one.dimension, units)
    values = scaled(found, unit)
    _counts(axes, values)
    for coverage, dash in DASHES.items():
        ordered = upper_limit(values, coverage).ordered
        if ordered is not None:
            name = f"{coverage:g} {one.what}"
            axes.axvline(ordered, color=INK, linewidth=FIRM, linestyle=dash, gid=name)
    limit = limit_of(outcome, one)
    if limit is not None:
        at = float(scaled(limit, unit))
        _limit(axes, at, values, f"{grouped(plain(at, 3))} {unit}")
    axes.set_xlabel(f"{one.what.capitalize()}, {one.touchdown} ({unit})")


def _limit(axes: Axes, at: float, values: FloatArray, text: str) -> None:
    """Limit as a line, or told at the edge it lies beyond."""
    known = values[np.isfinite(values)]
    low, high = float(known.min()), float(known.max())
    room = WITHIN * max(high - low, 1e-12)
    if low - room <= at <= high + room:
        axes.axvline(at, gid="limit", **LIMITED)
        return
    right = at > high
    axes.text(
        0.98 if right else 0.02,
        0.98,
        f"limit {text} →" if right else f"← limit {text}",
        transform=axes.transAxes,
        ha="right" if right else "left",
        va="top",
        fontsize=SMALL,
        color=LIMIT,
        path_effects=halo(),
    )


def convergence_figure(outcome: Outcome) -> Figure:
    """Probability of failing any counted margin against the landings, with its interval."""
    failed = np.cumsum(outcome.lowest < 0.0)
    total = len(failed)
    at = np.unique(np.geomspace(min(max(FIRST, total // SHARE), total), total, 80).astype(int))
    share = 100.0 * failed[at - 1] / at
    ends = [binomial_interval(int(failed[n - 1]), int(n), CONFIDENCE) for n in at]
    low, high = 100.0 * np.array(ends).T
    with styled():
        what = f"Probability of failing any counted margin: {percent(share[-1] / 100.0)} %"
        figure = sheet(outcome.checked, what, LOW - 6.0 + HEIGHT + ABOVE)
        axes = place(figure, LEFT, LOW - 6.0, PAGE - LEFT - NAMES, HEIGHT)
        axes.fill_between(at, low, high, color=BAND, linewidth=0.0, gid="interval")
        axes.plot(at, share, clip_on=False, zorder=4.0, gid="share", **LINES[1])
        axes.set_xscale("log")
        axes.set_xlim(at[0], max(at[-1], at[0] + 1))
        axes.set_ylim(bottom=0.0)
        plain_ticks(axes, x=False)
        axes.xaxis.set_major_locator(FixedLocator([10**k * m for k in range(9) for m in (1, 2, 5)]))
        axes.xaxis.set_minor_locator(NullLocator())
        axes.xaxis.set_major_formatter(FuncFormatter(lambda value, _: grouped(plain(value, 6))))
        axes.set_xlabel("Landings")
        axes.set_ylabel("Probability (%)")
        interval = f"95 % interval,\n{percent(ends[-1][0])} to {percent(ends[-1][1])} %"
        labels = [
            Label(float(share[-1]), "share that fails"),
            Label(float(high[-1]), interval, SOFT),
        ]
        margin_labels(axes, labels, NAMES)
    return figure
