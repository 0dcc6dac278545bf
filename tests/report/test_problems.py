"""Bad input is told with its line and a caret under the fault."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from crushleg.cli import main
from crushleg.errors import InputError, Problem
from crushleg.report.problems import told

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("line", "field", "read", "under"),
    [
        ('wall = 4 # "4 mm"', "girder.wall", "4, a number without a unit", "4"),
        ('wall = "4 kg"', "girder.wall", '"4 kg", a mass', '"4 kg"'),
        ("wal = 1", "girder.wal", "the unknown key 'wal'", "wal"),
        ("  a = { wall = 4 }", "girder.wall", "4, a number", "4 }"),
        ("12.0,abc,3", "column 2", '"abc", no number', "abc"),
        ("# nothing to point at", "", "something else", "# nothing to point at"),
        ("[girder.holes]  # a grading law", "girder.wall", "nothing (wall)", "[girder.holes]"),
        ("[[touchdown]]", "touchdown.name", "nothing", "[[touchdown]]"),
        ("[1, 2], [3]", "", "something else", "[1, 2], [3]"),
        ('  Länge 長さ = "4 kg"', "girder.wall", '"4 kg", a mass', '"4 kg"'),
    ],
)
def test_the_caret_stands_under_the_fault(
    tmp_path: Path, line: str, field: str, read: str, under: str
) -> None:
    file = tmp_path / "case.toml"
    file.write_text(f"first\n{line}\n", encoding="utf-8")
    problem = Problem(file=str(file), line=2, field=field, read=read)
    said, shown, carets = told(InputError([problem])).split("\n")
    assert said == str(problem)
    assert shown == f"     2 | {line}"
    start = shown.index(under, 9)
    wide = sum(1 for c in shown[:start] if c in "長さ")
    assert carets.index("^") == start + wide
    assert carets.count("^") == len(under)


def test_a_long_line_is_cut_about_its_fault(tmp_path: Path) -> None:
    file = tmp_path / "case.toml"
    file.write_text("x" * 300 + ' = "4 kg"' + " " * 200 + "# so", encoding="utf-8")
    found = told(InputError([Problem(file=str(file), line=1, field="x", read='"4 kg", a mass')]))
    _, shown, carets = found.split("\n")
    assert len(shown) <= 9 + 76
    assert shown[carets.index("^") :].startswith('"4 kg"')


@pytest.mark.parametrize("file", ["", "gone.toml", "."])
def test_what_cannot_be_read_again_has_no_line(file: str) -> None:
    problem = Problem(file=file, line=1, read="something")
    assert told(InputError([problem])) == str(problem)


def test_the_command_line_shows_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "case.toml"
    file.write_text('[girder]\nwall = "4 kg"\n', encoding="utf-8")
    assert main(["check", str(file)]) == 2
    lines = capsys.readouterr().err.splitlines()
    at = lines.index('     2 | wall = "4 kg"')
    assert lines[at + 1] == "       |        ^^^^^^"
