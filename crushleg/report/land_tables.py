"""Tables of one landing in motion: vehicle, legs, energies."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from crushleg.margins.motion import LEAST_LEAN
from crushleg.report.land_words import (
    CLOSES,
    PER_CENT,
    TOGETHER,
    came_in,
    conditions,
    labels,
    legs,
    lowest_side,
    numbered,
    numbers,
    outcome_word,
    touches,
    without_noise,
)
from crushleg.report.layout import Column, Heading, Paragraph, Table
from crushleg.report.words import NO_VALUE, common_unit, packed
from crushleg.units import express, plain

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case
    from crushleg.check import Checked
    from crushleg.land import Move
    from crushleg.report.layout import Block

NOISE = 1e-6
"""Lengths [m], and other quantities over the largest of their kind, that are rounding."""


def landing(checked: Checked, move: Move, units: str, kind: str = "Landing") -> Iterator[Block]:
    """Everything about one landing: vehicle, legs, ledger."""
    case = checked.case
    yield Heading(f"{kind}: {move.name}")
    yield Paragraph(f"{conditions(case, move, units)}.")
    yield Paragraph(touches(move))
    yield vehicle_table(move, case, units)
    yield from leg_tables(move, case, units)
    yield from ledger_table(checked, move, units)


def _columns(move: Move, first: str, last: str = "") -> tuple[Column, ...]:
    heads = (Column((label,)) for label in labels(move))
    end = (Column((last,), number=False),) if last else ()
    return (Column((first,), number=False, wraps=True), *heads, *end)


def vehicle_table(move: Move, case: Case, units: str) -> Table:
    """Say what the vehicle does, a column for each set of girders."""
    outcome = move.outcome

    def line(label: str, values: FloatArray, kind: str, judged: str = "") -> tuple[str, ...]:
        unit = "g0" if kind == "acceleration" else common_unit(values, kind, units)
        return (f"{label}, {unit}", *numbers(values, unit), judged)

    def angle(label: str, values: FloatArray, judged: str = "") -> tuple[str, ...]:
        return line(label, without_noise(values, LEAST_LEAN), "angle", judged)

    lines = [
        ("outcome", *map(outcome_word, outcome.word), ""),
        line("deceleration", outcome.deceleration, "acceleration", "largest"),
        line("accelerometer, raw", outcome.accelerometer, "acceleration"),
        line("accelerometer, class 180", move.filtered, "acceleration"),
        line("angular rate", without_noise(outcome.turning, LEAST_LEAN), "angular rate"),
        angle("lean at the end, on the ground", outcome.lean, "largest"),
        angle("tilt at the end, from vertical", outcome.heel),
    ]
    if case.vehicle.clearance is not None:
        lines += [
            line("least clearance", outcome.clearance, "length", "least"),
            line("  when", outcome.clearance_time, "time"),
            ("  where, from travel direction", *_places(move), ""),
        ]
    if case.vehicle.legs > 2:
        lines += [
            angle("tip-over angle, uncrushed", outcome.angle_before),
            angle("tip-over angle, least", outcome.angle_least, "least"),
            angle("tip-over angle, at the end", outcome.angle_left),
            line("energy to tip, at the end", outcome.energy_left, "energy"),
        ]
    lines.append(line("time to the end", outcome.time, "time"))
    lines.append(("at the end", *_ends(move), ""))
    return Table(_columns(move, "girder force", "judged"), lines)


def _places(move: Move) -> Iterator[str]:
    """Where the least clearance is: azimuth of the hull's lowest point, counted to the left."""
    for k in range(len(labels(move))):
        side = lowest_side(move, k)
        if math.isnan(side):
            yield "all round"
            continue
        degrees = round(express(side, "deg"))
        word = " left" if degrees > 0 else " right"
        yield f"{abs(degrees)} deg{word if 0 < abs(degrees) < 180 else ''}"


def _ends(move: Move) -> Iterator[str]:
    for word, rested in zip(move.outcome.word, move.outcome.rested, strict=True):
        yield "at rest" if rested else "tipped" if word == "tips" else "still moves"


