"""The main chain: READ FIRST.

case → crush of the girder → every touchdown → margins.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from crushleg.cautions import all_cautions
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.crush import Crush, crush
from crushleg.landing.touchdown import Landed, land
from crushleg.margins import Margin, governing, margins

if TYPE_CHECKING:
    from crushleg.case.records import Case


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """A case and what came of it."""

    case: Case
    crush: Crush
    landings: tuple[Landed, ...]
    margins: tuple[Margin, ...]
    governs: int
    cautions: tuple[str, ...]

    @property
    def passes(self) -> bool:
        """Whether every counted margin is zero or more."""
        return all(m.margin is None or m.margin[0] >= 0.0 for m in self.margins if m.counts)


def check_case(case: Case) -> Checked:
    """Crush the girder of a case, stop its touchdowns, and judge them.

    Parameters
    ----------
    case : Case
        From :func:`crushleg.read_case`.

    Returns
    -------
    Checked
    """
    speed = max(touchdown.vertical_speed for touchdown in case.touchdowns)
    crushed = crush(girder_arrays([case.girder], [speed]))
    landings = tuple(
        land(crushed, case.vehicle, case.leg, touchdown, case.factors)
        for touchdown in case.touchdowns
    )
    found = margins(case, crushed, landings)
    return Checked(
        case=case,
        crush=crushed,
        landings=landings,
        margins=found,
        governs=int(governing(found)[0]),
        cautions=all_cautions(case, crushed, landings, found),
    )
