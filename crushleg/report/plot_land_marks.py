"""What a side view measures: clearance with its dimension, and the speed at contact."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np

from crushleg.report.plot_labels import clear_spots, paper_size
from crushleg.report.style import BOLD, FINE, INK, SMALL, SOFT, THIN, halo, quantity
from crushleg.units import display_unit

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from crushleg.arrays import FloatArray
    from crushleg.report.plot_land_poses import View

UNDER = 2.2
"""From the ground down to the middle of the clearance's text [mm]."""
ARROW = 9.0
"""Length of the speed's arrow [mm]."""
CLEAR, STEPS = 1.5, (0.0, 4.0, -4.0, 8.0, -8.0)
"""The dimension of the clearance stands so far from legs; steps that are tried [mm]."""


def draw_clearance(axes: Axes, view: View, scale: float, system: str) -> None:
    """Dimension from the lowest hard point to the ground, clear of legs; its text below."""
    arrow = {"arrowstyle": "<->", "color": SOFT, "linewidth": FINE, "shrinkA": 0.0, "shrinkB": 0.0}
    aside = _aside(view, scale)
    ends = _xy(view.below + aside), _xy(view.lowest + aside)
    axes.annotate("", *ends, arrowprops=arrow, zorder=4.0, gid="clearance")
    reach = np.stack([view.lowest, view.lowest + 1.2 * aside])
    axes.plot(*reach.T, color=SOFT, linewidth=THIN, zorder=4.0)
    text = quantity(view.clearance, display_unit(abs(view.clearance), "length", system))
    under = view.below + aside - np.array([0.0, UNDER / scale])
    how: dict[str, Any] = {"ha": "center", "va": "center", "fontsize": SMALL, "color": INK}
    axes.annotate(text, _xy(under), path_effects=halo(), zorder=5.0, gid="clearance text", **how)


def _aside(view: View, scale: float) -> FloatArray:
    """Step along the ground that takes the dimension of the clearance off the legs [m]."""
    along = np.array([1.0, view.slope[0]]) / math.hypot(1.0, view.slope[0]) / scale
    legs = np.stack([view.held, view.pads]).mean(axis=0)[:, 0]
    middle = 0.5 * (view.below + view.lowest)
    near = [
        float(np.abs(legs - (middle + step * along)[0]).min()) * scale < CLEAR for step in STEPS
    ]
    step: float = STEPS[near.index(False)] if False in near else 0.0
    return step * along


def _beside(
    axes: Axes,
    view: View,
    scale: float,
    what: tuple[FloatArray, str, str, str],
) -> None:
    """Write a text beside a point where it covers least: point, text, colour, gid."""
    point, text, colour, gid = what
    low = np.array([axes.get_xlim()[0], axes.get_ylim()[0]])
    legs = [np.stack(ends) for ends in zip(view.held, view.pads, strict=True)]
    across = np.array(axes.get_xlim())
    lines = [
        *legs,
        view.axis,
        np.stack([across, view.slope[0] * across], axis=1),
    ]
    if len(view.hull):
        lines.append(view.hull)
    paper = [(line - low) * scale for line in lines]
    at = (point - low) * scale
    spot = clear_spots(at[None], [text], paper, np.array(paper_size(axes)), at[None])[0]
    axes.annotate(
        text,
        _xy(spot / scale + low),
        ha="center",
        va="center",
        fontsize=SMALL,
        color=colour,
        path_effects=halo(),
        zorder=5.0,
        gid=gid,
    )


def _xy(point: FloatArray) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def draw_speed(axes: Axes, view: View, scale: float, system: str) -> None:
    """Arrow of the speed at contact from the centre of gravity."""
    speed = float(np.hypot(*view.velocity))
    tip = view.centre + view.velocity / speed * ARROW / scale
    arrow = {"arrowstyle": "-|>", "color": INK, "linewidth": BOLD, "shrinkA": 2.5, "shrinkB": 0.0}
    axes.annotate("", _xy(tip), _xy(view.centre), arrowprops=arrow, zorder=4.5, gid="speed")
    text = quantity(speed, display_unit(speed, "speed", system))
    _beside(axes, view, scale, (0.5 * (tip + view.centre), text, INK, "speed text"))
