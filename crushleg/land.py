"""The chain of ``land``: a checked case, its landings in motion, and every margin of both."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.check import Checked, check_case
from crushleg.landing.motion.assemble import Landing, assemble, curves_for
from crushleg.landing.motion.outcome import Outcome, closure, outcome
from crushleg.landing.motion.refused import refuse_geometry, refuse_steps
from crushleg.landing.motion.run import run
from crushleg.landing.motion.standard import Planned, as_asked, friction_of, standard
from crushleg.landing.touchdown import land
from crushleg.margins import Margin, governing
from crushleg.margins.motion import motion_margins
from crushleg.trial.filters import filtered

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import FloatArray, IntArray
    from crushleg.case.records import Case
    from crushleg.landing.motion.record import History
    from crushleg.landing.motion.setup import Setup

LARGEST_GAP = 1e-3
"""Gap of the ledger over the energy that came in, from which the half step is taken."""
CHANNEL_CLASS = 180.0
"""SAE J211 class of the accelerometer reading [Hz]."""
SAMPLE_RATE, LEAST_SAMPLES = 10e3, 20
"""Rate at which it is read [Hz], and how many readings the filter needs."""


class Move(NamedTuple):
    """One landing in motion, a column for each set of girders.

    Attributes
    ----------
    plan : Planned
    outcome : Outcome
        B is the number of columns.
    histories : tuple of History
    filtered : ndarray (B,)
        Accelerometer reading of class 180 [m/s2].
    closure : ndarray (B,)
        Largest gap of the energy ledger over energy that came in [-].
    halved : ndarray (B,)
        Change of the largest stroke with half the step, over that stroke [-].
    """

    plan: Planned
    outcome: Outcome
    histories: tuple[History, ...]
    filtered: FloatArray
    closure: FloatArray
    halved: FloatArray

    @property
    def name(self) -> str:
        """Name of the landing."""
        return self.plan.name


@dataclass(frozen=True, slots=True, kw_only=True)
class Moving:
    """A checked case, its landings in motion, and the margins of both together."""

    checked: Checked
    moves: tuple[Move, ...]
    margins: tuple[Margin, ...]
    governs: int
    assumed: tuple[str, ...]

    @property
    def passes(self) -> bool:
        """Whether every counted margin is zero or more."""
        return all(m.margin is None or m.margin[0] >= 0.0 for m in self.margins if m.counts)


def land_case(
    case: Case, *, standard_cases: bool = False, told: Callable[[int], None] | None = None
) -> Moving:
    """Run the landings of a case as motions of the whole vehicle, and judge them.

    Parameters
    ----------
    case : Case
    standard_cases : bool
        Run the standard cases too.
    told : callable, optional
        Called with the number of landings that have ended since the last call.

    Returns
    -------
    Moving

    Raises
    ------
    InputError
        A length of the vehicle is missing or no vehicle could have it.
    """
    refuse_geometry(case.vehicle)
    checked = check_case(case)
    plans: list[Planned] = as_asked(case)
    assumed: tuple[str, ...] = ()
    if standard_cases:
        more, assumed = standard(case)
        plans += more
    moves = _moves(checked, plans, told)
    found = list(checked.margins)
    for move in moves:
        still = land(checked.crush, case.vehicle, case.leg, move.plan.touchdown, case.factors)
        found += motion_margins(case, checked.crush, still, move.outcome)
    return Moving(
        checked=checked,
        moves=moves,
        margins=tuple(found),
        governs=int(governing(tuple(found))[0]),
        assumed=assumed,
    )


def planned(case: Case, plan: Planned) -> list[Landing]:
    """Landings of a plan, one per column."""
    friction = friction_of(case, plan)
    return [Landing(plan.touchdown, levels, friction) for _, levels in plan.columns]


def _moves(
    checked: Checked, plans: list[Planned], told: Callable[[int], None] | None
) -> tuple[Move, ...]:
    """Run every column of every plan, with the step and with half of it, in one call.

    The half step is taken where the ledger of the whole one leaves too large a gap.
    """
    case, crush = checked.case, checked.crush
    landings = [one for plan in plans for one in planned(case, plan)]
    count = len(landings)
    curves = curves_for(crush)
    setup, start = assemble(case, crush, landings + landings)
    refuse_steps(setup)
    part = np.repeat([1.0, 0.5], count)
    moved = run(setup, curves, start, part=part, record=True, told=told)
    both = outcome(crush, curves, setup, moved)
    largest = both.stroke.max(axis=1)
    whole, half = largest[:count], largest[count:]
    change = np.abs(whole - half) / np.where(half > 0.0, half, 1.0)
    gap = np.array([closure(history) for history in moved.history])
    taken = np.arange(count) + np.where(gap[:count] > LARGEST_GAP, count, 0)
    moves = []
    at = 0
    for plan in plans:
        rows = taken[at : at + len(plan.columns)]
        histories = tuple(moved.history[row] for row in rows)
        readings = [_reading(h, setup, row) for h, row in zip(histories, rows, strict=True)]
        moves.append(
            Move(
                plan=plan,
                outcome=_rows(both, rows),
                histories=histories,
                filtered=np.array(readings),
                closure=gap[rows],
                halved=change[at : at + len(rows)],
            )
        )
        at += len(rows)
    return tuple(moves)


def _rows(both: Outcome, rows: IntArray) -> Outcome:
    """Take some landings of an outcome."""
    kept = {
        name: getattr(both, name)[rows] for name in both.__slots__ if name not in ("word", "ledger")
    }
    ledger = type(both.ledger)(*(field[rows] for field in both.ledger))
    return replace(both, word=tuple(both.word[row] for row in rows), ledger=ledger, **kept)


def _reading(history: History, setup: Setup, row: int) -> float:
    """Largest accelerometer reading of class 180 [m/s2]."""
    felt = history.push / setup.mass[row] - setup.gravity[row]
    time = np.arange(0.0, history.time[-1], 1.0 / SAMPLE_RATE)
    if len(time) < LEAST_SAMPLES:
        return math.nan
    channels = [
        filtered(np.interp(time, history.time, one), CHANNEL_CLASS, SAMPLE_RATE) for one in felt.T
    ]
    return float(np.sqrt(sum(channel**2 for channel in channels)).max())
