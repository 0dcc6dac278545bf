"""Every margin against the varied input, on an axis of capability over factor × demand."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from matplotlib.ticker import FixedLocator, FuncFormatter, NullLocator

from crushleg.report.plot_labels import Label, height_of, margin_labels, paper_size
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.style import (
    FIRM,
    LIMITED,
    MARKERS,
    NEGATIVE,
    SMALL,
    SOFT,
    SOLID,
    SPOT,
    THIN,
    plain_ticks,
    scaled,
    styled,
    unit_for,
    way,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import FloatArray
    from crushleg.design.compare import Comparison
    from crushleg.design.vary import Varied

LEFT, RIGHT, LOW, ABOVE = 17.0, 52.0, 10.0, 3.0
LEAST_TALL = 85.0
LEAST, MOST = 0.2, 40.0
"""Ends of the axis, margin + 1; what lies beyond is drawn at the edge."""
TICKS = (0.0, 1.0, 10.0, -0.5, 5.0, 0.5, 2.0, -0.8, 20.0, 0.2, -0.2, -0.7, 0.1, -0.1)
"""Margins that may stand at the axis, the first the most wanted."""
APART = 4.0
"""Between ticks [mm]."""
MARKED = 12


class Series(NamedTuple):
    """One margin over all values: name, margin + 1 (NaN where not judged), whether it counts."""

    name: str
    ratio: FloatArray
    counts: bool


def series(comparison: Comparison) -> list[Series]:
    """Every margin that is judged at one value at least, counted ones first."""
    names: dict[tuple[str, str], list[float]] = {}
    counted: dict[tuple[str, str], bool] = {}
    for k, one in enumerate(comparison.compared):
        for margin in one.checked.margins:
            key = (margin.check, margin.touchdown)
            values = names.setdefault(key, [np.nan] * len(comparison.compared))
            values[k] = np.nan if margin.margin is None else float(margin.margin[0]) + 1.0
            counted[key] = margin.counts
    found = [
        Series(f"{check.replace('_', ' ')}, {where}", np.array(values), counted[check, where])
        for (check, where), values in names.items()
        if not np.isnan(values).all()
    ]
    return sorted(found, key=lambda one: not one.counts)


def margins_figure(comparison: Comparison, varied: Varied, system: str = "si") -> Figure:
    """Every margin against the varied input.

    Parameters
    ----------
    comparison : Comparison
    varied : Varied
    system : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    Figure
        The axis is logarithmic in margin + 1 and named by the margin; the zero line is marked.
    """
    with styled():
        every = series(comparison)
        tall = max(LEAST_TALL, sum(height_of(_label(one), SMALL) for one in every) + 4.0)
        values = np.array(varied.values)
        unit = unit_for(values, varied.dimension, system)
        note = "Thin: shown, not counted. Below the zero line a margin is negative."
        figure = sheet(comparison.first, f"Margins against {varied.key}", LOW + tall + ABOVE, note)
        axes = place(figure, LEFT, LOW, PAGE - LEFT - RIGHT, tall)
        x = scaled(values, unit)
        _axes(axes, every, x)
        for k, one in enumerate(every):
            _draw(axes, one, k, x)
        axes.set_xlabel(f"{varied.key} ({unit})" if unit else varied.key)
        labels = [
            Label(
                float(np.log(_inside(one.ratio, axes)[_last(one.ratio)])),
                _label(one),
                str(_way(one, k)["color"]),
                MARKERS[k % len(MARKERS)],
            )
            for k, one in enumerate(every)
        ]
        _log_labels(axes, labels)
    return figure


def _label(one: Series) -> str:
    return one.name if one.counts else f"{one.name}, not counted"


def _last(ratio: FloatArray) -> int:
    return int(np.flatnonzero(~np.isnan(ratio))[-1])


def _axes(axes: Axes, every: list[Series], x: FloatArray) -> None:
    """Logarithmic axis of margin + 1 with margins as ticks, and the zero line."""
    known = np.concatenate([one.ratio[~np.isnan(one.ratio)] for one in every])
    low = max(min(0.9 * float(known.min()), 0.85), LEAST)
    high = min(max(1.15 * float(known.max()), 1.3), MOST)
    axes.set_yscale("log")
    axes.set_ylim(low, high)
    pad = 0.02 * abs(float(x[-1] - x[0]))
    axes.set_xlim(float(x.min()) - pad, float(x.max()) + pad)
    plain_ticks(axes)
    axes.yaxis.set_major_locator(FixedLocator(_ticks(low, high, paper_size(axes)[1])))
    axes.yaxis.set_minor_locator(NullLocator())
    axes.yaxis.set_major_formatter(
        FuncFormatter(lambda ratio, _: f"{round(ratio - 1.0, 3):+g}" if ratio != 1.0 else "0")
    )
    axes.set_ylabel("Margin = capability / (factor × demand) − 1")
    axes.axhline(1.0, gid="zero", **LIMITED)
    axes.axhspan(low, 1.0, color=NEGATIVE, linewidth=0.0, zorder=0.1, gid="negative")


def _ticks(low: float, high: float, tall: float) -> list[float]:
    """Ticks of margin + 1 that stand apart on ``tall`` mm."""
    kept: list[float] = []
    for ratio in (1.0 + tick for tick in TICKS):
        near = (tall * abs(np.log(ratio / other)) / np.log(high / low) < APART for other in kept)
        if low <= ratio <= high and not any(near):
            kept.append(ratio)
    return kept


def _way(one: Series, k: int) -> dict[str, Any]:
    """Colour and dash of the k-th line; with its marker no two are alike."""
    if not one.counts:
        return {"color": SOFT, "linestyle": SOLID}
    return way(k)


def _inside(ratio: FloatArray, axes: Axes) -> FloatArray:
    """Ratios kept inside the axis; a margin of -1 (never stops) is at its lower edge."""
    return np.clip(ratio, *axes.get_ylim())


def _draw(axes: Axes, one: Series, k: int, x: FloatArray) -> None:
    axes.plot(
        x,
        _inside(one.ratio, axes),
        marker=MARKERS[k % len(MARKERS)],
        markersize=SPOT,
        markevery=max(1, -(-len(x) // MARKED)),
        linewidth=FIRM if one.counts else THIN,
        gid=one.name,
        zorder=3 if one.counts else 2,
        **_way(one, k),
    )


def _log_labels(axes: Axes, labels: list[Label]) -> None:
    """Labels in the margin, placed on the logarithm of the axis."""
    low, high = axes.get_ylim()
    span = np.log(high / low)
    moved = [
        label._replace(at=low + (high - low) * (label.at - np.log(low)) / span) for label in labels
    ]
    margin_labels(axes, moved, RIGHT)
