"""What `land` says of its landings: their conditions, who touches first, and every caution."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from crushleg.cautions import SCREENING, not_judged
from crushleg.girder.cautions import girder_cautions
from crushleg.land import planned
from crushleg.landing.arrival import arrive
from crushleg.landing.cautions import balance_cautions, leg_cautions
from crushleg.landing.motion.assemble import assemble
from crushleg.landing.motion.cautions import motion_cautions
from crushleg.landing.motion.incoming import incoming
from crushleg.landing.motion.standard import friction_of
from crushleg.margins.motion import LEAST_LEAN
from crushleg.report.landing_tables import arrival_facts
from crushleg.report.words import NO_VALUE, fixed
from crushleg.units import express, plain, show

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case
    from crushleg.check import Checked
    from crushleg.land import Move, Moving
    from crushleg.landing.motion.incoming import Incoming

CLOSES = 1e-3
"""Share of the energy that came in to which the ledger has to close."""
CONVERGED = 5e-3
"""Change of the largest stroke with half the step, beyond which the report warns."""
VISIBLE = 0.5e-3
"""Change of a stroke [m] that a ruler shows."""
TOGETHER = 1e-3
"""Pads that touch within this time [s] touch together."""
PER_CENT = 100.0
LOUD = ("bottoms", "strikes", "tips")


def judged(moving: Moving) -> Checked:
    """Put the margins and cautions of the motion beside those of the check."""
    return replace(
        moving.checked,
        margins=moving.margins,
        governs=moving.governs,
        cautions=tuple(land_cautions(moving)),
    )


def land_cautions(moving: Moving) -> Iterator[str]:
    """Collect the cautions of a case in motion, :data:`crushleg.cautions.SCREENING` first.

    Those of the energy balance hold for its rows alone, and say so.
    """
    checked = moving.checked
    case = checked.case
    yield SCREENING
    yield from ("Assumed: " + sentence for sentence in case.assumed)
    yield from ("Assumed in the standard cases: " + sentence for sentence in moving.assumed)
    yield from girder_cautions(case.girder, checked.crush)
    yield from leg_cautions(case)
    yield from motion_cautions(case, [(move.plan.touchdown, move.outcome) for move in moving.moves])
    yield from _numerical(moving.moves)
    yield from balance_cautions(case, checked.landings, "Energy balance: ")
    yield from not_judged(moving.margins)


def _numerical(moves: Sequence[Move]) -> Iterator[str]:
    """Say where the integration is coarser than it should be."""
    wide = [f"{m.name} {percent(m.closure.max())}" for m in moves if m.closure.max() > CLOSES]
    if wide:
        yield f"The energy ledger closes to no better than: {'; '.join(wide)}."
    coarse = [f"{m.name} {percent(m.halved.max())}" for m in moves if _coarse(m)]
    if coarse:
        yield f"Half the step changes the largest stroke by: {'; '.join(coarse)}."


def _coarse(move: Move) -> bool:
    """Whether half the step moves the largest stroke, by a share of it that can be seen."""
    seen = move.halved * move.outcome.stroke.max(axis=1) > VISIBLE
    return bool(((move.halved > CONVERGED) & seen).any())


def percent(share: float) -> str:
    """Share as a percentage.

    >>> percent(0.0017803)
    '0.178 %'
    """
    return f"{plain(PER_CENT * float(share))} %" if math.isfinite(share) else NO_VALUE


def labels(move: Move) -> list[str]:
    """Names of the columns of a landing."""
    return [label for label, _ in move.plan.columns]


def conditions(case: Case, move: Move, units: str) -> str:
    """Mass, speeds, ground and thrust of a landing in motion."""
    touchdown = move.plan.touchdown
    facts = arrival_facts(case, touchdown, arrive(case.vehicle, touchdown, case.factors), units)
    if touchdown.thrust_to_weight > 0.0:
        facts[-1] += f" ({_thrust(touchdown.shutdown_time, touchdown.thrust_decay)})"
    if touchdown.slope > 0.0:
        facts.append(
            f"uphill {show(touchdown.slope_azimuth, 'angle')} from the direction of travel"
        )
    if touchdown.heading is not None:
        facts.append(f"heading {show(touchdown.heading, 'angle')} from leg 1")
    if move.plan.stuck:
        facts.append(f"pads stuck: friction {friction_of(case, move.plan):g}")
    return ", ".join(facts)


def _thrust(stays: float | None, decay: float) -> str:
    if stays is None:
        return "stays on"
    falls = f"then to 37 % in {show(decay, 'time')}" if decay > 0.0 else "then off"
    return f"stays {show(stays, 'time')}, {falls}"


def touches(move: Move) -> str:
    """Which legs touch first, one clause for each order that occurs."""
    said: dict[str, list[str]] = {}
    for label, contact in zip(labels(move), move.outcome.contact, strict=True):
        said.setdefault(_order(contact), []).append(label)
    if len(said) == 1:
        return f"{next(iter(said)).capitalize()}."
    return "; ".join(f"{', '.join(names)}: {text}" for text, names in said.items()) + "."


def _order(contact: FloatArray) -> str:
    """Legs that touch first, and those that never do."""
    never = np.flatnonzero(np.isnan(contact)).tolist()
    if len(never) == len(contact):
        return "no leg touches"
    first = np.flatnonzero(contact <= np.nanmin(contact) + TOGETHER).tolist()
    if len(first) == len(contact):
        return "the leg touches" if len(contact) == 1 else "all legs touch together"
    order = f"{legs(first)} {'touches' if len(first) == 1 else 'touch'} first"
    return f"{order}, {legs(never)} never" if never else order


def legs(which: Sequence[int]) -> str:
    """Legs by their numbers, from 1."""
    return f"{'leg' if len(which) == 1 else 'legs'} {numbered(which)}"


def numbered(which: Iterable[int]) -> str:
    """Numbers from 1, three or more in a row as a range.

    >>> numbered([0]), numbered([0, 1]), numbered([0, 2, 3, 4, 6])
    ('1', '1, 2', '1, 3 to 5, 7')
    """
    runs: list[list[int]] = []
    for leg in which:
        if runs and leg == runs[-1][-1] + 1:
            runs[-1].append(leg)
        else:
            runs.append([leg])
    return ", ".join(
        f"{run[0] + 1} to {run[-1] + 1}" if len(run) > 2 else ", ".join(str(i + 1) for i in run)
        for run in runs
    )


def outcome_word(word: str) -> str:
    """Word of an outcome, loud where the vehicle comes to harm."""
    return word.upper() if word in LOUD else word


def outcomes(move: Move) -> str:
    """Outcome of every column, once where all are alike."""
    words = [outcome_word(word) for word in move.outcome.word]
    return words[0] if len(set(words)) == 1 else " / ".join(words)


def without_noise(values: FloatArray, least: float) -> FloatArray:
    """Values, those of rounding as zero."""
    return np.where(np.abs(values) < least, 0.0, values)


def numbers(values: Iterable[float], unit: str, digits: int = 3) -> list[str]:
    """SI values in a unit with the same decimals."""
    return fixed([express(float(x), unit) for x in values], digits)


def lowest_side(move: Move, column: int) -> float:
    """Where the hull came nearest to the ground, from the direction of travel to the left [rad].

    NaN where it stood upright then, so that all sides were as near, or where nothing is known.
    """
    outcome, history = move.outcome, move.histories[column]
    time = float(outcome.clearance_time[column])
    if not math.isfinite(time):
        return math.nan
    step = int(np.argmin(np.abs(history.time - time)))
    upright = np.hypot(*history.rotation[step, :2, 2]) < LEAST_LEAN
    return math.nan if upright else float(outcome.clearance_azimuth[column])


def came_in(checked: Checked, move: Move) -> Incoming:
    """Where the energy of each column came from."""
    setup, start = assemble(checked.case, checked.crush, planned(checked.case, move.plan))
    end = np.array([history.position[-1] for history in move.histories])
    return incoming(setup, start, move.outcome.ledger.came, end)
