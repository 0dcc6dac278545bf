"""Finding many values on one curve: a table says where to begin, steps find the exact place.

A binary search costs more than all the arithmetic of a stop; the table brings nearly every value
within a step or two of its place. What is found does not depend on the table.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import BoolArray, FloatArray, IntArray

FEW = 2048
"""Up to so many values a table does not pay."""
BINS = 1024
WEIGHTS = 16
SAFE = 1e-9
"""Part of the span by which a bin begins earlier, so that round-off cannot hide a place."""


def points_before(grid: FloatArray, at: FloatArray, *, below: bool) -> IntArray:
    """How many points of one rising grid (n,) lie at or below (only below) each value."""
    if at.size <= FEW:
        return np.searchsorted(grid, at, side="left" if below else "right")
    ends = np.append(grid, np.inf)
    found = _starts(grid[None], np.zeros((), dtype=np.intp), at)
    return _stepped(found, lambda j, x: ends[j] < x if below else ends[j] <= x, at)


def first_reached(
    stroke: FloatArray, energy: FloatArray, weight: FloatArray, demand: FloatArray
) -> IntArray:
    """First point of one curve (n,) where energy less weight × stroke is the demand or more.

    Parameters
    ----------
    stroke, energy : ndarray, shape (n,)
        [m], not negative; [J].
    weight, demand : ndarray
        [N], [J], of one shape.

    Returns
    -------
    ndarray of int
        n where no point reaches it.
    """
    ends, energies = np.append(stroke, 0.0), np.append(energy, np.inf)
    least, most = float(weight.min()), float(weight.max())
    width = max((most - least) / WEIGHTS, 1e-300)
    each = least + width * np.arange(WEIGHTS + 1) - SAFE * max(abs(least), abs(most))
    row = np.minimum((weight - least) / width, WEIGHTS).astype(np.intp)
    net = np.maximum.accumulate(energy - each[:, None] * stroke, axis=1)

    def short(j: IntArray, w: FloatArray, d: FloatArray) -> BoolArray:
        return np.asarray(energies[j] - w * ends[j] < d)

    return _stepped(_starts(net, row, demand), short, weight, demand)


def _starts(rising: FloatArray, row: IntArray, at: FloatArray) -> IntArray:
    """Place in one of the rows (W, n) no later than the first point that is ``at`` or more."""
    low, high = float(at.min()), float(at.max())
    width = max((high - low) / BINS, 1e-300)
    bins = low + width * np.arange(BINS + 1) - SAFE * max(abs(low), abs(high))
    table = np.concatenate([np.searchsorted(line, bins, side="left") for line in rising])
    column = np.minimum((at - low) / width, BINS).astype(np.intp)
    return np.asarray(np.take(table, row * (BINS + 1) + column))


def _stepped(found: IntArray, short: Callable[..., BoolArray], *values: FloatArray) -> IntArray:
    """Move every place up while it falls ``short`` of its values."""
    flat = found.reshape(-1)
    left = np.flatnonzero(short(flat, *(value.reshape(-1) for value in values)))
    rest = [value.reshape(-1)[left] for value in values]
    while left.size:
        flat[left] += 1
        still = short(flat[left], *rest)
        left, rest = left[still], [value[still] for value in rest]
    return found
