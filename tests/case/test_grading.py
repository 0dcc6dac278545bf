"""Grading laws, as formulas and as a case reads them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crushleg.case import grading

if TYPE_CHECKING:
    from tests.case.conftest import Complain, Read

HEAD = 'law = "stepped"\nfirst = "80 mm"\nrow_pitch = "130 mm"\nsizes = ["82 mm", "74 mm", "64 mm"]'
"""The hole pattern of the small case, replaced in these tests."""

PLACED = 'first = "80 mm"\nrow_pitch = "130 mm"\n'


@given(st.floats(0.01, 0.1), st.floats(0.01, 0.1), st.integers(2, 20), st.floats(0.1, 5.0))
def test_a_power_law_runs_from_foot_to_top_without_turning(
    foot: float, top: float, rows: int, exponent: float
) -> None:
    sizes = grading.power_sizes(rows, foot, top, exponent)
    assert sizes[0] == foot
    assert sizes[-1] == pytest.approx(top)
    assert list(sizes) == sorted(sizes, reverse=foot > top)


def test_one_row_has_the_size_at_the_foot() -> None:
    assert grading.power_sizes(1, 0.08, 0.02, 2.0) == (0.08,)


@pytest.mark.parametrize(
    ("pattern", "law", "sizes"),
    [
        ('law = "none"', "none", []),
        (f'{PLACED}law = "none"\nsizes = ["50 mm"]\nshape = "slot"', "none", []),
        (f'{PLACED}law = "even"\nrows = 3\nsize = "50 mm"', "even", [0.05, 0.05, 0.05]),
        (
            f'{PLACED}law = "linear"\nrows = 3\nfoot_size = "80 mm"\ntop_size = "20 mm"',
            "linear",
            [0.08, 0.05, 0.02],
        ),
        (
            (
                f'{PLACED}law = "power"\nexponent = 2\nrows = 3\nfoot_size = "80 mm"\n'
                'top_size = "20 mm"'
            ),
            "power",
            [0.08, 0.065, 0.02],
        ),
        ('first = "80 mm"\nlaw = "even"\nrows = 1\nsize = "50 mm"', "even", [0.05]),
        ('first = "80 mm"\nlaw = "stepped"\nsizes = ["50 mm"]', "stepped", [0.05]),
    ],
)
def test_a_law_is_expanded_foot_first(
    read: Read, case_text: str, pattern: str, law: str, sizes: list[float]
) -> None:
    holes = read(text=case_text.replace(HEAD, pattern)).girder.holes
    assert holes.law == law
    assert [row.size for row in holes.rows] == pytest.approx(sizes)
    heights = [0.08 + 0.13 * i for i in range(len(sizes))]
    assert [row.height for row in holes.rows] == pytest.approx(heights)


def test_no_holes_table_is_a_plain_girder(read: Read, case_text: str) -> None:
    holes = read(text=case_text.replace(HEAD, "").replace("[girder.holes]", "")).girder.holes
    assert (holes.law, holes.rows) == ("none", ())


def test_listed_rows_are_sorted_by_height_and_need_no_law(read: Read, case_text: str) -> None:
    rows = """
