"""Figures of a comparison: drawn, rendered, and written beside and renamed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.report.plot_compare_curves import curves_figure
from crushleg.report.plot_compare_girders import faces_figure
from crushleg.report.plot_compare_margins import margins_figure

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from crushleg.design.compare import Comparison


def comparison_figures(comparison: Comparison, units: str = "si") -> dict[str, Figure]:
    """Figures of a comparison by name.

    Parameters
    ----------
    comparison : Comparison
    units : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    dict
        compare-curves, compare-girders, and compare-margins where one input is varied.
    """
    found = {
        "compare-curves": curves_figure(comparison, units),
        "compare-girders": faces_figure(comparison, units),
    }
    if comparison.lineup.varied is not None:
        found["compare-margins"] = margins_figure(comparison, comparison.lineup.varied, units)
    return found
