"""The strip below force against stroke: one row per touchdown with its stops."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.report.plot_curves import full_name, marked, stops
from crushleg.report.plot_labels import Label, fitted, height_of, margin_labels, paper_size
from crushleg.report.style import FINE, SMALL, SOFT, marker_face, plain_ticks, quantity, scaled

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes

    from crushleg.check import Checked
    from crushleg.landing.touchdown import Landed

ROW = 6.6
APART, ASIDE = 1.8, 0.3
"""Stops nearer than this [mm] stand aside by so much of a row."""


def strip_names(landings: Sequence[Landed], unit: str, room: float) -> list[str]:
    """Names for the margin of ``room`` mm, with the largest load of a leg that bottoms."""
    return [_name(landed, unit, room) for landed in landings]


def _name(landed: Landed, unit: str, room: float) -> str:
    at = stops(landed)
    name = fitted(full_name(landed), room, size=SMALL, lines=3)
    if not at.bottomed.any():
        return name
    peak = quantity(float(at.peak[at.bottomed].max()), unit)
    return f"{name}\n{fitted(f'BOTTOMS, {peak}', room, size=SMALL)}"


def strip_height(names: Sequence[str]) -> float:
    """Height of the strip whose rows hold these names [mm]."""
    return len(names) * max(ROW, *(height_of(name, SMALL) for name in names))


def draw_strip(
    axes: Axes, checked: Checked, unit: str, names: Sequence[str], margin: float
) -> None:
    """Draw a row per touchdown: its stops on the axis of stroke, its name in the margin [mm]."""
    axes.set_ylim(len(names) - 0.5, -0.5)
    axes.spines["left"].set_visible(False)
    near = APART * axes.get_xlim()[1] / paper_size(axes)[0]
    for row, (landed, marker) in enumerate(marked(checked.landings)):
        x = scaled(stops(landed).stroke, unit)
        axes.plot(x, [row] * 3, color=SOFT, linewidth=FINE)
        for level, aside in enumerate((-ASIDE, 0.0, ASIDE)):
            crowded = np.sort(np.abs(x - x[level]))[1] < near
            y = row + aside * crowded
            axes.plot(x[level], y, marker, clip_on=False, gid="strip", **marker_face(level))
    margin_labels(axes, [Label(row, name) for row, name in enumerate(names)], margin)
    plain_ticks(axes)
    axes.set_yticks([])
    axes.set_ylabel("Stops", rotation=0, ha="right", va="center", labelpad=4.0)
