"""The verb ``correlate``: what it prints, writes, draws and refuses."""

from __future__ import annotations

import json
import shutil
import tomllib
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import crushleg
from crushleg import cli
from crushleg.case.reader import read_case, read_case_text
from crushleg.cautions import SCREENING
from crushleg.report.correlate_text import Findings, render
from crushleg.report.layout import plain_text
from crushleg.report.plot_correlate import curves_figure
from crushleg.report.plot_factors import factors_figure
from crushleg.report.style import scaled
from crushleg.trial.held import hold
from crushleg.trial.posterior import Prior
from crushleg.trial.record import read_record
from tests.trial.synthetic import FORCE_STROKE, drop, wavy, write_record

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def drops(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Four drops: three alike in one batch, one far off in another; for the coupon."""
    into = tmp_path_factory.mktemp("drops")
    (into / "coupon.toml").write_text(crushleg.template("coupon"), encoding="utf-8")
    for name, mean, batch in (
        ("d1", 17.5e3, "S1"),
        ("d2", 18e3, "S1"),
        ("d3", 17.8e3, "S1"),
        ("odd", 26e3, "S2"),
    ):
        fall = drop(wavy(mean), rate=10e3, after=0.1)
        columns = {"t": 1e3 * fall.time, "x": 1e3 * fall.stroke, "F": fall.force / 1e3}
        write_record(into / f"{name}.csv", columns, f'batch = "{batch}"\n{FORCE_STROKE}')
    return into


@pytest.fixture
def folder(drops: Path, tmp_path: Path) -> Path:
    """Copy of the case and the drops."""
    shutil.copytree(drops, tmp_path, dirs_exist_ok=True)
    return tmp_path


def findings(folder: Path) -> Findings:
    case = read_case_text(crushleg.template("coupon"))
    records = [read_record(folder / f"{name}.csv")[0] for name in ("d1", "d2", "d3", "odd")]
    held = hold(case, records, None, Prior())
    return Findings(case=case, against=held.against, found=held.found, notes=held.notes)


def run(folder: Path, *words: str, plots: bool = False) -> int:
    records = [str(folder / f"{name}.csv") for name in ("d1", "d2", "d3", "odd")]
    more = [] if plots else ["--no-plots"]
    return cli.main(["correlate", str(folder / "coupon.toml"), *records, *more, *words])


def test_the_report_names_the_odd_test_and_keeps_batches_apart(folder: Path) -> None:
    text = plain_text(render(findings(folder)))
    assert "odd (batch S2) DISAGREES with the prediction" in text
    assert "d1 (batch S1) DISAGREES" not in text
    assert "Batches are kept apart" in text
    assert "BIAS, significant at 95 %. These girders take MORE energy than predicted." in text
    assert text.rstrip().endswith(SCREENING)


def test_numbers_of_the_report_are_those_of_the_data(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(folder, "--json", "-") == cli.PASSED
    data = json.loads(capsys.readouterr().out)
    assert data["schema"] == "crushleg-correlation-1"
    text = plain_text(render(findings(folder)))
    for test in data["tests"]:
        assert f"{test['measured_over_predicted']:.3f}" in text
        assert test["sha256"] in text
    assert f"{data['batches'][0]['posterior']['force_factor']:.3f} (" in text
    assert data["cautions"] == [SCREENING]


def test_us_units_show_the_same_numbers(folder: Path) -> None:
    text = plain_text(render(findings(folder), "us"))
    assert "stroke in" in text
    assert "ft-lbf" in text
    assert "kip" in text


def test_the_written_file_is_what_a_case_reads_and_the_numbers_of_the_report(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = folder / "tests.toml"
    assert run(folder, "--write", str(target), "--batch", "S1", "--json", "-") == cli.PASSED
    posterior = json.loads(capsys.readouterr().out)["batches"][0]["posterior"]
    written = tomllib.loads(target.read_text(encoding="utf-8"))
    assert written["force_factor"] == pytest.approx(posterior["force_factor"], rel=1e-5)
    assert written["scatter"] == pytest.approx(posterior["scatter"], rel=1e-5)
    assert written["tests"] == 3
    assert written["source"] == "batch S1: d1, d2, d3"
    assert SCREENING in target.read_text(encoding="utf-8")
    case = read_case(folder / "coupon.toml", ["girder.correlation=tests.toml"])
    assert case.girder.correlation is not None
    assert any(m.basis == "your test" for m in crushleg.check_case(case).margins)


def test_several_batches_are_written_pooled_unless_one_is_named(folder: Path) -> None:
    target = folder / "tests.toml"
    assert run(folder, "--write", str(target), "--quiet") == cli.PASSED
    written = tomllib.loads(target.read_text(encoding="utf-8"))
    assert written["tests"] == 4
    assert written["source"].startswith("pooled over batch S1, batch S2: d1, d2, d3, odd")
    assert "DISAGREES: odd" in written["source"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--write", "{}/coupon.toml"], "the name of an input"),
        (["--write", "{}/d1.csv"], "the name of an input"),
        (["--write", "{}/d1.toml"], "the name of an input"),
        (["--write", "{}/notes.txt"], "no correlation file and would be lost"),
        (["--write", "{}/none/tests.toml"], "a folder that is missing"),
        (["--write", "{}/x.toml", "--json", "{}/x.toml"], "a name that two files would have"),
        (["--write", "{}/x.toml", "--batch", "S7"], '"S7"'),
        (["--batch", "S1"], "no --write"),
        (["--json", "{}/d1.csv"], "the name of an input"),
        (["--against", "{}/none.json"], "no such file"),
        (["--within", "wide"], "--within"),
        (["--between", "3"], "0.001 to 0.5"),
        (["--record", "mass=120"], "--record mass"),
        (["--record", "filter_class=9000"], "class 9000 needs"),
    ],
    ids=range(14),
)
def test_what_cannot_be_is_refused_and_nothing_is_changed(
    folder: Path, words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "notes.txt").write_text("mine", encoding="utf-8")
    before = {p.name: p.read_bytes() for p in folder.iterdir()}
    assert run(folder, *(word.format(folder) for word in words)) == cli.INPUT
    told = capsys.readouterr()
    assert said in told.err
    assert told.out == ""
    assert {p.name: p.read_bytes() for p in folder.iterdir()} == before


def test_problems_of_all_records_are_told_at_once(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("d1", "odd"):
        path = folder / f"{name}.csv"
        path.write_text(path.read_text(encoding="utf-8") + "1,2,x\n", encoding="utf-8")
    assert run(folder) == cli.INPUT
    told = capsys.readouterr().err
    assert "d1.csv:" in told
    assert "odd.csv:" in told


def test_tables_and_figures_go_into_the_folder(folder: Path) -> None:
    out = folder / "out"
    assert run(folder, "--quiet", "--csv", "--out", str(out), plots=True) == cli.PASSED
    names = {p.name for p in out.iterdir()}
    assert names == {
        "correlation-tests.csv",
        "correlation-curves.csv",
        "CORRELATION-READ-FIRST.txt",
        *(f"measured-{what}.{kind}" for what in ("curves", "factors") for kind in ("svg", "png")),
    }
    tests = pd.read_csv(out / "correlation-tests.csv")
    curves = pd.read_csv(out / "correlation-curves.csv")
    assert tests["test"].tolist() == ["d1", "d2", "d3", "odd"]
    last = curves.groupby("test")["energy_J"].last()
    assert last["d1"] == pytest.approx(tests.loc[0, "energy_J"], rel=1e-9)


def test_a_prediction_sheet_can_be_held_against(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = folder / "issued.json"
    case = str(folder / "coupon.toml")
    assert cli.main(["check", case, "--quiet", "--no-plots", "--json", str(sheet)]) == cli.PASSED
    assert run(folder, "--against", str(sheet)) == cli.PASSED
    told = capsys.readouterr().out
    assert "Compared with: issued.json, SHA-256 " in told
    assert "It was issued for this case, input unchanged." in told


# ---------------------------------------------------------------- pictures


def test_the_curves_drawn_are_those_measured_and_predicted(folder: Path) -> None:
    about = findings(folder)
    figure = curves_figure(about)
    upper = next(axes for axes in figure.axes if "force" in axes.get_ylabel())
    lines = {str(line.get_gid()): line for line in upper.lines}
    measured = about.found.tests[0].record
    drawn = lines["measured d1"]
    assert np.max(drawn.get_xdata()) == pytest.approx(float(scaled(measured.stroke[-1], "mm")))
    nominal = np.asarray(lines["nominal"].get_ydata())
    assert nominal == pytest.approx(scaled(about.against.force[1], "kN"))
    labels = " ".join(text.get_text() for axes in figure.axes for text in axes.texts)
    assert "odd" in labels
    assert "DISAGREES" in labels
    assert "(mm)" in figure.axes[0].get_xlabel()


def test_the_factors_drawn_are_those_of_the_tests(folder: Path) -> None:
    about = findings(folder)
    (axes,) = factors_figure(about).axes
    lines = {str(line.get_gid()): line for line in axes.lines}
    for test in about.found.tests:
        assert lines[f"test {test.record.name}"].get_xdata() == pytest.approx([np.exp(test.y)])
    names = [label.get_text() for label in axes.get_yticklabels()]
    assert names == ["d1", "d2", "d3", "batch S1", "odd", "batch S2"]


def test_the_example_is_synthetic_and_holds_the_energy_of_its_drop() -> None:
    """120 kg at 3.96 m/s falling on through the stroke: 940.9 J + 1176.8 N · S."""
    path = ROOT / "examples" / "coupon-drop.csv"
    assert path.read_text(encoding="utf-8").startswith("# SYNTHETIC record")
    (record,) = read_record(path)
    assert record.energy[-1] == pytest.approx(940.9 + 1176.8 * record.stroke[-1], rel=0.02)
