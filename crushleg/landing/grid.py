"""Reading curves whose cases share the leading axes and whose grids differ."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.arrays import FloatArray, IntArray, floats
from crushleg.landing.lookup import points_before

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def on_grid_shape(
    curves: tuple[ArrayLike, ...], cases: tuple[ArrayLike, ...]
) -> tuple[tuple[FloatArray, ...], tuple[FloatArray, ...]]:
    """Curves on one shape (..., n), and values per case, many of which may share a curve."""
    grids = tuple(np.broadcast_arrays(*floats(*curves)))
    values = floats(*cases)
    shape = np.broadcast_shapes(grids[0].shape[:-1], *(c.shape for c in values))
    return grids, tuple(np.broadcast_to(c, shape) for c in values)


def shared(grid: FloatArray) -> bool:
    """Whether there is one curve for all cases."""
    return grid.size == grid.shape[-1]


def take(grid: FloatArray, index: IntArray) -> FloatArray:
    """Pick for each case the value at its own grid point."""
    if shared(grid):
        return np.asarray(np.take(grid.reshape(-1), index))
    picked: FloatArray = np.take_along_axis(grid, index[..., None], axis=-1)[..., 0]
    return picked


def points_to(grid: FloatArray, at: FloatArray, *, below: bool = False) -> IntArray:
    """How many points of a rising grid lie at or below (only below) a value per case."""
    if shared(grid):
        return points_before(grid.reshape(-1), at, below=below)
    met = grid < at[..., None] if below else grid <= at[..., None]
    return np.asarray(np.count_nonzero(met, axis=-1))


def running(grid: FloatArray) -> FloatArray:
    """Largest value met so far along the curve."""
    return np.asarray(np.maximum.accumulate(grid, axis=-1))


def locate(stroke: FloatArray, at: FloatArray) -> tuple[IntArray, FloatArray]:
    """Piece that holds a stroke, the earlier one at a grid point, and the fraction within it."""
    i = np.asarray(np.clip(points_to(stroke, at, below=True) - 1, 0, stroke.shape[-1] - 2))
    start = take(stroke, i)
    run = take(stroke, i + 1) - start
    full = np.where(at > start, 1.0, 0.0)
    return i, np.clip(np.divide(at - start, run, out=full, where=run > 0.0), 0.0, 1.0)


class Piece(NamedTuple):
    """Stroke [m], force [N] and energy [J] at the begin of a piece of the curve and at its end."""

    stroke: FloatArray
    force: FloatArray
    energy: FloatArray
    stroke_end: FloatArray
    force_end: FloatArray
    energy_end: FloatArray

    @property
    def run(self) -> FloatArray:
        """Stroke of the piece [m]."""
        return self.stroke_end - self.stroke

    def force_at(self, u: FloatArray) -> FloatArray:
        """Force a fraction ``u`` into the piece [N]."""
        return self.force + u * (self.force_end - self.force)

    def stroke_at(self, u: FloatArray) -> FloatArray:
        """Stroke a fraction ``u`` into the piece [m]."""
        return np.minimum(self.stroke + u * self.run, self.stroke_end)

    def energy_at(self, u: FloatArray) -> FloatArray:
        """Energy a fraction ``u`` into the piece [J]."""
        bend = 0.5 * (self.force_end - self.force) * self.run
        return self.energy + (self.energy_end - self.energy) * u - bend * u * (1.0 - u)


def piece(s: FloatArray, f: FloatArray, e: FloatArray, i: IntArray) -> Piece:
    """Pick piece ``i`` of every case."""
    after = i + 1
    return Piece(*(take(a, i) for a in (s, f, e)), *(take(a, after) for a in (s, f, e)))


def inside(s: FloatArray, f: FloatArray, i: IntArray, u: FloatArray) -> FloatArray:
    """Force a fraction ``u`` into piece ``i`` [N]."""
    return piece(s, f, f, i).force_at(u)
