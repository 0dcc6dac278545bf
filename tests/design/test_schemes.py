"""What is compared: schemes, cases, and the values of one input."""

from __future__ import annotations

from pathlib import Path

import pytest

import crushleg
from crushleg.case.reader import case_reader
from crushleg.design.schemes import cases_lineup, scheme_lineup, short_names, vary_lineup
from crushleg.design.vary import one_varied, read_varied, varied_cases
from crushleg.errors import InputError

EXAMPLES = Path(__file__).parents[2] / "examples"
SCHEMES, DUNLIN, GODWIT = (
    str(EXAMPLES / f"{name}.toml") for name in ("dunlin-schemes", "dunlin", "godwit")
)


def test_the_girder_of_the_case_comes_first_and_conditions_are_shared() -> None:
    lineup = scheme_lineup(crushleg.read_case(SCHEMES), SCHEMES)
    assert [entry.name for entry in lineup.entries][:3] == ["girder", "even", "linear"]
    assert len({entry.case.touchdowns for entry in lineup.entries}) == 1
    assert lineup.notes == ()


def test_what_is_assumed_of_a_scheme_is_its_own() -> None:
    text = Path(SCHEMES).read_text(encoding="utf-8").replace('corner_radius = "6 mm"\n', "")
    case = crushleg.read_case_text(text, "", ["scheme.even.wall=5 mm"])
    own, even = (entry.case for entry in scheme_lineup(case, "").entries[:2])
    assert any("8 mm, 2 × wall" in said for said in own.assumed)
    assert any("10 mm, 2 × wall" in said for said in even.assumed)


def test_equal_schemes_are_told() -> None:
    case = crushleg.read_case(SCHEMES, ["scheme.even.holes={law='none'}"])
    lineup = scheme_lineup(case, SCHEMES)
    assert lineup.notes == ()
    case = crushleg.read_case(
        SCHEMES, ["scheme.even.holes={law='none'}", "scheme.even.first_peak_fraction=0.6"]
    )
    assert scheme_lineup(case, SCHEMES).notes == ("initiator is the same girder as even.",)


def test_a_single_girder_is_nothing_to_compare() -> None:
    with pytest.raises(InputError, match=r"nothing to compare; write .*scheme.*--vary"):
        scheme_lineup(crushleg.read_case(DUNLIN), DUNLIN)


def test_cases_share_the_conditions_of_the_first_and_differences_are_told() -> None:
    cases = [crushleg.read_case(path) for path in (DUNLIN, GODWIT)]
    lineup = cases_lineup(cases, [DUNLIN, GODWIT])
    other = lineup.entries[1].case
    assert other.vehicle == cases[0].vehicle
    assert other.girder == cases[1].girder
    assert other.input_sha256 == cases[1].input_sha256
    assert any("vehicle.mass" in note and "touchdowns" in note for note in lineup.notes)


def test_the_leg_holds_every_girder_to_its_end_at_least() -> None:
    cases = [
        crushleg.read_case(DUNLIN, [f"girder.length={x} m", f"leg.free_length={x} m"])
        for x in (1, 1.2)
    ]
    lineup = cases_lineup(cases, ["short.toml", "long.toml"])
    assert lineup.entries[1].case.leg.free_length == 1.2
    assert any("longer than the first's free_length" in note for note in lineup.notes)


def test_names_of_files_are_short_and_differ() -> None:
    assert short_names(["x/a.toml", "x/b.toml"]) == ["a", "b"]
    assert len(set(short_names(["x/a.toml", "y/a.toml", "y/a.toml"]))) == 3


