"""Files around a run: cut short, refused, full, oddly named, no files at all; other locales.

Through the command line. What a write leaves in single functions stands in
tests/report/test_files.py; closed and full standard streams in tests/test_cli.py.
"""

from __future__ import annotations

import contextlib
import errno
import json
import locale
import math
import os
import shutil
import signal
import subprocess
import sys
import threading
import time
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import numpy as np
import pytest

from crushleg import cli
from crushleg.case.reader import read_case_text
from crushleg.trial.record import read_record
from tests.robustness.mutations import EXAMPLES

if TYPE_CHECKING:
    from collections.abc import Callable

QUICK = ("--no-plots", "--quiet")
FULL = pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
READ_ONLY = Path("/proc/self")
"""A folder in which nobody, root included, may make a file."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Folder with a case, a record and readings."""
    for name in ("dunlin.toml", "dunlin-readings.csv", "coupon.toml", "coupon-drop.csv"):
        shutil.copy(EXAMPLES / name, tmp_path)
    shutil.copy(EXAMPLES / "coupon-drop.toml", tmp_path)
    return tmp_path


def run(folder: Path, *words: str) -> int:
    with contextlib.chdir(folder):
        return cli.main(list(words))


def held(folder: Path) -> dict[str, bytes]:
    """Every file of a folder and below it."""
    return {str(p): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


WRITES = (
    ("check", "dunlin.toml", *QUICK, "--json", "old"),
    ("predict", "coupon.toml", *QUICK, "--json", "old"),
    ("correlate", "coupon.toml", "coupon-drop.csv", *QUICK, "--write", "old.toml"),
    ("inspect", "dunlin.toml", "dunlin-readings.csv", *QUICK, "--card", "old"),
)
OLD = b'force_factor = 0.96\nscatter = 0.06\ntests = 3\nsource = "drops"\n'


def failing(code: int) -> Callable[..., NoReturn]:
    def fail(*_: Any, **__: Any) -> NoReturn:
        raise OSError(code, os.strerror(code))

    return fail


@pytest.mark.parametrize(
    ("words", "step", "code"),
    [
        *((words, step, errno.ENOSPC) for words in WRITES[:3] for step in ("fsync", "replace")),
        *((WRITES[0], "replace", code) for code in (errno.EACCES, errno.EROFS, errno.EIO)),
    ],
)
def test_a_write_that_fails_leaves_the_old_file_and_no_half_one(
    folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    words: tuple[str, ...],
    step: str,
    code: int,
) -> None:
    """While it is written, and just before it takes its place."""
    for name in ("old", "old.toml"):
        (folder / name).write_bytes(OLD)
    before = held(folder)
    target = Path if step == "replace" else os
    monkeypatch.setattr(target, step, failing(code))
    assert run(folder, *words) == cli.INPUT
    monkeypatch.undo()
    assert held(folder) == before
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert words[-1] in said
    assert "write" in said


@pytest.mark.parametrize("words", WRITES, ids=lambda words: words[0])
def test_a_read_only_folder_is_told_before_anything_is_written(
    folder: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    before = held(folder)
    target = READ_ONLY / words[-1]
    assert run(folder, *words[:-1], str(target)) == cli.INPUT
    assert held(folder) == before
    said = capsys.readouterr().err
    assert str(target) in said
    assert said.count("\n") == 1


def test_a_folder_for_results_that_cannot_be_made_is_told(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = str(READ_ONLY / "results")
    assert run(folder, "check", "dunlin.toml", "--quiet", "--csv", "--out", target) == cli.INPUT
    assert target in capsys.readouterr().err


@FULL
@pytest.mark.parametrize("words", WRITES, ids=lambda words: words[0])
def test_a_full_device_is_told(
    folder: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    before = held(folder)
    code = run(folder, *words[:-1], "/dev/full")
    said = capsys.readouterr().err
    assert (code, held(folder)) == (cli.INPUT, before)
    assert "/dev/full" in said


STOPPED = """\
import os, sys, time
import crushleg.report.files as files
from pathlib import Path
def wait(*_):
    print("written", flush=True)
    time.sleep(60)
{patch}
from crushleg.cli import main
sys.exit(main(sys.argv[1:]))
"""


@pytest.mark.parametrize("patch", ["os.fsync = wait", "Path.replace = wait"])
@pytest.mark.parametrize("ends", [signal.SIGKILL, signal.SIGINT])
def test_a_run_killed_between_write_and_rename_leaves_the_old_file(
    folder: Path, patch: str, ends: signal.Signals
) -> None:
    old = folder / "old.json"
    old.write_bytes(OLD)
    script = STOPPED.format(patch=patch)
    words = ["check", "dunlin.toml", *QUICK, "--json", "old.json"]
    with subprocess.Popen(
        [sys.executable, "-c", script, *words],
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=os.environ | {"PYTHONPATH": str(EXAMPLES.parent)},
        text=True,
    ) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "written\n"
        process.send_signal(ends)
        process.communicate(timeout=30)
    assert old.read_bytes() == OLD
    if ends is signal.SIGINT:
        assert process.returncode == cli.INTERRUPTED
        assert not list(folder.glob(".crushleg-*"))


# ---------------------------------------------------------------- names

NAMES = (
    *("with space.toml", "Ωmega – σ.toml", "-leading.toml", "--json", "a;b&c.toml", "50 %.toml"),
    *("{braces}.toml", "[red]tag[red].toml", "very" * 50 + ".toml", ".hidden.toml", "no_ending"),
    *("quote'\".toml", "new\nline.toml", "tab\t.toml", "e\u0301.toml", "$HOME.toml", "a.b.c.toml"),
)


@pytest.mark.parametrize("name", NAMES, ids=range(len(NAMES)))
def test_a_case_of_any_name_is_read_and_its_tables_are_written(
    folder: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copy(folder / "dunlin.toml", folder / name)
    typed = f"./{name}" if name.startswith("-") else name
    assert run(folder, "check", typed, "--no-plots", "--csv") == cli.PASSED
    out = capsys.readouterr()
    assert "Dunlin" in out.out
    assert out.err.startswith("tables: ")
    made = {path.parent.name for path in folder.rglob("margins.csv")}
    assert len(made) == 1


def test_a_name_with_a_dash_is_taken_behind_two_dashes(folder: Path) -> None:
    shutil.copy(folder / "dunlin.toml", folder / "-x.toml")
    assert run(folder, "check", *QUICK, "--", "-x.toml") == cli.PASSED
    assert run(folder, "check", *QUICK, "--json=-x.json", "--", "-x.toml") == cli.PASSED
    assert json.loads((folder / "-x.json").read_text(encoding="utf-8"))["passes"] is True


def test_a_name_that_is_not_utf8_is_read_and_told(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    name = os.fsdecode(b"caf\xe9.toml")
    try:
        shutil.copy(folder / "dunlin.toml", folder / name)
    except OSError:
        pytest.skip("this file system takes UTF-8 only")
    assert run(folder, "check", name, *QUICK) == cli.PASSED
    assert run(folder, "check", name, *QUICK, "--set", "girder.wall=x") == cli.INPUT
    assert run(folder, "inspect", "dunlin.toml", os.fsdecode(b"n\xf6.csv"), *QUICK) == cli.INPUT
    assert capsys.readouterr().err.count("\n") == 2


# ---------------------------------------------------------------- no files

INPUTS = (
    ("check", "X", *QUICK),
    ("inspect", "dunlin.toml", "X", *QUICK),
    ("correlate", "coupon.toml", "X", *QUICK),
    ("correlate", "coupon.toml", "coupon-drop.csv", "--against", "X", *QUICK),
    ("check", "dunlin.toml", "--set", "girder.material=./X", *QUICK),
    ("check", "dunlin.toml", "--set", "girder.correlation=X", *QUICK),
)
VERBS = [words[0] + str(i) for i, words in enumerate(INPUTS)]


@pytest.mark.parametrize("words", INPUTS, ids=VERBS)
@pytest.mark.parametrize("what", ["folder", "empty", "loop", "dangling", "blank", "binary", "zero"])
def test_an_input_that_is_none_is_told_with_its_name(
    folder: Path, words: tuple[str, ...], what: str, capsys: pytest.CaptureFixture[str]
) -> None:
    path = folder / "X"
    make: dict[str, Callable[[], object]] = {
        "folder": path.mkdir,
        "empty": lambda: path.write_bytes(b""),
        "loop": lambda: path.symlink_to("X"),
        "dangling": lambda: path.symlink_to("nowhere"),
        "blank": lambda: path.write_bytes(b"\n \n\t\n"),
        "binary": lambda: path.write_bytes(bytes(range(256)) * 40),
        "zero": lambda: path.symlink_to("/dev/zero"),
    }
    make[what]()
    before = time.process_time()
    assert run(folder, *words) == cli.INPUT
    assert time.process_time() - before < 2.0
    said = capsys.readouterr().err
    assert "X" in said
    assert said.count("\n") <= 2


@pytest.mark.parametrize("words", INPUTS[:3], ids=VERBS[:3])
def test_a_link_is_read_as_what_it_points_to(folder: Path, words: tuple[str, ...]) -> None:
    names = {"check": "dunlin.toml", "inspect": "dunlin-readings.csv"}
    (folder / "deep").mkdir()
    target = folder / names.get(words[0], "coupon-drop.csv")
    (folder / "X").symlink_to(target)
    if words[0] == "correlate":
        (folder / "X.toml").symlink_to(folder / "coupon-drop.toml")
    assert run(folder, *words) in (cli.PASSED, cli.NEGATIVE)


@pytest.mark.parametrize("words", INPUTS[:2], ids=VERBS[:2])
def test_a_named_pipe_is_read_once(folder: Path, words: tuple[str, ...]) -> None:
    source = {"check": "dunlin.toml", "inspect": "dunlin-readings.csv"}[words[0]]
    os.mkfifo(folder / "X")
    raw = (folder / source).read_bytes()
    pouring = threading.Thread(target=lambda: (folder / "X").write_bytes(raw), daemon=True)
    pouring.start()
    assert run(folder, *words) in (cli.PASSED, cli.NEGATIVE)
    pouring.join(timeout=10)
    assert not pouring.is_alive()


# ---------------------------------------------------------------- locale


@pytest.fixture
def commas(monkeypatch: pytest.MonkeyPatch) -> str:
    """Write numbers as a locale with decimal commas would, wherever Python asks for it."""
    found = {"decimal_point": ",", "thousands_sep": ".", "grouping": [3, 3, 0]}
    whole = {**locale.localeconv(), **found}
    monkeypatch.setattr(locale, "localeconv", lambda: whole)
    for name in ("LC_ALL", "LC_NUMERIC", "LANG", "LANGUAGE"):
        monkeypatch.setenv(name, "de_DE.UTF-8")
    with contextlib.suppress(locale.Error):
        locale.setlocale(locale.LC_ALL, "de_DE.UTF-8")
    return ","


def outputs_of(folder: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, bytes]:
    """Everything that check, inspect and correlate print and write."""
    said = {}
    for words in (
        ("check", "dunlin.toml", "--no-plots", "--csv", "--json", "r.json", "--out", "tables"),
        ("inspect", "dunlin.toml", "dunlin-readings.csv", "--no-plots", "--csv", "--out", "in"),
        ("correlate", "coupon.toml", "coupon-drop.csv", "--no-plots", "--csv", "--out", "co"),
    ):
        assert run(folder, *words) in (cli.PASSED, cli.NEGATIVE)
        said[words[0]] = capsys.readouterr().out.encode()
    return said | held(folder)


def test_a_locale_with_decimal_commas_changes_nothing(
    folder: Path, capsys: pytest.CaptureFixture[str], request: pytest.FixtureRequest
) -> None:
    before = outputs_of(folder, capsys)
    was = locale.setlocale(locale.LC_ALL)
    try:
        assert request.getfixturevalue("commas") == ","
        assert outputs_of(folder, capsys) == before
    finally:
        locale.setlocale(locale.LC_ALL, was)


# ---------------------------------------------------------------- long lists


def spent(work: Callable[[], object]) -> float:
    """Processor time of the quicker of two runs [s]."""
    found = []
    for _ in range(2):
        begin = time.process_time()
        work()
        found.append(time.process_time() - begin)
    return min(found)


def test_a_record_twice_as_long_takes_about_twice_the_time(folder: Path) -> None:
    """10 000 and 40 000 samples: four times the lines, at most eight times the time."""
    x = np.linspace(0.0, 0.1, 40_000)
    toml = '[columns]\nstroke = { column = "x", unit = "m" }\nforce = { column = 2, unit = "N" }\n'
    taken = {}
    for count in (10_000, 40_000):
        path = folder / f"long-{count}.csv"
        at = x[:: len(x) // count]
        rows = (f"{one:.7g},{2e4 + 5e3 * math.cos(300.0 * one):.6g}" for one in at)
        path.write_text("x,F\n" + "\n".join(rows) + "\n", encoding="utf-8")
        path.with_suffix(".toml").write_text(toml, encoding="utf-8")
        (record,) = read_record(path)
        assert len(record.stroke) > 0.9 * count
        taken[count] = spent(partial(read_record, path))
    assert taken[40_000] < 8.0 * taken[10_000] + 0.05


def with_rows(count: int) -> str:
    """Case of a long girder with so many listed rows."""
    text = (EXAMPLES / "dunlin.toml").read_text(encoding="utf-8")
    before, _, rest = text.partition("[girder.holes]")
    _, _, after = rest.partition("\n[")
    rows = (
        f'[[girder.holes.row]]\nheight = "{100 + 20 * i} mm"\nsize = "5 mm"\n' for i in range(count)
    )
    return f'{before}[girder.holes]\nlaw = "listed"\n{"".join(rows)}\n[{after}'


def test_many_rows_are_read_in_proportion_and_too_many_are_told(folder: Path) -> None:
    taken = {}
    for count in (125, 500):
        text = with_rows(count)
        long = [f"girder.length={300 + 20 * count} mm", "leg.free_length=20 m"]
        read = partial(read_case_text, text, "case", long)
        assert len(read().girder.holes.rows) == count
        taken[count] = spent(read)
    assert taken[500] < 8.0 * taken[125] + 0.05
    path = folder / "many.toml"
    path.write_text(with_rows(10_000), encoding="utf-8")
    begin = time.process_time()
    assert run(folder, "check", "many.toml", *QUICK) == cli.INPUT
    assert time.process_time() - begin < 2.0
