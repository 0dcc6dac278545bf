"""Axes of the figures of a landing in motion: units, ends, and the limits that are near."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from matplotlib.ticker import FuncFormatter, MaxNLocator

from crushleg.landing.motion.ledger import Ledger
from crushleg.report.style import LIMITED, grouped, plain_ticks, quantity, scaled, unit_for
from crushleg.units import plain

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from crushleg.land import Move, Moving

NEAR = 1.7
"""A limit is drawn when it is at most so many times what there is."""
OFF_SCALE = 1.6
"""Loads of bottomed legs are drawn up to so many times the largest force of the crush curve."""
OVER, LATER = 0.97, 1.15
"""The crush is over at this share of its energy; the time axis goes on a little."""
CRUSHED, GROUND = Ledger._fields.index("crushed"), Ledger._fields.index("ground")


class Axis(NamedTuple):
    """Unit and end [SI] of an axis, limits on it as value and name, a sentence on those off it."""

    unit: str
    end: float
    limits: tuple[tuple[float, str], ...] = ()
    far: str = ""


def crush_over(move: Move) -> float:
    """When the last pad has touched and the crush of every column is over [s]."""
    touched = move.outcome.contact[~np.isnan(move.outcome.contact)]
    last = [float(touched.max())]
    for history in move.histories:
        taken = history.ledger[:, CRUSHED] + history.ledger[:, GROUND]
        last.append(float(history.time[np.argmax(taken >= OVER * taken[-1])]))
    return max(last)


def time_axis(move: Move, system: str) -> Axis:
    """Axis of the time since contact, until the crush is over."""
    end = min(LATER * crush_over(move), float(move.outcome.time.max()))
    return Axis(unit_for(np.array(end), "time", system), end)


def load_limits(moving: Moving, move: Move) -> list[tuple[float, str]]:
    """Limit of the axial load of one landing, ultimate in reserve cases [N]."""
    case = moving.checked.case
    if case.limits.leg_limit_load is None:
        return []
    factor = case.factors.ultimate if move.plan.touchdown.reserve else 1.0
    name = "limit load" if factor == 1.0 else f"{factor:g} × limit load"
    return [(factor * case.limits.leg_limit_load, name)]


def stroke_limits(moving: Moving) -> list[tuple[float, str]]:
    """Part of the usable stroke that may be used, and the whole of it [m]."""
    usable = float(moving.checked.crush.usable[0])
    part = moving.checked.case.limits.stroke_fraction
    known = [(usable, "usable stroke")]
    return [(part * usable, f"{part:g} × usable stroke"), *known] if part < 1.0 else known


def load_axis(moving: Moving, move: Move, system: str) -> Axis:
    """Axis of the axial load; a bottomed leg may go off it."""
    most = float(move.outcome.axial.max())
    usual = OFF_SCALE * float(moving.checked.crush.curve.force[:, 0].max())
    top = min(most, usual) if move.outcome.bottomed.any() else most
    return limited(top, load_limits(moving, move), "force", system)


def stroke_axis(moving: Moving, move: Move, system: str) -> Axis:
    """Axis of the stroke: crush and elastic shortening."""
    return limited(float(move.outcome.stroke.max()), stroke_limits(moving), "length", system)


def limited(top: float, known: list[tuple[float, str]], dimension: str, system: str) -> Axis:
    """Axis up to a value and to the limits that are near to it."""
    near = tuple(one for one in known if one[0] <= NEAR * top)
    end = 1.08 * max([top, *(value for value, _ in near)])
    unit = unit_for(np.array(end), dimension, system)
    far = [f"{name} is {quantity(value, unit)}." for value, name in known if value > NEAR * top]
    return Axis(unit, end, near, far[0] if far else "")


def framed(axes: Axes, across: Axis, up: Axis, ticks: int = 8) -> None:
    """Set limits and ticks of both axes, and draw the lines of what is allowed."""
    axes.set_xlim(0.0, float(scaled(across.end, across.unit)))
    axes.set_ylim(0.0, float(scaled(up.end, up.unit)))
    plain_ticks(axes)
    axes.yaxis.set_major_locator(MaxNLocator(ticks, steps=[1, 2, 2.5, 5, 10]))
    axes.yaxis.set_major_formatter(FuncFormatter(lambda value, _: grouped(plain(value, 6))))
    for value, name in up.limits:
        at = float(scaled(value, up.unit))
        axes.axhline(at, gid=name, **LIMITED)
