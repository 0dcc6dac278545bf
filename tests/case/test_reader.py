"""The case reader: values, defaults, and every fault of a file with its message."""

from __future__ import annotations

import hashlib
import math
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from crushleg.case.reader import read_case, read_case_text
from crushleg.case.records import Band
from crushleg.errors import InputError

if TYPE_CHECKING:
    from pathlib import Path

    from tests.case.conftest import Complain, Read


def test_quantities_arrive_in_si(read: Read) -> None:
    case = read("touchdown.0.slope=3 deg", "girder.width=5 1/2 in")
    assert case.vehicle.mass == 40_000.0
    assert case.girder.wall == 0.004
    assert case.girder.width == pytest.approx(0.1397)
    assert case.touchdowns[0].slope == pytest.approx(math.radians(3))
    assert case.touchdowns[1].reserve


def test_defaults_follow_the_given_fields(read: Read) -> None:
    girder = read().girder
    assert (girder.depth, girder.hole_tolerance, girder.temperature) == (0.14, 0.3e-3, 293.15)
    assert girder.wall_tolerance == pytest.approx(0.045 * 0.004)
    assert girder.corner_radius == pytest.approx(0.008)
    assert girder.crest_ratio == Band(low=1.2, nominal=1.35, high=1.55)
    assert read().leg.free_length == 1.0
    assert (read().revision, read().author) == ("-", "")


@pytest.mark.parametrize(
    ("sentence", "given"),
    [
        ("gravity left out: 9.80665 m/s2", "vehicle.gravity=1.62 m/s2"),
        ("pad_friction left out: 0.4 (common practice)", "leg.pad_friction=0.3"),
        ("wall_tolerance left out: ± 0.18 mm, 4.5 % of the wall", "girder.wall_tolerance=0.1 mm"),
        ("EN ISO 9445-2 (published, second-hand)", "girder.wall_tolerance=0.1 mm"),
        ("hole_tolerance left out: ± 0.3 mm, ISO 2768-1 m", "girder.hole_tolerance=0.1 mm"),
        ("corner_radius left out: 8 mm, 2 × wall; EN 10219-2", "girder.corner_radius=6 mm"),
        ("effective_length_factor left out: 1.0", "girder.effective_length_factor=0.7"),
    ],
)
def test_a_default_that_matters_is_said_only_when_taken(
    read: Read, sentence: str, given: str
) -> None:
    assert any(sentence in said for said in read().assumed)
    assert not any(sentence in said for said in read(given).assumed)


def test_free_length_is_said_only_when_the_girder_carries_the_side_load(read: Read) -> None:
    sentence = "free_length left out: the girder's length, 1 m."
    assert sentence not in read().assumed
    assert sentence in read("leg.side_load=girder").assumed


def test_the_hash_is_of_the_bytes_and_the_overrides(read: Read, case_text: str) -> None:
    assert read().input_sha256 == hashlib.sha256(case_text.encode()).hexdigest()
    expected = hashlib.sha256(case_text.encode() + b"\0girder.wall=5 mm").hexdigest()
    assert read("girder.wall=5 mm").input_sha256 == expected


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (
            'wall = "4 mm"',
            "wall = 4",
            (
                "case.toml:17: girder.wall: read 4, a number without a unit; "
                'write a length with its unit, such as "4 mm"'
            ),
        ),
        (
            'wall = "4 mm"',
            'wall = "4 kg"',
            (
                'case.toml:17: girder.wall: read "4 kg", a mass; write a length in mm, cm, m, in '
                'or ft, such as "4 mm"'
            ),
        ),
        ('wall = "4 mm"', "wall = true", "case.toml:17: girder.wall: read true; write a length"),
        ('wall = "4 mm"', "wall = nan", "case.toml:17: girder.wall: read nan; write a length"),
        ('wall = "4 mm"', "wall = [4]", "case.toml:17: girder.wall: read a list; write a length"),
        (
            'wall = "4 mm"',
            'wall = "-4 mm"',
            "case.toml:17: girder.wall: read -4 mm; write at least 0.001 mm and at most 1000 m",
        ),
        (
            'wall = "4 mm"\n',
            "",
            'case.toml:14: girder.wall: read nothing (wall thickness); write wall = "4 mm"',
        ),
        (
            'width = "140 mm"',
            'widht = "140 mm"',
            "case.toml:16: girder.widht: read the unknown key 'widht'; write one of: ",
        ),
        ('width = "140 mm"', 'widht = "140 mm"', '; did you mean "width"?'),
        ('wall = "4 mm"', 'wall = "4 mm"\nlegs = 3', "; it belongs in [vehicle]"),
        (
            "legs = 6",
            "legs = 6.0",
            "case.toml:5: vehicle.legs: read 6.0; write a whole number without quotes, such as 6",
        ),
        ("legs = 6", 'legs = "6"', 'case.toml:5: vehicle.legs: read "6"; write a whole number'),
        ("legs = 6", "legs = true", "case.toml:5: vehicle.legs: read true; write a whole number"),
        ("legs = 6", "legs = 0", "vehicle.legs: read 0; write at least 1 and at most 24"),
        (
            'side_load = "guide"',
            'side_load = "gide"',
            (
                'case.toml:12: leg.side_load: read "gide"; write "guide" or "girder"; '
                'did you mean "guide"?'
            ),
        ),
        (
            'side_load = "guide"\n',
            "",
            (
                "case.toml:11: leg.side_load: read nothing (who carries the side load); "
                'write side_load = "guide" or "girder"'
            ),
        ),
        (
            'side_load = "guide"',
            'side_load = "guide"\npad_friction = "0.4"',
            'leg.pad_friction: read "0.4", a number in quotes; write it without quotes: 0.4',
        ),
        (
            'side_load = "guide"',
            'side_load = "guide"\npad_friction = "lots"',
            (
                'leg.pad_friction: read "lots", which does not begin with a number; '
                "write a number without quotes, such as 0.4"
            ),
        ),
        ("reserve = true", 'reserve = "true"', 'read "true"; write true or false, without quotes'),
        (
            'title = "Small case"',
            "title = 7",
            "case.toml:1: title: read 7; write a text in quotes",
        ),
        ('title = "Small case"', 'title = " "', "title: read an empty text; write a text"),
        (
            'title = "Small case"\n',
            "",
            'title: read nothing (title of the case); write title = "Dunlin test stage"',
        ),
        (
            'material = "steel.toml"\n',
            "",
            "case.toml:14: girder.material: read nothing (a datasheet, or the path of one)",
        ),
        (
            'material = "steel.toml"',
            'material = "gone.toml"',
            "case.toml:15: girder.material: read ",
        ),
        ("[[standing]]", "[standing]", "case.toml:35: standing: read standing, one table; write"),
        (
            "[[standing]]",
            "[[scatter]]\n[[standing]]",
            "case.toml:35: scatter: read scatter that is no table; write [scatter]",
        ),
        ("[leg]", "[[leg]]", "case.toml:11: leg: read leg that is no table; write [leg]"),
    ],
)
def test_a_fault_is_reported_with_line_field_and_what_to_write(
    complain: Complain, case_text: str, old: str, new: str, message: str
) -> None:
    assert old in case_text
    problems = complain(text=case_text.replace(old, new))
    assert any(message in problem for problem in problems), problems


