"""What a study has done so far, in a file: complete records with a checksum, appended.

The first line says which study it is; every record is a line of its own and the bytes of its
values. A record that was cut off is dropped when the study goes on.
"""

from __future__ import annotations

import json
import os
import zlib
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from crushleg.errors import InputError, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path
    from typing import BinaryIO

    from crushleg.arrays import FloatArray

FORMAT = "crushleg-study-1"
MOST = 10_000_000
"""Landings of a record: no chunk has as many."""


class Chunk(NamedTuple):
    """Values of landings ``start`` and on, one row per margin, then one per quantity."""

    start: int
    values: FloatArray


class PartialFile:
    """The file of one study, open for more records.

    Parameters
    ----------
    path : Path
    identity : mapping
        What must be equal for a file to be of the same study.

    Attributes
    ----------
    layout : dict
        Names of the rows, once the first chunk is known.
    note : str
        What was done with a file that was there.
    """

    def __init__(self, path: Path, identity: Mapping[str, Any]) -> None:
        self.path = path
        self.identity = {"format": FORMAT, **identity}
        self.layout: dict[str, Any] = {}
        self.note = ""
        self.file: BinaryIO | None = None

    def resume(self) -> list[Chunk]:
        """Read what an earlier run of the same study left, and go on behind it.

        Returns
        -------
        list of Chunk
            Empty where there is nothing of this study; another study's file is put aside.
        """
        if not self.path.exists():
            return []
        with self.path.open("rb") as file:
            head = _line(file)
            differs = [key for key, value in self.identity.items() if head.get(key) != value]
            if not differs and not _is_layout(head.get("layout")):
                differs = ["layout"]
            if not differs:
                self.layout = head["layout"]
                chunks, end = _records(file, self._width())
        if differs:
            aside = self.path.with_name(self.path.name + ".old")
            self.path.replace(aside)
            what = "no study" if "format" in differs else "another " + ", ".join(differs)
            self.note = f"{self.path} holds {what}: put aside as {aside.name}, begun anew"
            return []
        os.truncate(self.path, end)
        self.file = self.path.open("ab")
        done = sum(chunk.values.shape[1] for chunk in chunks)
        self.note = f"{done} landings of an earlier run taken from {self.path}"
        return chunks

    def _width(self) -> int:
        return len(self.layout["names"]) + len(self.layout["quantities"])

    def append(self, layout: dict[str, Any], chunk: Chunk) -> None:
        """Write one record, whole, down to the disk."""
        if self.file is None:
            self.layout = layout
            self.file = self._begun()
        raw = np.ascontiguousarray(chunk.values).tobytes()
        line = {"start": chunk.start, "count": chunk.values.shape[1], "crc": zlib.crc32(raw)}
        self.file.write(json.dumps(line).encode() + b"\n" + raw)
        self.file.flush()
        os.fsync(self.file.fileno())

    def _begun(self) -> BinaryIO:
        try:
            file = self.path.open("wb")
        except OSError as error:
            problem = Problem(file=str(self.path), read=str(error.strerror), write="another place")
            raise InputError([problem]) from None
        file.write(json.dumps(self.identity | {"layout": self.layout}).encode() + b"\n")
        return file

    def close(self) -> None:
        """Close the file; what was written stays."""
        if self.file is not None:
            self.file.close()


def _line(file: BinaryIO) -> dict[str, Any]:
    """Read one line of JSON; empty where it is cut off or none."""
    try:
        found = json.loads(file.readline(10_000_000))
    except (ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def _is_layout(layout: Any) -> bool:
    """Whether a head says what the rows of its records are."""
    keys = ("names", "counts", "quantities")
    return isinstance(layout, dict) and all(isinstance(layout.get(key), list) for key in keys)


def _records(file: BinaryIO, width: int) -> tuple[list[Chunk], int]:
    """Read the records that are whole, and where the last of them ends."""
    end = file.tell()
    found = []
    for chunk in _whole(file, width):
        found.append(chunk)
        end = file.tell()
    return found, end


def _whole(file: BinaryIO, width: int) -> Iterator[Chunk]:
    while line := _line(file):
        start, count = line.get("start"), line.get("count")
        if not (isinstance(start, int) and isinstance(count, int) and start >= 0 < count <= MOST):
            return
        raw = file.read(8 * width * count)
        if len(raw) < 8 * width * count or zlib.crc32(raw) != line.get("crc"):
            return
        yield Chunk(start, np.frombuffer(raw, dtype=np.float64).reshape(width, -1))
