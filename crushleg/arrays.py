"""Arrays of float64, as every equation takes and returns them."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

FloatArray: TypeAlias = NDArray[np.float64]
IntArray: TypeAlias = NDArray[np.intp]
BoolArray: TypeAlias = NDArray[np.bool_]


def floats(*values: ArrayLike) -> tuple[FloatArray, ...]:
    """Every value as a float64 array, its shape kept, ready to broadcast.

    Parameters
    ----------
    *values : array_like
        Numbers or arrays of any shape.

    Returns
    -------
    tuple of ndarray
        One float64 array per value, in order.

    Examples
    --------
    >>> side, wall = floats(0.140, [0.003, 0.004])
    >>> (side / wall).round(1).tolist()
    [46.7, 35.0]
    """
    return tuple(np.asarray(value, dtype=np.float64) for value in values)


def known(value: float | None, otherwise: float = 0.0) -> float:
    """Value that was given, else another; a record of many landings holds arrays.

    >>> known(None), known(2.0)
    (0.0, 2.0)
    """
    return otherwise if value is None else value


def lock(record: Any) -> None:
    """Make every array of a dataclass read-only; for the ``__post_init__`` of results.

    Examples
    --------
    >>> @dataclasses.dataclass(frozen=True)
    ... class Result:
    ...     force: FloatArray
    >>> result = Result(np.zeros(2))
    >>> lock(result)
    >>> result.force.flags.writeable
    False
    """
    for field in dataclasses.fields(record):
        value = getattr(record, field.name)
        if isinstance(value, np.ndarray):
            value.setflags(write=False)
