"""Averages over a window of height of what changes in steps, and look-up on a uniform grid."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.arrays import FloatArray

CELLS = 384
FEW = 64


def cell_centres(length: FloatArray, count: int = CELLS) -> FloatArray:
    """Mid-heights [m] of ``count`` equal cells over ``length`` (G,); shape (G, count)."""
    return length[:, None] * (np.arange(count) + 0.5) / count


def box_average(
    values: FloatArray, starts: FloatArray, z: FloatArray, half: FloatArray
) -> FloatArray:
    """Average over z ± ``half`` of a stepped quantity.

    Parameters
    ----------
    values, starts : ndarray
        Value of each segment and the height where it begins [m], shape (G, S); the first
        begins at or below any height asked for.
    z, half : ndarray
        Window centre and half height [m], shape (G, M).

    Returns
    -------
    ndarray
        Shape (G, M).

    References
    ----------
    [D]
    """
    found = np.broadcast_to(values[:, :1], z.shape)
    for rise, start in _steps(values, starts):
        above, below = (np.maximum(end - start, 0.0) for end in (z + half, z - half))
        found = found + rise * (above - below) / (2.0 * half)
    return found


def triangle_average(
    values: FloatArray, starts: FloatArray, z: FloatArray, half: FloatArray
) -> FloatArray:
    """Average with weight 2 ``half`` − |distance| over z ± 2 ``half``; as :func:`box_average`."""
    reach = 2.0 * half
    found = np.broadcast_to(values[:, :1], z.shape)
    for rise, start in _steps(values, starts):
        above, middle, below = (
            np.maximum(end - start, 0.0) ** 2 for end in (z + reach, z, z - reach)
        )
        found = found + rise * (above + below - 2.0 * middle) / (2.0 * reach * reach)
    return found


def _steps(values: FloatArray, starts: FloatArray) -> Iterator[tuple[FloatArray, FloatArray]]:
    """Rise and height (G, 1) of every step."""
    for k in range(1, values.shape[1]):
        yield values[:, k : k + 1] - values[:, k - 1 : k], starts[:, k : k + 1]


def on_cells(field: FloatArray, length: FloatArray, z: FloatArray) -> FloatArray:
    """Linear look-up of a field on equal cells.

    Parameters
    ----------
    field : ndarray
        Values at the centres of n equal cells, shape (G, n).
    length : ndarray
        Length the cells cover [m], shape (G,).
    z : ndarray
        Heights asked for [m], shape (G, M) or (G, M, J); clipped to the first and last centre.

    Returns
    -------
    ndarray
        Shape of ``z``.
    """
    count = field.shape[1]
    shape = (-1,) + (1,) * (z.ndim - 1)
    position = np.clip(z / length.reshape(shape) * count - 0.5, 0.0, count - 1.0)
    index = np.minimum(position.astype(np.intp), count - 2)
    rows = np.arange(field.shape[0]).reshape(shape)
    below, above = field[rows, index], field[rows, index + 1]
    return below + (position - index) * (above - below)


def least_between(
    field: FloatArray, length: FloatArray, low: FloatArray, high: FloatArray
) -> FloatArray:
    """Least value of a field on equal cells, taken as straight between centres.

    Parameters
    ----------
    field : ndarray
        Values at the centres of n equal cells, shape (G, n).
    length : ndarray
        Length the cells cover [m], shape (G,).
    low, high : ndarray
        Ends of the intervals [m], shape (G, M).

    Returns
    -------
    ndarray
        Shape (G, M).

    References
    ----------
    Table of minima over 1, 2, 4, … cells; two of them cover any interval.
    """
    count = field.shape[1]
    tables = [field]
    while 2 ** len(tables) <= count:
        before, shift = tables[-1], 2 ** (len(tables) - 1)
        shifted = np.concatenate([before[:, shift:], before[:, -1:].repeat(shift, axis=1)], axis=1)
        tables.append(np.minimum(before, shifted))
    table = np.stack(tables)
    scale = (count / length)[:, None]
    first = np.clip(np.ceil(low * scale - 0.5), 0, count - 1).astype(np.intp)
    last = np.clip(np.floor(high * scale - 0.5), 0, count - 1).astype(np.intp)
    cells = np.maximum(last - first + 1, 1)
    level = np.log2(cells).astype(np.intp)
    rows = np.arange(field.shape[0])[:, None]
    inside = np.minimum(table[level, rows, first], table[level, rows, last - 2**level + 1])
    ends = np.minimum(on_cells(field, length, low), on_cells(field, length, high))
    return np.where(last >= first, np.minimum(inside, ends), ends)


def look_up(x: FloatArray, grid: FloatArray, field: FloatArray) -> FloatArray:
    """Linear interpolation along the last axis, one rising grid per girder.

    Parameters
    ----------
    x : ndarray
        Where, shape (G, K); clipped to the grid.
    grid, field : ndarray
        Non-decreasing abscissae and values, shape (G, M).

    Returns
    -------
    ndarray
        Shape (G, K).
    """
    if grid.shape[1] <= FEW:
        met = np.zeros(np.broadcast_shapes(x.shape, grid[:, :1].shape), dtype=np.intp)
        for k in range(grid.shape[1]):
            met += grid[:, k : k + 1] <= x
    else:
        met = (grid[:, None, :] <= x[:, :, None]).sum(axis=-1)
    index = np.clip(met - 1, 0, grid.shape[1] - 2)
    rows = np.arange(grid.shape[0])[:, None]
    left, right = grid[rows, index], grid[rows, index + 1]
    span = np.where(right > left, right - left, 1.0)
    share = np.clip((x - left) / span, 0.0, 1.0)
    low, high = field[rows, index], field[rows, index + 1]
    return np.where(share < 1.0, low + share * (high - low), high)
