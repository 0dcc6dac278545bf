"""Every candidate that a search has looked at, each computed once, many at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, Protocol

import numpy as np

from crushleg.design.chain import chains_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from crushleg.arrays import BoolArray, FloatArray, IntArray
    from crushleg.case.records import Girder
    from crushleg.design.choice import Choice, Space

BATCH = 64
"""Girders of one call: beyond this a girder costs no less, and an interrupt waits longer."""
SURE = 1e-6
"""Margin that a design keeps over zero, so that rounding cannot turn it."""


class Scores(NamedTuple):
    """What candidates are judged by: values (G, V), the first the least wanted; margins (K, G).

    Margins that do not apply are NaN; one that has no end counts as −1.
    """

    values: FloatArray
    margins: FloatArray


class Judge(Protocol):
    """Scores of girders; equations behind it run for all at once."""

    def __call__(self, girders: Sequence[Girder]) -> Scores:
        """Score a batch of girders."""


class Archive:
    """Candidates and their scores, in the order in which they were computed."""

    def __init__(
        self,
        space: Space,
        judge: Judge,
        tell: Callable[[int, str], None] = lambda *_: None,
        masses: Callable[[Sequence[Girder]], FloatArray] | None = None,
    ) -> None:
        self.space = space
        self.judge = judge
        self.masses = masses
        self.tell = tell
        self.chains = chains_of(space)
        self.stage = ""
        self.place: dict[Choice, int] = {}
        self.choices: list[Choice] = []
        self._scores: list[Scores] = []

    def __len__(self) -> int:
        return len(self.choices)

    def look(self, choices: Sequence[Choice]) -> IntArray:
        """Places of candidates in the archive; those not yet in it are computed.

        Parameters
        ----------
        choices : sequence of Choice

        Returns
        -------
        ndarray of int
        """
        new = list(dict.fromkeys(c for c in choices if c not in self.place))
        for start in range(0, len(new), BATCH):
            some = new[start : start + BATCH]
            scores = self.judge([self.space.girder(choice) for choice in some])
            self._scores.append(scores)
            for choice in some:
                self.place[choice] = len(self.choices)
                self.choices.append(choice)
            self.tell(len(self.choices), self.stage)
        return np.array([self.place[choice] for choice in choices], dtype=np.intp)

    @property
    def values(self) -> FloatArray:
        """Values of all candidates, shape (N, V)."""
        self._gather()
        return self._scores[0].values

    @property
    def margins(self) -> FloatArray:
        """Margins of all candidates, shape (K, N)."""
        self._gather()
        return self._scores[0].margins

    @property
    def shortfall(self) -> FloatArray:
        """Sum of what the margins of each candidate lack, shape (N,); zero where all are met."""
        return shortfall(self.margins)

    @property
    def fits(self) -> BoolArray:
        """Which candidates meet every margin, shape (N,)."""
        return np.asarray(self.shortfall <= 0.0)

    def _gather(self) -> None:
        """Join what was computed in batches."""
        if len(self._scores) > 1:
            values = np.concatenate([scores.values for scores in self._scores])
            margins = np.concatenate([scores.margins for scores in self._scores], axis=1)
            self._scores = [Scores(values, margins)]


def shortfall(margins: FloatArray) -> FloatArray:
    """Sum over margins (K, G) of what each lacks; NaN lacks nothing, shape (G,).

    >>> import numpy as np
    >>> shortfall(np.array([[0.5, -0.25], [np.nan, -0.5]])).round(3).tolist()
    [0.0, 0.75]
    """
    lacks = np.where(np.isnan(margins), 0.0, np.maximum(SURE - margins, 0.0))
    found: FloatArray = np.minimum(lacks, 1.0).sum(axis=0)
    return found
