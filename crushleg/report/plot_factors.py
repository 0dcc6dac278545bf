"""Figure of a correlation: measured over predicted energy of every test, by batch."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np

from crushleg.check import check_case
from crushleg.report.correlate_words import batch_name
from crushleg.report.plot_labels import clean, width_of
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.style import (
    BAND,
    BAR,
    DOTS,
    FINE,
    GREEN,
    INK,
    LIMIT,
    SMALL,
    SOFT,
    WHITE,
    halo,
    styled,
)
from crushleg.trial.frozen import uncorrelated

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import FloatArray
    from crushleg.report.correlate_text import Findings
    from crushleg.trial.correlate import Batch

LOW, ABOVE = 10.0, 3.0
EACH, AROUND = 6.0, 14.0
LEAST, MOST = 52.0, 190.0
LEAST_ROW, SIDE = 3.0, 38.0
BARS = (
    "Dark bar: 95 % limits of the batch's factor. Pale: those of its next test. Dotted: 2 standard "
    "deviations of a first test."
)


def factors_figure(about: Findings) -> Figure:
    """Measured over uncorrelated energy of every test, batch by batch, with what they say."""
    found = about.found
    rows = sum(len(batch.tests) + 1 for batch in found.batches)
    height = min(max(LEAST, EACH * rows + AROUND), MOST)
    with styled():
        checked = check_case(uncorrelated(about.case))
        what = "Measured over predicted energy of every test, by batch"
        figure = sheet(checked, what, LOW + height + ABOVE, BARS)
        axes = place(figure, SIDE, LOW, PAGE - SIDE - 6.0, height)
        spread = [math.exp(test.y) for test in found.tests]
        limits = [b.posterior.limits(of_next=True) for b in found.batches if b.posterior]
        ends = [*spread, *(x for pair in limits for x in pair), *_prior_ends(about)]
        axes.set_xlim(min(ends) - 0.03, max(ends) + 0.03)
        prior = found.prior
        for side in (-2.0, 2.0):
            at = math.exp(prior.mean + side * prior.predictive)
            axes.axvline(at, color=SOFT, linewidth=FINE, linestyle=DOTS, gid="prior")
        axes.axvline(1.0, color=INK, linewidth=FINE, gid="prediction")
        names: list[tuple[float, str]] = []
        y = 0.0
        for batch in found.batches:
            y = _batch(axes, batch, y, names)
        axes.set_ylim(y - 0.6, -0.8)
        if height / rows < LEAST_ROW:
            keep = {test.record.name for test in found.tests if test.disagrees}
            keep |= {batch_name(batch.name) for batch in found.batches}
            names = [one for one in names if one[1] in keep]
        axes.set_yticks([at for at, _ in names], [_ending(name, SIDE - 5.0) for _, name in names])
        axes.tick_params(axis="y", length=0.0)
        axes.set_xlabel("Measured energy over that of the prediction without any correlation (-)")
    return figure


def _prior_ends(about: Findings) -> tuple[float, float]:
    prior = about.found.prior
    return (
        math.exp(prior.mean - 2.0 * prior.predictive),
        math.exp(prior.mean + 2.0 * prior.predictive),
    )


def _batch(axes: Axes, batch: Batch, y: float, names: list[tuple[float, str]]) -> float:
    """Draw one batch from row ``y`` down; return the next row."""
    first = y
    for test in batch.tests:
        marker = "X" if test.disagrees else ("o" if test.record.usable else "s")
        face = LIMIT if test.disagrees else (GREEN if test.record.usable else WHITE)
        edge = LIMIT if test.disagrees else GREEN
        at = math.exp(test.y)
        how: dict[str, Any] = {"markerfacecolor": face, "markeredgecolor": edge}
        axes.plot(at, y, marker, gid=f"test {test.record.name}", zorder=4, **how)
        said = "  DISAGREES" if test.disagrees else ("" if test.record.usable else "  not used")
        _beside(axes, at, y, f"{at:.3f}{said}", edge, left=_right(axes, at))
        names.append((y, test.record.name))
        y += 1.0
    if batch.posterior is not None:
        _bars(axes, batch, y, first)
    names.append((y, batch_name(batch.name)))
    return y + 1.4


def _bars(axes: Axes, batch: Batch, y: float, first: float) -> None:
    """Factor and next test of a batch as bars in its own row."""
    posterior = batch.posterior
    if posterior is None:
        return
    span = np.array([first - 0.5, y + 0.4])
    near, far = posterior.limits(of_next=False), posterior.limits(of_next=True)
    axes.fill_betweenx(span, *_both(far), color=BAND, linewidth=0.0, zorder=0.6, gid="next test")
    axes.plot(near, [y, y], color=INK, linewidth=BAR, solid_capstyle="butt", gid="factor")
    axes.plot(posterior.factor, y, "D", color=INK, markerfacecolor=WHITE)
    outer = near[0] if _right(axes, near[1]) else near[1]
    _beside(axes, outer, y, f"factor {posterior.factor:.3f}", INK, left=outer == near[0])


def _right(axes: Axes, x: float) -> bool:
    """Whether there is no room for text right of a point."""
    low, high = axes.get_xlim()
    return x > low + 0.7 * (high - low)


def _ending(name: str, room: float) -> str:
    """Name cut at its beginning to a room [mm]: numbers stand at the end."""
    kept = clean(name)
    if width_of(kept) <= room:
        return kept
    while kept and width_of(f"…{kept}") > room:
        kept = kept[1:]
    return f"…{kept}"


def _beside(axes: Axes, x: float, y: float, text: str, colour: str, *, left: bool) -> None:
    """Write right or left of a point."""
    axes.annotate(
        text,
        (x, y),
        xytext=(-5 if left else 5, 0),
        textcoords="offset points",
        ha="right" if left else "left",
        va="center",
        fontsize=SMALL,
        color=colour,
        path_effects=halo(),
        zorder=5,
    )


def _both(limits: tuple[float, float]) -> tuple[FloatArray, FloatArray]:
    return np.full(2, limits[0]), np.full(2, limits[1])
