"""Leg load, stroke and failures against touchdown speed: what share of landings exceeds what."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from crushleg.report.plot_labels import Label, margin_labels
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.scatter_words import Quantity, limit_of, shown_quantities
from crushleg.report.style import (
    BOLD,
    BROKEN,
    DOT,
    DOTS,
    FINE,
    FIRM,
    INK,
    LIMIT,
    LIMITED,
    MUTED,
    SOLID,
    plain_ticks,
    quantity,
    scaled,
    styled,
    unit_for,
)
from crushleg.scatter.outcome import drawn
from crushleg.scatter.statistics import CONFIDENCE, binomial_interval

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import BoolArray, FloatArray, IntArray
    from crushleg.scatter.outcome import Outcome

LEFT, RIGHT, LOW, ABOVE = 16.0, 30.0, 10.0, 2.0
HEIGHT, GAP = 44.0, 4.0
EACH, FEWEST_BINS, MOST_BINS = 130, 3, 12
"""Landings of a bin, where there are enough of them, and how many bins."""
SHOWN = 1500
CLOUD: dict[str, Any] = {"color": MUTED, "markersize": DOT, "markeredgewidth": 0.0}
NOTE = "Dots: landings. Bars: bin of speed and 95 % interval of the share that fails."
HUNDRED = 100
FAR = 2.5
"""A limit above so many times the largest value is told, not drawn."""
EXCEEDED: tuple[tuple[int, dict[str, Any]], ...] = (
    (50, {"color": INK, "linestyle": SOLID, "linewidth": BOLD}),
    (10, {"color": INK, "linestyle": BROKEN, "linewidth": FIRM}),
    (1, {"color": INK, "linestyle": DOTS, "linewidth": FIRM}),
)


class Bins(NamedTuple):
    """Bins of speed: their edges (K + 1,), and the bin of each landing (N,)."""

    edges: FloatArray
    of: IntArray


def driving_touchdown(outcome: Outcome) -> str | None:
    """Touchdown whose speed scatters, the one with the lowest margins; None where there is none."""
    keys = {one.key for one in outcome.plan.inputs}
    study = outcome.study

    def least(name: str) -> float:
        rows = [m for m, one in enumerate(study.names) if one[1] == name and study.counts[m]]
        known = study.margin[rows][np.isfinite(study.margin[rows])]
        return float(known.min()) if known.size else np.inf

    names = [touchdown.name for touchdown in outcome.case.touchdowns]
    there = [name for name in names if _key(name) in keys]
    return min(there, key=least, default=None)


def _key(touchdown: str) -> str:
    return f"touchdown.{touchdown}.vertical_speed"


def speed_figure(outcome: Outcome, units: str = "si") -> Figure:
    """Values that 50, 10 and 1 % of landings at a speed exceed, and the share that fails there."""
    touchdown = driving_touchdown(outcome)
    speed = None if touchdown is None else drawn(outcome, _key(touchdown))
    if touchdown is None or speed is None:
        message = "no touchdown speed scatters"
        raise ValueError(message)
    shown = shown_quantities(outcome, ("leg load", "stroke"))
    there = [one for one in shown if one.touchdown == touchdown]
    with styled():
        rows = len(there) + 1
        body = LOW + rows * HEIGHT + (rows - 1) * GAP + ABOVE
        what = f"{len(speed)} landings against touchdown speed: {touchdown}"
        figure = sheet(outcome.checked, what, body, NOTE)
        panels = [
            place(figure, LEFT, LOW + k * (HEIGHT + GAP), PAGE - LEFT - RIGHT, HEIGHT)
            for k in reversed(range(rows))
        ]
        unit = unit_for(speed, "speed", units)
        x, bins = scaled(speed, unit), binned(scaled(speed, unit))
        for axes, one in zip(panels, there, strict=False):
            _exceeded(axes, outcome, one, x, bins, units)
        _share(panels[-1], _failed(outcome, touchdown), bins)
        for axes in panels:
            axes.set_xlim(float(bins.edges[0]), float(bins.edges[-1]))
            axes.yaxis.set_label_coords(-0.09, 0.5)
        for axes in panels[:-1]:
            axes.tick_params(labelbottom=False)
        panels[-1].set_xlabel(f"Vertical speed, {touchdown} ({unit})")
    return figure


def binned(speed: FloatArray) -> Bins:
    """Bins of about equally many landings; one speed that is drawn often is not cut in two."""
    count = int(np.clip(len(speed) // EACH, FEWEST_BINS, MOST_BINS))
    edges = np.unique(np.quantile(speed, np.linspace(0.0, 1.0, count + 1), method="lower"))
    if len(edges) == 1:
        edges = np.array([0.999, 1.001]) * edges[0]
    of = np.searchsorted(edges, speed, side="right") - 1
    return Bins(edges, np.clip(of, 0, len(edges) - 2))


def _exceeded(
    axes: Axes, outcome: Outcome, one: Quantity, x: FloatArray, bins: Bins, units: str
) -> None:
    """Dots, the values exceeded by a share of the landings, and the limit."""
    found = outcome.study.quantities[one.name]
    unit = unit_for(found[np.isfinite(found)], one.dimension, units)
    y = scaled(found, unit)
    axes.plot(x[:SHOWN], y[:SHOWN], "o", gid="landings", **CLOUD)
    labels = []
    for share, how in EXCEEDED:
        if share * np.bincount(bins.of).min() < HUNDRED:
            continue
        line = [np.percentile(y[bins.of == k], 100 - share) for k in range(len(bins.edges) - 1)]
        text = f"exceeded by {share} %"
        axes.stairs(line, bins.edges, baseline=None, gid=text, **how)
        labels.append(Label(float(line[-1]), text))
    limit = limit_of(outcome, one)
    top = 1.05 * float(np.nanmax(y))
    if limit is not None:
        at = float(scaled(limit, unit))
        top = max(top, 1.04 * at) if at <= FAR * top else top
        beyond = "↑ " if at > top else ""
        labels.append(Label(min(at, top), f"{beyond}limit {quantity(limit, unit)}", LIMIT))
        if not beyond:
            axes.axhline(at, gid="limit", **LIMITED)
    axes.set_ylim(0.0, top)
    axes.set_ylabel(f"{one.what.capitalize()} ({unit})")
    plain_ticks(axes)
    margin_labels(axes, labels, RIGHT)


def _failed(outcome: Outcome, touchdown: str) -> BoolArray:
    """Whether a counted margin of this touchdown is negative, shape (N,)."""
    study = outcome.study
    rows = [m for m, one in enumerate(study.names) if one[1] == touchdown and study.counts[m]]
    return np.asarray((study.margin[rows] < 0.0).any(axis=0))


def _share(axes: Axes, failed: BoolArray, bins: Bins) -> None:
    """Share of the landings of each bin that fails, with its interval."""
    counts = np.bincount(bins.of)
    bad = np.bincount(bins.of, weights=failed).astype(int)
    share = 100.0 * bad / counts
    ends = [binomial_interval(int(k), int(n), CONFIDENCE) for k, n in zip(bad, counts, strict=True)]
    low, high = 100.0 * np.array(ends).T
    middle, half = 0.5 * (bins.edges[1:] + bins.edges[:-1]), 0.5 * np.diff(bins.edges)
    axes.errorbar(
        middle,
        share,
        (share - low, high - share),
        half,
        fmt="o",
        color=INK,
        elinewidth=FINE,
        clip_on=False,
        gid="share",
    )
    axes.set_ylim(0.0, 1.1 * float(high.max()))
    axes.set_ylabel("Fails (%)")
    plain_ticks(axes)
