"""What a side view shows: ground on its slope, legs, body, clearance, lean, speed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
from scipy.spatial import ConvexHull

from crushleg.report.plot_labels import width_of
from crushleg.report.plot_land_marks import draw_clearance
from crushleg.report.style import (
    BANK,
    BOLD,
    CHAIN,
    DOTS,
    FAINT,
    FINE,
    FIRM,
    INK,
    SKIN,
    SMALL,
    SOFT,
    SOIL,
    THICK,
    THIN,
    WHITE,
    halo,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from crushleg.arrays import FloatArray
    from crushleg.report.plot_land_poses import View

PAD = 2.2
"""Width of a pad on paper [mm]."""
TOGETHER = 2.5
"""Legs nearer than this on paper share their numbers [mm]."""
LINE = 2.8
"""Height of a line of text [mm]."""
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
    axes.fill_between(x, near, far, color=BANK, linewidth=0.0, zorder=0.2)
    axes.plot(x, middle, color=SOFT, linewidth=FINE, zorder=0.3, gid="ground")


def draw_body(axes: Axes, view: View, scale: float, system: str) -> None:
    """Vehicle in one pose; ``scale`` is mm of paper per metre."""
    _shade(axes, view)
    for leg in np.argsort(-view.depth):
        _leg(axes, view, int(leg), scale)
    how: dict[str, Any] = {"color": INK, "zorder": 3.0}
    if len(view.hull):
        axes.plot(*view.hull.T, linewidth=FIRM, gid="hull", **how)
    axes.plot(*view.axis.T, linewidth=THIN, linestyle=CHAIN, gid="axis", **how)
    axes.plot(*view.centre, "o", markerfacecolor=WHITE, gid="centre", **how)
    axes.plot(*view.centre, "+", markeredgewidth=THIN, **how)
    _numbers(axes, view, scale)
    _lean(axes, view, scale)
    if math.isfinite(view.clearance):
        draw_clearance(axes, view, scale, system)


def _shade(axes: Axes, view: View) -> None:
    """Join the known points of the body."""
    points = np.concatenate([view.held, view.hull, view.axis[:1], [view.centre]])
    edge = ConvexHull(points, qhull_options="QJ").vertices
    axes.fill(*points[edge].T, facecolor=SKIN, edgecolor=FAINT, linewidth=THIN, zorder=0.6)


def _leg(axes: Axes, view: View, leg: int, scale: float) -> None:
    """Leg from where it is held to its pad, and the crushed length beyond."""
    near = view.depth[leg] <= SIDE * np.abs(view.depth).max()
    colour, width, order = (INK, BOLD, 2.5) if near else (SOFT, FIRM, 1.5)
    line = np.stack([view.held[leg], view.pads[leg]])
    axes.plot(*line.T, color=colour, linewidth=width, zorder=order, gid=f"leg {leg + 1}")
    crushed = np.stack([view.pads[leg], view.free[leg]])
    axes.plot(
        *crushed.T,
        color=INK,
        linewidth=FIRM,
        linestyle=DOTS,
        zorder=order + 0.1,
        gid=f"crushed {leg + 1}",
    )
    along = np.array([1.0, view.slope[0]]) / math.hypot(1.0, view.slope[0])
    pad = view.pads[leg] + np.outer([-0.5, 0.5], along * PAD / scale)
    axes.plot(*pad.T, color=colour, linewidth=THICK, solid_capstyle="butt", zorder=order + 0.2)


def _numbers(axes: Axes, view: View, scale: float) -> None:
    """Numbers of the legs where they are held, from the outermost in, as long as there is room."""
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
    axes.plot(*plumb.T, color=SOFT, linewidth=THIN, linestyle=DOTS, zorder=2.8, gid="vertical")
    arc = np.linspace(0.0, float(view.lean[0]), 30)
    bow = view.centre + 0.8 * long * np.stack([np.sin(arc), np.cos(arc)], axis=1)
    axes.plot(*bow.T, color=SOFT, linewidth=FINE, zorder=2.8, gid="lean")
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
        color=INK,
        path_effects=halo(),
        zorder=5.0,
        gid="lean text",
    )