@pytest.mark.parametrize(
    ("text", "texts"),
    [
        ("girder.wall=1.5mm:3mm:4", ("1.5 mm", "2 mm", "2.5 mm", "3 mm")),
        ("girder.wall = 1.5 mm : 3 mm : 2", ("1.5 mm", "3 mm")),
        ("girder.wall=3/16in:1/4in:2", ("0.1875 in", "0.25 in")),
        ("girder.holes.rows=3:7:3", ("3", "5", "7")),
        ("vehicle.legs=6:3:4", ("6", "5", "4", "3")),
        ("leg.pad_friction=0.1:0.4:4", ("0.1", "0.2", "0.3", "0.4")),
        ("limits.stroke_fraction=80%:90%:3", ("80%", "85%", "90%")),
        ("girder.temperature=20 degC:40 degC:3", ("20 degC", "30 degC", "40 degC")),
        ("touchdown.reserve.vertical_speed=3m/s:4m/s:2", ("3 m/s", "4 m/s")),
        ("girder.holes.sizes.0=80mm:82mm:2", ("80 mm", "82 mm")),
        ("girder.crest_ratio.1=1.3:1.4:2", ("1.3", "1.4")),
    ],
)
def test_an_input_is_varied_in_its_own_unit_and_kind(text: str, texts: tuple[str, ...]) -> None:
    assert read_varied(text).texts == texts


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("girder.wall", "KEY=FROM:TO:POINTS"),
        ("girder.wall=1mm:2mm", "KEY=FROM:TO:POINTS"),
        ("girder.wall=1mm:2mm:1", "a whole number from 2 to 101"),
        ("girder.wall=1mm:2mm:102", "a whole number from 2 to 101"),
        ("girder.wall=1mm:2mm:x", "a whole number from 2 to 101"),
        ("girder.wall=2mm:2mm:3", "the same value at both ends"),
        ("girder.wall=1:2:3", "a number without a unit"),
        ("girder.wall=1kg:2kg:3", "a mass"),
        ("girder.wal=1mm:2mm:3", 'did you mean "girder.wall"?'),
        ("girder.material=a:b:2", "no number or quantity"),
        ("girder.rate=0:1:2", "girder.rate, a flag"),
        ("touchdown.reserve.name=a:b:2", "a list|text"),
        ("girder.crest_ratio=1:2:3", "a list"),
        ("girder.holes.rows=3:7:4", "whole numbers: 2, 3, 5"),
        ("girder.holes.rows=3mm:7mm:5", "a whole number without a unit"),
        ("scheme.even.wall=1mm:2mm:3", "no number or quantity"),
    ],
)
def test_a_wrong_form_is_told(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        read_varied(text)


def test_one_input_of_one_case_is_varied() -> None:
    assert one_varied([], 3) is None
    with pytest.raises(InputError, match="2 inputs to vary"):
        one_varied(["girder.wall=1mm:2mm:3"] * 2, 1)
    with pytest.raises(InputError, match="one case to vary"):
        one_varied(["girder.wall=1mm:2mm:3"], 2)


def test_every_value_is_a_case_as_set_would_make_it() -> None:
    varied = read_varied("girder.wall=3mm:5mm:3")
    cases = varied_cases(case_reader(DUNLIN), ["vehicle.mass=41 t"], varied)
    expected = crushleg.read_case(DUNLIN, ["vehicle.mass=41 t", "girder.wall=4 mm"])
    assert cases[1] == expected
    assert vary_lineup(cases, varied).entries[1].value == pytest.approx(4e-3)


def test_a_value_that_makes_no_case_is_told_with_its_reason() -> None:
    varied = read_varied("girder.wall=4mm:8mm:3")
    with pytest.raises(InputError, match=r"girder.corner_radius.*--vary girder.wall at 8 mm"):
        varied_cases(case_reader(DUNLIN), [], varied)


def test_a_wall_that_is_measured_is_not_varied_in_vain() -> None:
    varied = read_varied("girder.wall=4mm:5mm:3")
    with pytest.raises(InputError, match=r"girder.measured.wall in its place"):
        varied_cases(case_reader(DUNLIN), ['girder.measured={wall="3.9 mm"}'], varied)
