"""One line per row of holes and one per fold of a girder: what its reports list."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.folds import fold_mean, passes
from crushleg.girder.ligaments import ligaments
from crushleg.girder.modes import plain_fold
from crushleg.girder.net import net_area
from crushleg.girder.start import start_force

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Row
    from crushleg.girder.crush import Crush


class RowTable(NamedTuple):
    """Rows of holes of the first girder: shape (R,); ``start`` low, nominal, high, (3, R).

    ``ligament`` is the least web or edge of the row's holes [m], ``net_area`` of the whole
    section at the row's height [m2], ``start`` the force that starts a fold there [N], without
    the crush initiator's fraction. Rows at the same height share a section: each line gives all
    of it.
    """

    ligament: FloatArray
    net_area: FloatArray
    start: FloatArray


class FoldTable(NamedTuple):
    """Folds of the first girder in their order: shape (K,); levels first (3, K).

    Crush stroke at both ends, lowest and highest metal, half fold length H [m]; mode weights
    (K, 3); undrilled mean force, mean force, crest [N]; removed shares of horizontal hinges,
    inclined hinges (sweep) and corner surface [-], mean over both pairs of walls; nominal energy
    [J].
    """

    begins: FloatArray
    ends: FloatArray
    bottom: FloatArray
    top: FloatArray
    half: FloatArray
    weights: FloatArray
    plain: FloatArray
    mean: FloatArray
    crest: FloatArray
    hinge: FloatArray
    sweep: FloatArray
    corner: FloatArray
    energy: FloatArray


def row_table(crush: Crush, rows: Sequence[Row]) -> RowTable:
    """Ligament, net area and start force of every row of the first girder.

    Parameters
    ----------
    crush : Crush
    rows : sequence of Row
        The rows the girder was made from.

    Returns
    -------
    RowTable
    """
    height = np.array([[row.height for row in rows]])
    left = ligaments(crush.girders)
    hole = np.minimum(left.web, left.corner)[0]
    ends = np.cumsum([row.per_face for row in rows], dtype=np.intp)
    least = [float(hole[e - row.per_face : e].min()) for e, row in zip(ends, rows, strict=True)]
    return RowTable(
        np.array(least),
        net_area(crush.girders, height)[0],
        start_force(crush.girders, height)[:, 0],
    )


def fold_table(crush: Crush) -> FoldTable:
    """Folds of the first girder, the last one on its own length.

    Parameters
    ----------
    crush : Crush

    Returns
    -------
    FoldTable
        Nominal order; shares and lengths are stroke-weighted means over each fold.
    """
    folds, walls, shares = crush.folds, crush.front.walls, crush.front.shares
    way = passes(crush.front, crush.sequence, crush.girders.length)[1]
    real = folds.length[0] > 0.0

    def mean(field: FloatArray) -> FloatArray:
        return fold_mean(field, way, folds.stroke)[0, real]

    weights = mode_weights(crush)
    return FoldTable(
        folds.stroke[0, :-1][real],
        folds.stroke[0, 1:][real],
        folds.bottom[0, real],
        folds.top[0, real],
        mean(walls.half),
        np.stack([mean(weights[..., mode]) for mode in range(weights.shape[-1])], axis=-1),
        mean(walls.plain_force),
        folds.force[:, 0, real],
        folds.crest[:, 0, real],
        mean(shares.hinge),
        mean(shares.sweep.mean(axis=0)),
        mean(shares.corner.mean(axis=0)),
        (folds.force[1] * folds.length)[0, real],
    )


def mode_weights(crush: Crush) -> FloatArray:
    """Weight of each mode in the blend at every height, shape (G, M, 3) [-]."""
    girders, walls = crush.girders, crush.front.walls
    wall = (walls.corner_wall * walls.hinge_wall * walls.sweep_wall) ** 0.2
    side = 0.5 * (girders.width + girders.depth)[:, None] - wall
    return plain_fold(side, wall, girders.flow_stress[1][:, None]).weights
