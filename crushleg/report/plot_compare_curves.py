"""Force against stroke of several girders: a panel for each, the others behind it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.report.plot_curves import draw_curves, leg_lines, stops
from crushleg.report.plot_labels import Label, fitted, margin_labels
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.style import (
    DOTS,
    FINE,
    HAIR,
    LEVELS,
    LIMIT,
    LIMITED,
    MUTED,
    SMALL,
    SOFT,
    marker_face,
    plain_ticks,
    quantity,
    scaled,
    styled,
    unit_for,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.arrays import FloatArray
    from crushleg.design.compare import Compared, Comparison

MOST = 12
ACROSS = 2
LEFT, RIGHT, BETWEEN = 15.0, 25.0, 4.0
TALL, OVER, LOW = 36.0, 7.0, 10.0
OFF_SCALE = 1.25
PLAIN = "plain column"


class Panel(NamedTuple):
    """One girder: stroke [m] and axial load [N], low nominal high (3, n), and itself."""

    one: Compared
    stroke: FloatArray
    load: FloatArray


def chosen(comparison: Comparison, most: int = MOST) -> list[Compared]:
    """Girders that are drawn: all, or so many evenly spread with both ends."""
    every = comparison.compared
    if len(every) <= most:
        return list(every)
    return [every[i] for i in np.linspace(0, len(every) - 1, most).round().astype(int)]


def name_in(comparison: Comparison, one: Compared, system: str) -> str:
    """Name of a girder; where an input is varied its value, in the units of display."""
    varied = comparison.lineup.varied
    if varied is None or one.name not in varied.texts:
        return one.name
    values = dict(zip(varied.texts, varied.values, strict=True))
    unit = unit_for(np.array(varied.values), varied.dimension, system)
    return quantity(values[one.name], unit).strip()


def curves_figure(comparison: Comparison, system: str = "si") -> Figure:
    """Axial load of every girder against stroke, with the stops of the touchdown.

    Parameters
    ----------
    comparison : Comparison
    system : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    Figure
        In every panel one girder with its band, the others behind it.
    """
    with styled():
        panels = [_panel(one, comparison) for one in chosen(comparison)]
        strokes = np.array([panel.stroke.max() for panel in panels])
        units = unit_for(strokes, "length", system), unit_for(_loads(panels), "force", system)
        down = -(-len(panels) // ACROSS)
        body = LOW + down * (TALL + OVER)
        note = (
            "Solid nominal, dashes low, dash-dots high; markers: their stops (filled, left half, "
            "right half). Nominal too: the other girders in grey, the plain column in dots."
        )
        figure = sheet(comparison.first, _what(comparison, len(panels)), body, note)
        width = (PAGE - LEFT - RIGHT - BETWEEN) / ACROSS
        top = _top(comparison, panels)
        for k, panel in enumerate(panels):
            row, column = divmod(k, ACROSS)
            x, y = LEFT + column * (width + BETWEEN), LOW + (down - 1 - row) * (TALL + OVER)
            axes = place(figure, x, y, width, TALL)
            axes.set_xlim(0.0, float(scaled(1.02 * strokes.max(), units[0])))
            axes.set_ylim(0.0, float(scaled(top, units[1])))
            _draw(axes, panel, panels, comparison, units)
            _frame(axes, k, len(panels), units)
            axes.set_title(
                fitted(name_in(comparison, panel.one, system), width, bold=True, lines=1)
            )
            if k == min(ACROSS, len(panels)) - 1:
                margin_labels(axes, _levels(comparison, top, units[1]), RIGHT)
    return figure


def _what(comparison: Comparison, shown: int) -> str:
    few = f", {shown} of {len(comparison.compared)}" if shown < len(comparison.compared) else ""
    return f"Force against stroke of one leg{few}; stops at {comparison.landed.name}"


def _panel(one: Compared, comparison: Comparison) -> Panel:
    lines = leg_lines(one.checked.landings[comparison.touchdown].curve)
    return Panel(one, lines.stroke, lines.load)


def _loads(panels: list[Panel]) -> FloatArray:
    return np.array([panel.load.max() for panel in panels])


def _limit(comparison: Comparison) -> float | None:
    """Load that the touchdown is judged against [N]."""
    case = comparison.first.case
    factor = case.factors.ultimate if comparison.landed.reserve else 1.0
    limit = case.limits.leg_limit_load
    return None if limit is None else factor * limit


def _top(comparison: Comparison, panels: list[Panel]) -> float:
    """Upper end of the axis of load: all curves, stops and the limit unless far away."""
    highest = float(_loads(panels).max())
    landings = [panel.one.checked.landings[comparison.touchdown] for panel in panels]
    values = [highest, *(float(stops(landed).load.max()) for landed in landings)]
    limit = _limit(comparison)
    if limit is not None and limit <= OFF_SCALE * highest:
        values.append(limit)
    return 1.06 * max(values)


def _draw(
    axes: Axes,
    panel: Panel,
    panels: list[Panel],
    comparison: Comparison,
    units: tuple[str, str],
) -> None:
    """Draw one girder over the others, its plain column, the limit and its stops."""
    for other in panels:
        if other is not panel:
            x, y = scaled(other.stroke[1], units[0]), scaled(other.load[1], units[1])
            axes.plot(x, y, color=MUTED, linewidth=HAIR, zorder=1, gid="other")
    if panel.one.drilled:
        plain = leg_lines(panel.one.plain.landings[comparison.touchdown].curve)
        x, y = scaled(plain.stroke[1], units[0]), scaled(plain.load[1], units[1])
        axes.plot(x, y, color=SOFT, linewidth=FINE, linestyle=DOTS, zorder=1.5, gid=PLAIN)
    limit = _limit(comparison)
    if limit is not None:
        level_at = float(scaled(limit, units[1]))
        axes.axhline(level_at, gid="limit", **LIMITED)
    draw_curves(axes, scaled(panel.stroke, units[0]), scaled(panel.load, units[1]))
    at = stops(panel.one.checked.landings[comparison.touchdown])
    for level in range(3):
        point = float(scaled(at.stroke[level], units[0])), float(scaled(at.load[level], units[1]))
        axes.plot(*point, "o", zorder=5, gid=f"stop {LEVELS[level]}", **marker_face(level))
    if at.bottomed.any():
        which = [name for name, bad in zip(LEVELS, at.bottomed, strict=True) if bad]
        axes.set_title(
            f"BOTTOMS: {', '.join(which)}",
            loc="right",
            fontsize=SMALL,
            weight="normal",
            color=LIMIT,
        )


def _frame(axes: Axes, k: int, count: int, units: tuple[str, str]) -> None:
    """Ticks and labels at the edges of the sheet alone."""
    plain_ticks(axes)
    if k % ACROSS:
        axes.tick_params(labelleft=False)
    else:
        axes.set_ylabel(f"Axial load ({units[1]})")
    if k < count - ACROSS:
        axes.tick_params(labelbottom=False)
    else:
        axes.set_xlabel(f"Stroke, elastic shortening included ({units[0]})")


def _levels(comparison: Comparison, top: float, unit: str) -> list[Label]:
    """Label of the limit, in the margin."""
    limit = _limit(comparison)
    if limit is None:
        return []
    name = "ultimate load" if comparison.landed.reserve else "limit load"
    beyond = "↑ " if limit > top else ""
    at = float(scaled(min(limit, top), unit))
    return [Label(at, f"{beyond}{name}\n{quantity(limit, unit)}", LIMIT)]
