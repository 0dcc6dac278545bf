"""Compare girders: figures of merit, yardsticks and sensitivities, all through one crush."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from crushleg.case.records import Holes
from crushleg.design.batch import check_batch
from crushleg.design.merit import Merit, merit
from crushleg.design.sensitivity import Sensitivity, sensitivity, varied_cases
from crushleg.design.yardsticks import Stopped, Tube, ideal_stop, tube_of

if TYPE_CHECKING:
    from crushleg.case.records import Case, Girder
    from crushleg.check import Checked
    from crushleg.design.schemes import Entry, Lineup
    from crushleg.landing.touchdown import Landed


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """One girder of a comparison, and its yardsticks.

    ``plain`` is the same section without holes, ``tube`` a round tube of its mass, ``ideal`` the
    least constant force within its stroke; ``sensitivity`` is None where one input is varied.
    """

    entry: Entry
    checked: Checked
    merit: Merit
    plain: Checked
    plain_merit: Merit
    tube: Tube
    ideal: Stopped | None
    sensitivity: Sensitivity | None

    @property
    def name(self) -> str:
        """Name of the girder in the comparison."""
        return self.entry.name

    @property
    def drilled(self) -> bool:
        """Whether it has holes."""
        return bool(self.checked.case.girder.holes.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Girders side by side; ``touchdown`` is the number of the one that strokes and loads are of.

    It is the reserve case, or without one the touchdown, of the largest kinetic energy.
    """

    lineup: Lineup
    touchdown: int
    compared: tuple[Compared, ...]

    @property
    def first(self) -> Checked:
        """First girder; the conditions are its case's."""
        return self.compared[0].checked

    @property
    def landed(self) -> Landed:
        """Touchdown compared, on the first girder."""
        return self.first.landings[self.touchdown]

    @property
    def passes(self) -> bool:
        """Whether every counted margin of every compared girder is zero or more."""
        return all(one.checked.passes for one in self.compared)


def compare(lineup: Lineup) -> Comparison:
    """Compare everything in a line-up.

    Parameters
    ----------
    lineup : Lineup

    Returns
    -------
    Comparison
        All girders, plain columns and varied girders go through one call of ``crush``.
    """
    cases = [entry.case for entry in lineup.entries]
    plains = [replace(case, girder=without_holes(case)) for case in cases]
    around = [varied_cases(case) if lineup.kind != "vary" else [] for case in cases]
    batch = check_batch([*cases, *plains], [case for each in around for case in each])
    number = severest(batch.checked[0])
    found, used = [], 0
    for k, entry in enumerate(lineup.entries):
        checked, plain = batch.checked[k], batch.checked[len(cases) + k]
        landings = batch.landings[used : used + len(around[k])]
        used += len(around[k])
        plain_merit = merit(plain, number)
        found.append(
            Compared(
                entry=entry,
                checked=checked,
                merit=merit(checked, number),
                plain=plain,
                plain_merit=plain_merit,
                tube=tube_of(checked, plain_merit.usable, number),
                ideal=ideal_stop(checked, checked.landings[number]),
                sensitivity=_slopes(checked, landings, number),
            )
        )
    return Comparison(lineup=lineup, touchdown=number, compared=tuple(found))


def _slopes(
    checked: Checked, landings: tuple[tuple[Landed, ...], ...], number: int
) -> Sensitivity | None:
    if not landings:
        return None
    return sensitivity(checked.case, checked.landings[number], landings, number)


def without_holes(case: Case) -> Girder:
    """Girder of a case without its holes."""
    return replace(case.girder, holes=Holes(law="none"))


def severest(checked: Checked) -> int:
    """Return the number of the reserve case, or else touchdown, of the largest kinetic energy."""
    landings = checked.landings
    order = range(len(landings))
    return max(order, key=lambda i: (landings[i].reserve, landings[i].arrival.kinetic, -i))
