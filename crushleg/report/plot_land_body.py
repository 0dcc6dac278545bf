"""What a side view shows: ground on its slope, legs, body, clearance, lean, speed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
from scipy.spatial import ConvexHull

from crushleg.report.plot_labels import SMALL, clear_spots, paper_size, width_of
from crushleg.report.style import BLUE, FAINT, INK, LIMIT, SOFT, halo, quantity
from crushleg.units import display_unit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes

    from crushleg.arrays import FloatArray
    from crushleg.report.plot_land_poses import View

SOIL, SKIN = "#ececec", "#f4f7fa"
PAD = 2.2
"""Width of a pad on paper [mm]."""
TOGETHER = 2.5
"""Legs nearer than this on paper share their numbers [mm]."""
LINE = 2.8
"""Height of a line of text [mm]."""
WEIGHT = 10
"""How much worse it is to cover a text than a line."""
ARROW = 9.0
"""Length of the speed's arrow [mm]."""
UPRIGHT = math.radians(0.05)
SIDE = 0.05
"""Share of the farthest pad behind the plane of the centre of gravity from which a leg is far."""


def draw_ground(axes: Axes, view: View) -> None:
    """Ground in the plane of the centre of gravity, and as far before and behind as pads are."""
    x = np.array(axes.get_xlim())
    bottom = axes.get_ylim()[0]
    reach = float(np.abs(view.depth).max())
    middle = view.slope[0] * x
    near, far = middle - view.slope[1] * reach, middle + view.slope[1] * reach
    axes.fill_between(x, np.minimum(near, far), bottom, color=SOIL, linewidth=0.0, zorder=0.1)
    axes.fill_between(x, near, far, color=FAINT, alpha=0.6, linewidth=0.0, zorder=0.2)
    axes.plot(x, middle, color=SOFT, linewidth=0.8, zorder=0.3, gid="ground")


def draw_body(axes: Axes, view: View, scale: float, system: str) -> None:
    """Vehicle in one pose; ``scale`` is mm of paper per metre."""
    _shade(axes, view)
    for leg in np.argsort(-view.depth):
        _leg(axes, view, int(leg), scale)
    how: dict[str, Any] = {"color": INK, "zorder": 3.0}
    if len(view.hull):
        axes.plot(*view.hull.T, linewidth=1.0, gid="hull", **how)
    dash = (0, (6.0, 1.5, 1.0, 1.5))
    axes.plot(*view.axis.T, linewidth=0.6, linestyle=dash, gid="axis", **how)
    axes.plot(*view.centre, "o", markersize=5.0, markerfacecolor="white", gid="centre", **how)
    axes.plot(*view.centre, "+", markersize=5.0, markeredgewidth=0.6, **how)
    taken = _numbers(axes, view, scale)
    _lean(axes, view, scale)
    if math.isfinite(view.clearance):
        _clearance(axes, view, scale, (system, taken))


def _shade(axes: Axes, view: View) -> None:
    """Join the known points of the body."""
    points = np.concatenate([view.held, view.hull, view.axis[:1], [view.centre]])
    edge = ConvexHull(points, qhull_options="QJ").vertices
    axes.fill(*points[edge].T, facecolor=SKIN, edgecolor=FAINT, linewidth=0.5, zorder=0.6)


def _leg(axes: Axes, view: View, leg: int, scale: float) -> None:
    """Leg from where it is held to its pad, and the crushed length beyond."""
    near = view.depth[leg] <= SIDE * np.abs(view.depth).max()
    colour, width, order = (INK, 1.6, 2.5) if near else (SOFT, 1.0, 1.5)
    line = np.stack([view.held[leg], view.pads[leg]])
    axes.plot(*line.T, color=colour, linewidth=width, zorder=order, gid=f"leg {leg + 1}")
    crushed = np.stack([view.pads[leg], view.free[leg]])
    axes.plot(*crushed.T, color=LIMIT, linewidth=1.1, zorder=order + 0.1, gid=f"crushed {leg + 1}")
    along = np.array([1.0, view.slope[0]]) / math.hypot(1.0, view.slope[0])
    pad = view.pads[leg] + np.outer([-0.5, 0.5], along * PAD / scale)
    axes.plot(*pad.T, color=colour, linewidth=2.2, solid_capstyle="butt", zorder=order + 0.2)


