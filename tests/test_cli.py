"""The command line: exit codes, what goes where, what is imported when."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from crushleg import cli
from crushleg.case.shelf import datasheet_path
from crushleg.case.templates import KINDS, template
from crushleg.cautions import SCREENING

HEAVY = ("scipy", "pandas", "matplotlib")


def run(
    *words: str, cwd: Path, env: dict[str, str] | None = None
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "crushleg", *words],
        cwd=cwd,
        env={**os.environ, **(env or {})},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture
def case(tmp_path: Path) -> Path:
    path = tmp_path / "stage.toml"
    path.write_text(template("test-stage"), encoding="utf-8")
    return path


@pytest.mark.parametrize("kind", KINDS)
def test_every_template_passes_check(
    kind: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "a case.toml"
    assert cli.main(["begin", kind, "--out", str(path)]) == cli.PASSED
    assert cli.main(["check", str(path), "--no-plots"]) == cli.PASSED
    assert SCREENING in " ".join(capsys.readouterr().out.split())


def test_begin_never_overwrites(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "mine.toml"
    path.write_text("mine", encoding="utf-8")
    assert cli.main(["begin", "coupon", "--out", str(path)]) == cli.INPUT
    assert path.read_text(encoding="utf-8") == "mine"
    assert str(path) in capsys.readouterr().err


def test_check_writes_plots_and_tables_beside_the_case(case: Path) -> None:
    done = run("check", case.name, "--csv", "--json", "out.json", cwd=case.parent)
    assert done.returncode == cli.PASSED
    names = {p.suffix for p in (case.parent / "stage").iterdir()}
    assert names >= {".svg", ".png", ".csv"}
    assert json.loads((case.parent / "out.json").read_text())["schema"] == "crushleg-result-1"
    assert SCREENING in done.stdout


def test_json_on_standard_output_is_json_alone(case: Path) -> None:
    done = run("check", case.name, "--json", "-", "--no-plots", cwd=case.parent)
    result = json.loads(done.stdout)
    assert result["cautions"][0] == SCREENING


def test_quiet_prints_nothing(case: Path) -> None:
    done = run("check", case.name, "--quiet", "--no-plots", cwd=case.parent)
    assert (done.returncode, done.stdout) == (cli.PASSED, "")


def test_a_negative_margin_exits_with_3(case: Path) -> None:
    done = run(
        "check", case.name, "--no-plots", "--set", "limits.leg_limit_load=200 kN", cwd=case.parent
    )
    assert done.returncode == cli.NEGATIVE


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["check", "none.toml"], "none.toml"),
        (["check", "stage.toml", "--set", "girder.wall=4"], "girder.wall"),
        (["check", "stage.toml", "--set", "girder.wal=4 mm"], "did you mean"),
        (["check", "stage.toml", "--units", "cgs"], "invalid choice"),
        (["check", "stage.toml", "--out", "stage.toml"], "stage.toml"),
        (["begin", "stage"], "test-stage"),
        (["materials", "aluminum-6061-t4"], "aluminium-6061-t4"),
        (["weigh"], "which is no verb; write one of check, land"),
    ],
)
def test_bad_input_exits_with_2_and_leaves_nothing(case: Path, words: list[str], said: str) -> None:
    before = sorted(case.parent.iterdir())
    done = run(*words, cwd=case.parent)
    assert done.returncode == cli.INPUT
    assert said in done.stderr
    assert "Traceback" not in done.stderr
    assert sorted(case.parent.iterdir()) == before


def test_piped_output_is_plain_and_unwrapped(case: Path) -> None:
    done = run("check", case.name, "--no-plots", cwd=case.parent)
    assert "\x1b" not in done.stdout
    assert any(SCREENING in line for line in done.stdout.splitlines())


def test_a_fault_of_ours_leaves_a_trace_and_exits_with_70(
    case: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("crushleg.case.reader.read_case", broken)
    assert cli.main(["check", str(case)]) == cli.FAULT
    said = capsys.readouterr().err
    trace = Path(said.split("the trace is in ")[1].split(";")[0])
    assert "ZeroDivisionError" in trace.read_text(encoding="utf-8")
    trace.unlink()


def test_an_interrupt_exits_with_130(
    case: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("crushleg.case.reader.read_case", interrupted)
    assert cli.main(["check", str(case)]) == cli.INTERRUPTED
    assert "interrupted" in capsys.readouterr().err


def test_a_reader_that_closes_the_pipe_is_no_error(case: Path) -> None:
    line = f"{sys.executable} -m crushleg check stage.toml --no-plots | head -n 1"
    done = subprocess.run(
        ["bash", "-c", line], cwd=case.parent, capture_output=True, text=True, check=False
    )
    assert "Error" not in done.stderr
    assert "Exception" not in done.stderr


def modules_after(code: str, cwd: Path) -> set[str]:
    script = f"import sys\n{code}\nprint('\\n@' + ' '.join(sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=cwd, capture_output=True, text=True, check=True
    )
    return set(done.stdout.rsplit("@", 1)[1].split())


def test_help_imports_argparse_alone(tmp_path: Path) -> None:
    code = (
        "from crushleg.__main__ import run\n"
        "sys.argv = ['crushleg', '--help']\n"
        "try:\n    run()\nexcept SystemExit:\n    pass"
    )
    loaded = modules_after(code, tmp_path)
    assert "argparse" in loaded
    assert not loaded & {"numpy", "rich", "tomllib", *HEAVY}


def test_the_printed_check_needs_neither_scipy_nor_pandas_nor_matplotlib(case: Path) -> None:
    code = (
        "from crushleg.cli import main\n"
        "assert main(['check', 'stage.toml', '--no-plots', '--json', 'o.json']) == 0"
    )
    assert not modules_after(code, case.parent) & set(HEAVY)


def test_interrupting_the_process_leaves_whole_files_only(case: Path) -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "crushleg", "check", case.name],
        cwd=case.parent,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    process.stdout.readline()
    process.send_signal(signal.SIGINT)
    process.communicate(timeout=60)
    assert process.returncode in {cli.INTERRUPTED, cli.PASSED}
    folder = case.parent / "stage"
    left = list(folder.iterdir()) if folder.exists() else []
    assert all(p.suffix in {".svg", ".png"} and p.stat().st_size > 1000 for p in left)


def shell(line: str, cwd: Path, **env: str) -> subprocess.CompletedProcess[str]:
    """Run a line of bash in which $C is the program."""
    program = f"{sys.executable} -m crushleg"
    return subprocess.run(
        ["bash", "-c", line],
        cwd=cwd,
        env={**os.environ, "C": program, **env},
        capture_output=True,
        text=True,
        check=False,
    )


HEAVY_CASE = "check stage.toml --no-plots --set vehicle.mass='100 t'"
FULL = pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")


def test_a_closed_pipe_takes_neither_files_nor_exit_code(case: Path) -> None:
    line = f"$C {HEAVY_CASE} --json j.json --csv | true; exit ${{PIPESTATUS[0]}}"
    done = shell(line, case.parent)
    assert done.returncode == cli.NEGATIVE
    assert done.stderr == "tables: stage\n"
    assert json.loads((case.parent / "j.json").read_text(encoding="utf-8"))["passes"] is False
    assert (case.parent / "stage" / "rows.csv").exists()


@pytest.mark.parametrize("words", [">&-", "--json - >&-", "2>&-", ">&- 2>&-"])
def test_closed_streams_are_no_fault(case: Path, words: str) -> None:
    assert shell(f"$C {HEAVY_CASE} {words}", case.parent).returncode == cli.NEGATIVE


@FULL
@pytest.mark.parametrize(
    "words", [HEAVY_CASE, f"{HEAVY_CASE} --json -", "begin coupon", "materials", "--help"]
)
def test_a_full_standard_output_is_told(case: Path, words: str) -> None:
    done = shell(f"$C {words} >/dev/full", case.parent)
    assert done.returncode == cli.INPUT
    assert done.stderr.startswith("standard output: no space")
    assert done.stderr.count("\n") == 1


@FULL
@pytest.mark.parametrize("words", ["check none.toml", "weigh"])
def test_a_full_standard_error_is_no_fault(case: Path, words: str) -> None:
    assert shell(f"$C {words} 2>/dev/full", case.parent).returncode == cli.INPUT


def test_plots_do_not_ask_for_a_screen(case: Path) -> None:
    done = shell("$C check stage.toml --quiet", case.parent, MPLBACKEND="nonsense")
    assert (done.returncode, done.stderr) == (cli.PASSED, "plots: stage\n")


@pytest.fixture
def inputs(case: Path) -> Path:
    """Case with a datasheet and a correlation file beside it, and a link to the case."""
    sheet = datasheet_path("steel-s235", Path())
    (case.parent / "mine.toml").write_bytes(sheet.read_bytes())
    text = 'force_factor = 0.96\nscatter = 0.06\ntests = 3\nsource = "drops"\n'
    (case.parent / "drops.toml").write_text(text, encoding="utf-8")
    (case.parent / "link").symlink_to("stage.toml")
    return case


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--json", "./stage.toml"], "stage.toml: read the name of an input"),
        (["--json", "link"], "link: read the name of an input"),
        (["--json", "mine.toml"], "mine.toml: read the name of an input"),
        (["--json", "drops.toml"], "drops.toml: read the name of an input"),
        (["--out", "mine.toml"], "mine.toml: read the name of an input"),
        (["--json", "none/j.json"], "none/j.json: read a folder that is missing"),
        (["--json", "."], ".: read a folder where a file is due"),
        (["--json", "stage"], "stage: read the name of the folder for plots and tables"),
        (["--out", "x", "--json", "x"], "x: read the name of the folder"),
        (["--out", "drops.toml/x"], "drops.toml/x: read a file where a folder is due"),
        (["--out", "x" * 300], "read a name that is too long"),
    ],
)
def test_what_cannot_be_written_is_told_before_anything_is_done(
    inputs: Path, words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    before = {p.name: p.read_bytes() for p in inputs.parent.iterdir()}
    others = ["--set", "girder.material=mine.toml", "--set", "girder.correlation=drops.toml"]
    with contextlib.chdir(inputs.parent):
        assert cli.main(["check", inputs.name, *others, *words]) == cli.INPUT
    printed = capsys.readouterr()
    assert printed.out == ""
    assert said in printed.err
    assert "(nothing was written)" in printed.err
    assert {p.name: p.read_bytes() for p in inputs.parent.iterdir()} == before


@pytest.mark.parametrize(
    ("before", "name", "folder"),
    [
        ("cp stage.toml bare", "bare", "bare-results"),
        ("touch stage", "stage.toml", "stage-results"),
        ("true", "/dev/stdin", "crushleg-results"),
    ],
)
def test_the_folder_of_results_is_never_a_file(
    case: Path, before: str, name: str, folder: str
) -> None:
    line = f"{before}; $C check {name} --quiet --no-plots --csv < stage.toml"
    done = shell(line, case.parent)
    assert (done.returncode, done.stderr) == (cli.PASSED, f"tables: {folder}\n")
    assert (case.parent / folder / "rows.csv").exists()


@pytest.mark.parametrize(
    "words", ["/dev/zero", "<(yes '# no end')", "stage.toml --set title=$'caf\\xe9'"]
)
def test_what_is_no_text_is_bad_input(case: Path, words: str) -> None:
    done = shell(f"$C check {words} --no-plots", case.parent)
    assert (done.returncode, done.stdout) == (cli.INPUT, "")