[[girder.holes.row]]
height = "300 mm"
size = "30 mm"
offset = "5 mm"
faces = "front-back"
[[girder.holes.row]]
height = "80 mm"
size = "30 mm"
size_along = "60 mm"
shape = "slot"
per_face = 2
spacing = "50 mm"
"""
    for law in ("", 'law = "listed"\n'):
        holes = read(text=case_text.replace(HEAD, law + rows)).girder.holes
        assert holes.law == "listed"
        assert [row.height for row in holes.rows] == [0.08, 0.3]
        assert (holes.rows[0].along, holes.rows[0].per_face) == (0.06, 2)
        assert (holes.rows[1].offset, holes.rows[1].faces) == (0.005, "front-back")


def test_every_second_row_is_shifted_the_second_first(read: Read) -> None:
    rows = read("girder.holes.stagger=10 mm", "girder.holes.sizes=['60 mm','50 mm','40 mm']")
    assert [row.offset for row in rows.girder.holes.rows] == [0.0, 0.01, 0.0]


def test_size_along_is_one_length_or_one_per_row(read: Read) -> None:
    one = read("girder.holes.shape=slot", "girder.holes.size_along=90 mm").girder.holes.rows
    assert [row.along for row in one] == [0.09] * 3
    each = 'girder.holes.size_along=["90 mm", "80 mm", "70 mm"]'
    many = read("girder.holes.shape=rectangle", each).girder.holes.rows
    assert [row.along for row in many] == [0.09, 0.08, 0.07]


@pytest.mark.parametrize(
    ("pattern", "messages"),
    [
        (PLACED, ["case.toml:20: girder.holes.law: read nothing (the grading law); write law = "]),
        ('law = "lineer"', ['read "lineer"; write law = one of ', 'did you mean "linear"?']),
        ("law = 3", ['case.toml:21: girder.holes.law: read 3; write law = one of "none", "even"']),
        ("law = ['even']", ["girder.holes.law: read a list; write law = one of"]),
        ('law = "none"\nfrist = "80 mm"', ["read the unknown key 'frist'", 'mean "first"?']),
        (
            'law = "listed"\nshape = "slot"',
            ["read the unknown key 'shape'; write one of: law, row; it belongs in [[girder.holes."],
        ),
        ('law = "listed"', ["read 0 rows; write [[girder.holes.row]], 1 to 500 times"]),
        (
            f'{PLACED}law = "linear"\nrows = 3\nfoot_size = "80 mm"',
            ['girder.holes.top_size: read nothing (hole size across the face); write top_size = "'],
        ),
        (
            f'{PLACED}law = "even"\nrows = 3\nsize = "50 mm"\nsizes = ["4 mm"]',
            ["case.toml:26: girder.holes.sizes: read the unknown key 'sizes'"],
        ),
        (
            f'{PLACED}law = "even"\nrows = 1000000000\nsize = "50 mm"',
            ["girder.holes.rows: read 1000000000; write at least 1 and at most 500"],
        ),
        (
            'first = "80 mm"\nlaw = "even"\nrows = 2\nsize = "50 mm"',
            ["girder.holes.row_pitch: read nothing (between row centres); write row_pitch = "],
        ),
        (
            f'{PLACED}law = "stepped"\nsizes = "82 mm"',
            ['girder.holes.sizes: read "82 mm"; write sizes = ["82 mm", "74 mm"], one per row'],
        ),
        (
            f'{PLACED}law = "stepped"',
            ["girder.holes.sizes: read nothing (hole sizes, foot first); write sizes = ["],
        ),
        (
            f'{PLACED}law = "stepped"\nsizes = ["82 mm", 74, "0 mm"]',
            [
                "case.toml:24: girder.holes.sizes.1: read 74, a number without a unit",
                "case.toml:24: girder.holes.sizes.2: read 0 mm; write at least 0.001 mm and",
            ],
        ),
        (
            f'{PLACED}law = "stepped"\nshape = "slot"\nsizes = ["4 mm"]\nsize_along = ["9 mm", ""]',
            ["girder.holes.size_along: read 2 sizes for 1 rows; write one length for all rows"],
        ),
        (
            f'{PLACED}law = "stepped"\nshape = "slot"\nsizes = ["40 mm"]\nsize_along = 9',
            ["girder.holes.size_along: read 9, a number without a unit"],
        ),
        (
            '[[girder.holes.row]]\nheight = "80 mm"\nsize = 30\nper_fase = 1',
            [
                "case.toml:23: girder.holes.row.0.size: read 30, a number without a unit",
                "case.toml:24: girder.holes.row.0.per_fase: read the unknown key 'per_fase'",
            ],
        ),
        ("row = 3", ["girder.holes.row: read girder.holes.row, no list of tables; write [["]),
    ],
)
def test_a_pattern_that_cannot_be_read_is_refused(
    complain: Complain, case_text: str, pattern: str, messages: list[str]
) -> None:
    problems = complain(text=case_text.replace(HEAD, pattern))
    for message in messages:
        assert any(message in problem for problem in problems), problems
