"""The found girder as a case file that has passed its check, and nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from crushleg.design.judge import MASS
from crushleg.design.written import written

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.design.choice import Choice
    from crushleg.design.follow import Followed
    from crushleg.design.ranges import Asked
    from crushleg.design.size import Sized
    from crushleg.design.stock import Stock
    from crushleg.design.written import Original, Written

TRIES = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizing:
    """A sizing and the case file that came of it; ``written`` is None where nothing fits."""

    original: Original
    asked: Asked
    stock: Stock
    seed: int
    file: Path
    sized: Sized
    place: int
    written: Written | None

    @property
    def choice(self) -> Choice:
        """The design, or the candidate that lacks least."""
        return self.sized.archive.choices[self.place]


@dataclass(frozen=True, slots=True, kw_only=True)
class Schedule:
    """A schedule that follows a line, and its case file."""

    original: Original
    asked: Asked
    stock: Stock
    seed: int
    file: Path
    followed: Followed
    written: Written

    @property
    def choice(self) -> Choice:
        """The schedule."""
        return self.followed.archive.choices[self.followed.best]


def settled(sized: Sized, original: Original, folder: Path) -> tuple[int, Written | None]:
    """Lightest design whose case file, read back, passes its check.

    Parameters
    ----------
    sized : Sized
    original : Original
    folder : Path
        Where the file will lie.

    Returns
    -------
    tuple
        Place of the design and its file; the nearest candidate and None where nothing fits.

    Raises
    ------
    RuntimeError
        The file of no design passes: batch and check disagree.
    """
    if sized.best is None:
        return sized.nearest, None
    fits = np.flatnonzero(sized.feasible)
    by_mass = fits[np.argsort(sized.archive.values[fits, MASS], kind="stable")]
    for place in dict.fromkeys((sized.best, *by_mass[:TRIES].tolist())):
        choice = sized.archive.choices[place]
        found = written(original, sized.archive.space, choice, folder, section=True)
        if found.checked.passes:
            return place, found
    message = "no case file of a design passes its check"
    raise RuntimeError(message)
