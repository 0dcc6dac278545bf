"""Figures of landings in motion: drawn, rendered, and written beside and renamed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.report.land_names import file_names
from crushleg.report.plot_land_overview import overview_figure
from crushleg.report.plot_land_side import land_side_figure
from crushleg.report.plot_land_time import land_time_figure
from crushleg.report.plot_stability import stability_figure

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from crushleg.land import Moving
    from crushleg.stability import StabilityMap


def figures(
    moving: Moving, units: str = "si", stability: StabilityMap | None = None
) -> dict[str, Figure]:
    """Figures of landings in motion by name.

    Parameters
    ----------
    moving : Moving
    units : str, optional
        Units of display, "si" or "us".
    stability : StabilityMap, optional

    Returns
    -------
    dict
        land-NAME-time and land-NAME-side for every touchdown of the case, land-overview where
        there is more than one landing (standard cases are only there), land-stability.
    """
    found: dict[str, Figure] = {}
    asked = moving.moves[: len(moving.checked.case.touchdowns)]
    for name, move in zip(file_names([move.name for move in asked]), asked, strict=True):
        found[f"land-{name}-time"] = land_time_figure(moving, move, units)
        found[f"land-{name}-side"] = land_side_figure(moving, move, units)
    if len(moving.moves) > 1:
        found["land-overview"] = overview_figure(moving, units)
    if stability is not None:
        found["land-stability"] = stability_figure(moving.checked, stability, units)
    return found