def test_one_fault_is_reported_once(complain: Complain, case_text: str) -> None:
    assert len(complain(text=case_text.replace('"4 mm"', "4"))) == 1


def test_all_problems_of_a_file_come_in_one_run_in_its_order(
    complain: Complain, case_text: str
) -> None:
    text = case_text
    for old, new in [
        ("legs = 6", "legs = 6.5"),
        ('wall = "4 mm"', 'wall = "4,0 mm"'),
        ('"82 mm"', '"182 mm"'),
        ('name = "reserve"', 'name = "nominal"'),
        ('mass = "50 t"', "mass = 50"),
    ]:
        text = text.replace(old, new)
    fields = [problem.split(": ")[1] for problem in complain(text=text)]
    assert fields == [
        "vehicle.legs",
        "girder.wall",
        "girder.holes.sizes.0",
        "touchdown.1.name",
        "standing.0.mass",
    ]


def test_missing_tables_are_named(complain: Complain) -> None:
    problems = complain(text='title = "x"')
    for name in ("vehicle", "leg", "girder"):
        assert f"case.toml: {name}: read no such table; write [{name}] with its fields" in problems
    assert any("touchdown: read no touchdown; write [[touchdown]]" in p for p in problems)


def test_a_correlation_file_is_read_beside_the_case(read: Read, folder: Path) -> None:
    text = 'force_factor = 0.96\nscatter = 0.06\ntests = 3\nsource = "drop tests"'
    (folder / "tests.toml").write_text(text, encoding="utf-8")
    correlation = read("girder.correlation=tests.toml").girder.correlation
    assert correlation is not None
    assert (correlation.force_factor, correlation.tests) == (0.96, 3)


def test_faults_of_a_correlation_file_name_that_file(complain: Complain, folder: Path) -> None:
    text = 'force_factor = 0.96\nscatter = 6\ntests = 3\nsource = "drop tests"'
    (folder / "tests.toml").write_text(text, encoding="utf-8")
    (problem,) = complain("girder.correlation=tests.toml")
    assert problem.startswith(str(folder / "tests.toml") + ":2: scatter: read 6; write at least 0")


def test_a_case_file_is_read_from_disk_with_its_datasheet_beside_it(
    folder: Path, case_text: str
) -> None:
    path = folder / "case.toml"
    path.write_bytes(b"\xef\xbb\xbf" + case_text.replace("\n", "\r\n").encode())
    case = read_case(path, ["vehicle.legs=4"])
    assert (case.vehicle.legs, case.girder.material.key) == (4, "steel")


def test_seam_none_is_an_answer_and_a_table_is_read(read: Read, complain: Complain) -> None:
    assert read("girder.seam=none").girder.seam is None
    seam = read("girder.seam.strength_factor=0.6").girder.seam
    assert seam is not None
    assert seam.strength_factor == 0.6
    (problem,) = complain("girder.seam=yes")
    assert 'read "yes"; write seam = "none", or [girder.seam] with strength_factor' in problem


def test_the_reader_needs_the_standard_library_only() -> None:
    heavy = ("numpy", "scipy", "pandas", "matplotlib", "rich")
    code = (
        "import sys, crushleg; before = set(sys.modules); import crushleg.case.reader; "
        f"print([m for m in {heavy} if m in set(sys.modules) - before])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_text_with_lone_surrogates_is_refused() -> None:
    with pytest.raises(InputError, match="not UTF-8"):
        read_case_text('title = "\ud800"', "case.toml")
