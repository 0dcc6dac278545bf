"""Material cards on the terminal: the list of them, or one with the source of every value."""

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


def print_cards(
    cards: Sequence[Material], console: Console | None = None, units: str = "si"
) -> None:
    """Print the list of cards: key, name, nominal strengths, and what a fold does to the alloy.

    Parameters
    ----------
    cards : sequence of Material
    console : Console, optional
        Standard output when left out.
    units : str
        "si" or "us".
    """
    print_blocks(list_blocks(cards, units), Console() if console is None else console)


def print_card(card: Material, console: Console | None = None, units: str = "si") -> None:
    """Print one card whole, with the source of every value; as :func:`print_cards`."""
    print_blocks(card_blocks(card, units), Console() if console is None else console)


def list_blocks(cards: Sequence[Material], units: str) -> list[Block]:
    """Blocks of the list of cards."""
    unit = common_unit((card.ultimate_strength.nominal for card in cards), "stress", units)
    lines = [
        (
            card.key,
            card.name,
            plain(express(card.yield_strength.nominal, unit)),
            plain(express(card.ultimate_strength.nominal, unit)),
            card.crushing,
        )
        for card in cards
    ]
    columns = (
        Column(("card",), number=False),
        Column(("name",), number=False, wraps=True),
        Column(("yield", unit)),
        Column(("ultimate", unit)),
        Column(("a fold",), number=False),
    )
    return [
        Heading("Material cards, nominal strengths"),
        Table(columns, lines),
        Paragraph(SCREENING, "bold"),
    ]


def card_blocks(card: Material, units: str) -> list[Block]:
    """Blocks of one card."""
    about = {
        "card": card.key,
        "designation": card.designation,
        "condition": card.condition,
        "a fold": card.crushing,
        "note": card.note,
    }
    pairs = [(label, text) for label, text in about.items() if text]
    if card.heat_treated:
        pairs.append(
            ("seam", "a weld loses strength: a case with this card must answer [girder] seam")
        )
    return [
        Heading(card.name),
        Pairs(pairs),
        Heading("Values"),
        Table((Column(("value",), number=False), *LEVELS, Column(("status",), number=False)),
              list(_values(card, units))),
        *_temperatures(card, units),
        *_rate(card),
        Heading("Sources"),
        Items([f"{value.field}: {value.source} [{value.status}]" for value in card.sources]),
        Heading("Before you use this"),
        Paragraph(SCREENING, "bold"),
    ]  # fmt: skip


def _values(card: Material, units: str) -> Iterator[tuple[str, ...]]:
    status = {value.field: value.status for value in card.sources}
    yield "density", "", show(card.density, "density", units), "", status["density"]
    for name in STRESSES:
        value = getattr(card, name)
        if value is not None:
            yield name.replace("_", " "), *_three(value, units), status[name]
    for name in NUMBERS:
        value = getattr(card, name)
        if value is not None:
            text = plain(value) + (" × wall" if name == "bend_radius" else "")
            yield name.replace("_", " "), "", text, "", status[name]
    if card.elongation is not None:
        elongation = f"{plain(express(card.elongation, '%'))} %"
        yield "elongation", "", elongation, "", status["elongation"]


def _three(value: Band | float, units: str) -> tuple[str, str, str]:
    """Low, nominal, high of a stress, or its one value in the middle."""
    if isinstance(value, (int, float)):
        return "", show(value, "stress", units), ""
    low, nominal, high = (
        show(level, "stress", units) for level in (value.low, value.nominal, value.high)
    )
    return low, nominal, high


def _temperatures(card: Material, units: str) -> Iterator[Block]:
    if not card.strength_with_temperature:
        return
    yield Heading("Strength over its value at room temperature, low / nominal / high")
    lines = [
        (show(row.temperature, "temperature", units), _ratios(row.yield_ratio),
         _ratios(row.ultimate_ratio))
        for row in card.strength_with_temperature
    ]  # fmt: skip
    yield Table((Column(("temperature",)), Column(("yield",)), Column(("ultimate",))), lines)


def _ratios(band: Band) -> str:
    return " / ".join(f"{ratio:.3f}" for ratio in (band.low, band.nominal, band.high))


def _rate(card: Material) -> Iterator[Block]:
    pair = card.rate
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
