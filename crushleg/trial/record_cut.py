"""Stroke of each leg, measured or integrated, and the part of the record that is the crush."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, NoReturn

import numpy as np

from crushleg.errors import InputError, Problem
from crushleg.said import Quantity, Said
from crushleg.trial.record_checks import balance, bridged, coarse, slow, stuck
from crushleg.trial.record_motion import motion
from crushleg.trial.record_signals import need_mass
from crushleg.units import plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.arrays import FloatArray
    from crushleg.trial.record_keys import Setup
    from crushleg.trial.record_motion import Motion
    from crushleg.trial.record_signals import Signals
    from crushleg.trial.record_time import Samples

Leg = tuple["Samples", "Signals"]

LARGE_DRIFT = 0.1
"""Speed left at rest over the impact speed from which something is wrong."""
STILL_MOVING = 0.05


class Move(NamedTuple):
    """Stroke from contact (n,) [m], speed (n,) where integrated, impact speed, in words."""

    stroke: FloatArray
    speed: FloatArray | None
    impact_speed: float | None
    done: list[str]
    cautions: list[str]


class Cut(NamedTuple):
    """The crush alone: arrays to the largest stroke."""

    time: FloatArray | None
    stroke: FloatArray
    force: FloatArray
    sharp: FloatArray
    energy: FloatArray
    impact_speed: float | None
    done: list[str]
    cautions: list[str]


def strokes(legs: Sequence[Leg], setup: Setup) -> list[Move]:
    """Stroke of every leg; where it is integrated the legs move alike, under one mass.

    Raises
    ------
    InputError
        A mass, impact speed or rest that is needed; legs sampled apart.
    """
    if all("stroke" in samples.channels for samples, _ in legs):
        return [_measured(samples, signal, setup) for samples, signal in legs]
    return [_integrated(legs, index, setup) for index in range(len(legs))]


def _measured(samples: Samples, signal: Signals, setup: Setup) -> Move:
    """Stroke channel from contact on, its sign that of work done on the girder."""
    stroke = samples.channels["stroke"]
    zero = float(stroke[signal.contact])
    stroke = stroke - zero
    done, cautions = [], []
    pushed = slice(signal.contact, None)
    if float(np.trapezoid(signal.force[pushed], stroke[pushed])) < 0.0:
        stroke = -stroke
        done.append("stroke falls while the girder is crushed: sign turned")
    if zero:
        done.append(Said("stroke: ", Quantity(zero, "length", 4), " at contact taken off"))
    if (line := stuck(stroke, samples)) is not None:
        cautions.append(
            f"stroke stops at its largest all at once, from line {line}: saturated; what the "
            "girder took beyond is not in the record"
        )
    return Move(stroke, None, setup.keys.impact_speed, done, cautions)


def _integrated(legs: Sequence[Leg], index: int, setup: Setup) -> Move:
    samples, signal = legs[index]
    keys = setup.keys
    if samples.time is None or samples.rate is None:
        _fail(setup, "columns", "neither stroke nor time for every leg", "stroke or time")
    reading = signal.reading
    done: list[str] = []
    contact = signal.contact
    if reading is None:
        mass = need_mass(keys, setup, "the stroke is integrated from force over mass")
        total, contact = _together(legs, index, setup)
        reading = total / mass
        done += [f"the {len(legs)} legs of this file moving alike under one mass"] * (len(legs) > 1)
    elif "force" not in samples.channels and len(legs) > 1:
        _fail(setup, "columns", "acceleration alone for several legs", "a force column per leg")
    found = motion(reading, 1.0 / samples.rate, contact, keys.impact_speed, keys.gravity)
    if found is None:
        read = "no impact_speed, and no rest at the end of the record to find it from"
        _fail(setup, "impact_speed", read, 'impact_speed = "3.96 m/s"')
    cautions = _tell_motion(found, setup, done)
    return Move(found.stroke, found.speed, found.impact_speed, done, cautions)


def _together(legs: Sequence[Leg], index: int, setup: Setup) -> tuple[FloatArray, int]:
    """Force of all legs at the instants of one, and first contact."""
    own = legs[index][0].time
    total = np.zeros_like(legs[index][1].unfiltered)
    for samples, signal in legs:
        same = samples.time is not None and own is not None and len(samples.time) == len(own)
        if not same or not np.allclose(samples.time, own, rtol=0.0, atol=1e-9):  # type: ignore[arg-type]  # both are arrays where same
            read = "legs sampled at different instants"
            _fail(setup, "columns", read, "one time for all legs, or a stroke column")
        total = total + signal.unfiltered
    return total, min(signal.contact for _, signal in legs)


def _tell_motion(found: Motion, setup: Setup, done: list[str]) -> list[str]:
    cautions: list[str] = []
    speed = Quantity(found.impact_speed, "speed", 4)
    if setup.keys.impact_speed is None:
        before = "stroke integrated twice; impact speed "
        done.append(Said(before, speed, " from the momentum up to rest"))
        return cautions
    if np.isnan(found.drift):
        cautions.append(
            "the record does not show the mass at rest: drift of the integration cannot be seen "
            "and was not taken off"
        )
        done.append(Said("stroke integrated twice from ", speed))
        return cautions
    share = plain(100.0 * found.drift / found.impact_speed, 2)
    done.append(
        Said(
            "stroke integrated twice from ",
            speed,
            "; ",
            Quantity(found.drift, "speed"),
            f" left at rest ({share} %) taken off as a constant offset of the acceleration",
        )
    )
    if abs(found.drift) > LARGE_DRIFT * found.impact_speed:
        cautions.append(
            f"{share} % of the impact speed was left at rest: impact speed, mass, scale or unit "
            "do not fit together"
        )
    return cautions


def cut(samples: Samples, signal: Signals, move: Move, setup: Setup, *, alone: bool) -> Cut:
    """Arrays from just before contact to the largest stroke; energy along them.

    Parameters
    ----------
    samples, signal, move
        One leg.
    setup : Setup
    alone : bool
        Whether the leg carries the whole mass, so that energies can be balanced.

    Raises
    ------
    InputError
        No crush in the record.
    """
    begin, end = _begin(samples, signal), _end(signal, move)
    if end - signal.contact < 2 or not move.stroke[end] > 0.0:
        _fail(setup, "columns", "no stroke after contact", "other columns or units, or trigger")
    span = slice(begin, end + 1)
    stroke, force = move.stroke[span], signal.force[span]
    work = 0.5 * (force[1:] + force[:-1]) * np.diff(stroke)
    energy = np.concatenate([[0.0], np.cumsum(work)])
    if not min(energy[-1], signal.sharp[span].max()) > 0.0:
        _fail(setup, "sign", "a crush that takes no work", 'sign = "positive" or "negative"')
    time = None if samples.time is None else samples.time[span] - samples.time[signal.contact]
    done, cautions = list(move.done), list(move.cautions)
    cautions += bridged(samples, time, energy, signal.contact)
    cautions += coarse(stroke, force, float(energy[-1]))
    cautions += _goes_on(signal, move, end)
    if "stroke" in samples.channels:
        cautions += slow(time, stroke, move.impact_speed)
        if alone:
            balance(float(energy[-1]), float(stroke[-1]), setup.keys, done, cautions)
    sharp = signal.sharp[span]
    return Cut(time, stroke, force, sharp, energy, move.impact_speed, done, cautions)


def _begin(samples: Samples, signal: Signals) -> int:
    """Index where the filtered force begins to rise: one period of the class before contact."""
    if signal.filter_class is None or samples.rate is None:
        return signal.contact
    return max(0, signal.contact - int(np.ceil(samples.rate / signal.filter_class)))


def _end(signal: Signals, move: Move) -> int:
    """Index of the largest stroke; where it was integrated, of the first stop."""
    after = signal.contact + 1
    if move.speed is not None and (move.speed[after:] <= 0.0).any():
        return after + int(np.argmax(move.speed[after:] <= 0.0))
    return signal.contact + int(np.argmax(move.stroke[signal.contact :]))


def _goes_on(signal: Signals, move: Move, end: int) -> list[str]:
    """Say where the record ends before the crush does."""
    last = len(signal.force) - 1
    if move.speed is not None and move.impact_speed is not None:
        left = float(move.speed[end])
        if left > STILL_MOVING * move.impact_speed:
            return [Said("the record ends at ", Quantity(left, "speed"), ", before the stop")]
    elif end == last and signal.force[last] > 0.5 * signal.force[signal.contact :].max():
        return ["the record ends at its largest stroke under load: the crush may have gone on"]
    return []


def _fail(setup: Setup, field: str, read: str, write: str) -> NoReturn:
    raise InputError([Problem(file=setup.file, field=field, read=read, write=write)])
