"""Walls of a girder at heights, with what its holes take from them."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.holes import chord, mean_chord
from crushleg.girder.modes import plain_fold
from crushleg.girder.short_axis import largest, total

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.girder.pattern import Girders

MOST_REMOVED = 0.999


class WallSection(NamedTuple):
    """One pair of walls at heights (G, M): side C, wall t [m], removed fraction, slot data."""

    side: FloatArray
    wall: FloatArray
    removed: FloatArray
    stagger: FloatArray
    slotted: FloatArray
    strips: tuple[FloatArray, FloatArray, FloatArray] | None


class Cut(NamedTuple):
    """Holes of girders at heights (G, M, N): chord [m], slot weight, sizes [m]."""

    chord: FloatArray
    slotted: FloatArray
    across: FloatArray
    along: FloatArray


def cut_holes(
    girders: Girders,
    z: FloatArray,
    growth: FloatArray | float = 0.0,
    band: FloatArray | None = None,
) -> Cut:
    """Cut all holes at heights ``z`` (G, M) [m], every one ``growth`` [m] larger.

    Parameters
    ----------
    girders : Girders
    z : ndarray
        Heights [m], shape (G, M).
    growth : ndarray or float
        Added to hole sizes [m], shape (G, 1, 1) or scalar.
    band : ndarray, optional
        Average over ± this height [m], shape (G, M), instead of one line.

    Returns
    -------
    Cut
    """
    real = (girders.across > 0.0)[:, None, :]
    bigger = np.where(real, growth, 0.0)
    across = np.maximum(girders.across[:, None, :] + bigger, 0.0)
    along = np.maximum(girders.along[:, None, :] + bigger, 0.0)
    radius = girders.corner[:, None, :]
    radius = np.where(radius > 0.0, np.maximum(radius + 0.5 * bigger, 0.0), 0.0)
    outline = (girders.height[:, None, :], across, along, radius)
    if band is None:
        chords = chord(z[:, :, None], *outline)
    else:
        chords = mean_chord(z[:, :, None], band[:, :, None], *outline)
    return Cut(chords, _slot_blend(girders, across, along), across, along)


def wall_sections(girders: Girders, cut: Cut, wall: FloatArray) -> list[WallSection]:
    """Front-back and left-right walls where the holes are ``cut``; ``wall`` [m], shape (G, M)."""
    sections: list[WallSection] = []
    for side, on in zip(girders.sides_at(wall), girders.pairs, strict=True):
        if sections and _alike(girders):
            return 2 * sections
        chords = cut.chord * on[:, None, :]
        removed = np.minimum(total(chords) / side, MOST_REMOVED)
        stagger = slotted = np.zeros_like(side)
        if (girders.stagger < 1.0).any() or (cut.slotted > 0.0).any():
            present = cut.chord / np.where(cut.across > 0.0, cut.across, 1.0) * on[:, None, :]
            stagger = largest(present * (1.0 - girders.stagger[:, None, :]))
            slotted = largest(present * cut.slotted)
        stagger = 1.0 - stagger
        strips = _strips(girders, chords, cut.along, side) if np.any(slotted > 0.0) else None
        sections.append(WallSection(side, wall, removed, stagger, slotted, strips))
    return sections


def _alike(girders: Girders) -> bool:
    """Whether both pairs of walls of every girder are the same."""
    square = np.array_equal(girders.width, girders.depth)
    return square and np.array_equal(girders.pairs[0], girders.pairs[1])


def _slot_blend(girders: Girders, across: FloatArray, along: FloatArray) -> FloatArray:
    """Weight of the strip model: 0 for a round hole, 1 for a slot as long as a fold."""
    wall = girders.wall[:, :1]
    side = 0.5 * (girders.width + girders.depth)[:, None] - wall
    fold = 2.0 * plain_fold(side, wall, np.ones_like(wall)).half_length[:, :, None]
    return np.clip((along - across) / np.maximum(fold - across, 1e-9), 0.0, 1.0)


def _strips(
    girders: Girders, cut: FloatArray, along: FloatArray, side: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Strip widths between corner, slots and corner; which lie inside; longest slot."""
    full = side[..., None]
    left = np.where(cut > 0.0, 0.5 * full + girders.offset[:, None, :] - 0.5 * cut, full)
    order = np.argsort(left, axis=-1, kind="stable")
    left = np.take_along_axis(left, order, axis=-1)
    right = np.maximum(
        np.take_along_axis(np.broadcast_to(cut, left.shape), order, axis=-1) + left, 0.0
    )
    right = np.minimum(np.maximum.accumulate(right, axis=-1), full)
    starts = np.concatenate([np.zeros_like(full), right], axis=-1)
    ends = np.concatenate([left, full], axis=-1)
    inner = (starts > 0.0) & (ends < full)
    longest = largest(np.where(cut > 0.0, along, 0.0))
    return np.maximum(ends - starts, 0.0), inner.astype(np.float64), longest
