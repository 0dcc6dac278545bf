"""``--set key=value``: places, values, and faults named as they were typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from crushleg.case.overrides import toml_value

if TYPE_CHECKING:
    from tests.case.conftest import Complain, Read


def test_a_field_is_set_in_tables_that_are_there_or_not(read: Read) -> None:
    case = read("girder.wall=5 mm", "factors.ultimate=1.5", "girder.measured.wall = 4.9 mm")
    assert (case.girder.wall, case.factors.ultimate) == (0.005, 1.5)
    assert case.girder.measured is not None
    assert case.girder.measured.wall == 0.0049


def test_a_touchdown_is_named_by_number_or_name(read: Read) -> None:
    speeds = [
        read(f"touchdown.{name}.vertical_speed=4 m/s").touchdowns[1].vertical_speed
        for name in ("1", "reserve")
    ]
    assert speeds == [4.0, 4.0]


def test_an_element_of_a_list_is_named_by_number(read: Read) -> None:
    assert read("girder.holes.sizes.0=70 mm").girder.holes.rows[0].size == 0.07


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("true", True),
        ("3", 3),
        ("5 mm", "5 mm"),
        ('"5 mm"', "5 mm"),
        ("[1.2, 1.3]", [1.2, 1.3]),
        ("3\nb = 4", "3\nb = 4"),
        ("guide", "guide"),
    ],
)
def test_a_value_is_toml_if_it_parses_as_one_else_text(text: str, value: object) -> None:
    assert toml_value(text) == value


@pytest.mark.parametrize(
    ("override", "message"),
    [
        ("girder.wall=5", "--set girder.wall: read 5, a number without a unit; write a length"),
        ("girder.wal=5 mm", "--set girder.wal: read the unknown key 'wal'; write one of:"),
        ("girder.measured.wal=5 mm", "--set girder.measured.wal: read the unknown key 'wal'"),
        ("gurder.wall=5 mm", "--set gurder.wall: gurder: read the unknown key"),
        ("girder.wall.x=5 mm", "--set girder.wall.x: read a key below girder.wall, which is no t"),
        ("girder.wall", '--set girder.wall: read a key without a value; write "girder.wall=5 mm"'),
        ("girder.wall=", "--set girder.wall: read a key without a value"),
        ("=5 mm", "--set: read no key"),
        ("girder..wall=5 mm", "--set girder..wall: read a key with nothing between its points"),
        (
            "touchdown.gusty.slope=3 deg",
            (
                "--set touchdown.gusty.slope: read 'gusty', which is not in the list touchdown; "
                'write a number from 0 to 1, or a name: "nominal", "reserve"'
            ),
        ),
        ("touchdown.2.slope=3 deg", "read '2', which is not in the list touchdown"),
        ("touchdown.-1.slope=3 deg", "read '-1', which is not in the list touchdown"),
        ("girder.holes.sizes.9=3 mm", "write a number from 0 to 2, or a name: none has a name"),
        (
            "touchdown.reserve.slope=3",
            "--set touchdown.reserve.slope: read 3, a number without a unit",
        ),
    ],
)
def test_a_fault_of_an_override_is_named_as_typed(
    complain: Complain, override: str, message: str
) -> None:
    problems = complain(override)
    assert any(message in problem for problem in problems), problems


def test_faults_of_file_and_overrides_come_together(complain: Complain, case_text: str) -> None:
    text = case_text.replace("legs = 6", "legs = 6.5")
    assert len(complain("girder.wall=5", "x", "leg.cant=1", text=text)) == 4
