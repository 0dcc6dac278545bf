"""Folds cut from the front, each with its mean force and crest.

The front is gone through from the foot (nominal and high, when the sequence is valid) or in the
order of least work (always for the low curve): the increasing rearrangement of its forces.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.crests import strongest_window, weak_spots, weakest_within
from crushleg.girder.pattern import levels, nominal
from crushleg.girder.windows import look_up, on_cells

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray, IntArray
    from crushleg.girder.front import Front
    from crushleg.girder.pattern import Girders
    from crushleg.girder.sequence import Sequence


class Pass(NamedTuple):
    """One level's way through the cells: order (G, M), stroke and energy at cell ends (G, M+1)."""

    order: IntArray
    stroke: FloatArray
    energy: FloatArray


class Folds(NamedTuple):
    """Folds of G girders, padded with folds of no stroke: ``stroke`` (G, K+1) [m]."""

    stroke: FloatArray
    bottom: FloatArray
    top: FloatArray
    force: FloatArray
    start: FloatArray
    crest: FloatArray

    @property
    def length(self) -> FloatArray:
        """Crush stroke of each fold [m], shape (G, K); their sum is the usable stroke.

        What is left when all walls touch is solid: beyond it the leg bottoms.

        Notes
        -----
        Means: Stroke until all walls touch and the girder is solid.
        Formula: ℓ = η 2H
        Formula: usable stroke = ∫ η dz over the girder's length
        Range: η 0.73 to 0.77: 23 to 27 % of the length stays solid.
        Band: None: H and η depend on geometry alone.
        Limits: girder.length
        Limits: limits.stroke_fraction says how much of it may be used

        References
        ----------
        Crushed fraction: W. Abramowicz, N. Jones, Int. J. Impact Eng. 4 (1986) 243 [from memory]
        """
        return np.diff(self.stroke, axis=1)


def passes(front: Front, sequence: Sequence, length: FloatArray) -> list[Pass]:
    """Order in which the cells of height fold, for the low, nominal and high curve.

    Least work: at every stroke the cell that takes the least work to fold goes next.

    Notes
    -----
    Means: Order in which the zones fold: from the foot, or by the least work.
    Formula: from the foot: order = height
    Formula: least work: order of rising mean force
    Formula: ds = η dz
    Range: From the foot only where the start force of every zone is at most that of the zones above
    it.
    Band: The low curve always goes by least work, a lower bound.

    References
    ----------
    [D]
    """
    step = front.walls.crushed * (length / front.z.shape[1])[:, None]
    cells = np.broadcast_to(np.arange(front.z.shape[1]), front.z.shape)
    found = []
    for level, force in enumerate(front.force):
        low = front.banded and level == 0
        foot = sequence.from_foot & (not low)
        order = cells.copy()
        order[~foot] = np.argsort(_told_apart(force[~foot]), axis=1, kind="stable")
        stroke = _cumulative(np.take_along_axis(step, order, axis=1))
        energy = _cumulative(np.take_along_axis(step * force, order, axis=1))
        found.append(Pass(order, stroke, energy))
    return found


def _told_apart(force: FloatArray) -> FloatArray:
    """Round forces over their largest: where only rounding differs, cells fold from the foot up."""
    return np.round(force / force.max(axis=1, keepdims=True, initial=0.0), 9)


def _cumulative(steps: FloatArray) -> FloatArray:
    return np.concatenate([np.zeros_like(steps[:, :1]), np.cumsum(steps, axis=1)], axis=1)


