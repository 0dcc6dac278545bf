"""Material datasheets on the terminal."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from rich.cells import cell_len

from crushleg import datasheet_names, find_material
from crushleg.report.datasheets import print_datasheet, print_datasheets
from tests.report.cases import WIDTH, bare, printed, terminal

if TYPE_CHECKING:
    from rich.console import Console

CARDS = [find_material(name, Path()) for name in datasheet_names()]
UNITS = pytest.mark.parametrize("units", ["si", "us"])


@UNITS
def test_the_list_has_every_datasheet_and_fits_80_columns(units: str) -> None:
    def show(console: Console) -> None:
        print_datasheets(CARDS, console, units)

    shown = bare(printed(show, terminal()))
    assert max(map(cell_len, shown.splitlines())) <= WIDTH
    text = printed(show).splitlines()
    for datasheet in CARDS:
        row = next(row for row in text if row.startswith(datasheet.key))
        assert datasheet.name in row
        assert row.endswith(datasheet.crushing)


def test_the_list_gives_nominal_strengths() -> None:
    text = printed(lambda console: print_datasheets(CARDS, console))
    row = next(row for row in text.splitlines() if row.startswith("stainless-304l-annealed"))
    assert row.split()[-3:] == ["295", "650", "folds"]


@pytest.mark.parametrize("datasheet", CARDS, ids=lambda datasheet: datasheet.key)
@UNITS
def test_a_datasheet_shows_every_source_and_fits_80_columns(datasheet: object, units: str) -> None:
    found = next(one for one in CARDS if one is datasheet)

    def show(console: Console) -> None:
        print_datasheet(found, console, units)

    shown = bare(printed(show, terminal()))
    assert max(map(cell_len, shown.splitlines())) <= WIDTH
    text = printed(show)
    for value in found.sources:
        source = " ".join(value.source.split("\n"))
        assert f"- {value.field}: {source} [{value.status}]" in text.splitlines()


def test_a_datasheet_shows_low_nominal_and_high() -> None:
    text = printed(
        lambda console: print_datasheet(find_material("stainless-304l-annealed", Path()), console)
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
