"""Rival laws of what holes take from the mean force, put through the tool's own curve.

Of :mod:`evidence`: what the hole law moves, and how far a test would tell it from its rivals.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.case.records import Holes, Row
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.crush import Crush, crush
from crushleg.girder.curve import fold_curve
from crushleg.girder.folds import cut_folds
from crushleg.girder.front import folding_front, phase_extremes, window_centre
from crushleg.girder.start import start_force
from crushleg.landing.touchdown import land
from crushleg.margins import Margin, margins

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case
    from crushleg.girder.front import Front
    from crushleg.girder.pattern import Girders

FAR = 1e9
"""Height of a hole that is not there [m]."""
SAME_ROW = 1e-9
MOST_SHARE, STEPS = 0.6, 61
"""Largest d/C of a family, and how many girders it has."""


class Law(NamedTuple):
    """Mean force of a drilled fold over that of a plain one, R of height, shape (G, M)."""

    name: str
    ratio: Callable[[Girders, Front], FloatArray]


def _ours(girders: Girders, front: Front) -> FloatArray:  # noqa: ARG001 - one shape for all laws
    return front.ratio


def _without_corner(girders: Girders, front: Front) -> FloatArray:  # noqa: ARG001
    shares = front.shares
    return shares.ratio(shares.sweep.mean(axis=0), np.zeros_like(shares.hinge))


def _net_area(girders: Girders, front: Front) -> FloatArray:
    """1 − d/C of the row that is nearest; all holes of a row count, over both pairs of walls."""
    cut = girders.across * girders.pairs.mean(axis=0)
    height = np.where(cut > 0.0, girders.height, FAR)
    nearest = np.abs(front.z[:, :, None] - height[:, None, :]).argmin(axis=2)
    row = np.take_along_axis(height, nearest, axis=1)
    same = np.abs(height[:, None, :] - row[:, :, None]) < SAME_ROW
    side = 0.5 * sum(girders.sides_at(girders.wall_at(front.z)))
    return np.asarray(1.0 - (same * cut[:, None, :]).sum(axis=2) / side)


OURS = Law("our law", _ours)
WITHOUT_CORNER = Law("our law without corner work", _without_corner)
NET_AREA = Law("net area, 1 − d/C", _net_area)
RIVALS = (NET_AREA, WITHOUT_CORNER)


def girders_of(case: Case) -> Girders:
    """Girder of a case as arrays, at its fastest touchdown."""
    speed = max(touchdown.vertical_speed for touchdown in case.touchdowns)
    return girder_arrays([case.girder], [speed])


def crushed(girders: Girders, law: Law) -> Crush:
    """Crush of girders by a law: the mean force of every cell of height is the law's.

    The band keeps its relative width, and start forces are what they are.
    """
    found = crush(girders)
    factor = law.ratio(girders, found.front) / found.front.ratio
    front = found.front._replace(force=found.front.force * factor)
    folds = cut_folds(girders, front, found.sequence)
    return found._replace(
        front=front, folds=folds, curve=fold_curve(folds), usable=folds.stroke[:, -1]
    )


def judged(case: Case, crush: Crush) -> tuple[Margin, ...]:
    """Margins of a case whose girder crushes so."""
    landings = tuple(
        land(crush, case.vehicle, case.leg, touchdown, case.factors)
        for touchdown in case.touchdowns
    )
    return margins(case, crush, landings)


class Family(NamedTuple):
    """One row after another of the same holes in a tube, d/C from 0 up, shape (K,).

    R by our law and its least and most over phase, by rivals; start force (3, K) [N]; ``onset`` is
    the d/C at which hole edges come nearer than H to the corners.
    """

    share: FloatArray
    ratio: FloatArray
    least: FloatArray
    most: FloatArray
    net_area: FloatArray
    without_corner: FloatArray
    start: FloatArray
    onset: float


def family(case: Case) -> Family:
    """Girder of a case with all its rows of one size, from none to d/C 0.6; over its middle."""
    girder = case.girder
    side = 0.5 * (girder.width + girder.depth) - girder.wall
    share = np.linspace(0.0, MOST_SHARE, STEPS)
    rows = girder.holes.rows
    several = [
        replace(
            girder,
            holes=Holes(
                law="listed" if x else "none",
                rows=tuple(Row(height=row.height, size=float(x) * side) for row in rows if x),
            ),
        )
        for x in share
    ]
    girders = girder_arrays(several, [case.touchdowns[0].vertical_speed] * STEPS)
    front = folding_front(girders)
    centre = window_centre(front.z, front.walls.half, girders.length)
    least, most = phase_extremes(girders, centre, front.walls, front.ratio)
    at = rows[len(rows) // 2].height
    pitch = rows[1].height - rows[0].height
    middle = np.abs(front.z[0] - at) <= 0.5 * pitch
    laws = (OURS, NET_AREA, WITHOUT_CORNER)
    ours, net, without = (law.ratio(girders, front)[:, middle].mean(axis=1) for law in laws)
    return Family(
        share=share,
        ratio=ours,
        least=least[:, middle].min(axis=1),
        most=most[:, middle].max(axis=1),
        net_area=net,
        without_corner=without,
        start=start_force(girders, np.full((STEPS, 1), at))[:, :, 0],
        onset=1.0 - 2.0 * float(front.walls.half[0, 0]) / side,
    )
