"""Tables of a comparison: one row per girder, the yardsticks of the first one below."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from crushleg.report.layout import Column, Heading, Paragraph, Table
from crushleg.report.words import (
    NO_VALUE,
    check_name,
    common_unit,
    fixed,
    margin_text,
    small_length,
)
from crushleg.units import express

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.design.compare import Compared, Comparison
    from crushleg.report.layout import Block

PLAIN, TUBE, CONSTANT = "plain column", "round tube", "constant force"
NAN = float("nan")
PER_MASS = {"si": ("kJ", "kg"), "us": ("ft-lbf", "lb")}


class Line(NamedTuple):
    """Numbers of one row, SI; NaN where a yardstick has none."""

    name: str
    mass: float
    first_peak: float
    mean_force: float
    specific_energy: float
    stroke: float
    load: float
    deceleration: float
    efficiency: float


def title(comparison: Comparison) -> str:
    """Head of the column of names."""
    varied = comparison.lineup.varied
    return (
        varied.key.rpartition(".")[2]
        if varied
        else {"cases": "case"}.get(comparison.lineup.kind, "scheme")
    )


def lines(comparison: Comparison) -> list[Line]:
    """Every girder, then the yardsticks of the first."""
    first = comparison.compared[0]
    found = [_line(one.name, one) for one in comparison.compared]
    plain = _line(PLAIN, first, plain=True)
    tube, ideal = first.tube, first.ideal
    at = tube.stopped or (NAN, NAN, NAN)
    round_tube = Line(
        TUBE, first.merit.mass, NAN, tube.force, tube.specific_energy, *at, efficiency=NAN
    )
    constant = Line(CONSTANT, NAN, NAN, NAN, NAN, *(ideal or (NAN, NAN, NAN)), efficiency=1.0)
    return [*found, plain, round_tube, constant]


def _line(name: str, one: Compared, *, plain: bool = False) -> Line:
    of = one.plain_merit if plain else one.merit
    return Line(
        name,
        of.mass,
        of.first_peak,
        of.mean_force,
        of.specific_energy,
        of.stroke,
        of.load,
        of.deceleration,
        of.efficiency,
    )


def girders(comparison: Comparison, units: str) -> Iterator[Block]:
    """Mass, forces and energy of the girders; then stroke and loads at the touchdown compared."""
    every = lines(comparison)
    mass = common_unit((one.mass for one in every), "mass", units)
    force = common_unit((one.mean_force for one in every), "force", units)
    energy, per = PER_MASS[units]
    yield Heading("Girders, nominal")
    yield Table(
        (
            Column((title(comparison),), number=False, wraps=True),
            Column(("mass", mass)),
            Column(("first peak", force)),
            Column(("mean force", force)),
            Column(("specific energy", f"{energy}/{per}")),
        ),
        _rows(
            every,
            [one.name for one in every],
            _column([one.mass for one in every], mass),
            _column([one.first_peak for one in every], force),
            _column([one.mean_force for one in every], force),
            fixed([express(x.specific_energy, energy) / express(1.0, per) for x in every]),
        ),
    )
    yield Paragraph(
        "First peak: force that begins the crush. Mean force and specific energy absorption, SEA "
        "(per girder mass): to the end of the usable "
        f"stroke. {_yardsticks(comparison)}"
    )


def _yardsticks(comparison: Comparison) -> str:
    first = comparison.compared[0].name
    return f"{PLAIN.capitalize()}, {TUBE} and {CONSTANT} are yardsticks for {first}, not judged."


def landing(comparison: Comparison, units: str) -> Iterator[Block]:
    """Stroke, loads and efficiency at the touchdown compared."""
    every = lines(comparison)
    length = small_length(units)
    force = common_unit((one.load for one in every), "force", units)
    landed = comparison.landed
    yield Heading(f"At the touchdown {landed.name}")
    yield Table(
        (
            Column((title(comparison),), number=False, wraps=True),
            Column(("stroke", length)),
            Column(("leg load", force)),
            Column(("deceleration", "g0")),
            Column(("E/(Fpeak S)",)),
        ),
        _rows(
            every,
            [one.name for one in every],
            _column([one.stroke for one in every], length),
            _column([one.load for one in every], force),
            _column([one.deceleration for one in every], "g0"),
            [NO_VALUE if math.isnan(x.efficiency) else f"{x.efficiency:.2f}" for x in every],
        ),
    )
    yield Paragraph(
        "Stroke needed at low force; load and deceleration the largest of low, nominal, high; "
        "E/(Fpeak S) nominal. Round tube and constant force: nominal, one force to the stop."
    )
    for said, names in (
        ("bottoms", [one.name for one in comparison.compared if one.merit.bottomed]),
        ("never stops", [x.name for x in comparison.compared if x.merit.stroke == float("inf")]),
    ):
        if names:
            yield Paragraph(f"{', '.join(names)}: {said} at one of the three forces.", "bold")


def margins(comparison: Comparison) -> Iterator[Block]:
    """Ramp, sequence and governing margin of every girder, and what does not pass."""
    yield Heading("Margins, rounded down")
    yield Table(
        (
            Column((title(comparison),), number=False, wraps=True),
            Column(("last/first", "fold")),
            Column(("sequence",)),
            Column(("governing", "margin")),
            Column(("of",), number=False, wraps=True),
        ),
        [
            (
                one.name,
                f"{one.merit.ramp:.2f}",
                NO_VALUE if one.merit.sequence is None else margin_text(one.merit.sequence),
                margin_text(one.merit.governing),
                _governing(one),
            )
            for one in comparison.compared
        ],
    )
    yield Paragraph(
        "Last/first fold: nominal mean forces. Sequence: margin that each zone folds before those "
        "above it; none for a girder of one zone. Governing: the lowest counted margin of all "
        "touchdowns, girder and standing."
    )
    failing = [text for one in comparison.compared if (text := _failing(one))]
    for text in failing:
        yield Paragraph(text, "bold red")


def _governing(one: Compared) -> str:
    margin = one.checked.margins[one.checked.governs]
    return f"{check_name(margin)} ({margin.touchdown})"


def _failing(one: Compared) -> str:
    """Every counted margin of a girder that is below zero; empty if none is."""
    short = [
        f"{check_name(m)} ({m.touchdown}) {margin_text(float(m.margin[0]))}"
        for m in one.checked.margins
        if m.counts and m.margin is not None and not m.margin[0] >= 0.0
    ]
    return f"{one.name} FAILS: {'; '.join(short)}." if short else ""


def _column(values: Sequence[float], unit: str) -> list[str]:
    return fixed([express(value, unit) for value in values])


def _rows(every: Sequence[Line], *columns: Sequence[str]) -> list[tuple[str, ...]]:
    return [tuple(column[k] for column in columns) for k in range(len(every))]
