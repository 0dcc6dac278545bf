"""Force against stroke of one leg, and where every touchdown stops on it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from crushleg.report.plot_curves import (
    draw_curves,
    fold_bounds,
    leg_lines,
    loads_to_compare,
    marked,
    stops,
    stroke_label,
)
from crushleg.report.plot_labels import Label, margin_labels
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.plot_strip import draw_strip, strip_height, strip_names
from crushleg.report.style import (
    ALLOWED,
    FIRM,
    GUIDE,
    LEVELS,
    LINES,
    SMALL,
    SOFT,
    USABLE,
    halo,
    marker_face,
    number,
    plain_ticks,
    quantity,
    scaled,
    styled,
    unit_for,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import FloatArray
    from crushleg.check import Checked
    from crushleg.report.plot_curves import LegLines

LEFT, RIGHT = 17.0, 38.0
HEIGHT, GAP, ABOVE = 82.0, 1.5, 8.0
OFF_SCALE = 2.5
LEAST_FOLD = 3.2


def force_figure(checked: Checked, system: str = "si") -> Figure:
    """Axial load at the attachment against stroke; below, the stops of every touchdown.

    Parameters
    ----------
    checked : Checked
    system : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    Figure
    """
    with styled():
        lines = leg_lines(checked.landings[0].curve)
        units = unit_for(lines.stroke, "length", system), unit_for(lines.load, "force", system)
        names = strip_names(checked.landings, units[1], RIGHT - 8.5)
        strip = strip_height(names)
        axis, low = stroke_label(checked.landings, units[0])
        body = low + strip + GAP + HEIGHT + ABOVE
        figure = sheet(checked, what(checked), body, _note(checked, units[1]))
        width = PAGE - LEFT - RIGHT
        upper = place(figure, LEFT, low + strip + GAP, width, HEIGHT)
        lower = place(figure, LEFT, low, width, strip)
        lower.set_xlabel(axis, linespacing=1.4)
        right = 1.02 * max(float(lines.stroke.max()), float(checked.crush.usable[0]))
        for axes in (upper, lower):
            axes.set_xlim(0.0, float(scaled(right, units[0])))
        _curves(upper, checked, lines, units)
        _levels(upper, checked, lines, units)
        _folds(upper, lower, fold_bounds(checked, lines), units[0])
        _usable(upper, lower, checked, units[0])
        draw_strip(lower, checked, units[0], names, RIGHT)
    return figure


def what(checked: Checked) -> str:
    """Say what the figure shows and in which order the folds come."""
    foot = bool(checked.crush.sequence.from_foot[0])
    order = "folds from the foot" if foot else "NOT from the foot: least work at every stroke"
    return f"Force against stroke of one leg, {order}"


def _note(checked: Checked, unit: str) -> str:
    """Say which peaks the curves do not show, when the order is not from the foot."""
    if checked.crush.sequence.from_foot[0]:
        return ""
    early = checked.crush.largest_start[:, 0] * checked.landings[0].curve.forces.axial
    three = ", ".join(number(float(load), unit) for load in early)
    return (
        "Peak loads of the report include the largest start force of all zones, which the curves "
        f"do not show: {three} {unit} (low, nominal, high)."
    )


def _curves(axes: Axes, checked: Checked, lines: LegLines, units: tuple[str, str]) -> None:
    """Band, three curves, and the stops on them."""
    s, f = scaled(lines.stroke, units[0]), scaled(lines.load, units[1])
    draw_curves(axes, s, f)
    for landed, marker in marked(checked.landings):
        at = stops(landed)
        for level in range(3):
            axes.plot(
                scaled(at.stroke[level], units[0]),
                scaled(at.load[level], units[1]),
                marker,
                gid=f"stop {landed.name} {LEVELS[level]}",
                zorder=5,
                **marker_face(level),
            )


def _levels(axes: Axes, checked: Checked, lines: LegLines, units: tuple[str, str]) -> None:
    """Draw the loads to compare with and those of bottoming; label them in the margin."""
    unit = units[1]
    marks = loads_to_compare(checked)
    highest = float(lines.load.max())
    hard = [float(p) for at in map(stops, checked.landings) for p in at.peak[at.bottomed]]
    values = [highest, *hard, *(mark.load for mark in marks)]
    top = 1.06 * max(value for value in values if value <= OFF_SCALE * highest)
    axes.set_ylim(0.0, float(scaled(top, unit)))
    _bottoming(axes, checked, top, units)
    labels = [
        Label(float(scaled(lines.load[k, -1], unit)), LEVELS[k], str(LINES[k]["color"]))
        for k in range(3)
    ]
    for mark in marks:
        at = float(scaled(min(mark.load, top), unit))
        beyond = mark.load > top
        if not beyond:
            axes.axhline(at, color=mark.colour, linewidth=FIRM, linestyle=mark.dash, gid=mark.text)
        text = f"{'↑ ' if beyond else ''}{mark.text}\n{quantity(mark.load, unit)}"
        labels.append(Label(at, text, mark.colour))
    axes.set_ylabel(f"Axial load at the leg attachment ({unit})")
    plain_ticks(axes)
    axes.tick_params(labelbottom=False)
    margin_labels(axes, labels, RIGHT)


def _bottoming(axes: Axes, checked: Checked, top: float, units: tuple[str, str]) -> None:
    """Rise of the load at the end of the curve; an arrow where the plot cuts it."""
    cut = []
    for landed in checked.landings:
        at = stops(landed)
        for level in np.flatnonzero(at.bottomed).tolist():
            x = float(scaled(at.stroke[level], units[0]))
            y = scaled(np.array([at.load[level], min(at.peak[level], top)]), units[1])
            name = f"bottoms {landed.name} {LEVELS[level]}"
            axes.plot([x, x], y, color=LINES[level]["color"], linewidth=FIRM, gid=name)
            if at.peak[level] > top:
                cut.append(x)
    if cut:
        end = max(cut), axes.get_ylim()[1]
        axes.text(*end, "↑", ha="center", va="top", weight="bold", path_effects=halo())


def _folds(upper: Axes, lower: Axes, bounds: FloatArray, unit: str) -> None:
    """Fold boundaries in both axes, fold numbers at the foot of the upper one."""
    x = scaled(bounds, unit)
    for axes in (upper, lower):
        for at in x[1:]:
            axes.axvline(at, zorder=0.5, gid="fold", **GUIDE)
    paper = (PAGE - LEFT - RIGHT) / upper.get_xlim()[1]
    shown = -1e9
    wide = np.diff(x) * paper
    least = min(LEAST_FOLD, 0.9 * float(np.median(wide)))
    for k, middle in enumerate(0.5 * (x[1:] + x[:-1])):
        if (middle - shown) * paper >= LEAST_FOLD and wide[k] >= least:
            upper.text(
                middle,
                0.012,
                f"{k + 1}",
                transform=upper.get_xaxis_transform(),
                ha="center",
                va="bottom",
                fontsize=SMALL,
                color=SOFT,
                gid="fold number",
                path_effects=halo(),
            )
            shown = middle


def _usable(upper: Axes, lower: Axes, checked: Checked, unit: str) -> None:
    """Usable stroke and the share of it that may be used, named above the plot."""
    usable, share = float(checked.crush.usable[0]), checked.case.limits.stroke_fraction
    marks: Sequence[tuple[float, str, dict[str, Any], float]] = (
        (usable, f"usable stroke {quantity(usable, unit)}", USABLE, 4.8),
        (share * usable, f"{100.0 * share:g} % of it may be used", ALLOWED, 1.6),
    )
    for value, text, line, above in marks[: 2 if share < 1.0 else 1]:
        at = float(scaled(value, unit))
        for axes in (upper, lower):
            axes.axvline(at, gid=text, **line)
        upper.plot(
            [at, at],
            [1.0, 1.0 + above / HEIGHT],
            transform=upper.get_xaxis_transform(),
            clip_on=False,
            **line,
        )
        upper.annotate(
            f"{text} ",
            (at, 1.0 + above / HEIGHT),
            xycoords=upper.get_xaxis_transform(),
            ha="right",
            va="center",
            fontsize=SMALL,
            color=SOFT,
        )
