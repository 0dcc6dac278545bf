"""Rows of nested records of arrays, one row a landing: some of them, and all put together again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, IntArray


def some_rows(record: Any, keep: BoolArray) -> Any:
    """Rows of a nested record of arrays; ``keep`` (B,)."""
    if isinstance(record, np.ndarray):
        return record[keep]
    return type(record)(*(some_rows(field, keep) for field in record))


def joined(parts: tuple[Any, ...], order: IntArray) -> Any:
    """Put parts of a nested record of arrays together; ``order`` (B,) of their rows."""
    if isinstance(parts[0], np.ndarray):
        return np.concatenate(parts)[order]
    return type(parts[0])(*(joined(field, order) for field in zip(*parts, strict=True)))
