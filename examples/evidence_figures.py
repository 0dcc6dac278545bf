"""Figures of the evidence page, in the look of all figures of the project."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from evidence_laws import MOST_SHARE, NET_AREA, OURS, WITHOUT_CORNER
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter, NullLocator

from crushleg.girder.bands import Z_TWO_SIDED
from crushleg.report.plot_curves import draw_curves, leg_lines, stops
from crushleg.report.style import (
    BAND,
    BROKEN,
    CHAIN,
    DOTS,
    FINE,
    FIRM,
    GREEN,
    INCH,
    INK,
    LEVELS,
    LIMIT,
    LIMITED,
    LINES,
    MARK,
    SOFT,
    SOLID,
    SPOT,
    WHITE,
    marker_face,
    plain_ticks,
    scaled,
    styled,
    unit_for,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from evidence_coupons import Coupon, Pair
    from evidence_laws import Family
    from matplotlib.axes import Axes

    from crushleg.arrays import FloatArray
    from crushleg.check import Checked

WIDE = 120.0
SIDES = (15.0, 4.0)
"""Left and right of the axes [mm]."""
STATUSES: dict[str, dict[str, Any]] = {
    "published": {"marker": "o", "color": INK},
    "from memory": {"marker": "s", "color": SOFT},
    "derived": {"marker": "^", "color": GREEN},
    "simulation": {"marker": "X", "color": LIMIT},
}
DECADES = 1.4
"""Room around the values on a logarithmic axis, as a factor."""
FINEST, LEAST_FAR = 1e-2, 60.0
"""Difference from which on the axis of differences is logarithmic, and its least end [%]."""


class Point(NamedTuple):
    """A value from outside and ours, with its status and whether it fails."""

    theirs: float
    ours: float
    status: str
    fails: bool


def _blank(tall: float) -> Figure:
    return Figure(figsize=(WIDE / INCH, tall / INCH))


def _axes(figure: Figure, bottom: float, height: float) -> Axes:
    """Axes across the figure; places in mm."""
    tall = figure.get_size_inches()[1] * INCH
    left, right = SIDES
    box = left / WIDE, bottom / tall, (WIDE - left - right) / WIDE, height / tall
    return figure.add_axes(box)


def parity(points: Sequence[Point]) -> Figure:
    """Ours against theirs, and how far apart they are, by status; failing ones ringed."""
    with styled():
        figure = _blank(118.0)
        upper, lower = _axes(figure, 66.0, 48.0), _axes(figure, 11.0, 48.0)
        x = np.abs([point.theirs for point in points])
        ends = x.min() / DECADES, x.max() * DECADES
        upper.plot(ends, ends, color=SOFT, linewidth=FINE, gid="equal")
        lower.axhline(0.0, color=SOFT, linewidth=FINE, gid="no difference")
        for status, look in STATUSES.items():
            of = [point for point in points if point.status == status]
            theirs = np.abs([point.theirs for point in of])
            off = [_off(point) for point in of]
            how = look | {"linestyle": "none", "markersize": SPOT, "fillstyle": "none"}
            upper.plot(theirs, np.abs([p.ours for p in of]), label=status, gid=status, **how)
            lower.plot(theirs, off, gid=f"off {status}", **how)
        _ring(upper, lower, [point for point in points if point.fails])
        for axes in (upper, lower):
            axes.set_xscale("log")
            axes.set_xlim(*ends)
            axes.xaxis.set_minor_locator(NullLocator())
            axes.xaxis.set_major_formatter(FuncFormatter(_power))
        upper.set_yscale("log")
        upper.yaxis.set_minor_locator(NullLocator())
        upper.yaxis.set_major_formatter(FuncFormatter(_power))
        lower.set_yscale("symlog", linthresh=FINEST)
        far = max(LEAST_FAR, *(DECADES * abs(_off(point)) for point in points))
        lower.set_ylim(-far, far)
        lower.set_yticks([s * 10.0**k for s in (-1, 1) for k in range(-2, 2)] + [0.0])
        lower.yaxis.set_major_formatter(FuncFormatter(lambda v, _: f"{v:+g}" if v else "0"))
        lower.yaxis.set_minor_locator(NullLocator())
        upper.set_ylabel("Ours, in the unit of the value")
        lower.set_ylabel("Ours over theirs, less 1 (%)")
        lower.set_xlabel("Theirs, in the unit of the value")
        upper.legend(loc="upper left")
    return figure


def _ring(upper: Axes, lower: Axes, failing: Sequence[Point]) -> None:
    if not failing:
        return
    x = np.abs([point.theirs for point in failing])
    ring: dict[str, Any] = {"linestyle": "none", "fillstyle": "none", "color": LIMIT}
    ring |= {"marker": "o", "markersize": 2.0 * MARK}
    upper.plot(x, np.abs([p.ours for p in failing]), label="fails", gid="fails", **ring)
    lower.plot(x, [_off(point) for point in failing], gid="off fails", **ring)


def _off(point: Point) -> float:
    return 100.0 * (point.ours / point.theirs - 1.0)


def _power(value: float, _: int) -> str:
    return f"{value:g}" if 1e-4 < value < 1e5 else f"{value:.0e}".replace("e+0", "e")


def left_of_holes(of: Family, coupons: Sequence[Coupon], pair: Pair, repeats: int) -> Figure:
    """R against d/C: our law with its phase band, rivals, corner onset, and what tests tell."""
    with styled():
        figure = _blank(86.0)
        axes = _axes(figure, 11.0, 71.0)
        axes.fill_between(of.share, of.least, of.most, color=BAND, linewidth=0.0, gid="phase")
        looks: tuple[tuple[FloatArray, str, dict[str, Any]], ...] = (
            (of.ratio, OURS.name, {"color": INK, "linestyle": SOLID, "linewidth": FIRM}),
            (of.without_corner, WITHOUT_CORNER.name, {"color": SOFT, "linestyle": CHAIN}),
            (of.net_area, NET_AREA.name, {"color": INK, "linestyle": BROKEN}),
        )
        for y, name, look in looks:
            axes.plot(of.share, y, label=name, gid=name, **look)
        line = LIMITED | {"linestyle": DOTS}
        axes.plot([of.onset] * 2, [0.55, 1.06], gid="onset", **line)
        axes.annotate(
            f" hole edge H from the corner,\n d/C {of.onset:.2f}",
            (of.onset, 1.06),
            color=LIMIT,
            va="top",
        )
        drilled = [coupon for coupon in coupons if coupon.share[1] > 0.0]
        half = Z_TWO_SIDED * pair.scatter(repeats, model=False)
        x = np.array([coupon.share[1] for coupon in drilled])
        y = np.interp(x, of.share, of.ratio)
        axes.errorbar(
            x,
            y,
            y * np.abs(np.expm1([[-half], [half]])),
            fmt="D",
            color=GREEN,
            markersize=MARK,
            markerfacecolor=WHITE,
            label=f"coupons: 95 % of what {repeats} tests of each find if our law holds",
        )
        axes.fill_between([], [], [], color=BAND, label="our law: least to most over phase")
        axes.set(xlim=(0.0, MOST_SHARE + 0.01), ylim=(0.2, 1.08))
        axes.set_xlabel("Hole size over side, d/C")
        axes.set_ylabel("Mean force, drilled over plain, R")
        plain_ticks(axes)
        axes.legend(loc="lower left")
    return figure


def start_forces(of: Family) -> Figure:
    """Force that starts a fold at a row, low nominal high, against d/C."""
    with styled():
        figure = _blank(76.0)
        axes = _axes(figure, 11.0, 62.0)
        unit = unit_for(of.start, "force", "si")
        y = scaled(of.start, unit)
        axes.fill_between(of.share, y[0], y[2], color=BAND, linewidth=0.0, gid="band")
        for k, level in enumerate(LEVELS):
            axes.plot(of.share, y[k], label=level, gid=level, **LINES[k])
        axes.set(xlim=(0.0, MOST_SHARE), ylim=(0.0, 1.05 * float(y.max())))
        axes.set_xlabel("Hole size over side, d/C")
        axes.set_ylabel(f"Force that starts a fold ({unit})")
        plain_ticks(axes)
        axes.legend(loc="lower left")
    return figure


def curve(checked: Checked) -> Figure:
    """Force against stroke of a girder, low nominal high, with the stops of its touchdown."""
    with styled():
        figure = _blank(76.0)
        axes = _axes(figure, 11.0, 62.0)
        lines = leg_lines(checked.landings[0].curve)
        units = unit_for(lines.stroke, "length", "si"), unit_for(lines.load, "force", "si")
        draw_curves(axes, scaled(lines.stroke, units[0]), scaled(lines.load, units[1]))
        at = stops(checked.landings[0])
        for level, name in enumerate(LEVELS):
            axes.plot(
                scaled(at.stroke[level], units[0]),
                scaled(at.load[level], units[1]),
                "o",
                gid=f"stop {name}",
                **marker_face(level),
            )
            axes.plot([], [], label=name, **LINES[level])
        axes.set_xlim(0.0, float(scaled(1.02 * lines.stroke.max(), units[0])))
        axes.set_ylim(0.0, float(scaled(1.06 * lines.load.max(), units[1])))
        axes.set_xlabel(f"Stroke ({units[0]})")
        axes.set_ylabel(f"Axial load ({units[1]})")
        plain_ticks(axes)
        axes.legend(loc="upper right", ncols=3)
    return figure
