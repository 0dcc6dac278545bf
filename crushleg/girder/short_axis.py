"""Sum and largest value along a short last axis, such as the holes of a girder.

Taken one after the other: several times faster than a reduction of rows that short, and in an
order that does not depend on how many girders go together.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray


def total(values: FloatArray) -> FloatArray:
    """Sum over the last axis; zero if it is empty.

    >>> total(np.array([[1.0, 2.0, 4.0]])).tolist()
    [7.0]
    """
    found = np.zeros(values.shape[:-1])
    for k in range(values.shape[-1]):
        found = found + values[..., k]
    return found


def largest(values: FloatArray) -> FloatArray:
    """Largest value on the last axis, at least zero.

    >>> largest(np.array([[1.0, 4.0, 2.0], [-1.0, -2.0, -3.0]])).tolist()
    [4.0, 0.0]
    """
    found = np.zeros(values.shape[:-1])
    for k in range(values.shape[-1]):
        found = np.maximum(found, values[..., k])
    return found
