"""Every step of a landing, kept for figures, tables and the ledger."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray, IntArray
    from crushleg.landing.motion.ledger import Ledger
    from crushleg.landing.motion.state import Pads, Pose


class Sample(NamedTuple):
    """One step of the landings that run: their times, poses, pads, force on each, ledger."""

    time: FloatArray
    pose: Pose
    pads: Pads
    push: FloatArray
    ledger: Ledger


class Chunk(NamedTuple):
    """Steps through which the same landings ran."""

    which: IntArray
    samples: list[Sample]


class History(NamedTuple):
    """One landing, T steps on the first axis.

    Attributes
    ----------
    time : (T,)
        After contact [s].
    position : (T, 3)
        Of the centre of gravity, ground frame [m].
    rotation : (T, 3, 3)
        Body to ground.
    push : (T, 3)
        Force on the vehicle with gravity and thrust [N].
    strut, across, travel, sunk : (T, N)
        Load along and across the absorbers [N], their travel and the pads' sinkage [m].
    place, force : (T, N, 3)
        Of the pads [m], and of the ground on them [N].
    ledger : (T, 7)
        Columns as the fields of :class:`crushleg.landing.motion.ledger.Ledger` [J].
    """

    time: FloatArray
    position: FloatArray
    rotation: FloatArray
    push: FloatArray
    strut: FloatArray
    across: FloatArray
    travel: FloatArray
    sunk: FloatArray
    place: FloatArray
    force: FloatArray
    ledger: FloatArray


def histories(chunks: list[Chunk], count: int) -> tuple[History, ...]:
    """Put the steps of each of ``count`` landings in line."""
    parts: list[list[tuple[FloatArray, ...]]] = [[] for _ in range(count)]
    for chunk in chunks:
        stacked = [np.stack(field) for field in zip(*map(_fields, chunk.samples), strict=True)]
        for row, landing in enumerate(chunk.which):
            parts[landing].append(tuple(field[:, row] for field in stacked))
    return tuple(
        History(*(np.concatenate(field) for field in zip(*part, strict=True))) for part in parts
    )


def _fields(sample: Sample) -> tuple[FloatArray, ...]:
    pads = sample.pads
    return (
        sample.time,
        sample.pose.position,
        sample.pose.rotation,
        sample.push,
        pads.strut,
        pads.across,
        pads.travel,
        pads.sunk,
        pads.place,
        pads.force,
        np.stack(sample.ledger, axis=-1),
    )
