"""A case file with another girder: exactly the wanted tables, comments kept where they can be."""

from __future__ import annotations

import copy
import tomllib
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crushleg import template
from crushleg.case.source import parse
from crushleg.case.templates import KINDS
from crushleg.case.write import case_tables, dumped, length_text, moved_path, rewritten
from crushleg.units import parse as parse_quantity

if TYPE_CHECKING:
    from pathlib import Path

HOLES = {"law": "stepped", "first": "40 mm", "row_pitch": "50 mm", "sizes": ["20 mm", "10 mm"]}


def changed(text: str, **girder: Any) -> tuple[str, dict[str, Any]]:
    """Text and wanted tables of a case whose [girder] gets other keys; None takes one out."""
    source = parse(text.encode(), "case")
    wanted = copy.deepcopy(source.data)
    for key, value in girder.items():
        if value is None:
            wanted["girder"].pop(key, None)
        else:
            wanted["girder"][key] = value
    return rewritten(source, wanted, ["found"]), wanted


@pytest.mark.parametrize("kind", KINDS)
def test_comments_of_a_template_stay(kind: str) -> None:
    text = template(kind)
    new, wanted = changed(text, wall="2.5 mm", holes=HOLES)
    assert tomllib.loads(new) == wanted
    assert new.startswith("# found\n# ")
    kept = [line for line in text.splitlines() if line.startswith("#")]
    assert [line for line in kept if line not in new.splitlines()] == []
    assert new.count("# a datasheet, or the path of one beside this file") == 1


@pytest.mark.parametrize(
    "text",
    [
        '[girder]\nwall = "1 mm" # one\n[girder.holes]\nlaw = "none"\n',
        'girder = { wall = "1 mm", holes = { law = "none" } }\n',
        'girder.wall = "1 mm"\ngirder.holes.law = "none"\n',
        "[girder]\nwall = '1 mm'\nholes = { law = 'none' }\n# end",
        '[girder]\nwall = "1 mm"\n[girder.holes]\nsizes = [\n  "4 mm", # a\n  "3 mm",\n]\n',
        '[girder]\nwall="1 mm"\n[[girder.wall_steps]]\nfrom="1 mm"\nwall="2 mm"\n# n\n[a]\nb=1\n',
        '[a]\nb = 1\n[girder]\n"wall" = "1 mm"',
    ],
)
def test_whatever_the_layout_the_text_holds_what_is_wanted(text: str) -> None:
    new, wanted = changed(text, wall="2.5 mm", holes=HOLES, wall_steps=None, length="1 m")
    assert tomllib.loads(new) == wanted


def test_a_section_taken_out_leaves_the_comments_around_it() -> None:
    text = (
        '[girder]\nwall = "1 mm"\n# above\n[[girder.wall_steps]]\nfrom = "1 mm"\n\n# below\n[a]\n'
    )
    new, _ = changed(text, wall_steps=None)
    assert new == '# found\n[girder]\nwall = "1 mm"\n# above\n\n# below\n[a]\n'


def test_overrides_are_in_the_tables_and_the_source_stays() -> None:
    source = parse(template("coupon").encode(), "case")
    tables = case_tables(source, ["girder.wall=2 mm", "touchdown.0.vertical_speed=3 m/s"])
    assert tables["girder"]["wall"] == "2 mm"
    assert tables["touchdown"][0]["vertical_speed"] == "3 m/s"
    assert source.data["girder"]["wall"] == "1.5 mm"


keys = st.text('ab-_ .é"\\\n', min_size=1, max_size=4)
values = st.recursive(
    st.booleans() | st.integers(-9, 9) | st.floats(allow_nan=False) | st.text(max_size=6),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(keys, inner, max_size=3),
    max_leaves=8,
)


@given(st.dictionaries(keys, values, max_size=4))
def test_tables_written_anew_read_back(tables: dict[str, Any]) -> None:
    assert tomllib.loads(dumped(tables)) == tables


@given(st.integers(1, 1_000_000))
def test_a_length_reads_back_exactly(micrometres: int) -> None:
    value = micrometres / 1e6
    assert parse_quantity(length_text(value), "length") == value


@given(st.integers(1, 64 * 40))
def test_sixty_fourths_of_an_inch_read_back_exactly(count: int) -> None:
    value = parse_quantity(f"{count}/64 in", "length")
    assert parse_quantity(length_text(value), "length") == value


def test_a_path_is_turned_to_the_folder_of_the_new_file(tmp_path: Path) -> None:
    assert moved_path("a.toml", tmp_path, tmp_path / "b" / "c") == "../../a.toml"
    assert moved_path("b/a.toml", tmp_path, tmp_path / "b") == "a.toml"
