"""Many cases at once: all their girders through one crush, landed together where they can be."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

import numpy as np

from crushleg.case.records import Touchdown
from crushleg.cautions import all_cautions
from crushleg.check import Checked
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.crush import Crush, crush
from crushleg.girder.curve import Curve
from crushleg.girder.folds import Folds
from crushleg.girder.front import Front
from crushleg.girder.pattern import Girders
from crushleg.girder.sequence import Sequence
from crushleg.girder.shares import Shares
from crushleg.landing.arrival import Arrival, LegCurve
from crushleg.landing.leg import LegForces
from crushleg.landing.touchdown import Landed, land
from crushleg.margins import governing, margins

if TYPE_CHECKING:
    from collections.abc import Hashable
    from collections.abc import Sequence as Many

    from crushleg.arrays import IntArray
    from crushleg.case.records import Case

T = TypeVar("T")
SECOND: dict[type, frozenset[str]] = {
    Girders: frozenset(
        {
            "pairs",
            "yield_compression",
            "yield_tension",
            "ultimate",
            "flow_stress",
            "crest_ratio",
        }
    ),
    Shares: frozenset({"sweep", "corner"}),
    Front: frozenset({"force"}),
    Sequence: frozenset({"start"}),
    Folds: frozenset({"force", "start", "crest"}),
    Curve: frozenset({"force", "energy"}),
    LegCurve: frozenset({"travel", "reaction", "work"}),
    Landed: frozenset(f.name for f in fields(Landed)),
}
"""Arrays whose first axis is levels or pairs of walls; girders are their second axis."""
SHARED = (Touchdown, Arrival, LegForces)
"""Records of a landing that its girders have in common."""


class Batch(NamedTuple):
    """What came of many cases: those checked, and the landings of those only landed."""

    checked: tuple[Checked, ...]
    landings: tuple[tuple[Landed, ...], ...]


def check_batch(cases: Many[Case], landed_only: Many[Case] = ()) -> Batch:
    """Check many cases with one call of :func:`crushleg.girder.crush.crush` for all girders.

    Parameters
    ----------
    cases : sequence of Case
        Checked as by :func:`crushleg.check.check_case`.
    landed_only : sequence of Case
        Crushed and landed with them, without margins.

    Returns
    -------
    Batch
        A girder that several cases share is crushed once, touchdowns that they share are stopped
        together.
    """
    every = [*cases, *landed_only]
    crushed, index = _crush_all(every)
    landed = _land_all(every, crushed, index)
    checked = tuple(
        _checked(case, taken(crushed, [i]), landings)
        for case, i, landings in zip(cases, index, landed, strict=False)
    )
    return Batch(checked, tuple(landed[len(cases) :]))


def taken(record: T, girders: Many[int]) -> T:
    """Crush or landing of some girders of a batch: every array cut to them, padding kept."""
    second = SECOND.get(type(record), frozenset())
    values: dict[str, Any] = {}
    for name in _names(record):
        value = getattr(record, name)
        if isinstance(value, np.ndarray):
            values[name] = np.take(value, girders, axis=1 if name in second else 0)
        elif isinstance(value, (*SHARED, int)):
            values[name] = value
        else:
            values[name] = taken(value, girders)
    return type(record)(**values)


def _names(record: Any) -> list[str]:
    return [f.name for f in fields(record)] if is_dataclass(record) else list(record._fields)


def _speed(case: Case) -> float:
    return max(touchdown.vertical_speed for touchdown in case.touchdowns)


def _crush_all(cases: Many[Case]) -> tuple[Crush, list[int]]:
    """Crush of all different girders, and which of them each case has.

    The speed matters only where the strain-rate factor is on, the column's length factor never.
    """
    place: dict[Hashable, int] = {}
    index: list[int] = []
    for case in cases:
        speed = _speed(case) if case.girder.rate else 0.0
        key = (replace(case.girder, effective_length_factor=1.0), speed)
        index.append(place.setdefault(key, len(place)))
    firsts = [cases[index.index(i)] for i in range(len(place))]
    return crush(girder_arrays([c.girder for c in firsts], [_speed(c) for c in firsts])), index


def _land_all(cases: Many[Case], crushed: Crush, index: Many[int]) -> list[tuple[Landed, ...]]:
    """Touchdowns of every case; cases that differ by their girder alone are stopped together."""
    groups: dict[Hashable, list[int]] = {}
    for k, case in enumerate(cases):
        leg = replace(case.leg, free_length=None)
        key = (case.vehicle, leg, case.touchdowns, case.factors)
        groups.setdefault(key, []).append(k)
    found: dict[int, tuple[Landed, ...]] = {}
    for members in groups.values():
        first = cases[members[0]]
        girders, where = np.unique([index[k] for k in members], return_inverse=True)
        batch = taken(crushed, girders.tolist())
        together = [
            land(batch, first.vehicle, first.leg, touchdown, first.factors)
            for touchdown in first.touchdowns
        ]
        _split(together, members, where, found)
    return [found[k] for k in range(len(cases))]


def _split(
    together: list[Landed],
    members: list[int],
    where: IntArray,
    found: dict[int, tuple[Landed, ...]],
) -> None:
    for k, girder in zip(members, where.tolist(), strict=True):
        found[k] = tuple(taken(landed, [girder]) for landed in together)


def _checked(case: Case, crushed: Crush, landings: tuple[Landed, ...]) -> Checked:
    found = margins(case, crushed, landings)
    return Checked(
        case=case,
        crush=crushed,
        landings=landings,
        margins=found,
        governs=int(governing(found)[0]),
        cautions=all_cautions(case, crushed, landings, found),
    )
