"""The printed report of a check: verdict first, then girder, touchdowns, margins, sources."""

from __future__ import annotations

from importlib.metadata import version
from typing import TYPE_CHECKING

import numpy as np
from rich.console import Console

from crushleg.cautions import NOT_JUDGED, SCREENING
from crushleg.girder.bands import BAND_PROBABILITY
from crushleg.girder.strength import hardening_flow_stress
from crushleg.report import landing_tables, tables
from crushleg.report.data import sequence
from crushleg.report.layout import Heading, Items, Pairs, Paragraph, items, plain_text, print_blocks
from crushleg.report.notes import SYMBOLS, shown_cautions
from crushleg.report.sources import sources
from crushleg.report.words import (
    NEVER_STOPS,
    check_name,
    common_unit,
    drawn,
    margin_text,
    meaning,
    never_stops,
    packed,
    small_length,
)
from crushleg.units import plain, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.arrays import FloatArray
    from crushleg.check import Checked
    from crushleg.margins import Margin
    from crushleg.report.layout import Block

HASH_DIGITS = 12
WORST = 3
GOOD, BAD = "bold green", "bold red"


def print_report(checked: Checked, console: Console | None = None, units: str = "si") -> None:
    """Print the report: aligned within the terminal's width, or plain and unwrapped elsewhere.

    Parameters
    ----------
    checked : Checked
        From :func:`crushleg.check`.
    console : Console, optional
        Standard output when left out.
    units : str
        "si" or "us".
    """
    print_blocks(render(checked, units), Console() if console is None else console)


def report_text(checked: Checked, units: str = "si") -> str:
    """Return the report as plain text, as it goes into a pipe or a file."""
    return plain_text(render(checked, units))


def render(checked: Checked, units: str = "si") -> list[Block]:
    """Blocks of the report in their order.

    Parameters
    ----------
    checked : Checked
    units : str
        "si" or "us".

    Returns
    -------
    list of blocks
        See :mod:`crushleg.report.layout`.
    """
    return [
        *header(checked),
        *verdict(checked),
        governing(checked, units),
        *_girder(checked, units),
        *tables.rows(checked, units),
        *tables.folds(checked, units),
        *landing_tables.touchdowns(checked, units),
        *margins(checked, units),
        *verdict(checked),
        Heading("Cautions"),
        items((x for x in shown_cautions(checked) if not x.startswith(NOT_JUDGED)), units),
        Heading("Sources of these numbers"),
        Items(sources(checked)),
        Heading("Symbols"),
        Pairs(SYMBOLS),
        Heading("Before you use this"),
        Paragraph(SCREENING, "bold"),
    ]


def header(checked: Checked) -> Iterator[Block]:
    """Title, revision, author, input and version."""
    case = checked.case
    about = {"revision": case.revision, "author": case.author}
    said = [f"{name} {value}" for name, value in about.items() if value]
    said.append(f"input {case.input_sha256[:HASH_DIGITS]}")
    yield Paragraph(case.title, "bold")
    yield Paragraph(", ".join([*said, f"crushleg {version('crushleg')}"]))


def governing(checked: Checked, units: str) -> Paragraph:
    """Say which margin governs, with its numbers."""
    return Paragraph(f"Governing: {_where(_governing(checked))}: {_division(checked, units)}")


def _governing(checked: Checked) -> Margin:
    return checked.margins[checked.governs]


def _where(margin: Margin) -> str:
    return f"{check_name(margin)} ({margin.touchdown})"


def _value(margin: Margin) -> str:
    return margin_text(float("nan") if margin.margin is None else float(margin.margin[0]))


def _division(checked: Checked, units: str) -> str:
    """Write the governing margin out with its numbers."""
    margin = _governing(checked)
    if never_stops(margin):
        return NEVER_STOPS
    demand, capability = landing_tables.sides(margin, units, 4)
    below = f"({demand})" if "×" in demand else demand
    return f"{capability} / {below} - 1 = {_value(margin)}"


def verdict(checked: Checked) -> Iterator[Block]:
    """Whether the case passes, in words, with the margins that do not."""
    judged = [m for m in checked.margins if m.counts and m.margin is not None]
    short = [m for m in judged if m.margin is not None and not m.margin[0] >= 0.0]
    short.sort(key=lambda m: np.inf if m.margin is None else float(m.margin[0]))
    somewhere = {m.check for m in checked.margins if m.margin is not None}
    absent = sorted({check_name(m) for m in checked.margins if m.check not in somewhere})
    without = f" Not judged: {', '.join(absent)}." if absent else ""
    if checked.passes:
        text = f"PASSES this screening check: all {len(judged)} counted margins are zero or more."
        yield Paragraph(text + without, GOOD)
    else:
        are = "margin is" if len(short) == 1 else "margins are"
        worst = "; ".join(f"{_where(margin)} {_value(margin)}" for margin in short[:WORST])
        more = f"; and {len(short) - WORST} more" if len(short) > WORST else ""
        text = f"FAILS: {len(short)} of {len(judged)} counted {are} below zero: {worst}{more}."
        yield Paragraph(text + without, BAD)


