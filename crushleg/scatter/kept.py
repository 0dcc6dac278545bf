"""Results of a study while they come: a table filled in any order, a file, who is told."""

from __future__ import annotations

import tempfile
from typing import TYPE_CHECKING, Any

import numpy as np

from crushleg.scatter.partial import Chunk
from crushleg.scatter.records import Progress, StudyResult

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.scatter.partial import PartialFile
    from crushleg.scatter.records import Judged

IN_MEMORY = 64_000_000
"""Bytes of results above which they lie in a file without a name, read as they are needed."""


class Kept:
    """What is done, in memory and on the disk, and who hears of it."""

    def __init__(
        self, total: int, file: PartialFile | None, told: Callable[[Progress], None] | None
    ) -> None:
        self.table, self.file, self.told = Table(total), file, told
        self.notes: dict[str, None] = {}
        self.resumed = 0

    def begin(self) -> None:
        """Take what an earlier run left."""
        if self.file is not None:
            for old in self.file.resume():
                self.table.put(self.file.layout, old)
        self.resumed = int(self.table.done.sum())
        self._say("" if self.file is None else self.file.note)

    def keep(self, start: int, judged: Judged, note: str) -> None:
        """Keep the judged landings from ``start`` on."""
        done, layout = Chunk(start, _rows(judged)), _layout(judged)
        self.table.put(layout, done)
        if self.file is not None:
            self.file.append(layout, done)
        self._say("" if note in self.notes else note)

    def _say(self, note: str) -> None:
        if note:
            self.notes[note] = None
        if self.told is not None:
            done = int(self.table.done.sum())
            self.told(Progress(done, len(self.table.done), self.resumed, note))


def missing(done: BoolArray, chunk: int) -> Iterator[tuple[int, int]]:
    """Start and count of chunks that hold every landing not done.

    >>> list(missing(np.array([True, False, False, False, True, False]), 2))
    [(1, 2), (3, 1), (5, 1)]
    """
    edges = np.flatnonzero(np.diff(np.concatenate([[True], done, [True]]).astype(int)))
    for start, stop in edges.reshape(-1, 2):
        for at in range(int(start), int(stop), chunk):
            yield at, min(chunk, int(stop) - at)


def _layout(judged: Judged) -> dict[str, Any]:
    return {
        "names": [list(name) for name in judged.names],
        "counts": [bool(counted) for counted in judged.counts],
        "quantities": list(judged.quantities),
    }


def _rows(judged: Judged) -> FloatArray:
    return np.vstack([judged.margin, *judged.quantities.values()])


class Table:
    """Results by landing, filled in any order."""

    def __init__(self, total: int) -> None:
        self.done = np.zeros(total, dtype=bool)
        self.layout: dict[str, Any] = {}
        self.values: FloatArray = np.zeros((0, 0))

    def put(self, layout: dict[str, Any], chunk: Chunk) -> None:
        """Fill in one chunk; what is there already is left."""
        if not self.layout:
            self.layout = layout
            self.values = _room(len(chunk.values), len(self.done))
        elif layout != self.layout:
            message = "the margins of two chunks have other names"
            raise ValueError(message)
        place = slice(chunk.start, chunk.start + chunk.values.shape[1])
        new = ~self.done[place]
        self.values[:, place][:, new] = chunk.values[:, new]
        self.done[place] = True

    def result(self, notes: tuple[str, ...]) -> StudyResult:
        """Landings that are done."""
        whole = bool(self.done.all())
        values = self.values if whole else self.values[:, self.done]
        names = tuple((check, touchdown) for check, touchdown in self.layout["names"])
        quantities = dict(zip(self.layout["quantities"], values[len(names) :], strict=True))
        return StudyResult(
            number=np.flatnonzero(self.done),
            names=names,
            margin=values[: len(names)],
            counts=np.array(self.layout["counts"], dtype=bool),
            quantities=quantities,
            total=len(self.done),
            notes=notes,
        )


def _room(rows: int, total: int) -> FloatArray:
    """Room for results, in memory or in a file without a name."""
    if 8 * rows * total <= IN_MEMORY:
        return np.zeros((rows, total))
    with tempfile.TemporaryFile() as file:
        return np.memmap(file, dtype=np.float64, mode="w+", shape=(rows, total))
