"""Force and energy of a girder against its crush stroke, from its folds."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.wave import decay, wave_energy, wave_force

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray, IntArray
    from crushleg.girder.folds import Folds

POINTS = 33


class Curve(NamedTuple):
    """Crush stroke (G, N) [m], force and energy (3, G, N) [N, J]; two points at a fold boundary."""

    stroke: FloatArray
    force: FloatArray
    energy: FloatArray


def fold_curve(folds: Folds) -> Curve:
    """Force and energy against crush stroke, 33 points a fold.

    Parameters
    ----------
    folds : Folds

    Returns
    -------
    Curve
        Energy is exact at every point: a fold's energy is Pm·η·2H.

    Notes
    -----
    Means: Crush force and energy of one girder against crush stroke.
    Formula: F(s) = Pm × wave(ξ), ξ = (s − s_fold)/(η 2H)
    Formula: E(s) = Σ whole folds Pm η 2H + part of this one
    Range: Crush stroke of one girder, without elastic shortening; two points at a fold boundary,
    before and after the jump.
    Band: Low by the least work, nominal and high from the foot where the sequence is valid;
    otherwise all by the least work.

    References
    ----------
    Energy of a fold, exact at every point [D]
    """
    xi = np.linspace(0.0, 1.0, POINTS)
    share = np.broadcast_to(xi, (*folds.length.shape, POINTS))
    p = (folds.crest / folds.force)[..., None]
    rate = decay(p)
    work = folds.force * folds.length
    before = np.concatenate([np.zeros_like(work[..., :1]), np.cumsum(work, axis=-1)[..., :-1]], -1)
    force = folds.force[..., None] * wave_force(share, p, rate)
    energy = before[..., None] + work[..., None] * wave_energy(share, p, rate)
    stroke = folds.stroke[:, :-1, None] + folds.length[..., None] * share
    last = POINTS * np.count_nonzero(folds.length > 0.0, axis=1) - 1
    index = np.minimum(np.arange(POINTS * folds.length.shape[1]), last[:, None])
    return Curve(*(_points(field, index) for field in (stroke, force, energy)))


def _points(field: FloatArray, index: IntArray) -> FloatArray:
    """Points of all folds in one row; padded folds repeat the last real point."""
    flat = field.reshape(*field.shape[:-2], -1)
    if (index[:, -1] == flat.shape[-1] - 1).all():
        return flat
    return np.take_along_axis(flat, np.broadcast_to(index, flat.shape), axis=-1)
