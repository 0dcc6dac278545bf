"""Figures of a study: drawn, rendered, and written beside and renamed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.report.plot_scatter_counts import convergence_figure, histogram_figure
from crushleg.report.plot_scatter_curves import curves_figure
from crushleg.report.plot_scatter_speed import driving_touchdown, speed_figure
from crushleg.report.plot_scatter_tornado import tornado_figure
from crushleg.scatter.outcome import sampled_curves

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from crushleg.scatter.outcome import Outcome


def scatter_figures(outcome: Outcome, units: str = "si") -> dict[str, Figure]:
    """Figures of a study by name.

    Parameters
    ----------
    outcome : Outcome
    units : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    dict
        scatter-histogram, scatter-curves, scatter-convergence; scatter-speed where the speed of a
        touchdown scatters, scatter-tornado where anything does.
    """
    curves = sampled_curves(outcome.case, len(outcome.study.number))
    found = {
        "scatter-histogram": histogram_figure(outcome, units),
        "scatter-curves": curves_figure(outcome, curves, units),
        "scatter-convergence": convergence_figure(outcome),
    }
    if driving_touchdown(outcome) is not None:
        found["scatter-speed"] = speed_figure(outcome, units)
    if outcome.tornado is not None and outcome.plan.inputs:
        found["scatter-tornado"] = tornado_figure(outcome, units)
    return found
