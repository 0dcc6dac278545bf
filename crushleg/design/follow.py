"""The hole schedule of a fixed section whose mean force follows a wanted line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.design.archive import Archive, Scores
from crushleg.design.choice import Choice
from crushleg.design.mean_curve import NOMINAL, MeanCurve, mean_curve
from crushleg.design.search import cost_of, descend, explore, starts
from crushleg.design.size import need_any

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case, Girder
    from crushleg.design.choice import Space
    from crushleg.design.line import Line

RMS = 0
PLAIN = Choice(0, 0, 1, 1, ())
"""Girder without holes."""


class Reach(NamedTuple):
    """What the section can reach: forces [N] on pieces of stroke (M,), and what lies outside.

    ``above`` and ``below`` are shares of the usable stroke where the line lies over the plain
    girder or under the weakest; ``over`` and ``under`` by how much at most [N].
    """

    most: FloatArray
    least: FloatArray
    above: float
    over: float
    below: float
    under: float
    weakest: Choice


@dataclass(frozen=True, slots=True, kw_only=True)
class Followed:
    """What a search for a schedule found.

    ``curve`` is that of the best; ``wanted`` and ``deviation`` (M,) [N] are on its pieces;
    ``rms`` and ``largest`` [N], the latter at the crush stroke ``where`` [m]. ``loose`` is the
    least rms among the candidates that do not keep the order, None where none is closer.
    """

    case: Case
    line: Line
    archive: Archive
    best: int
    curve: MeanCurve
    wanted: FloatArray
    deviation: FloatArray
    rms: float
    largest: float
    where: float
    loose: float | None
    reach: Reach
    interrupted: bool


class LineJudge:
    """Judge of girders by how far their nominal mean force is from a line."""

    def __init__(self, line: Line) -> None:
        self.line = line

    def __call__(self, girders: Sequence[Girder]) -> Scores:
        """Score a batch: rms deviation [N]; the margin is that of the order of collapse."""
        curve = mean_curve(girders)
        away = deviation(self.line, curve)
        return Scores(rms_of(away, curve.stroke)[:, None], curve.order[None, :])


def deviation(line: Line, curve: MeanCurve) -> FloatArray:
    """Nominal mean force less the wanted one, shape (G, M) [N]."""
    usable = curve.stroke[:, -1:]
    return curve.force[NOMINAL] - line.at(curve.middle, usable)


def rms_of(away: FloatArray, stroke: FloatArray) -> FloatArray:
    """Root of the mean square of a deviation over the stroke, shape (G,).

    Notes
    -----
    Means: How far the mean force of a schedule lies from the wanted line.
    Formula: rms = √(Σ ΔF² Δs/S)
    Range: Nominal mean force less the wanted line, over the usable stroke.
    Band: Nominal force only.

    References
    ----------
    Definition [common practice]
    """
    steps = np.diff(stroke, axis=1)
    found: FloatArray = np.sqrt((away**2 * steps).sum(axis=1) / stroke[:, -1])
    return found


def follow(
    case: Case,
    space: Space,
    line: Line,
    *,
    seed: int = 1,
    tell: Callable[[int, str], None] = lambda *_: None,
) -> Followed:
    """Find the schedule of a section whose nominal mean force is closest to a line.

    Closest is least rms over the usable stroke, among schedules that fold from the foot with
    one-sided 95 % in every zone and that keep their ligaments; the plain girder is one of them.

    Parameters
    ----------
    case : Case
    space : Space
        From :func:`crushleg.design.asked.fixed_space`.
    line : Line
    seed : int
    tell : callable
        Told how many girders are done, and what is going on.

    Returns
    -------
    Followed
        Of what was found until then, when interrupted.
    """
    archive = Archive(space, LineJudge(line), tell)
    interrupted = False
    if space.rows[0] == 0:
        archive.look([PLAIN])
    try:
        archive.stage = "looking everywhere"
        explore(archive, seed)
        need_any(archive)
        archive.stage = "closest"
        for start in starts(archive, RMS):
            descend(archive, start, RMS, seed)
    except KeyboardInterrupt:
        if not len(archive):
            raise
        interrupted = True
    best = int(np.argmin(cost_of(archive, np.arange(len(archive)), RMS)))
    curve = mean_curve([space.girder(archive.choices[best])])
    away = deviation(line, curve)
    worst = int(np.abs(away[0]).argmax())
    rms = float(archive.values[best, RMS])
    loose = float(archive.values[:, RMS].min())
    return Followed(
        case=case,
        line=line,
        archive=archive,
        best=best,
        curve=curve,
        wanted=line.at(curve.middle, curve.stroke[:, -1:])[0],
        deviation=away[0],
        rms=rms,
        largest=float(away[0, worst]),
        where=float(curve.middle[0, worst]),
        loose=loose if loose < (1.0 - 1e-3) * rms else None,
        reach=reach_of(space, line),
        interrupted=interrupted,
    )


def weakest(space: Space) -> Choice:
    """Largest holes of the list in as many rows as find room, evenly from end to end."""
    wall, length = space.walls[0], space.lengths[0]
    size = int(np.searchsorted(space.sizes, space.widest(wall) + 1e-9, side="right")) - 1
    hole = space.sizes[size]
    pitch = int(np.ceil(max(space.closest(wall, hole, hole), space.pitch[0]) / space.grid - 1e-6))
    end = space.closest(wall, hole, 0.0)
    rows = max(int((length - 2.0 * end) / space.metres(pitch) + 1e-9) + 1, 1)
    rest = length - 2.0 * end - (rows - 1) * space.metres(pitch)
    first = int(np.ceil((end + max(0.5 * rest, 0.0)) / space.grid - 1e-6))
    return Choice(0, 0, first, pitch, (size,) * rows)


def reach_of(space: Space, line: Line) -> Reach:
    """Find the forces between which the mean force of a section lies, and the line's against them.

    Above is the plain girder, below the weakest with the largest holes allowed; wall steps shift
    neither, as both fold their metal in the same order of heights.
    """
    low = weakest(space)
    curves = mean_curve([space.girder(PLAIN), space.girder(low)])
    stroke = curves.stroke[0]
    steps = np.diff(stroke) / stroke[-1]
    middle = 0.5 * (stroke[1:] + stroke[:-1])
    wanted = line.at(middle, float(stroke[-1]))
    most, least = curves.force[NOMINAL]
    least = np.minimum(least, most)
    over, under = wanted - most, least - wanted
    slack = 1e-6 * most
    return Reach(
        most,
        least,
        float(steps[over > slack].sum()),
        max(float(over.max()), 0.0),
        float(steps[under > slack].sum()),
        max(float(under.max()), 0.0),
        low,
    )
