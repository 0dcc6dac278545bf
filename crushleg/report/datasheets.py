"""Material datasheets on the terminal: the list of them, or one with the source of every value."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Console

from crushleg.cautions import SCREENING
from crushleg.report.layout import Column, Heading, Items, Pairs, Paragraph, Table, print_blocks
from crushleg.report.words import common_unit
from crushleg.units import express, plain, show

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.case.material import Material
    from crushleg.case.records import Band
    from crushleg.report.layout import Block

STRESSES = ("youngs_modulus", "yield_strength", "ultimate_strength", "compressive_yield")
NUMBERS = ("poisson_ratio", "hardening_exponent", "bend_radius")
LEVELS = tuple(Column((level,)) for level in ("low", "nominal", "high"))


def print_datasheets(
    datasheets: Sequence[Material], console: Console | None = None, units: str = "si"
) -> None:
    """Print the list of datasheets: key, name, nominal strengths, what a fold does to it.

    Parameters
    ----------
    datasheets : sequence of Material
    console : Console, optional
        Standard output when left out.
    units : str
        "si" or "us".
    """
    print_blocks(list_blocks(datasheets, units), Console() if console is None else console)


def print_datasheet(datasheet: Material, console: Console | None = None, units: str = "si") -> None:
    """Print one datasheet whole, with the source of every value; as :func:`print_datasheets`."""
    print_blocks(datasheet_blocks(datasheet, units), Console() if console is None else console)


def list_blocks(datasheets: Sequence[Material], units: str) -> list[Block]:
    """Blocks of the list of datasheets."""
    unit = common_unit(
        (datasheet.ultimate_strength.nominal for datasheet in datasheets), "stress", units
    )
    lines = [
        (
            datasheet.key,
            datasheet.name,
            plain(express(datasheet.yield_strength.nominal, unit)),
            plain(express(datasheet.ultimate_strength.nominal, unit)),
            datasheet.crushing,
        )
        for datasheet in datasheets
    ]
    columns = (
        Column(("datasheet",), number=False),
        Column(("name",), number=False, wraps=True),
        Column(("yield", unit)),
        Column(("ultimate", unit)),
        Column(("crushing",), number=False),
    )
    return [
        Heading("Material datasheets, nominal strengths"),
        Table(columns, lines),
        Paragraph(SCREENING, "bold"),
    ]


def datasheet_blocks(datasheet: Material, units: str) -> list[Block]:
    """Blocks of one datasheet."""
    about = {
        "datasheet": datasheet.key,
        "designation": datasheet.designation,
        "condition": datasheet.condition,
        "crushing": datasheet.crushing,
        "note": datasheet.note,
    }
    pairs = [(label, text) for label, text in about.items() if text]
    if datasheet.heat_treated:
        pairs.append(
            ("seam", "a weld loses strength: a case with this datasheet must answer [girder] seam")
        )
    return [
        Heading(datasheet.name),
        Pairs(pairs),
        Heading("Values"),
        Table((Column(("value",), number=False), *LEVELS, Column(("status",), number=False)),
              list(_values(datasheet, units))),
        *_temperatures(datasheet, units),
        *_rate(datasheet),
        Heading("Sources"),
        Items([f"{value.field}: {value.source} [{value.status}]" for value in datasheet.sources]),
        Heading("Before you use this"),
        Paragraph(SCREENING, "bold"),
    ]  # fmt: skip


def _values(datasheet: Material, units: str) -> Iterator[tuple[str, ...]]:
    status = {value.field: value.status for value in datasheet.sources}
    yield "density", "", show(datasheet.density, "density", units), "", status["density"]
    for name in STRESSES:
        value = getattr(datasheet, name)
        if value is not None:
            yield name.replace("_", " "), *_three(value, units), status[name]
    for name in NUMBERS:
        value = getattr(datasheet, name)
        if value is not None:
            text = plain(value) + (" × wall" if name == "bend_radius" else "")
            yield name.replace("_", " "), "", text, "", status[name]
    if datasheet.elongation is not None:
        elongation = f"{plain(express(datasheet.elongation, '%'))} %"
        yield "elongation", "", elongation, "", status["elongation"]


def _three(value: Band | float, units: str) -> tuple[str, str, str]:
    """Low, nominal, high of a stress, or its one value in the middle."""
    if isinstance(value, (int, float)):
        return "", show(value, "stress", units), ""
    low, nominal, high = (
        show(level, "stress", units) for level in (value.low, value.nominal, value.high)
    )
    return low, nominal, high


def _temperatures(datasheet: Material, units: str) -> Iterator[Block]:
    if not datasheet.strength_with_temperature:
        return
    yield Heading("Strength over its value at room temperature, low / nominal / high")
    lines = [
        (show(row.temperature, "temperature", units), _ratios(row.yield_ratio),
         _ratios(row.ultimate_ratio))
        for row in datasheet.strength_with_temperature
    ]  # fmt: skip
    yield Table((Column(("temperature",)), Column(("yield",)), Column(("ultimate",))), lines)


def _ratios(band: Band) -> str:
    return " / ".join(f"{ratio:.3f}" for ratio in (band.low, band.nominal, band.high))


def _rate(datasheet: Material) -> Iterator[Block]:
    pair = datasheet.rate
    if pair is None:
        return
    yield Heading("Strain rate, 1 + (rate/D)^(1/q) over its value in the tensile test")
    yield Pairs(
        [
            ("D", show(pair.D, "strain rate")),
            ("q", plain(pair.q)),
            ("fitted at", pair.fitted_at),
            ("tensile test", show(pair.test_rate, "strain rate")),
        ]
    )