def _girder(checked: Checked, units: str) -> Iterator[Block]:
    case, crush = checked.case, checked.crush
    girder, legs = case.girder, case.vehicle.legs
    flow = crush.girders.flow_stress[:, 0]
    one, all_legs = (show(n * float(crush.mass[0]), "mass", units) for n in (1, legs))
    usable = show(float(crush.usable[0]), "length", units)
    likely = f"{100.0 * BAND_PROBABILITY:g} %"
    yield Heading("Girder")
    yield Pairs(
        [
            ("section", _section(checked, units)),
            ("material", f"{girder.material.name} ({girder.material.key})"),
            ("mass", f"{one} each, {all_legs} on {legs} {'leg' if legs == 1 else 'legs'}"),
            ("stroke", f"usable {usable} of {show(girder.length, 'length', units)}"),
            ("flow stress", "(s_y + s_u)/2 " + _triple(flow, "stress", units)),
            ("alternative", _beside(checked, units)),
            ("first peak", f"{_triple(crush.first_peak[:, 0], 'force', units)}, begins the crush"),
            ("band", f"low to high hold about {likely} of girders, two-sided"),
            ("sequence", f"{sequence(checked)}; the low curve by least work in any case"),
        ]
    )


def _section(checked: Checked, units: str) -> str:
    """Sides, wall with its steps, corner radius and C/t."""
    girder, arrays = checked.case.girder, checked.crush.girders
    unit = small_length(units)
    radius = drawn(girder.corner_radius, unit)
    starts, walls = arrays.wall_start[0], arrays.wall[0]
    steps = [
        f"{drawn(float(t), unit)} {unit} wall"
        + (f" from {drawn(float(z), unit)} {unit} up" if z else "")
        for z, t in zip(starts, walls, strict=True)
    ]
    slender = ", ".join(
        f"{(0.5 * (girder.width + girder.depth) - float(t)) / float(t):.1f}" for t in walls
    )
    return (
        f"{drawn(girder.width, unit)} × {drawn(girder.depth, unit)} {unit} outside, "
        f"{', '.join(steps)}, corner radius {radius} {unit}; C/t {slender}"
    )


def _beside(checked: Checked, units: str) -> str:
    """Give the other flow stress; it lies inside the band of the first."""
    girders, exponent = checked.crush.girders, checked.case.girder.material.hardening_exponent
    if exponent is None:
        return "√(s_y s_u/(1+n)) is not known: the datasheet has no hardening_exponent"
    other = hardening_flow_stress(
        girders.yield_tension[:, 0], girders.ultimate[:, 0], np.asarray(exponent)
    )
    return f"√(s_y s_u/(1+n)) {_triple(other, 'stress', units)}"


def _triple(values: FloatArray, dimension: str, units: str) -> str:
    unit = common_unit(values, dimension, units)
    return f"{packed([values.tolist()], unit)[0]} {unit}"


def margins(checked: Checked, units: str) -> Iterator[Block]:
    """Work the governing margin through, then list all of them."""
    yield Heading("Margins = capability / (factor × demand) - 1, rounded down")
    yield from worked(checked, units)
    yield Paragraph("All margins, as they come; factor 1 where none is written:")
    yield from landing_tables.margins(checked, units)
    absent = landing_tables.not_judged(checked)
    if absent is not None:
        yield absent


def worked(checked: Checked, units: str) -> Iterator[Block]:
    """Name of the governing margin, and how it comes out."""
    margin = _governing(checked)
    words = meaning(margin, checked.case)
    demand, capability = landing_tables.sides(margin, units, 4)
    yield Paragraph(f"Governing: {_where(margin)}", "bold")
    yield Pairs(
        [
            ("demand", f"{demand.rpartition('× ')[2]}, {words.demand}"),
            ("capability", f"{capability}, {words.capability}"),
            ("factor", f"{plain(margin.factor)}"),
            ("margin", _division(checked, units)),
            ("judged", words.scatter),
            ("basis", margin.basis),
            ("note", margin.note),
        ]
    )
