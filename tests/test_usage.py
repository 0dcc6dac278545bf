"""Help by user, and what is said where a command is wrong."""

from __future__ import annotations

import argparse
import contextlib
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from crushleg import cli
from crushleg.case.templates import template

ROOT = Path(__file__).parents[1]
WIDTH = 80


def verbs() -> dict[str, argparse.ArgumentParser]:
    """Parser of every verb."""
    (choices,) = (
        action.choices
        for action in cli.parser()._actions
        if isinstance(action, argparse._SubParsersAction)
    )
    return dict(choices)


def told(words: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """Error of a command line that argparse refuses."""
    with pytest.raises(SystemExit) as left:
        cli.main(words)
    assert left.value.code == cli.INPUT
    return capsys.readouterr().err


def test_the_help_lists_every_verb_once_under_a_user_within_80_columns() -> None:
    text = cli.parser().format_help()
    assert sorted(re.findall(r"^  ([a-z]+)  ", text, re.M)) == sorted(cli.VERBS)
    assert max(map(len, text.splitlines())) <= WIDTH
    assert text.index("structures engineer:") < text.index("  check") < text.index("test team:")


@pytest.mark.parametrize("verb", sorted(cli.VERBS))
def test_every_verb_has_one_example_that_can_be_typed(verb: str) -> None:
    """Files are those of the examples, or a template under the name that the README gives it."""
    epilog = verbs()[verb].epilog or ""
    assert epilog.startswith("example: crushleg ")
    assert epilog.count("crushleg ") == 1
    (first, *words) = shlex.split(epilog.partition("crushleg ")[2])
    assert first == verb
    arguments, left_over = cli.parser().parse_known_args([first, *words])
    assert left_over == []
    for name in (arguments.__dict__.get(key) for key in ("case", "readings")):
        for path in [name] if isinstance(name, str) else name or []:
            assert path in ("stage.toml", "coupon.toml") or (ROOT / path).is_file()


QUICK = ["check", "compare", "predict", "correlate", "inspect", "materials", "begin", "explain"]


@pytest.mark.parametrize("verb", QUICK)
def test_the_example_of_a_verb_runs(
    verb: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "stage.toml").write_text(template("test-stage"), encoding="utf-8")
    (tmp_path / "coupon.toml").write_text(template("coupon"), encoding="utf-8")
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    words = shlex.split((verbs()[verb].epilog or "").partition("crushleg ")[2])
    files = ["--no-plots", "--out", "out"]
    with contextlib.chdir(tmp_path):
        code = cli.main([*words, *([] if verb in ("materials", "begin", "explain") else files)])
    assert code in (cli.PASSED, cli.NEGATIVE)
    said = capsys.readouterr()
    assert said.out or said.err


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("chek stage.toml", "read 'chek', which is no verb; did you mean check?"),
        ("Check stage.toml", "did you mean check?"),
        ("help", "did you mean --help?"),
        ("stage.toml", "did you mean: crushleg check stage.toml"),
        ("weigh", "which is no verb; write one of check, land, "),
        ("--units us check stage.toml", "write the verb first"),
        ("check stage.toml --jsn o.json", "read the unknown option --jsn; did you mean --json?"),
        ("land stage.toml --maps", "did you mean --map?"),
        ("check stage.toml --frobnicate=3", "--frobnicate; write one of --help, --set, "),
        ("check stage.toml other.toml", "read 'other.toml', one word more than it takes"),
        ("check", "to begin one: crushleg begin test-stage > stage.toml"),
        ("correlate", "read no CASE: case file (TOML); no RECORD: "),
        ("begin", "read no KIND: test-stage, lunar-lander or coupon"),
        ("check stage.toml --set", "argument --set: expected one argument"),
        ("check stage.toml --units cgs", "choose from"),
    ],
)
def test_what_is_wrong_with_a_command_is_said_with_the_nearest_that_is_right(
    line: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    text = told(line.split(), capsys)
    assert said in text
    assert "example: crushleg " in text


def test_without_a_word_the_help_is_shown_and_nothing_is_done(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert told([], capsys) == cli.parser().format_help()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["check", "."], ".: read a folder; write the path of a TOML file"),
        (
            ["correlate", "a.csv", "b.toml"],
            'CASE: read "a.csv"; write the case first: b.toml a.csv',
        ),
        (["inspect", "a.csv", "b.toml"], 'CASE: read "a.csv"; write the case first: b.toml a.csv'),
        (["predict", "coupon.toml", "--pdf", "-"], '--pdf: read "-"; write the name of a file'),
        (
            ["materials", "6061"],
            "or one of: aluminium-6061-o, aluminium-6061-t4, aluminium-6061-t6",
        ),
        (["check", "coupon.toml", "--set", "=4"], "--set: read no key"),
        (["check", "coupon.toml", "--set", "girder.wall"], "girder.wall: read a key without a val"),
    ],
)
def test_bad_input_is_told_and_nothing_is_written(
    words: list[str], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "coupon.toml").write_text(template("coupon"), encoding="utf-8")
    before = sorted(tmp_path.iterdir())
    with contextlib.chdir(tmp_path):
        assert cli.main(words) == cli.INPUT
    assert said in capsys.readouterr().err
    assert sorted(tmp_path.iterdir()) == before


def test_python_dash_m_is_the_same_program(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "crushleg", "chek"],
        cwd=tmp_path, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == cli.INPUT
    assert done.stderr.startswith("crushleg: read 'chek', which is no verb; did you mean check?")
