"""Why nothing fits: the margins the nearest candidate misses, and what meeting each costs."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.design.archive import SURE

if TYPE_CHECKING:
    from crushleg.design.size import Label, Sized

NEGLIGIBLE = 1e-9


class Missed(NamedTuple):
    """A margin and by how much it is missed."""

    label: Label
    margin: float


class Conflict(NamedTuple):
    """A margin that the nearest candidate misses.

    ``met`` is how many candidates meet it, ``best`` the best of all; ``then`` are the other margins
    missed by the candidate that meets it and lacks least, or else by the best, worst first.
    """

    label: Label
    margin: float
    met: int
    best: float
    then: tuple[Missed, ...]


def conflicts(sized: Sized) -> tuple[Conflict, ...]:
    """Every margin that the nearest candidate misses, worst first; none where a design fits."""
    if sized.best is not None:
        return ()
    margins, lacks = sized.archive.margins, sized.archive.shortfall
    found = []
    for one in missed(sized, sized.nearest):
        row = margins[sized.labels.index(one.label)]
        meets = np.isnan(row) | (row >= SURE)
        near = np.where(meets, lacks, np.inf) if meets.any() else -row
        then = tuple(m for m in missed(sized, int(near.argmin())) if m.label != one.label)
        best = float(np.nanmax(row))
        found.append(Conflict(one.label, one.margin, int(meets.sum()), best, then))
    return tuple(found)


def missed(sized: Sized, place: int) -> tuple[Missed, ...]:
    """Margins that a candidate misses, worst first."""
    column = sized.archive.margins[:, place]
    found = [
        Missed(label, float(margin))
        for label, margin in zip(sized.labels, column, strict=True)
        if margin < SURE - NEGLIGIBLE
    ]
    return tuple(sorted(found, key=lambda one: one.margin))
