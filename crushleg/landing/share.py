"""All legs together after some have crushed: one curve for the whole vehicle."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

POINTS = 1500


class Together(NamedTuple):
    """Travel (..., n) [m] from here on, vertical reaction [N] and work [J] of all legs."""

    travel: FloatArray
    reaction: FloatArray
    work: FloatArray


def sample(
    x: FloatArray, force: FloatArray, energy: FloatArray, at: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Force and energy of curves at many points.

    Parameters
    ----------
    x, force, energy : ndarray, shape (..., n)
        Curves: travel [m] from zero, rising or repeated; [N]; [J].
    at : ndarray, shape (..., p)
        Where [m]; beyond the curve its end counts.

    Returns
    -------
    tuple of ndarray
        Force [N] and energy [J], shape (..., p); at a jump the value after it.
    """
    shape = (*at.shape[:-1], x.shape[-1])
    x, force, energy = (np.broadcast_to(field, shape) for field in (x, force, energy))
    want = np.minimum(at, x[..., -1:])
    rows = zip(x.reshape(-1, shape[-1]), want.reshape(-1, at.shape[-1]), strict=True)
    found = np.stack([np.searchsorted(grid, row, side="right") for grid, row in rows])
    index = np.clip(found.reshape(at.shape) - 1, 0, shape[-1] - 2)
    x0, f0, e0 = (np.take_along_axis(a, index, axis=-1) for a in (x, force, energy))
    x1, f1, e1 = (np.take_along_axis(a, index + 1, axis=-1) for a in (x, force, energy))
    width = x1 - x0
    into = np.clip(want - x0, 0.0, width)
    share = np.divide(into, width, out=np.ones_like(into), where=width > 0.0)
    bend = 0.5 * (f1 - f0) * width * share * (share - 1.0)
    return f0 + share * (f1 - f0), e0 + share * (e1 - e0) + bend


def together(
    x: FloatArray, force: FloatArray, energy: FloatArray, begun: FloatArray, first: int, legs: int
) -> Together:
    """Curve of all legs when ``first`` of them have already travelled ``begun``.

    Parameters
    ----------
    x, force, energy : ndarray, shape (..., n)
        One leg: vertical travel [m], vertical reaction [N], work [J].
    begun : ndarray, shape (...)
        Travel of the first legs so far [m].
    first, legs : int
        How many legs that is, and all of them.

    Returns
    -------
    Together
        Ends where the first legs bottom.

    References
    ----------
    [D] every leg travels on by the same amount.
    """
    share = np.linspace(0.0, 1.0, POINTS)
    travel = (x[..., -1] - begun)[..., None] * share
    early_force, early_work = sample(x, force, energy, begun[..., None] + travel)
    late_force, late_work = sample(x, force, energy, travel)
    rest = legs - first
    work = first * (early_work - early_work[..., :1]) + rest * late_work
    return Together(travel, first * early_force + rest * late_force, work)