def _numbers(axes: Axes, view: View, scale: float) -> list[FloatArray]:
    """Numbers of the legs where they are held, from the outermost in, as long as there is room.

    Returns the line along each text.
    """
    found: list[list[int]] = []
    for leg, at in enumerate(view.held):
        near = [g for g in found if np.hypot(*(view.held[g[0]] - at)) * scale < TOGETHER]
        if near:
            near[0].append(leg)
        else:
            found.append([leg])
    taken: list[FloatArray] = []
    for group in sorted(found, key=lambda g: -abs(float(view.held[g[0]][0] - view.centre[0]))):
        at = view.held[group].mean(axis=0) + np.array([0.0, 0.5 * LINE / scale])
        text = ", ".join(str(leg + 1) for leg in group)
        outward = 1.0 if at[0] >= view.centre[0] else -1.0
        beside = 1.2 * outward / scale
        wide = outward * width_of(text, size=SMALL) / scale
        box = at + np.array([[beside, 0.0], [beside + wide, 0.0]])
        gaps = [np.abs(box.mean(axis=0) - one.mean(axis=0)) * scale for one in taken]
        widths = [0.5 * (abs(wide) + float(np.ptp(one[:, 0]))) * scale for one in taken]
        hidden = any(g[0] < w and g[1] < LINE for g, w in zip(gaps, widths, strict=True))
        if hidden or np.abs(box[:, 0]).max() > axes.get_xlim()[1]:
            continue
        taken.append(box)
        axes.text(
            float(box[0, 0]),
            float(at[1]),
            text,
            ha="left" if outward > 0.0 else "right",
            va="center",
            fontsize=SMALL,
            path_effects=halo(),
            zorder=5.0,
            gid="numbers",
        )
    return taken


def lean_text(lean: FloatArray) -> str:
    """Lean of the vehicle axis from the vertical in words.

    >>> lean_text(np.radians([3.04, -0.02])), lean_text(np.radians([0.0, 0.0]))
    ('leans 3.0° ahead', 'upright')
    """
    words = (("ahead", "back"), ("left", "right"))
    said = [
        f"{abs(math.degrees(angle)):.1f}° {pair[0] if angle > 0.0 else pair[1]}"
        for angle, pair in zip(lean.tolist(), words, strict=True)
        if abs(angle) >= UPRIGHT
    ]
    return f"leans {', '.join(said)}" if said else "upright"


def _lean(axes: Axes, view: View, scale: float) -> None:
    """Vertical through the centre of gravity, and the angle of the axis to it."""
    tip = view.axis[1]
    long = float(np.hypot(*(tip - view.centre)))
    top = view.centre + np.array([0.0, long])
    plumb = np.stack([view.centre, top])
    axes.plot(*plumb.T, color=BLUE, linewidth=0.6, linestyle=":", zorder=2.8, gid="vertical")
    arc = np.linspace(0.0, float(view.lean[0]), 30)
    bow = view.centre + 0.8 * long * np.stack([np.sin(arc), np.cos(arc)], axis=1)
    axes.plot(*bow.T, color=BLUE, linewidth=0.7, zorder=2.8, gid="lean")
    high = max(float(tip[1]), float(top[1])) + 1.5 / scale
    middle = min(
        max(0.5 * float(tip[0] + top[0]), axes.get_xlim()[0] * 0.4), axes.get_xlim()[1] * 0.4
    )
    axes.text(
        middle,
        high,
        lean_text(view.lean),
        ha="center",
        va="bottom",
        fontsize=SMALL,
        color=BLUE,
        path_effects=halo(),
        zorder=5.0,
        gid="lean text",
    )


def _clearance(axes: Axes, view: View, scale: float, more: tuple[str, list[FloatArray]]) -> None:
    """Dimension from the lowest hard point to the ground, clear of other texts."""
    system, taken = more
    arrow = {"arrowstyle": "<->", "color": BLUE, "linewidth": 0.7, "shrinkA": 0.0, "shrinkB": 0.0}
    ends = _xy(view.below), _xy(view.lowest)
    axes.annotate("", *ends, arrowprops=arrow, zorder=4.0, gid="clearance")
    text = quantity(view.clearance, display_unit(abs(view.clearance), "length", system))
    middle = 0.5 * (view.below + view.lowest)
    _beside(axes, view, scale, (middle, text, BLUE, "clearance text"), taken)


def _beside(
    axes: Axes,
    view: View,
    scale: float,
    what: tuple[FloatArray, str, str, str],
    taken: Sequence[FloatArray] = (),
) -> None:
    """Write a text beside a point where it covers least: point, text, colour, gid."""
    point, text, colour, gid = what
    low = np.array([axes.get_xlim()[0], axes.get_ylim()[0]])
    legs = [np.stack(ends) for ends in zip(view.held, view.pads, strict=True)]
    across = np.array(axes.get_xlim())
    lines = [
        *legs,
        *(WEIGHT * list(taken)),
        view.axis,
        np.stack([across, view.slope[0] * across], axis=1),
    ]
    if len(view.hull):
        lines += [view.hull, np.stack([view.below, view.lowest])]
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
    arrow = {"arrowstyle": "-|>", "color": LIMIT, "linewidth": 1.2, "shrinkA": 2.5, "shrinkB": 0.0}
    axes.annotate("", _xy(tip), _xy(view.centre), arrowprops=arrow, zorder=4.5, gid="speed")
    text = quantity(speed, display_unit(speed, "speed", system))
    _beside(axes, view, scale, (0.5 * (tip + view.centre), text, LIMIT, "speed text"))
