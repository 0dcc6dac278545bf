"""Neighbours of a candidate, and candidates from six numbers between zero and one."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.design.choice import Choice

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.design.chain import Chain
    from crushleg.design.choice import Space

STEEPEST = 0.2
"""Most rise of ln(start force) from row to row that is looked at, beyond the scatter."""


def decoded(space: Space, chains: Sequence[Chain], point: Sequence[float]) -> Choice:
    """Candidate of a point: sheet, length, rows as whole numbers, then shares between 0 and 1.

    The shares are those of the pitch between its least and most, of the foot size between the
    smallest and the widest that corner, d/C and pitch allow, of the rows that are graded, and of
    the steepest grading. Ligaments and the order of start forces are kept by construction.
    """
    wall, length, rows = (int(x) for x in point[:3])
    spread, foot, graded, steep = point[3:]
    t, span = space.walls[wall], space.lengths[length]
    smallest = space.sizes[0]
    least = max(space.pitch[0], space.closest(t, smallest, smallest))
    rows = min(rows, int(span / least))
    if rows == 0:
        return Choice(wall, length, 1, 1, ())
    most = max(min(space.pitch[1], span / rows) - space.grid, least)
    pitch = int(np.ceil((least + spread * (most - least)) / space.grid - 1e-9))
    widest = max(min(space.widest(t), _room(space, t, space.metres(pitch), rows)), smallest)
    size = _below(space, smallest + foot * (widest - smallest))
    links = round(graded * (rows - 1))
    sizes = chains[wall].graded((size,), rows, links, STEEPEST * steep**2)
    lowest = space.closest(t, 0.0, space.sizes[size])
    first = int(np.ceil(max(0.5 * space.metres(pitch), lowest) / space.grid - 1e-9))
    found = Choice(wall, length, first, pitch, sizes)
    return found._replace(first=min(first, int(space.highest_foot(found) / space.grid + 1e-9)))


def _room(space: Space, wall: float, pitch: float, rows: int) -> float:
    """Largest hole that leaves its web to the next row [m]."""
    if rows == 1 or space.pattern.along is not None:
        return space.widest(wall)
    return pitch - space.closest(wall, 0.0, 0.0)


def _below(space: Space, wanted: float) -> int:
    """Index of the largest listed size that is not above a wanted one."""
    return max(int(np.searchsorted(space.sizes, wanted + 1e-9, side="right")) - 1, 0)


def neighbours(space: Space, chains: Sequence[Chain], choice: Choice, step: int) -> list[Choice]:
    """Candidates one move away whose ligaments are kept, sizes and heights moved by ``step``."""
    return [near for near in moves(space, chains, choice, step) if space.keeps(near)]


def moves(space: Space, chains: Sequence[Chain], choice: Choice, step: int) -> list[Choice]:
    """Candidates one move away that the reader takes, ligaments kept or not."""
    found = dict.fromkeys(_moves(choice, chains[choice.wall], step))
    return [c for c in found if c != choice and space.allows(c) and space.readable(c)]


def _moves(choice: Choice, chain: Chain, step: int) -> Iterator[Choice]:
    yield from _rechained(choice, chain, step)
    for by in (step, -step):
        yield from _resized(choice, by)
        yield from _shifted(choice, by)
        everywhere = tuple(size + by for size in choice.sizes)
        yield from _shifted(choice._replace(sizes=everywhere), by)
    for by in (-1, 1):
        yield choice._replace(wall=choice.wall + by)
        yield choice._replace(length=choice.length + by)
    yield from _recounted(choice, step)


def _shifted(choice: Choice, by: int) -> Iterator[Choice]:
    """Another pitch, another first height, or both."""
    first, pitch = choice.first, choice.pitch
    yield choice._replace(pitch=pitch + by)
    yield choice._replace(first=first + by)
    yield choice._replace(first=first + by, pitch=pitch - by)
    yield choice._replace(first=first + by, pitch=pitch + by)


def _resized(choice: Choice, by: int) -> Iterator[Choice]:
    """One row, all rows from one upward, or all up to one, on another size."""
    sizes = choice.sizes
    for i in range(len(sizes)):
        for start, stop in ((i, i + 1), (i, len(sizes)), (0, i + 1)):
            changed = tuple(s + by if start <= k < stop else s for k, s in enumerate(sizes))
            yield choice._replace(sizes=changed)


def _rechained(choice: Choice, chain: Chain, step: int) -> Iterator[Choice]:
    """One row on another size and the chain anew above it, or one row more or less graded."""
    sizes = choice.sizes
    graded = sum(size > sizes[-1] for size in sizes)
    for i in range(min(graded + 1, len(sizes))):
        for by in (0, step, -step):
            below = (*sizes[:i], sizes[i] + by)
            for links in {graded - i - 1, graded - i, graded - i + 1}:
                if 0 <= links < len(sizes) - i:
                    yield choice._replace(sizes=chain.graded(below, len(sizes), links))
    for links in range(max(graded - 2, 0), min(graded + 2, len(sizes))):
        again = choice._replace(sizes=chain.graded(sizes[:1], len(sizes), links))
        for by in (2 * step, step, -step, -2 * step):
            yield from _shifted(again, by)


def _recounted(choice: Choice, step: int) -> Iterator[Choice]:
    """One row more or less, at the foot or at the top, the pitch kept or the span kept."""
    sizes, first, pitch = choice.sizes, choice.first, choice.pitch
    count = len(sizes)
    if not count:
        return
    yield choice._replace(sizes=sizes[:-1])
    yield choice._replace(sizes=sizes[1:], first=first + pitch)
    for last in (sizes[-1], sizes[-1] - step, 0):
        yield choice._replace(sizes=(*sizes, last))
        closer = pitch * count // (count + 1)
        yield choice._replace(sizes=(*sizes, last), pitch=closer)
        yield choice._replace(
            sizes=(*sizes, last), pitch=closer, first=first - (pitch - closer) // 2
        )
    yield choice._replace(sizes=(sizes[0], *sizes), first=max(first - pitch, 1))
    wider = pitch * count // max(count - 1, 1)
    yield choice._replace(sizes=sizes[:-1], pitch=wider)
    yield choice._replace(sizes=sizes[1:], pitch=wider)
