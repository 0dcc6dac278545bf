"""Side view of a landing in motion to scale: at contact, at peak deceleration, at the end."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.report.plot_labels import fitted, height_of
from crushleg.report.plot_land_body import draw_body, draw_ground
from crushleg.report.plot_land_facts import facts, head
from crushleg.report.plot_land_marks import draw_speed
from crushleg.report.plot_land_poses import View, views
from crushleg.report.plot_layout import standard_scale
from crushleg.report.plot_sheet import EDGE, FOOT, PAGE, place, put, sheet
from crushleg.report.style import FIRM, INK, SMALL, SOFT, styled
from crushleg.units import display_unit, express

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import FloatArray
    from crushleg.land import Move, Moving

BETWEEN = 3.0
WIDE = (PAGE - 2.0 * EDGE - 2.0 * BETWEEN) / 3.0
"""Width of a panel [mm]."""
TALLEST, BAR_ROOM = 92.0, 7.0
ROUND, OVER, UNDER = 0.06, 5.0, 2.5
"""Room beside the vehicle over its width; above it for the lean, below for the clearance [mm]."""
LEAST_BAR = 9.0
STEPS = (1.0, 2.0, 5.0)
HOW = (
    "Travel to the right, gravity down. Line beyond a pad: crushed length. "
    "Shaded: known points of the body, joined."
)


class Frame(NamedTuple):
    """Panel to scale: mm of paper per metre, its name, lower left and upper right corner [m]."""

    scale: float
    ratio: str
    low: FloatArray
    high: FloatArray


def land_side_figure(moving: Moving, move: Move, system: str = "si") -> Figure:
    """Three poses of the main column of a landing, side by side at one scale.

    Parameters
    ----------
    moving : Moving
    move : Move
        One of its landings.
    system : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    Figure
        One metre up is as long as one metre across.
    """
    with styled():
        seen = views(moving, move)
        frame = framed(seen)
        said = [facts(moving, move, k, one, system) for k, one in enumerate(seen)]
        texts = ["\n".join(fitted(line, WIDE, size=SMALL) for line in lines) for lines in said]
        tall = frame.scale * float(frame.high[1] - frame.low[1])
        below = BAR_ROOM + max(height_of(text, SMALL) for text in texts)
        what = f"{move.name}: side view to scale, {frame.ratio}"
        body = below + tall + height_of("Ag") + 1.0
        figure = sheet(moving.checked, what, body, HOW)
        for k, one in enumerate(seen):
            left = EDGE + k * (WIDE + BETWEEN)
            axes = place(figure, left, below, WIDE, tall)
            _panel(axes, frame, one, system)
            if k == 0:
                draw_speed(axes, one, frame.scale, system)
            top = FOOT + below + tall + 1.0
            name = fitted(head(move, k, one, system), WIDE, bold=True, lines=1)
            put(figure, left, top, name, weight="bold", va="bottom")
            put(figure, left, FOOT + below - BAR_ROOM, texts[k], size=SMALL, va="top", color=SOFT)
        _scale_bar(figure, frame, FOOT + below - 4.5, system)
    return figure


def framed(seen: Sequence[View]) -> Frame:
    """Frame in which every pose fits, at a standard scale."""
    points = np.concatenate(
        [np.concatenate([v.axis, v.pads, v.free, v.held, v.hull, [v.centre]]) for v in seen]
    )
    half = float(np.abs(points[:, 0]).max()) * (1.0 + ROUND)
    falls = max(half * abs(float(v.slope[0])) for v in seen)
    low = min(-falls, float(points[:, 1].min())) - ROUND * half
    high = max(falls, float(points[:, 1].max())) + ROUND * half
    scale, ratio = standard_scale(min(0.5 * WIDE / half, (TALLEST - OVER - UNDER) / (high - low)))
    half = 0.5 * WIDE / scale
    return Frame(
        scale, ratio, np.array([-half, low - UNDER / scale]), np.array([half, high + OVER / scale])
    )


def _panel(axes: Axes, frame: Frame, view: View, system: str) -> None:
    axes.set_xlim(float(frame.low[0]), float(frame.high[0]))
    axes.set_ylim(float(frame.low[1]), float(frame.high[1]))
    axes.set_aspect("equal")
    axes.axis("off")
    draw_ground(axes, view)
    draw_body(axes, view, frame.scale, system)


def bar_length(scale: float, system: str) -> tuple[float, str]:
    """Round length of the scale bar [m], at least 9 mm of paper, and its name."""
    unit = display_unit(LEAST_BAR / scale, "length", system)
    unit = {"mm": "m", "in": "ft"}.get(unit, unit)
    each = 1.0 / float(express(1.0, unit))
    rounds = [step * 10.0**k for k in range(-4, 5) for step in STEPS]
    count = next(n for n in rounds if n * each * scale >= LEAST_BAR)
    return count * each, f"{count:g} {unit}"


def _scale_bar(figure: Figure, frame: Frame, y: float, system: str) -> None:
    """Bar with its length, below the first panel."""
    length, name = bar_length(frame.scale, system)
    axes = place(figure, EDGE, y - FOOT, frame.scale * length, 2.0)
    axes.axis("off")
    axes.set(xlim=(0.0, length), ylim=(0.0, 1.0))
    axes.plot(
        [0.0, length], [0.5, 0.5], "|-", color=INK, linewidth=FIRM, clip_on=False, gid="scale bar"
    )
    right = EDGE + frame.scale * length + 2.0
    put(figure, right, y + 1.0, f"{name}, scale {frame.ratio}", size=SMALL, va="center")
