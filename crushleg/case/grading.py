"""Grading laws: sizes, heights and sideways shifts of hole rows, foot first."""

from __future__ import annotations


def even_sizes(rows: int, size: float) -> tuple[float, ...]:
    """Sizes of equal rows [m].

    >>> even_sizes(2, 0.05)
    (0.05, 0.05)
    """
    return (size,) * rows


def power_sizes(rows: int, foot: float, top: float, exponent: float) -> tuple[float, ...]:
    r"""Sizes from ``foot`` to ``top`` by a power of the row number [m].

    .. math:: d_i = d_{foot} + (d_{top} - d_{foot}) (i / (n - 1))^p

    Exponent 1 is the linear law; a single row has the size at the foot.

    >>> power_sizes(3, 0.08, 0.04, 1.0), power_sizes(3, 0.08, 0.04, 2.0)
    ((0.08, 0.06, 0.04), (0.08, 0.07, 0.04))
    """
    span = max(rows - 1, 1)
    return tuple(foot + (top - foot) * (i / span) ** exponent for i in range(rows))


def row_heights(rows: int, first: float, pitch: float) -> tuple[float, ...]:
    """Heights of row centres above the foot end [m].

    >>> row_heights(3, 0.25, 0.125)
    (0.25, 0.375, 0.5)
    """
    return tuple(first + i * pitch for i in range(rows))


def sideways(rows: int, stagger: float) -> tuple[float, ...]:
    """Sideways shifts of row centres [m]: every second row, the second row first.

    >>> sideways(4, 0.01)
    (0.0, 0.01, 0.0, 0.01)
    """
    return tuple(stagger if i % 2 else 0.0 for i in range(rows))
