"""Figure of an inspection: every leg's place on the curve, and the legs in plan with the lean."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.report.inspect_tables import numbers, places_of
from crushleg.report.inspect_words import lean_words
from crushleg.report.plot_curves import draw_curves
from crushleg.report.plot_labels import fitted, paper_size
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.style import (
    BAR,
    BOLD,
    BROKEN,
    FAINT,
    FINE,
    GREEN,
    GUIDE,
    POINT,
    SMALL,
    SOFT,
    SOLID,
    SPOT,
    USABLE,
    halo,
    plain_ticks,
    scaled,
    styled,
    unit_for,
)
from crushleg.report.words import small_length
from crushleg.trial.at_rest import leg_azimuths

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.trial.inspect import Inspection

LEFT, RIGHT = 17.0, 4.0
PLAN = 46.0
CURVE = 52.0
BELOW = 10.0
TIGHT, LOOSE = 2.5, 4.2
"""Height of a row of the strip [mm], many legs and few."""
FEW = 8
ROUND = 2.0 * np.pi * np.linspace(0.0, 1.0, 181)
GAP = 3.0
"""Between curve and strip [mm]."""
NOTE = (
    "One leg at low (dashed), nominal (solid), high (dash-dotted) force; dot: crush that stays, "
    "with its reading error; grey bar: stroke left, to the end of the usable stroke"
)


class Panels(NamedTuple):
    """Axes of the figure."""

    curve: Axes
    strip: Axes
    plan: Axes


def strip_height(legs: int) -> float:
    """Height of a strip with a row per leg [mm]."""
    return 2.0 + legs * (LOOSE if legs <= FEW else TIGHT)


def inspection_figure(found: Inspection, units: str = "si") -> Figure:
    """Place of every leg on the curve, strip of legs, plan.

    Parameters
    ----------
    found : Inspection
    units : str
        "si" or "us".

    Returns
    -------
    Figure
    """
    with styled():
        strip = strip_height(found.faces.crush.size)
        body = CURVE + GAP + strip + BELOW + 2.0
        figure = sheet(found, "Inspection after landing", body, NOTE)
        width = PAGE - LEFT - RIGHT - PLAN
        panels = Panels(
            place(figure, LEFT, BELOW + strip + GAP, width, CURVE),
            place(figure, LEFT, BELOW, width, strip),
            place(figure, PAGE - PLAN, BELOW + strip, PLAN - RIGHT, CURVE),
        )
        draw_panels(panels, found, units)
    return figure


def draw_panels(panels: Panels, found: Inspection, units: str) -> None:
    """Draw all three panels."""
    length = small_length(units)
    draw_places(panels.curve, found, length, units)
    draw_strip(panels.strip, found, length)
    draw_plan(panels.plan, found, length)


def draw_places(axes: Axes, found: Inspection, length: str, units: str) -> None:
    """Curve of one leg with its band, and a dot for every leg."""
    curve, legs = found.crush.curve, found.band.legs
    force = unit_for(curve.force[:, 0], "force", units)
    x = np.broadcast_to(scaled(curve.stroke[0], length), curve.force[:, 0].shape)
    draw_curves(axes, x, scaled(curve.force[:, 0], force))
    at = scaled(found.faces.crush, length)
    axes.plot(
        at, scaled(legs.force[1], force), "o", color=GREEN, markersize=SPOT, zorder=4, gid="legs"
    )
    axes.set_xlim(0.0, 1.03 * max(float(x.max()), float(at.max())))
    axes.set_ylim(0.0, 1.06 * float(scaled(curve.force, force).max()))
    _end(axes, found, length)
    plain_ticks(axes)
    axes.tick_params(labelbottom=False)
    axes.set_ylabel(f"Force of one girder ({force})")


def draw_strip(axes: Axes, found: Inspection, length: str) -> None:
    """Draw a row for every leg: crush with its error, and the stroke left."""
    at, error = scaled(found.faces.crush, length), scaled(found.faces.error, length)
    rows = np.arange(at.size)
    usable = float(scaled(found.crush.usable, length)[0])
    axes.hlines(rows, at, np.maximum(usable, at), color=FAINT, linewidth=BAR, gid="left")
    axes.errorbar(at, rows, xerr=error, fmt="o", color=GREEN, markersize=SPOT, elinewidth=FINE)
    axes.set_xlim(0.0, 1.03 * max(usable, float(at.max())))
    axes.set_ylim(at.size - 0.4, -0.6)
    plain_ticks(axes)
    size = min(SMALL, 0.9 * paper_size(axes)[1] / (at.size * POINT))
    axes.set_yticks(rows, [f"leg {row + 1}" for row in rows], fontsize=size)
    axes.tick_params(axis="y", length=0.0)
    _end(axes, found, length)
    axes.set_xlabel(f"Crush that stays ({length})")


def _end(axes: Axes, found: Inspection, length: str) -> None:
    """Line at the end of the usable stroke."""
    end = float(scaled(found.crush.usable, length)[0])
    axes.axvline(end, gid="usable", **USABLE)


def draw_plan(axes: Axes, found: Inspection, length: str) -> None:
    """Legs seen from above, leg 1 to the right, with their crush and the way the vehicle leans."""
    azimuths = leg_azimuths(found.case.vehicle)
    x, y = np.cos(azimuths), np.sin(azimuths)
    crush = numbers(found.faces.crush, length, places_of(length))
    axes.plot(np.cos(ROUND), np.sin(ROUND), **GUIDE)
    axes.plot(x, y, "s", color=SOFT, markersize=SPOT, gid="pads")
    many = azimuths.size > FEW
    out = 1.24 if many else 1.34
    for i, (across, up) in enumerate(zip(x, y, strict=True)):
        text = f"{i + 1}" if many else f"{i + 1}\n{crush[i]}"
        axes.text(out * across, out * up, text, ha="center", va="center", fontsize=SMALL)
    _arrow(axes, found)
    axes.set_xlim(-1.62, 1.62)
    axes.set_ylim(-1.62, 1.62)
    axes.set_aspect("equal", adjustable="box", anchor="C")
    axes.set_axis_off()
    held = "leg" if many else f"leg and its crush ({length})"
    room = paper_size(axes)[0] + 2.0
    lines = [f"From above: {held}", lean_words(found)]
    text = "\n".join(fitted(line, room, size=SMALL, lines=3) for line in lines)
    axes.text(0.0, 1.66, text, ha="center", va="bottom", fontsize=SMALL, color=SOFT)


def _arrow(axes: Axes, found: Inspection) -> None:
    """Arrow to where the vehicle leans, dashed where reading errors make as much."""
    rest = found.rest
    if rest.direction is None or rest.lean is None or rest.lean_error is None:
        return
    sure = rest.lean > rest.lean_error
    tip = 0.72 * np.array([np.cos(rest.direction), np.sin(rest.direction)])
    axes.annotate(
        "",
        xy=(float(tip[0]), float(tip[1])),
        xytext=(0.0, 0.0),
        arrowprops={
            "arrowstyle": "-|>",
            "color": GREEN,
            "linewidth": BOLD,
            "linestyle": SOLID if sure else BROKEN,
            "shrinkA": 0.0,
            "shrinkB": 0.0,
            "path_effects": halo(),
        },
        gid="lean",
    )
