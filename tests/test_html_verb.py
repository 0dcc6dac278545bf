"""``--html`` and ``--pdf`` on every verb: the same page from the command line, or a clear no."""

from __future__ import annotations

import os
import re
import shutil
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from crushleg import cli
from crushleg.cautions import SCREENING
from tests.report.pages import tree

if TYPE_CHECKING:
    from collections.abc import Sequence

EXAMPLES = Path(__file__).parents[1] / "examples"
NO_PAGE = {"begin", "explain"}
"""Verbs that print a template, or what stands in every page."""
QUICK = {
    "check": ("dunlin.toml", "--no-plots"),
    "drill": ("dunlin.toml", "--paper", "none", "--out", "out"),
    "predict": ("coupon.toml", "--no-plots", "--date", "2026-11-25"),
    "inspect": ("dunlin.toml", "dunlin-readings.csv", "--no-plots"),
    "materials": ("aluminium-6061-t4",),
}
LONGER = {
    "check, a failing case": ("check", "dunlin-bare-leg.toml", "--no-plots"),
    "land": ("land", "dunlin-slope.toml", "--no-plots"),
    "land, standard landings and map": (
        *("land", "godwit.toml", "--standard", "--map", "--no-plots"),
    ),
    "compare": ("compare", "dunlin-schemes.toml", "--no-plots"),
    "compare, one input varied": (
        *("compare", "dunlin.toml", "--vary", "girder.wall=3mm:5mm:3", "--no-plots"),
    ),
    "size": ("size", "dunlin.toml", "--rows", "5:6", "--out", "out", "--no-plots"),
    "size, a force line": (
        *("size", "dunlin.toml", "--follow", "ramp:200kN:330kN", "--out", "out", "--no-plots"),
    ),
    "correlate": ("correlate", "coupon.toml", "coupon-drop.csv", "--no-plots"),
    "scatter": ("scatter", "dunlin-scatter.toml", "--samples", "256", "--no-plots"),
    "materials, all": ("materials",),
}
"""What a run takes besides; a page of each is looked at in a browser too."""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Folder with the examples, and the folder of the process."""
    for path in EXAMPLES.iterdir():
        if path.suffix in (".toml", ".csv"):
            shutil.copy(path, tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*words: str) -> int:
    return cli.main(list(words))


def test_every_verb_takes_both_options() -> None:
    for name, verb in cli.VERBS.items():
        one = cli.parser()
        parsed = one.parse_args([name, *(["x"] * needed(name)), *wanted(name)])
        assert (getattr(parsed, "html", None) == "a.html") is (name not in NO_PAGE), verb
        assert (getattr(parsed, "pdf", None) == "a.pdf") is (name not in NO_PAGE)


def needed(name: str) -> int:
    """Count the words that a verb cannot do without."""
    return {"correlate": 2, "inspect": 1, "materials": 0, "explain": 0}.get(name, 1)


def wanted(name: str) -> Sequence[str]:
    return [] if name in NO_PAGE else ["--html", "a.html", "--pdf", "a.pdf"]


@pytest.mark.parametrize("name", QUICK)
def test_the_page_is_written_whole(
    name: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(name, *QUICK[name])
    printed = capsys.readouterr().out
    code = run(name, *QUICK[name], "--html", "page.html")
    told = capsys.readouterr()
    assert code == cli.PASSED
    assert told.out == printed
    assert "report: page.html" in told.err
    found = tree((folder / "page.html").read_text(encoding="utf-8"))
    shown = " ".join(found.all("body")[0].text.split())
    assert SCREENING in shown
    for line in printed.splitlines():
        words = [word for word in re.split(r"\s{2,}", line.strip().lstrip("- ")) if word]
        assert all(" ".join(w.replace("`", "").split()) in shown for w in words), line


def test_figures_inputs_and_changes_are_on_the_page_with_or_without_plots(folder: Path) -> None:
    change = 'girder.wall="1.9 mm"'
    words = ("check", "coupon.toml", "--set", change, "--quiet", "--html")
    code = run(*words, "one.html")
    assert run(*words, "other.html", "--no-plots") == code
    one = (folder / "one.html").read_text(encoding="utf-8")
    assert one == (folder / "other.html").read_text(encoding="utf-8")
    found = tree(one)
    assert len(found.all("svg")) == 4
    held = [p.text.strip("\n") for p in found.all("pre")]
    text = (folder / "coupon.toml").read_text(encoding="utf-8")
    assert held[0] == "\n".join(text.expandtabs(4).splitlines())
    assert held[-1] == change


def test_units_of_display_reach_the_page(folder: Path) -> None:
    assert (
        run("check", "dunlin.toml", "--units", "us", "--quiet", "--html", "us.html") == cli.PASSED
    )
    shown = tree((folder / "us.html").read_text(encoding="utf-8")).all("main")[0].text
    assert "ft-lbf" in shown
    assert not re.search(r"\d kN\b", shown.partition("How each number is computed")[0][:3000])


def test_the_pdf_is_written_beside_it(folder: Path) -> None:
    words = ("materials", "aluminium-6061-t4", "--html", "m.html", "--pdf", "m.pdf")
    assert run(*words, "--paper", "letter") == cli.PASSED
    pdf = (folder / "m.pdf").read_bytes()
    assert pdf.startswith(b"%PDF-")
    assert re.search(rb"/MediaBox \[ ?0 0 61[12](\.\d+)? 79[12]", pdf)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--html", "dunlin.toml"), "an input"),
        (("--pdf", "dunlin.toml"), "an input"),
        (("--html", "-"), "the name of a file"),
        (("--pdf", "none/page.pdf"), "a folder that is missing"),
        (("--html", "x", "--pdf", "x"), "a name that two files would have, --html and --pdf"),
        (("--html", "x", "--json", "./x"), "a name that two files would have, --json and --html"),
        (("--html", "out", "--out", "out"), "the name of the folder for plots and tables"),
        (("--html", "."), "a folder where a file is due"),
    ],
)
def test_what_cannot_be_written_is_refused_before_anything_is_done(
    words: tuple[str, ...], said: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = {path: path.read_bytes() for path in folder.iterdir()}
    assert run("check", "dunlin.toml", *words) == cli.INPUT
    told = capsys.readouterr()
    assert told.out == ""
    assert said in told.err
    assert {path: path.read_bytes() for path in folder.iterdir()} == before


@pytest.mark.parametrize(
    "words",
    [
        ("predict", "coupon.toml", "--sheet", "x.pdf", "--pdf", "x.pdf"),
        ("inspect", "dunlin.toml", "dunlin-readings.csv", "--card", "x.pdf", "--pdf", "x.pdf"),
        ("correlate", "coupon.toml", "coupon-drop.csv", "--write", "x", "--html", "x"),
        ("size", "dunlin.toml", "--out", "o", "--html", "o/dunlin-sized.toml"),
        ("scatter", "dunlin-scatter.toml", "--partial", "x", "--pdf", "x"),
        ("drill", "dunlin.toml", "--out", "o", "--pdf", "o/drill-layout.pdf"),
    ],
)
def test_files_of_a_verb_keep_their_names(
    words: tuple[str, ...], folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(*words) == cli.INPUT
    assert "a name that two files would have" in capsys.readouterr().err
    assert not (folder / "x").exists()
    assert not (folder / "x.pdf").exists()
    assert not (folder / "o").exists()


def test_a_device_takes_both(folder: Path) -> None:
    words = ("materials", "aluminium-6061-t4", "--html", os.devnull, "--pdf", os.devnull)
    assert run(*words) == cli.PASSED
    assert folder.is_dir()
