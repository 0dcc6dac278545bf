"""Mean folding force of many girders against crush stroke."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.assemble import girder_arrays
from crushleg.girder.folds import passes
from crushleg.girder.front import folding_front
from crushleg.girder.sequence import Z_ONE_SIDED, collapse_sequence

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Girder

NOMINAL = 1


class MeanCurve(NamedTuple):
    """Mean folding force (3, G, M) [N] on pieces of crush stroke with ends (G, M+1) [m].

    ``order`` (G,) is the least margin of the order of collapse over all zones, NaN for one zone;
    ``half`` (G,) the half fold length at the foot [m].
    """

    stroke: FloatArray
    force: FloatArray
    order: FloatArray
    half: FloatArray

    @property
    def middle(self) -> FloatArray:
        """Middle of every piece [m]."""
        return 0.5 * (self.stroke[:, 1:] + self.stroke[:, :-1])


def mean_curve(girders: Sequence[Girder]) -> MeanCurve:
    """Mean folding force against crush stroke, in the order of the nominal curve.

    Parameters
    ----------
    girders : sequence of Girder

    Returns
    -------
    MeanCurve
        Without strain rate.
    """
    arrays = girder_arrays(girders, [0.0] * len(girders))
    front = folding_front(arrays)
    sequence = collapse_sequence(arrays, front.walls.half[:, 0])
    ways = passes(front, sequence, arrays.length)
    force = np.stack(
        [
            np.take_along_axis(level, way.order, axis=1)
            for level, way in zip(front.force, ways, strict=True)
        ]
    )
    sure = (sequence.ratio * np.exp(-Z_ONE_SIDED * sequence.scatter)).min(axis=1) - 1.0
    order = np.where(np.isfinite(sure), sure, np.nan)
    return MeanCurve(ways[NOMINAL].stroke, force, order, front.walls.half[:, 0])
