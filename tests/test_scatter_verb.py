"""Verb scatter: exit codes, files, what is refused, and going on after Ctrl-C."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pandas as pd
import pytest

import crushleg.scatter.chain
from crushleg import cli
from crushleg.case.reader import read_case
from crushleg.check import check_case
from tests.report import scatter_studies

if TYPE_CHECKING:
    from crushleg.case.records import Case
    from crushleg.scatter.records import Draws, Judged

HEAVY = ("numpy", "scipy", "pandas", "matplotlib")
FIRST = 256


@pytest.fixture
def case(tmp_path: Path) -> Path:
    path = tmp_path / "stage.toml"
    path.write_bytes(scatter_studies.DUNLIN.read_bytes())
    return path


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Judge landings by plain sums."""
    monkeypatch.setattr(crushleg.scatter.chain, "evaluate", scatter_studies.judged)


def scatter(case: Path, *words: str) -> int:
    return cli.main(["scatter", str(case), *words])


def result(path: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return found


def test_a_study_of_real_landings_writes_a_case_that_check_reproduces(
    case: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "r.json"
    whole = ('scatter.input.1={key="model"}', "scatter.samples=24")
    changes = [word for change in whole for word in ("--set", change)]
    code = scatter(case, *changes, "--no-plots", "--json", str(out))
    found = result(out)
    assert code == (cli.PASSED if found["passes"] else cli.NEGATIVE)
    worst = found["worst"]
    assert isinstance(worst, dict)
    written = tmp_path / "stage" / "stage-worst.toml"
    assert worst["case_file"] == str(written)
    checked = check_case(read_case(written))
    governs = checked.margins[checked.governs]
    assert (governs.check, governs.touchdown) == (worst["check"], worst["touchdown"])
    assert governs.margin == pytest.approx(worst["margin"], abs=1e-9)
    assert worst["margin_of_case_file"] == pytest.approx(worst["margin"], abs=1e-9)
    assert "landings  24 of 24" in capsys.readouterr().out


@pytest.mark.usefixtures("quick")
def test_a_negative_margin_in_one_landing_is_exit_3_and_none_is_0(case: Path) -> None:
    assert scatter(case, "--samples", "512", "--no-plots", "--quiet") == cli.NEGATIVE
    slow = "scatter.input.6.values=['2.6 m/s', '3 m/s', '3.1 m/s', '3.2 m/s', '3.3 m/s']"
    assert scatter(case, "--samples", "512", "--no-plots", "--set", slow) == cli.PASSED


@pytest.mark.usefixtures("quick")
def test_figures_tables_and_the_worst_case_lie_in_one_folder(case: Path) -> None:
    scatter(case, "--samples", "32", "--csv", "--quiet", "--indices")
    names = {path.name for path in case.with_suffix("").iterdir()}
    figures = ("histogram", "curves", "convergence", "speed", "tornado")
    assert names == {
        *(f"scatter-{name}.{kind}" for name in figures for kind in ("svg", "png")),
        *(f"scatter-{name}.csv" for name in ("samples", "margins", "limits")),
        *(f"stage-worst{end}.toml" for end in ("", "-material", "-factor")),
        "READ-FIRST.txt",
    }


@pytest.mark.usefixtures("quick")
def test_options_stand_for_the_keys_of_the_table(case: Path, tmp_path: Path) -> None:
    out = tmp_path / "r.json"
    words = ("--samples", "20", "--seed", "9", "--method", "latin hypercube", "--no-plots")
    scatter(case, *words, "--json", str(out))
    found = result(out)
    assert (found["landings"], found["seed"], found["method"]) == (20, 9, "latin hypercube")


class Interrupted:
    """Judge, and at the landing wanted behave as if Ctrl-C was pressed."""

    at = -1

    @classmethod
    def judged(cls, case: Case, draws: Draws) -> Judged:
        if draws.start <= cls.at < draws.start + draws.landings:
            raise KeyboardInterrupt
        return scatter_studies.judged(case, draws)


@pytest.fixture
def stops(monkeypatch: pytest.MonkeyPatch) -> type[Interrupted]:
    monkeypatch.setattr(Interrupted, "at", FIRST + 10)
    monkeypatch.setattr(crushleg.scatter.chain, "evaluate", Interrupted.judged)
    return Interrupted


def test_ctrl_c_keeps_what_is_done_and_the_same_command_goes_on(
    case: Path,
    tmp_path: Path,
    stops: type[Interrupted],
    capsys: pytest.CaptureFixture[str],
) -> None:
    words = ("--samples", "600", "--no-plots", "--json")
    assert scatter(case, *words, str(tmp_path / "a.json")) == cli.INTERRUPTED
    kept = case.with_suffix("") / "stage-scatter.partial"
    printed = capsys.readouterr()
    assert f"INTERRUPTED: {FIRST} of 600 landings" in printed.out
    assert f"interrupted: {FIRST} of 600 landings are kept in {kept}\n" in printed.err
    assert "the same command goes on from there" in printed.err
    assert kept.exists()
    stops.at = -1
    assert scatter(case, *words, str(tmp_path / "b.json")) == cli.NEGATIVE
    assert f"{FIRST} landings of an earlier run taken" in capsys.readouterr().err
    assert not kept.exists()
    scatter(case, *words, str(tmp_path / "c.json"))
    resumed, whole = (result(tmp_path / name) for name in ("b.json", "c.json"))
    assert resumed["digest"] == whole["digest"]
    assert result(tmp_path / "a.json")["interrupted"]


def test_ctrl_c_before_the_first_landings_says_that_nothing_is_kept(
    case: Path, stops: type[Interrupted], capsys: pytest.CaptureFixture[str]
) -> None:
    stops.at = 0
    assert scatter(case, "--samples", "64", "--no-plots") == cli.INTERRUPTED
    printed = capsys.readouterr()
    assert printed.err == (
        "interrupted before the first landings were judged: there is nothing to keep\n"
    )
    assert printed.out == ""
    assert not list(case.with_suffix("").iterdir())


def test_names_of_touchdowns_hold_commas_dots_and_digits(case: Path, tmp_path: Path) -> None:
    text = case.read_text(encoding="utf-8")
    text = text.replace("touchdown.nominal", "touchdown.0")
    text = text.replace('"nominal"', '"hot, heavy 1.5"').replace('"reserve"', '"7"')
    case.write_text(text, encoding="utf-8")
    out = tmp_path / "r.json"
    few = ("--samples", "16", "--no-plots", "--quiet", "--csv", "--json", str(out))
    assert scatter(case, *few) in (cli.PASSED, cli.NEGATIVE)
    found = result(out)
    assert found["worst"]["margin_of_case_file"] == pytest.approx(found["worst"]["margin"])
    speeds = [one for one in found["tornado"] if one["input"].endswith("vertical_speed")]
    assert [one["input"] for one in speeds] == ["touchdown.hot, heavy 1.5.vertical_speed"]
    assert speeds[0]["at_5_percent_m_s"] == pytest.approx(2.725)
    heads = pd.read_csv(case.with_suffix("") / "scatter-samples.csv").columns
    assert "touchdown.hot, heavy 1.5.vertical_speed_m_s" in heads
    assert "leg_load.hot, heavy 1.5_N" in heads
    assert "leg_load.7_N" in heads


def test_ctrl_c_among_the_landings_for_the_indices_keeps_those_too(
    case: Path, stops: type[Interrupted], capsys: pytest.CaptureFixture[str]
) -> None:
    words = ("--samples", "64", "--no-plots", "--indices")
    stops.at = 3 * FIRST
    assert scatter(case, *words) == cli.INTERRUPTED
    folder = case.with_suffix("")
    kept = {path.name for path in folder.glob("*.partial*")}
    assert kept == {"stage-scatter.partial", "stage-scatter.partial-indices"}
    assert "Shares of the variance" not in capsys.readouterr().out
    stops.at = -1
    assert scatter(case, *words) in (cli.PASSED, cli.NEGATIVE)
    printed = capsys.readouterr()
    assert f"{3 * FIRST} landings of an earlier run taken" in printed.err
    assert "Shares of the variance (Sobol indices), from 5120 landings" in printed.out
    assert not list(folder.glob("*.partial*"))


def test_a_case_of_which_nothing_scatters_is_judged_all_the_same(
    case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = case.read_text(encoding="utf-8")
    case.write_text(text[: text.index("[scatter]")] + text[text.index("[limits]") :])
    words = ("--set", "scatter.defaults=false", "--samples", "16", "--no-plots", "--indices")
    assert scatter(case, *words) in (cli.PASSED, cli.NEGATIVE)
    assert "Nothing scatters: every landing is the case itself." in capsys.readouterr().out


@pytest.mark.usefixtures("quick")
def test_a_partial_file_that_was_named_is_kept(
    case: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    mine = tmp_path / "mine.partial"
    words = ("--samples", "32", "--no-plots", "--quiet", "--partial", str(mine))
    scatter(case, *words)
    assert mine.exists()
    scatter(case, *words)
    assert "32 landings of an earlier run taken" in capsys.readouterr().err
    scatter(case, *words, "--seed", "5")
    assert "another" in capsys.readouterr().err
    assert mine.with_name("mine.partial.old").exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--workers", "0"), '--workers: read "0"; write a whole number from 1 to 1024'),
        (("--workers", "2", "--dask", "tcp://here:1"), "both --workers and --dask"),
        (("--samples", "many"), "scatter.samples"),
        (("--samples", "4"), "scatter.samples: read 4; write at least 16"),
        (("--method", "halton"), '"sobol" or "latin hypercube" or "random"'),
        (("--partial", "nowhere/a"), "a folder that is missing"),
        (("--partial", "stage.toml"), "the name of an input, which would be lost"),
        (("--partial", "stage/stage-worst.toml"), "a name that two files would have"),
    ],
)
def test_what_cannot_be_done_is_refused_before_any_landing(
    case: Path,
    words: tuple[str, ...],
    said: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(case.parent)
    assert scatter(Path("stage.toml"), *words) == cli.INPUT
    assert said in capsys.readouterr().err
    assert not case.with_suffix("").exists()


def test_a_case_from_a_pipe_is_refused_with_what_to_write(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert scatter(Path("/dev/stdin")) == cli.INPUT
    assert "write the name of a file" in capsys.readouterr().err


def test_help_imports_no_library_of_numbers() -> None:
    code = (
        "import sys; from crushleg import cli\n"
        "try:\n    cli.main(['scatter', '--help'])\nexcept SystemExit:\n    pass\n"
        f"print([m for m in {HEAVY} if m in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stderr.strip() == "[]"
    assert "--samples" in done.stdout
