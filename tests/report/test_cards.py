"""Material cards on the terminal."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from rich.cells import cell_len

from crushleg import card_names, find_material
from crushleg.report.cards import print_card, print_cards
from tests.report.cases import WIDTH, bare, printed, terminal

if TYPE_CHECKING:
    from rich.console import Console

CARDS = [find_material(name, Path()) for name in card_names()]
UNITS = pytest.mark.parametrize("units", ["si", "us"])


@UNITS
def test_the_list_has_every_card_and_fits_80_columns(units: str) -> None:
    def show(console: Console) -> None:
        print_cards(CARDS, console, units)

    shown = bare(printed(show, terminal()))
    assert max(map(cell_len, shown.splitlines())) <= WIDTH
    text = printed(show).splitlines()
    for card in CARDS:
        row = next(row for row in text if row.startswith(card.key))
        assert card.name in row
        assert row.endswith(card.crushing)


def test_the_list_gives_nominal_strengths() -> None:
    text = printed(lambda console: print_cards(CARDS, console))
    row = next(row for row in text.splitlines() if row.startswith("stainless-304l-annealed"))
    assert row.split()[-3:] == ["295", "650", "folds"]


@pytest.mark.parametrize("card", CARDS, ids=lambda card: card.key)
@UNITS
def test_a_card_shows_every_source_and_fits_80_columns(card: object, units: str) -> None:
    found = next(one for one in CARDS if one is card)

    def show(console: Console) -> None:
        print_card(found, console, units)

    shown = bare(printed(show, terminal()))
    assert max(map(cell_len, shown.splitlines())) <= WIDTH
    text = printed(show)
    for value in found.sources:
        source = " ".join(value.source.split("\n"))
        assert f"- {value.field}: {source} [{value.status}]" in text.splitlines()


def test_a_card_shows_low_nominal_and_high() -> None:
    text = printed(
        lambda console: print_card(find_material("stainless-304l-annealed", Path()), console)
    )
    row = next(row for row in text.splitlines() if row.startswith("yield strength"))
    assert row.split() == [
        "yield",
        "strength",
        "220",
        "MPa",
        "295",
        "MPa",
        "350",
        "MPa",
        "from",
        "memory",
    ]
