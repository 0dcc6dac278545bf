"""What goes between sampling, the batched chain and the statistics."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from crushleg.arrays import BoolArray, FloatArray, IntArray
    from crushleg.case.records import Case


class Draws(NamedTuple):
    """Scattered inputs of B = ``landings`` landings, ``start`` being the number of the first.

    ``values``: key of the case -> values in SI, shape (B,), or (B, legs) where a part of the
    input differs from leg to leg. A key is written as the case file has it, touchdowns by name:
    ``vehicle.mass``, ``touchdown.nominal.vertical_speed``, ``girder.wall``. Beside those of the
    case: ``girder.material.yield_strength`` and the like (values of the datasheet),
    ``girder.hole_size`` (added to every hole [m]) and ``model`` (factor on the force). What one
    landing is, is said by :func:`crushleg.scatter.sample.sampled_case`.
    """

    start: int
    values: Mapping[str, FloatArray]
    landings: int


class Judged(NamedTuple):
    """Margins of B landings.

    ``names`` are M pairs (check, touchdown); ``margin`` (M, B), NaN where a margin does not
    apply; ``counts`` (M,) is False for what is shown but not judged; ``quantities`` are the
    results to be described by percentiles, name -> (B,).
    """

    names: tuple[tuple[str, str], ...]
    margin: FloatArray
    counts: BoolArray
    quantities: Mapping[str, FloatArray]


class Progress(NamedTuple):
    """How far a study is: landings done of all, those of an earlier run among them, what happened.

    ``note`` is empty but for what a user should be told.
    """

    done: int
    total: int
    resumed: int
    note: str = ""


class StudyResult(NamedTuple):
    """Margins and quantities of the landings of a study, by their numbers.

    ``number`` (N,) are the landings that are done, ascending: all of them where ``complete``;
    ``margin`` (M, N) with ``names`` and ``counts`` as in :class:`Judged`; ``quantities`` name ->
    (N,). ``digest`` is a hash of everything in it, equal for equal results.
    """

    number: IntArray
    names: tuple[tuple[str, str], ...]
    margin: FloatArray
    counts: BoolArray
    quantities: Mapping[str, FloatArray]
    total: int
    notes: tuple[str, ...]

    @property
    def complete(self) -> bool:
        """Whether no landing is missing."""
        return len(self.number) == self.total

    @property
    def digest(self) -> str:
        """SHA-256 of names, numbers and values, hexadecimal."""
        found = hashlib.sha256(repr((self.names, sorted(self.quantities))).encode())
        columns = (self.quantities[name] for name in sorted(self.quantities))
        for row in (self.number, *self.margin, self.counts, *columns):
            found.update(np.ascontiguousarray(row).tobytes())
        return found.hexdigest()


if TYPE_CHECKING:
    Evaluate = Callable[[Case, Draws], Judged]
    """Judge the landings of draws; a module-level function, so that workers can be sent it."""
