"""One margin: capability over factor times demand, less one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case
    from crushleg.landing.touchdown import Landed

UNTESTED = "derived, untested"
GIRDER = "girder"


@dataclass(frozen=True, slots=True, kw_only=True)
class Margin:
    """One margin of G girders.

    ``demand`` and ``capability`` in ``unit``, shape (G,); None, with the ``reason``, where the
    check does not apply. ``counts`` is False for what is shown but not judged.
    """

    check: str
    touchdown: str
    unit: str
    basis: str
    demand: FloatArray | None = None
    capability: FloatArray | None = None
    factor: float = 1.0
    counts: bool = True
    reason: str = ""
    note: str = ""

    @property
    def margin(self) -> FloatArray | None:
        """capability/(factor × demand) − 1, shape (G,)."""
        if self.demand is None or self.capability is None:
            return None
        return self.capability / (self.factor * self.demand) - 1.0


def curve_basis(case: Case) -> str:
    """Where the crush curve comes from: tests of this girder, published modes, or derived."""
    if case.girder.correlation is not None:
        return "your test"
    return "derived, untested" if case.girder.holes.rows else "published"


def like(value: float, landed: Landed) -> FloatArray:
    """One value for every girder of a touchdown, shape (G,)."""
    return np.full_like(landed.mean_at_stop[0], value)
