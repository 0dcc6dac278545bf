"""Material cards: values, sources, every fault, and the shelf."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from crushleg.case.card import card_of
from crushleg.case.material import STATUS
from crushleg.case.records import Band
from crushleg.case.shelf import card_names, find_material, read_card
from crushleg.case.source import parse
from crushleg.errors import InputError

if TYPE_CHECKING:
    from tests.case.conftest import Complain


def test_a_card_is_read_in_si_with_its_sources(folder: Path) -> None:
    card = read_card(folder / "warm.toml")
    assert (card.key, card.density, card.elongation) == ("warm", 7900.0, 0.4)
    assert card.yield_strength == Band(low=220e6, nominal=300e6, high=350e6)
    assert (card.note, card.heat_treated, card.compressive_yield) == ("", False, None)
    assert [row.temperature for row in card.strength_with_temperature] == [77.0, 294.0]
    assert card.strength_with_temperature[0].ultimate_ratio == Band(low=2.0, nominal=2.2, high=2.5)
    assert card.rate is not None
    assert (card.rate.D, card.rate.q, card.rate.test_rate) == (100.0, 10.0, 0.001)
    fields = [source.field for source in card.sources]
    assert fields[:2] == ["density", "youngs_modulus"]
    assert "rate" in fields


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('"7900 kg/m3"', "7900", "card.toml:7: density.nominal: read 7900, a number without a un"),
        ('"folds"', '"bends"', 'card.toml:4: crushing: read "bends"; write "folds" or "may split"'),
        (
            'name = "Test steel"\n',
            "",
            "card.toml: name: read nothing (name of the material); write",
        ),
        (
            'low = "220 MPa"\n',
            "",
            "card.toml:18: yield_strength.low: read nothing (yield strength)",
        ),
        (
            'low = "220 MPa"',
            'low = "320 MPa"',
            "card.toml:18: yield_strength: read low, nominal and high out of order; write low ≤",
        ),
        (
            'nominal = "650 MPa"',
            'nominal = "250 MPa"',
            "ultimate_strength: read low, nominal and high out of order",
        ),
        (
            'high = "350 MPa"',
            'high = "701 MPa"',
            "card.toml:27: ultimate_strength.high: read less than the high yield strength; write",
        ),
        (
            "nominal = 0.3",
            "nominal = 0.5",
            "poisson_ratio.nominal: read 0.5; write more than 0 and",
        ),
        (
            "nominal = 0.3",
            "nominal = 0.3\nstatus2 = 1",
            "poisson_ratio.status2: read the unknown k",
        ),
        (
            'status = "common practice"\n[youngs',
            'status = "sure"\n[youngs',
            'card.toml:9: density.status: read "sure"; write "published" or "from memory" or',
        ),
        (
            'source = "invented"\nstatus = "common practice"\n[youngs',
            'status = "common practice"\n[youngs',
            "card.toml:6: density.source: read nothing (where the value comes from); write source",
        ),
        (
            "[elongation]",
            "[elongatoin]",
            "card.toml:30: elongatoin: read the unknown key 'elongatoin'; write one of: ",
        ),
        ("[elongation]", "[elongatoin]", 'did you mean "elongation"?'),
        (
            '[density]\nnominal = "7900 kg/m3"\nsource = "invented"\nstatus = "common practice"\n',
            "",
            "card.toml: density: read nothing (density); write [density] with nominal, source",
        ),
        ("q = 10", "", "card.toml:40: rate.q: read nothing (exponent); write q = 0.4"),
        ('["77 K", "294 K"]', '["294 K", "77 K"]', "temperature: read temperatures out of order"),
        ('["77 K", "294 K"]', '["77 K", 294]', "temperature: read 294, a number without a unit"),
        (
            "low = [1.2, 1.0]",
            "low = [1.2]",
            "yield_ratio.low: read a list (strength over its value",
        ),
        (
            "low = [1.2, 1.0]",
            "low = [1.6, 1.0]",
            "yield_ratio.nominal.0: read 1.5; write low ≤ nom",
        ),
        (
            'temperature = ["77 K", "294 K"]',
            "",
            "temperature: read nothing (of the strength ratios",
        ),
        ("D = ", "d = ", "card.toml:41: rate.d: read the unknown key 'd'"),
    ],
)
def test_a_fault_of_a_card_is_reported(folder: Path, old: str, new: str, message: str) -> None:
    text = (folder / "warm.toml").read_text(encoding="utf-8")
    assert old in text
    with pytest.raises(InputError) as caught:
        card_of(parse(text.replace(old, new, 1).encode(), "card.toml"), "card")
    assert message in str(caught.value)


def test_faults_of_a_card_name_the_card_not_the_case(
    complain: Complain, folder: Path, card_text: str
) -> None:
    (folder / "bad.toml").write_text(card_text.replace('"40 %"', "40"), encoding="utf-8")
    (folder / "bad2.toml").write_text(card_text.replace("0.3", "true"), encoding="utf-8")
    assert complain("girder.material=bad2.toml") == [
        f"{folder / 'bad2.toml'}:15: poisson_ratio.nominal: read true; write a number, such as 0.4"
    ]


def test_a_missing_card_is_reported_in_the_case(complain: Complain) -> None:
    (problem,) = complain("girder.material=gone.toml")
    assert problem.startswith("--set girder.material: read ")
    assert problem.endswith("gone.toml: no such file; write the path of a TOML file that exists")


def test_an_unknown_key_lists_the_cards_and_guesses(complain: Complain) -> None:
    (problem,) = complain("girder.material=stainless-304-anealed")
    assert '"stainless-304-anealed", which is no card; write a path to a .toml file' in problem
    assert problem.endswith('did you mean "stainless-304-annealed"?')


def test_every_card_on_the_shelf_is_read_and_sourced() -> None:
    names = card_names()
    assert names == sorted(names)
    for name in names:
        card = find_material(name, Path())
        assert card.key == name
        assert all(source.status in STATUS for source in card.sources)
