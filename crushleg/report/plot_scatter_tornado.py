"""Tornado of a study: each margin with one input at its 5 % and 95 % value."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from matplotlib.patches import Patch
from matplotlib.ticker import FuncFormatter, MaxNLocator

from crushleg.report.plot_labels import fitted
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.scatter_words import input_name, named, shown_margins, value_text
from crushleg.report.style import (
    FINE,
    INCH,
    INK,
    LIMITED,
    NEGATIVE,
    SMALL,
    SOFT,
    WHITE,
    halo,
    styled,
)
from crushleg.report.words import margin_text
from crushleg.units import plain

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.scatter.outcome import Outcome
    from crushleg.scatter.sensitivity import Tornado

LEFT, RIGHT, LOW, ABOVE = 50.0, 14.0, 14.0, 6.0
ROW, GAP, KEYS = 5.6, 14.0, 44.0
MARGINS, MOST = 3, 10
"""Margins that are drawn, and inputs of each."""
FACES = ((WHITE, "5 % value"), (SOFT, "95 % value"))


def tornado_figure(outcome: Outcome, units: str = "si") -> Figure:
    """Margins that come nearest to failing, one input moved at a time, the widest bar on top."""
    tornado = outcome.tornado
    if tornado is None:
        message = "no input was moved on its own"
        raise ValueError(message)
    names = [outcome.study.names[m] for m in shown_margins(outcome, MARGINS)]
    with styled():
        tall = ROW * min(MOST, len(tornado.inputs))
        body = LOW + len(names) * tall + max(len(names) - 1, 0) * GAP + ABOVE
        what = "Margins with one input at its 5 % and 95 % value, the others at their medians"
        figure = sheet(outcome.checked, what, body, "Correlated inputs follow the one that moves.")
        for k, name in enumerate(reversed(names)):
            axes = place(figure, LEFT, LOW + k * (tall + GAP), PAGE - LEFT - RIGHT, tall)
            _panel(axes, outcome, tornado, name, units)
        figure.legend(
            handles=[Patch(facecolor=c, edgecolor=SOFT, label=t) for c, t in FACES],
            loc="lower left",
            bbox_to_anchor=(4.0 / PAGE, 9.8 / (figure.get_size_inches()[1] * INCH)),
        )
    return figure


def _panel(
    axes: Axes, outcome: Outcome, tornado: Tornado, name: tuple[str, str], units: str
) -> None:
    """Bars of one margin from its value with every input at its median."""
    q = tornado.results.index(" ".join(name).strip())
    ends, centre = tornado.ends[:, q], float(tornado.centre[q])
    swing = np.nan_to_num(np.abs(ends - centre).max(axis=0))
    order = np.argsort(-swing, kind="stable")[:MOST]
    kinds = {input_name(one): one.kind for one in outcome.plan.inputs}
    for row, k in enumerate(order):
        for end, (face, _) in enumerate(FACES):
            y = row - 0.2 + 0.4 * end
            value = float(ends[end, k])
            axes.barh(
                y, value - centre, 0.36, centre, facecolor=face, edgecolor=SOFT,
                gid=f"{' '.join(name)} {tornado.inputs[k]} {end}",
            )  # fmt: skip
            text = value_text(float(tornado.at[end, k]), kinds[tornado.inputs[k]], units, 3)
            _at_end(axes, value, y, text, left=value < centre)
    axes.axvline(centre, color=INK, linewidth=FINE)
    axes.set_yticks(range(len(order)), [fitted(tornado.inputs[k], KEYS, size=SMALL) for k in order])
    axes.tick_params(axis="y", length=0.0, labelsize=SMALL)
    axes.set_ylim(len(order) - 0.4, -0.6)
    _limits(axes, ends[:, order], centre)
    axes.set_title(f"{named(name)}: {margin_text(centre)} at the medians")
    axes.spines["left"].set_visible(False)


def _at_end(axes: Axes, x: float, y: float, text: str, *, left: bool) -> None:
    """Value of the input at the end of its bar."""
    axes.annotate(
        text,
        (x, y),
        xytext=(-2.0 if left else 2.0, 0.0),
        textcoords="offset points",
        ha="right" if left else "left",
        va="center",
        fontsize=SMALL,
        color=SOFT,
        path_effects=halo(),
    )


def _limits(axes: Axes, ends: np.ndarray, centre: float) -> None:
    """Axis with room for the texts; zero on it where it is near."""
    low, high = float(np.nanmin([*ends.ravel(), centre])), float(np.nanmax([*ends.ravel(), centre]))
    wide = max(high - low, 1e-6)
    if -wide < low and high > 0.0 and low < 1.5 * wide:
        low = min(low, 0.0)
    if low <= 0.0 <= high:
        axes.axvspan(min(low, 0.0) - 2.0 * wide, 0.0, color=NEGATIVE, linewidth=0.0, zorder=0.1)
        axes.axvline(0.0, gid="zero", **LIMITED)
    wide = max(high - low, 1e-6)
    axes.set_xlim(low - 0.14 * wide, high + 0.14 * wide)
    axes.xaxis.set_major_locator(MaxNLocator(8, steps=[1, 2, 2.5, 5, 10]))
    axes.xaxis.set_major_formatter(FuncFormatter(lambda value, _: plain(value, 4)))
