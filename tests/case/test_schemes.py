"""[[scheme]]: keys of a girder over those of [girder], errors at the scheme's own lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.case.conftest import CASE, DATASHEET

if TYPE_CHECKING:
    from pathlib import Path

    from tests.case.conftest import Complain, Read

FIRST = CASE.count("\n") + 1
"""Line of the header of the first scheme, when it is put behind the case."""


def scheme(*rows: str, name: str = "other") -> str:
    return "\n".join(["[[scheme]]", f'name = "{name}"', *rows, ""])


def test_a_scheme_replaces_what_it_gives_and_keeps_the_rest(read: Read) -> None:
    case = read(text=CASE + scheme('wall = "5 mm"'))
    other = case.schemes[0]
    assert (other.name, other.girder.wall) == ("other", 5e-3)
    assert other.girder.holes == case.girder.holes
    assert other.girder.width == case.girder.width
    assert case.girder.wall == 4e-3


def test_holes_are_replaced_as_a_whole(read: Read) -> None:
    even = '[scheme.holes]\nlaw = "even"\nrows = 2\nsize = "50 mm"\nfirst = "80 mm"'
    case = read(text=CASE + scheme(even, 'row_pitch = "130 mm"'))
    assert [row.size for row in case.schemes[0].girder.holes.rows] == [50e-3, 50e-3]


def test_a_scheme_may_have_no_holes(read: Read) -> None:
    case = read(text=CASE + scheme('holes = { law = "none" }'))
    assert case.schemes[0].girder.holes.rows == ()


def test_wall_steps_are_replaced_and_emptied_as_a_whole(read: Read) -> None:
    steps = CASE.replace(
        'wall = "4 mm"', 'wall = "4 mm"\nwall_steps = [{from="0.5 m", wall="5 mm"}]'
    )
    case = read(text=steps + scheme("wall_steps = []", name="a") + scheme(name="b"))
    assert [len(one.girder.wall_steps) for one in case.schemes] == [0, 1]


def test_what_follows_from_another_key_follows_the_scheme(read: Read) -> None:
    """Left out, corner radius is twice the wall and the tolerance 4.5 % of it."""
    case = read(text=CASE + scheme('wall = "5 mm"'))
    girder = case.schemes[0].girder
    assert girder.corner_radius == pytest.approx(10e-3)
    assert girder.wall_tolerance == pytest.approx(0.225e-3)
    assert any("0.225 mm" in text for text in case.schemes[0].assumed)


def test_a_scheme_of_another_length_is_held_at_its_own_unless_the_leg_says(read: Read) -> None:
    shorter = scheme('length = "800 mm"')
    assert read(text=CASE + shorter).schemes[0].free_length == 0.8
    case = read('leg.free_length="1.2 m"', text=CASE + shorter)
    assert case.schemes[0].free_length == 1.2


def test_a_datasheet_of_a_scheme_is_an_input_of_the_case(read: Read, folder: Path) -> None:
    (folder / "mine.toml").write_text(DATASHEET, encoding="utf-8")
    case = read(text=CASE + scheme('material = "mine.toml"'))
    assert str(folder / "mine.toml") in case.beside


def test_a_scheme_is_changed_by_its_name(read: Read) -> None:
    case = read("scheme.other.wall=6 mm", text=CASE + scheme('wall = "5 mm"'))
    assert case.schemes[0].girder.wall == 6e-3


@pytest.mark.parametrize(
    ("rows", "line", "said"),
    [
        (('wall = "5 kg"',), 2, 'scheme.0.wall: read "5 kg", a mass'),
        (('wall = "80 mm"',), 2, "scheme.0.wall: read a wall of 80 mm"),
        (('wal = "5 mm"',), 2, "scheme.0.wal: read the unknown key 'wal'"),
        (('length = "200 mm"',), 0, "scheme.0.holes.sizes.1: read row of 74 mm at 210 mm"),
        (('corner_radius = "1 mm"',), 2, "scheme.0.corner_radius: read 1 mm"),
        (('material = "none.toml"',), 2, "scheme.0.material: read"),
        (("[scheme.holes]", 'law = "evn"'), 3, 'scheme.0.holes.law: read "evn"'),
        (("holes = 3",), 2, "scheme.0.holes: read"),
        (('foot_size = "5 mm"',), 2, "it belongs in [scheme.holes]"),
    ],
)
def test_a_problem_of_a_scheme_is_placed_in_the_scheme(
    complain: Complain, rows: tuple[str, ...], line: int, said: str
) -> None:
    found = complain(text=CASE + scheme(*rows))
    assert any(f"case.toml:{FIRST + line}: " in text and said in text for text in found), found


def test_an_overlap_in_a_scheme_names_its_rows(complain: Complain) -> None:
    near = '[scheme.holes]\nlaw = "stepped"\nfirst = "80 mm"\nrow_pitch = "60 mm"'
    (found,) = complain(text=CASE + scheme(near, 'sizes = ["80 mm", "70 mm"]'))
    assert found.startswith(f"case.toml:{FIRST + 6}: scheme.0.holes.sizes.1: ")
    assert "overlaps" in found


def test_an_override_of_a_scheme_is_named_as_it_was_typed(complain: Complain) -> None:
    found = complain("scheme.other.wall=5 kg", text=CASE + scheme())
    assert found[0].startswith("--set scheme.other.wall: ")


def test_a_problem_of_the_girder_is_told_once(complain: Complain) -> None:
    found = complain("girder.width=1 kg", text=CASE + scheme('wall = "5 mm"') * 1)
    assert len([text for text in found if "a mass" in text]) == 1


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (scheme() + scheme(), 'scheme.1.name: read "other" twice'),
        (scheme(name="girder"), "which stands for the girder of the case itself"),
        ('[[scheme]]\nwall = "5 mm"\n', "scheme.0.name: read nothing"),
        ('[scheme]\nname = "a"\n', "[[scheme]], with double brackets"),
    ],
)
def test_names_are_given_and_differ(complain: Complain, text: str, said: str) -> None:
    assert any(said in found for found in complain(text=CASE + text))


def test_a_measured_wall_does_not_silently_replace_that_of_a_scheme(complain: Complain) -> None:
    text = CASE + scheme('wall = "5 mm"')
    (found,) = complain('girder.measured={wall="3.9 mm"}', text=text)
    assert "scheme.0.wall" in found
    assert "measured = {}" in found


def test_a_scheme_longer_than_the_leg_holds_is_refused(complain: Complain) -> None:
    text = CASE + scheme('length = "1300 mm"')
    (found,) = complain('leg.free_length="1.2 m"', text=text)
    assert "scheme.0.length: read 1.3 m, longer than leg.free_length" in found