def leg_tables(move: Move, case: Case, units: str) -> Iterator[Block]:
    """Two tables, a row for each leg or for legs that do the same."""
    outcome = move.outcome
    largest = NOISE * float(outcome.axial.max())

    def cells(values: FloatArray, unit: str, digits: int = 3) -> list[str]:
        return packed(values.T.tolist(), unit, digits)

    time = common_unit(outcome.contact.ravel(), "time", units)
    length = common_unit(outcome.stroke.ravel(), "length", units)
    force = common_unit(outcome.axial.ravel(), "force", units)
    contact = without_noise(outcome.contact, TOGETHER)
    if len(labels(move)) > 1:
        yield Paragraph(f"Legs, each value {' / '.join(labels(move))}:")
    yield _merged(
        {
            ("contact", time): cells(contact, time, 2 if time == "ms" else 3),
            ("stroke", length): cells(without_noise(outcome.stroke, NOISE), length),
            ("folds", "used"): [" / ".join(f"{x:.1f}" for x in leg) for leg in outcome.folds.T],
            ("peak axial", force): cells(outcome.axial, force),
        },
    )
    loads = {
        ("side load", force): cells(without_noise(outcome.side, largest), force),
        ("pad force", force): cells(outcome.pad, force),
    }
    slide, sunk = (without_noise(way, NOISE) for way in (outcome.slide, outcome.sunk))
    way, deep = (common_unit(values.ravel(), "length", units) for values in (slide, sunk))
    slides = {("slide", way): cells(slide, way)}
    if case.ground is None:
        yield _merged(loads | slides)
    else:
        yield _merged(loads)
        yield _merged(slides | {("sinkage", deep): cells(sunk, deep)})
    yield from _bottomed(move)


def _merged(columns: dict[tuple[str, str], list[str]]) -> Table:
    """Rows of legs, those that read the same in one row."""
    said: dict[tuple[str, ...], list[int]] = {}
    for leg, row in enumerate(zip(*columns.values(), strict=True)):
        said.setdefault(row, []).append(leg)
    return Table(
        (Column(("leg",), number=False, wraps=True), *map(Column, columns)),
        [(numbered(which), *row) for row, which in said.items()],
    )


def _bottomed(move: Move) -> Iterator[Block]:
    """Name the legs that bottom, and what stroke each column would have needed."""
    for label, hard in zip(labels(move), move.outcome.bottomed, strict=True):
        if hard.any():
            yield Paragraph(f"BOTTOMED at {label}: {legs(np.flatnonzero(hard).tolist())}.", "bold")


def ledger_table(checked: Checked, move: Move, units: str) -> Iterator[Block]:
    """Energies: what came in, where it went, what is not accounted for."""
    ledger = move.outcome.ledger
    came = came_in(checked, move)
    unit = common_unit(ledger.came, "energy", units)
    least = NOISE * float(ledger.came.max())
    parts = {
        "in: speed at contact": came.kinetic,
        "  gravity, to the end": came.gravity,
        "  thrust, to the end": came.thrust,
        "out: crushed": ledger.crushed,
        "  elastic, in legs and grip": ledger.elastic,
        "  friction of pads and guides": ledger.friction,
        "  damping": ledger.damping,
        "  ground": ledger.ground,
        "  kinetic, remaining": ledger.kinetic,
        "imbalance": ledger.open,
    }
    told = iter(numbers(without_noise(np.concatenate([*parts.values()]), least), unit))
    lines = [(name, *(next(told) for _ in values)) for name, values in parts.items()]
    lines += [
        ("largest imbalance of any step, %", *_shares(move.closure)),
        ("largest stroke moves with half the step by, %", *_shares(move.halved)),
    ]
    yield Table(_columns(move, f"energy, {unit}"), lines)
    within = bool((move.closure <= CLOSES).all())
    yield Paragraph(
        f"The ledger closes {'within' if within else 'NOT within'} {PER_CENT * CLOSES:g} % of the "
        "energy that came in, at every step.",
        "" if within else "bold",
    )


def _shares(shares: FloatArray) -> list[str]:
    return [plain(PER_CENT * float(x), 2) if math.isfinite(x) else NO_VALUE for x in shares]
