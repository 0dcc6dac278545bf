"""Energy of all legs against stroke, and what every touchdown asks for."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.report.plot_curves import draw_curves, full_name, leg_lines, marked, stroke_label
from crushleg.report.plot_labels import Label, fitted_lines, height_of, margin_labels
from crushleg.report.plot_sheet import PAGE, place, sheet
from crushleg.report.style import (
    DOTS,
    FINE,
    LEVELS,
    LINES,
    SMALL,
    SOFT,
    SOLID,
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
    from crushleg.check import Checked
    from crushleg.landing.touchdown import Landed

LEFT, RIGHT, ABOVE = 18.0, 44.0, 3.0
LEAST_HEIGHT, PER_CURVE = 84.0, 16.0
OFF_SCALE = 2.5


def energy_figure(checked: Checked, system: str = "si") -> Figure:
    """Vertical work of all legs against stroke, with the demand of every touchdown.

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
        legs = checked.case.vehicle.legs
        lines = leg_lines(checked.landings[0].curve)
        who = f"all {legs} legs together" if legs > 1 else "one leg"
        units = (
            unit_for(lines.stroke, "length", system),
            unit_for(legs * lines.work, "energy", system),
        )
        texts = [fitted_lines(_text(one, units[1]), RIGHT - 8.5, SMALL) for one in checked.landings]
        height = max(LEAST_HEIGHT, PER_CURVE + sum(height_of(text, SMALL) for text in texts))
        axis, low = stroke_label(checked.landings, units[0])
        figure = sheet(checked, f"Energy against stroke, {who}", low + height + ABOVE)
        axes = place(figure, LEFT, low, PAGE - LEFT - RIGHT, height)
        s, e = scaled(lines.stroke, units[0]), scaled(legs * lines.work, units[1])
        draw_curves(axes, s, e)
        end = float(lines.stroke.max())
        asked = [_demand(axes, *one, end, units) for one in marked(checked.landings)]
        axes.set_xlim(0.0, float(s.max()))
        near = [label.at for label in asked if label.at <= OFF_SCALE * e.max()]
        top = 1.04 * max([float(e.max()), *near])
        axes.set_ylim(0.0, top)
        asked = [
            label if label.at <= top else label._replace(at=top, text=f"↑ {label.text}")
            for label in asked
        ]
        axes.set_xlabel(axis, linespacing=1.4)
        axes.set_ylabel(f"Vertical work, pad friction included ({units[1]})")
        plain_ticks(axes)
        ends = [
            Label(float(e[k, -1]), f"{LEVELS[k]} force", str(LINES[k]["color"])) for k in range(3)
        ]
        margin_labels(axes, [*ends, *asked], RIGHT)
    return figure


def demand_line(landed: Landed, stroke: FloatArray) -> FloatArray:
    """½mv² + Wn·travel [J] at strokes [m] of legs that share alike."""
    arrival = landed.arrival
    return arrival.kinetic + arrival.net_weight * landed.curve.forces.travel * stroke


def _demand(axes: Axes, landed: Landed, marker: str, end: float, units: tuple[str, str]) -> Label:
    """Demand line and where the curves meet it; its label.

    When one or two legs touch first the legs do not share alike: their stops stand off the
    curves, and a level line leads to the label. When it bottoms the line has the energy at the
    end of the usable stroke.
    """
    alike = landed.touchdown.first_contact == "all"
    needed = np.where(landed.bottomed[:, 0], landed.asked[:, 0], landed.demand[:, 0])
    if alike:
        x = np.array([0.0, end])
        y = demand_line(landed, x)
    else:
        x = np.array([float(landed.stroke[1, 0]), end])
        y = np.full(2, needed[1])
    axes.plot(
        scaled(x, units[0]),
        scaled(y, units[1]),
        color=SOFT,
        linewidth=FINE,
        zorder=1.5,
        linestyle=SOLID if alike else DOTS,
        gid=f"demand {landed.name}",
    )
    for level in np.flatnonzero(~landed.bottomed[:, 0]).tolist():
        axes.plot(
            scaled(landed.stroke[level, 0], units[0]),
            scaled(needed[level], units[1]),
            marker,
            gid=f"stop {landed.name} {LEVELS[level]}",
            zorder=5,
            **marker_face(level),
        )
    return Label(float(scaled(y[1], units[1])), _text(landed, units[1]), marker=marker)


def _text(landed: Landed, unit: str) -> str:
    """Name, kinetic energy, and what is missing when it bottoms."""
    kinetic = f"{quantity(landed.arrival.kinetic, unit)} + weight"
    alike = landed.touchdown.first_contact == "all"
    text = full_name(landed) + ("" if alike else ": off the curves, legs share unequally")
    if landed.bottomed[:, 0].any():
        short = float((landed.asked - landed.capacity)[:, 0].max())
        endless = not np.isfinite(landed.stroke_needed[:, 0]).all()
        never = "\nnever stops: weight exceeds the force" if endless else ""
        return f"{text}\nBOTTOMS, short by {quantity(short, unit)}{never}"
    return f"{text}\n{kinetic}"
