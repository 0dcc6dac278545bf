"""One margin: capability over factor times demand, less one."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.case.records import Case
    from crushleg.landing.touchdown import Landed

UNTESTED = "derived, untested"
GIRDER = "girder"


@dataclass(frozen=True, slots=True, kw_only=True)
class Margin:
    """One margin of G girders.

    ``demand`` and ``capability`` in ``unit``, shape (G,), NaN for a girder it does not apply to;
    None, with the ``reason``, where it applies to none. ``counts`` is False for what is shown but
    not judged.
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
        """Margin of capability over factored demand, shape (G,).

        Zero is just enough, less is a failure. The lowest counted margin governs.

        Notes
        -----
        Means: How far a capability lies above what is asked of it; zero is just enough.
        Formula: margin = capability/(factor × demand) − 1
        Band: Stroke, energy, clearance and standing take the low force; loads and decelerations the
        largest of low, nominal and high; the collapse sequence the scatter between neighbours.
        Limits: factors.column is the factor of the column; every other factor is 1
        Limits: factors.ultimate multiplies the limit load of reserve cases, on the side of the
        capability

        References
        ----------
        Usual definition of a margin of safety [common practice]
        """
        if self.demand is None or self.capability is None:
            return None
        return self.capability / (self.factor * self.demand) - 1.0


def where(
    empty: Margin, applies: BoolArray, demand: FloatArray, capability: FloatArray, reason: str
) -> Margin:
    """Fill a margin where it applies, NaN elsewhere; null with the reason if nowhere."""
    if not np.any(applies):
        return replace(empty, reason=reason)
    values = (np.where(applies, value, np.nan) for value in (demand, capability))
    found, there = values
    return replace(empty, demand=found, capability=there)


def curve_basis(case: Case) -> str:
    """Where the crush curve comes from: tests of this girder, published modes, or derived.

    Notes
    -----
    Means: What the crush curve behind a margin rests on: your test, published, or derived and
    untested.
    Formula: your test with a correlation file; derived, untested with holes; published without
    Band: The same for low, nominal and high.
    Limits: girder.correlation names the file of your tests

    References
    ----------
    Modes of the plain column [published]; what holes take [derived]; a correlation file [your test]
    """
    if case.girder.correlation is not None:
        return "your test"
    return "derived, untested" if case.girder.holes.rows else "published"


def like(value: ArrayLike, landed: Landed) -> FloatArray:
    """One value for every girder of a touchdown, shape (G,)."""
    return np.full_like(landed.mean_at_stop[0], value)


def shown(value: float) -> str:
    """Factor of a note; of many landings that of the first."""
    return f"{float(np.ravel(value)[0]):g}"
