"""Material datasheets: values, sources, every fault, and the shelf."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from crushleg.case.datasheet import datasheet_of
from crushleg.case.material import STATUS
from crushleg.case.records import Band
from crushleg.case.shelf import datasheet_names, find_material, read_datasheet
from crushleg.case.source import parse
from crushleg.errors import InputError

if TYPE_CHECKING:
    from tests.case.conftest import Complain


def test_a_datasheet_is_read_in_si_with_its_sources(folder: Path) -> None:
    datasheet = read_datasheet(folder / "warm.toml")
    assert (datasheet.key, datasheet.density, datasheet.elongation) == ("warm", 7900.0, 0.4)
    assert datasheet.yield_strength == Band(low=220e6, nominal=300e6, high=350e6)
    assert (datasheet.note, datasheet.heat_treated, datasheet.compressive_yield) == (
        "",
        False,
        None,
    )
    assert [row.temperature for row in datasheet.strength_with_temperature] == [77.0, 294.0]
    assert datasheet.strength_with_temperature[0].ultimate_ratio == Band(
        low=2.0, nominal=2.2, high=2.5
    )
    assert datasheet.rate is not None
    assert (datasheet.rate.D, datasheet.rate.q, datasheet.rate.test_rate) == (100.0, 10.0, 0.001)
    fields = [source.field for source in datasheet.sources]
    assert fields[:2] == ["density", "youngs_modulus"]
    assert "rate" in fields


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (
            '"7900 kg/m3"',
            "7900",
            "datasheet.toml:7: density.nominal: read 7900, a number without a un",
        ),
        (
            '"folds"',
            '"bends"',
            'datasheet.toml:4: crushing: read "bends"; write "folds" or "may split"',
        ),
        (
            'name = "Test steel"\n',
            "",
            "datasheet.toml: name: read nothing (name of the material); write",
        ),
        (
            'low = "220 MPa"\n',
            "",
            "datasheet.toml:18: yield_strength.low: read nothing (yield strength)",
        ),
        (
            'low = "220 MPa"',
            'low = "320 MPa"',
            "datasheet.toml:18: yield_strength: read low, nominal and high out of order; write low",
        ),
        (
            'nominal = "650 MPa"',
            'nominal = "250 MPa"',
            "ultimate_strength: read low, nominal and high out of order",
        ),
        (
            'high = "350 MPa"',
            'high = "701 MPa"',
            "datasheet.toml:27: ultimate_strength.high: read less than the high yield strength",
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
            'datasheet.toml:9: density.status: read "sure"; write "published" or "from memory" or',
        ),
        (
            'source = "invented"\nstatus = "common practice"\n[youngs',
            'status = "common practice"\n[youngs',
            "datasheet.toml:6: density.source: read nothing (where the value comes from)",
        ),
        (
            "[elongation]",
            "[elongatoin]",
            "datasheet.toml:30: elongatoin: read the unknown key 'elongatoin'; write one of: ",
        ),
        ("[elongation]", "[elongatoin]", 'did you mean "elongation"?'),
        (
            '[density]\nnominal = "7900 kg/m3"\nsource = "invented"\nstatus = "common practice"\n',
            "",
            "datasheet.toml: density: read nothing (density); write [density] with nominal, source",
        ),
        ("q = 10", "", "datasheet.toml:40: rate.q: read nothing (exponent); write q = 0.4"),
        ('["77 K", "294 K"]', '["294 K", "77 K"]', "temperature: read temperatures out of order"),
        ('["77 K", "294 K"]', '["77 K", 294]', "temperature.1: read 294, a number without a unit"),
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
        ("D = ", "d = ", "datasheet.toml:41: rate.d: read the unknown key 'd'"),
    ],
)
def test_a_fault_of_a_datasheet_is_reported(folder: Path, old: str, new: str, message: str) -> None:
    text = (folder / "warm.toml").read_text(encoding="utf-8")
    assert old in text
    with pytest.raises(InputError) as caught:
        datasheet_of(parse(text.replace(old, new, 1).encode(), "datasheet.toml"), "datasheet")
    assert message in str(caught.value)


def test_faults_of_a_datasheet_name_the_datasheet_not_the_case(
    complain: Complain, folder: Path, datasheet_text: str
) -> None:
    (folder / "bad.toml").write_text(datasheet_text.replace('"40 %"', "40"), encoding="utf-8")
    (folder / "bad2.toml").write_text(datasheet_text.replace("0.3", "true"), encoding="utf-8")
    assert complain("girder.material=bad2.toml") == [
        f"{folder / 'bad2.toml'}:15: poisson_ratio.nominal: read true; write a number, such as 0.4"
    ]


def test_a_missing_datasheet_is_reported_in_the_case(complain: Complain) -> None:
    (problem,) = complain("girder.material=gone.toml")
    assert problem.startswith("--set girder.material: read ")
    assert problem.endswith("gone.toml: no such file; write the path of a TOML file that exists")


def test_an_unknown_key_lists_the_datasheets_and_guesses(complain: Complain) -> None:
    (problem,) = complain("girder.material=stainless-304-anealed")
    assert '"stainless-304-anealed", which is no datasheet; write a path to a .toml file' in problem
    assert problem.endswith('did you mean "stainless-304-annealed"?')


def test_every_datasheet_on_the_shelf_is_read_and_sourced() -> None:
    names = datasheet_names()
    assert names == sorted(names)
    for name in names:
        datasheet = find_material(name, Path())
        assert datasheet.key == name
        assert all(source.status in STATUS for source in datasheet.sources)