def cut_folds(girders: Girders, front: Front, sequence: Sequence) -> Folds:
    """Folds cut from the front, 2H of column each, with mean force and crest.

    The crest is the force at which a fold begins. The last fold has its own length.

    Parameters
    ----------
    girders : Girders
    front : Front
    sequence : Sequence

    Returns
    -------
    Folds
        Boundaries in stroke are those of the nominal order, for all three curves.

    Notes
    -----
    Means: Force at which a later fold begins, the crest of each tooth of the curve.
    Formula: crest = min(start force of the weakest section in z ± H, crest_ratio × mean force)
    Formula: first crest = first peak
    Range: Later folds are bent by the fold under them, so that they begin lower than the first.
    Band: Least, mean and most over where the window falls against the rows; crest_ratio 1.2, 1.35,
    1.55; mean force and start force of the same level.
    Limits: girder.crest_ratio

    References
    ----------
    Swing of measured plain tubes [from memory]; weakest section of the window [D]
    """
    ways = passes(front, sequence, girders.length)
    way = ways[len(ways) // 2]
    cell = (girders.length / front.z.shape[1])[:, None]
    count = _cumulative(np.take_along_axis(0.5 * cell / front.walls.half, way.order, axis=1))
    most = int(np.ceil(count[:, -1].max() - 1e-9))
    whole = np.broadcast_to(np.arange(most + 1.0), (girders.count, most + 1))
    stroke = look_up(whole, count, way.stroke)
    force = np.stack([_mean(stroke, way.stroke, way.energy) for way in ways])
    bottom, top = _heights(front, sequence, way, stroke, girders.length)
    start = _starts(girders, front, sequence, way, (stroke, bottom, top))
    ratio = girders.crest_ratio[:, :, None]
    crest = np.minimum(start, ratio * force)
    crest[:, :, 0] = sequence.start.min(axis=2)
    start[:, :, 0] = crest[:, :, 0]
    return Folds(stroke, bottom, top, force, start, crest)


def _mean(bounds: FloatArray, stroke: FloatArray, total: FloatArray) -> FloatArray:
    """Mean over each fold of what ``total`` cumulates over ``stroke``; padded folds repeat."""
    at = look_up(bounds, stroke, total)
    width = np.diff(bounds, axis=1)
    real = width > 1e-9 * bounds[:, -1:]
    mean = np.diff(at, axis=1) / np.where(real, width, 1.0)
    overall = (total[:, -1:] - total[:, :1]) / (stroke[:, -1:] - stroke[:, :1])
    return np.where(real, mean, overall)


def fold_mean(field: FloatArray, way: Pass, stroke: FloatArray) -> FloatArray:
    """Mean over each fold of a field given at the cells (G, M), stroke-weighted."""
    step = np.diff(way.stroke, axis=1)
    total = _cumulative(np.take_along_axis(field, way.order, axis=1) * step)
    return _mean(stroke, way.stroke, total)


def _starts(
    girders: Girders,
    front: Front,
    sequence: Sequence,
    way: Pass,
    folds: tuple[FloatArray, FloatArray, FloatArray],
) -> FloatArray:
    """Start force of each fold: least, mean and most over where its window may fall (3, G, K)."""
    stroke, bottom, top = folds
    spots = weak_spots(girders)
    within = weakest_within(girders, spots, front.z, front.walls.half)
    foot = sequence.from_foot[:, None]
    rising = within if foot.all() and not girders.banded else np.sort(within, axis=2)
    along = np.where(foot, nominal(within), nominal(rising))
    mean = _mean(stroke, way.stroke, _cumulative(along * np.diff(way.stroke, axis=1)))
    if not girders.banded:
        return levels(girders, mean).copy()
    middle = 0.5 * (way.stroke[:, 1:] + way.stroke[:, :-1])
    low = look_up(stroke[:, :-1], middle, rising[0])
    half = on_cells(front.walls.half, girders.length, 0.5 * (bottom + top))
    ahead = strongest_window(girders, spots, bottom, top, half)
    most = np.where(foot, ahead, look_up(stroke[:, 1:], middle, rising[2]))
    return np.stack([np.minimum(low, mean), mean, np.maximum(most, mean)])


def _heights(
    front: Front, sequence: Sequence, way: Pass, stroke: FloatArray, length: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Lowest and highest metal of each fold [m]."""
    cells = front.z.shape[1]
    edges = length[:, None] * np.arange(cells + 1.0) / cells
    height = look_up(stroke, way.stroke, edges)
    if sequence.from_foot.all():
        return height[:, :-1], height[:, 1:]
    z = np.take_along_axis(front.z, way.order, axis=1)
    middle = 0.5 * (way.stroke[:, 1:] + way.stroke[:, :-1])
    inside = (middle[:, None, :] >= stroke[:, :-1, None]) & (
        middle[:, None, :] <= stroke[:, 1:, None]
    )
    half_cell = 0.5 * (length / cells)[:, None]
    some = inside.any(axis=2)
    low = np.where(inside, z[:, None, :], np.inf).min(axis=2)
    high = np.where(inside, z[:, None, :], -np.inf).max(axis=2)
    low = np.where(some, low - half_cell, height[:, :-1])
    high = np.where(some, high + half_cell, height[:, 1:])
    foot = sequence.from_foot[:, None]
    return np.where(foot, height[:, :-1], low), np.where(foot, height[:, 1:], high)
