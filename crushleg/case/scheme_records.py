"""Hole schemes of a case: other girders for the same vehicle, leg and touchdowns."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from crushleg.case.fields import has

if TYPE_CHECKING:
    from crushleg.case.girder_records import Girder


@dataclass(frozen=True, slots=True, kw_only=True)
class Scheme:
    """One girder to compare: that of the case with some keys replaced.

    ``free_length`` is the length from pad to where this girder is held [m], ``assumed`` what was
    taken where neither the scheme nor [girder] gives a value.
    """

    name: str = has("text", "name of the scheme")
    girder: Girder
    free_length: float
    assumed: tuple[str, ...] = ()
