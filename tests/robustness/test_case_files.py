"""Damaged case files end in a case, or in a complaint that names file, line and field."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crushleg.case.reader import read_case, read_case_text
from crushleg.case.records import Case
from crushleg.case.shelf import datasheet_path
from crushleg.check import check_case
from crushleg.errors import InputError
from tests.robustness.mutations import (
    EXAMPLES,
    NUMBERS,
    OTHERS,
    TEXTS,
    answered,
    bounded,
    damaged,
    encoded,
)

CASES = sorted(path.name for path in EXAMPLES.glob("*.toml") if path.name != "coupon-drop.toml")
WHOLE = {name: (EXAMPLES / name).read_text(encoding="utf-8") for name in CASES}
KEYS = (
    *(
        "title",
        "vehicle.mass",
        "vehicle.legs",
        "leg.cant",
        "leg.side_load",
        "girder.wall",
        "limits",
    ),
    *("girder.material", "girder.correlation", "girder.crest_ratio", "girder.crest_ratio.0"),
    *("girder.holes.law", "girder.holes.sizes", "girder.holes.sizes.1", "girder.holes.row.0.size"),
    *("girder.holes", "girder", "touchdown", "touchdown.0.slope", "touchdown.nominal.reserve"),
    *("touchdown.9.slope", "girder.wall.x", "scatter.samples", "scatter.input.0.low", "stock", ""),
    *("girder.seam", "girder.measured.wall", "ground.source", "scheme.0.name", "a" * 99, "."),
    *(
        "girder.wall_steps",
        "rig.mass",
        "standing",
        "scatter",
        "scatter.input.0",
        "touchdown.nominal",
    ),
)
SHEET = datasheet_path("stainless-304l-annealed", Path()).read_text(encoding="utf-8")
TESTS = 'force_factor = 0.96\nscatter = 0.06\ntests = 3\nsource = "drops"\n'


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Copy of the examples, to put a damaged case into."""
    copy = tmp_path_factory.mktemp("cases") / "examples"
    shutil.copytree(EXAMPLES, copy, ignore=shutil.ignore_patterns("figures", "*.py"))
    return copy


@bounded(250)
@given(st.sampled_from(CASES).flatmap(lambda name: encoded(damaged(WHOLE[name]))))
def test_a_damaged_case_is_read_or_told(folder: Path, raw: bytes) -> None:
    path = folder / "damaged.toml"
    path.write_bytes(raw)
    found = answered(lambda: read_case(path), str(path), "materials", ".toml")
    if isinstance(found, InputError):
        lines = raw.count(b"\n") + raw.count(b"\r") + 1
        assert all(problem.line is None or 1 <= problem.line <= lines for problem in found.problems)
    else:
        assert isinstance(found, Case)


@bounded(150)
@given(
    st.sampled_from(CASES),
    st.lists(
        st.tuples(
            st.sampled_from(KEYS) | st.text(max_size=12),
            st.sampled_from((*NUMBERS, *TEXTS, *OTHERS)) | st.text(max_size=12),
        ),
        min_size=1,
        max_size=3,
    ),
)
def test_an_override_is_taken_or_told(name: str, pairs: list[tuple[str, str]]) -> None:
    overrides = [f"{key}={value}" for key, value in pairs]
    answered(lambda: read_case(EXAMPLES / name, overrides))


@bounded(40)
@given(encoded(damaged(SHEET)), encoded(damaged(TESTS)))
def test_a_damaged_datasheet_or_correlation_file_is_read_or_told(
    folder: Path, sheet: bytes, tests: bytes
) -> None:
    for name, raw in (("sheet.toml", sheet), ("tests.toml", tests)):
        (folder / name).write_bytes(raw)
    named = ["girder.material=sheet.toml", "girder.correlation=tests.toml"]
    names = ("sheet.toml", "tests.toml", "--set girder.")
    answered(lambda: read_case(folder / "dunlin.toml", named), *names)


@bounded(25)
@given(
    st.sampled_from([name for name in CASES if "scatter" not in name and "schemes" not in name]),
    st.data(),
)
def test_a_damaged_case_that_is_read_is_also_checked(folder: Path, name: str, data: Any) -> None:
    """Bounds are wide: whatever passes them must come to margins, not to a fault."""
    path = folder / "damaged.toml"
    path.write_bytes(data.draw(encoded(damaged(WHOLE[name], most=2))))
    found = answered(lambda: read_case(path))
    if isinstance(found, Case):
        assert check_case(found).margins


@pytest.mark.parametrize("depth", [*range(60, 340, 7), 400, 900])
@pytest.mark.parametrize("pair", ["[]", "{a=,}"], ids=["lists", "tables"])
def test_a_nest_of_any_depth_is_told(depth: int, pair: str) -> None:
    """As deep as the parser of TOML goes, and just below."""
    begin, end = pair.split(",") if "," in pair else (pair[0], pair[1])
    text = (
        f"{WHOLE['dunlin.toml']}\nx = {begin * depth}{'1' if begin != '[' else ''}{end * depth}\n"
    )
    assert isinstance(answered(lambda: read_case_text(text), "case"), InputError)


@pytest.mark.parametrize("form", ["{} = 1", "[{}]", "[[{}]]", "x = {{ {} = 1 }}"])
@pytest.mark.parametrize("parts", [51, 900, 20_000])
@pytest.mark.parametrize("part", ["a", '"a"', "'a b'"])
def test_a_key_of_very_many_parts_is_told(form: str, parts: int, part: str) -> None:
    text = f"{WHOLE['dunlin.toml']}\n{form.format(' . '.join([part] * parts))}\n"
    assert isinstance(answered(lambda: read_case_text(text), "case:"), InputError)
    override = f"{'.'.join('a' * parts)}=1"
    assert isinstance(answered(lambda: read_case_text(text, overrides=[override])), InputError)


@pytest.mark.parametrize(
    "filling", [" ", "1 ", ".", "a.", '"', "'", "=", "= ", "[", "#", "\\", "-"]
)
@pytest.mark.parametrize(
    "line", ["x = 1 {} m'", "{} = 1", "x = {}", "[{}]", 'x = "{}"', "x = [{}]"]
)
def test_a_line_of_a_hundred_thousand_equal_characters_is_answered_in_time(
    line: str, filling: str
) -> None:
    text = line.format(filling * (100_000 // len(filling)))
    answered(lambda: read_case_text(f"{WHOLE['godwit.toml']}\n{text}\n"))
    answered(lambda: read_case_text(WHOLE["godwit.toml"], overrides=[f"girder.wall={text}"]))
