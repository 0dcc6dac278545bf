"""Reading curves whose cases share the leading axes and whose grids differ."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, IntArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def on_grid_shape(
    curves: tuple[ArrayLike, ...], cases: tuple[ArrayLike, ...]
) -> tuple[tuple[FloatArray, ...], tuple[FloatArray, ...]]:
    """Curves on one shape (..., n) and values per case on its leading axes."""
    grids, values = floats(*curves), floats(*cases)
    shape = np.broadcast_shapes(*(c.shape for c in grids), *((*c.shape, 1) for c in values))
    return (
        tuple(np.broadcast_to(c, shape) for c in grids),
        tuple(np.broadcast_to(c, shape[:-1]) for c in values),
    )


def take(grid: FloatArray, index: IntArray) -> FloatArray:
    """Pick for each case the value at its own grid point."""
    picked: FloatArray = np.take_along_axis(grid, index[..., None], axis=-1)[..., 0]
    return picked


def locate(stroke: FloatArray, at: FloatArray) -> tuple[IntArray, FloatArray]:
    """Piece that holds a stroke, the earlier one at a grid point, and the fraction within it."""
    before = np.count_nonzero(stroke < at[..., None], axis=-1)
    i = np.asarray(np.clip(before - 1, 0, stroke.shape[-1] - 2))
    start, run = take(stroke, i), take(np.diff(stroke), i)
    full = np.where(at > start, 1.0, 0.0)
    return i, np.clip(np.divide(at - start, run, out=full, where=run > 0.0), 0.0, 1.0)


def inside(
    s: FloatArray, f: FloatArray, e: FloatArray, i: IntArray, u: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Stroke, force and energy a fraction ``u`` into piece ``i``."""
    run, rise, work = (take(np.diff(a), i) for a in (s, f, e))
    stroke = np.minimum(take(s, i) + u * run, take(s, i + 1))
    energy = take(e, i) + work * u - 0.5 * rise * run * u * (1.0 - u)
    return np.asarray(stroke), np.asarray(take(f, i) + u * rise), np.asarray(energy)
