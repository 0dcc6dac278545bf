"""The crush of girders: from arrays of girders to force against stroke."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.curve import Curve, fold_curve
from crushleg.girder.folds import Folds, cut_folds
from crushleg.girder.front import Front, folding_front
from crushleg.girder.net import axial_stiffness, girder_mass, least_inertia
from crushleg.girder.sequence import Sequence, collapse_sequence

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.girder.pattern import Girders


class Crush(NamedTuple):
    """Everything the girder room says about G girders."""

    girders: Girders
    front: Front
    sequence: Sequence
    folds: Folds
    curve: Curve
    usable: FloatArray
    stiffness: FloatArray
    inertia: FloatArray
    mass: FloatArray

    @property
    def first_peak(self) -> FloatArray:
        """Force that begins the crush, low, nominal, high [N], shape (3, G).

        Notes
        -----
        Means: Force that begins the crush: the highest that the structure sees before any fold.
        Formula: first peak = min over zones of start force; first_peak_fraction on the foot zone
        Range: The weakest zone folds first, wherever it is; it should be the foot.
        Band: That of the start force of the weakest zone.
        Limits: girder.first_peak_fraction, below 1 with a crush initiator at the foot

        References
        ----------
        [D]
        """
        return self.sequence.start.min(axis=2)

    @property
    def largest_start(self) -> FloatArray:
        """Largest start force of all zones, low, nominal, high [N], shape (3, G)."""
        start = self.sequence.start
        return np.where(np.isfinite(start), start, 0.0).max(axis=2)


def crush(girders: Girders) -> Crush:
    """Crush G girders at once.

    Parameters
    ----------
    girders : Girders

    Returns
    -------
    Crush
        Strokes are crush (plastic) strokes; elastic shortening is force over ``stiffness``.
    """
    front = folding_front(girders)
    sequence = collapse_sequence(girders, front.walls.half[:, 0])
    folds = cut_folds(girders, front, sequence)
    curve = fold_curve(folds)
    return Crush(
        girders,
        front,
        sequence,
        folds,
        curve,
        folds.stroke[:, -1],
        axial_stiffness(girders),
        least_inertia(girders),
        girder_mass(girders),
    )
