"""The sheet of a prediction: printed, on paper, as data and as tables."""

from __future__ import annotations

import datetime as dt
import json
import re
from functools import cache
from io import StringIO
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from rich.console import Console

from crushleg import check_case, cli, read_case, read_case_text, template
from crushleg.cautions import SCREENING
from crushleg.report.data import result
from crushleg.report.paper import FOOT, MARGIN, SIZES
from crushleg.report.plot_nomogram import nomogram_figures
from crushleg.report.predict_csv import write_prediction_csv
from crushleg.report.predict_data import prediction_data
from crushleg.report.predict_text import prediction_text, print_prediction
from crushleg.report.sheet_pdf import sheet_pages, sheet_pdf
from crushleg.trial.issued import unsealed
from crushleg.trial.predict import Prediction, back, predict

EXAMPLES = Path(__file__).parents[2] / "examples"
DAY = dt.date(2026, 11, 25)
SEAL = 64 * "a"
RIG = 'rig={mass_above="6.3 t", mass_below="150 kg", friction="2 kN", lift=0.2}'
MORE = "".join(
    f'\n[[touchdown]]\nname = "{i} a landing with a rather long name"\nvertical_speed = "{i} m/s"\n'
    f'mass = "{38 + i} t"\n'
    for i in range(1, 3)
)
CASES: dict[str, tuple[str, ...]] = {
    "six legs": ("test-stage",),
    "rig": ("test-stage", RIG),
    "coupon": ("coupon",),
    "lander": ("lunar-lander",),
    "many": ("test-stage", "vehicle.legs=18"),
    "endless": ("test-stage", 'vehicle.mass="400 t"'),
    "long title": ("coupon", f'title="{"A very long title " * 12}{"without_any_space" * 8}"'),
}


@cache
def predicted(name: str) -> Prediction:
    kind, *overrides = CASES[name]
    text = template(kind) + (MORE if name == "many" else "")
    return predict(check_case(read_case_text(text, kind, overrides)), DAY)


def lines(name: str, units: str = "si") -> list[str]:
    return prediction_text(predicted(name), SEAL, units).splitlines()


@pytest.mark.parametrize("name", list(CASES))
@pytest.mark.parametrize("units", ["si", "us"])
def test_the_printed_sheet_has_every_part_and_no_number_that_is_none(name: str, units: str) -> None:
    text = prediction_text(predicted(name), SEAL, units)
    for part in ("Predicted", "Limits", "Instruments", "Faces", "From measured", "Cautions of the"):
        assert f"\n{part}" in text
    assert "issued 2026-11-25" in text
    assert f"prediction {SEAL[:12]}" in text
    assert SCREENING in text
    assert not re.search(r"\b(nan|inf|None)\b", text)


def test_printed_crush_height_and_folds_are_those_predicted() -> None:
    (group,) = predicted("six legs").events[0].groups
    printed = next(x for x in lines("six legs") if x.startswith("crush per leg, mm")).split()
    assert [float(x) for x in printed[-3:]] == np.round(1e3 * group.crush).tolist()
    printed = next(x for x in lines("six legs") if x.startswith("height of each face")).split()
    assert [float(x) for x in printed[-3:]] == np.round(1e3 * group.height).tolist()
    printed = next(x for x in lines("six legs") if x.startswith("folds ")).split()
    assert [float(x) for x in printed[-3:]] == group.folds.round(1).tolist()


def test_every_leg_has_a_line_with_room_for_four_faces() -> None:
    shown = [x for x in lines("six legs") if x.count("......") == 5]
    assert [x.split()[0] for x in shown] == ["1", "2", "3", "4", "5", "6"]


def test_a_rig_shows_fall_masses_and_cell() -> None:
    text = "\n".join(lines("rig"))
    for part in (
        "fall ",
        "peak at the load cell",
        "mass in this rig",
        "without lift",
        "load cell ",
    ):
        assert part in text
    assert "peak at the load cell" not in "\n".join(lines("six legs"))


def test_sources_of_what_the_check_does_not_have_are_listed_with_their_status() -> None:
    listed = lines("rig")
    for part in ("14 CFR 27.725", "SAE J211", "Equivalent mass", "Speed from crush"):
        (line,) = [x for x in listed if x.startswith("- ") and part in x]
        assert re.search(r"\[(published|from memory|derived|judgement)[^]]*\]$", line)
    assert not any("14 CFR" in x for x in lines("six legs"))


def test_it_fits_a_terminal_of_80_columns() -> None:
    console = Console(file=StringIO(), force_terminal=True, width=80, legacy_windows=False)
    print_prediction(predicted("rig"), SEAL, console)
    assert isinstance(console.file, StringIO)
    bare = re.sub(r"\x1b\[[0-9;]*m", "", console.file.getvalue())
    assert max(len(line) for line in bare.splitlines()) <= 80


# ---------------------------------------------------------------- data


@pytest.mark.parametrize("name", list(CASES))
def test_the_data_are_sealed_and_survive_a_file(name: str) -> None:
    found = prediction_data(predicted(name))
    read = json.loads(json.dumps(found, indent=1, ensure_ascii=False, allow_nan=False))
    assert unsealed(read) == {k: v for k, v in found.items() if k != "sha256"}
    assert list(found)[-1] == "sha256"
    assert found["schema"] == "crushleg-prediction-1"
    assert found["date"] == "2026-11-25"


def test_girder_curve_and_touchdowns_are_those_of_the_check() -> None:
    prediction = predicted("rig")
    checked, found = result(prediction.checked), prediction_data(prediction)
    for key in ("title", "revision", "input_sha256", "girder", "curve", "folds", "touchdowns"):
        assert found[key] == checked[key]


def test_limits_of_the_data_enclose_what_is_predicted() -> None:
    found = prediction_data(predicted("six legs"))
    for event, limit in zip(found["predicted"], found["limits"]["events"], strict=True):
        heights = event["groups"][0]["face_height_m"]
        (faces,) = limit["face_height_m"]
        assert faces["least"] == heights["low"] < heights["high"] == faces["most"]
        assert limit["deceleration_max_m_s2"] == max(event["deceleration_m_s2"].values())
        assert limit["peak_force_max_N"] == max(event["peak_force_N"].values())
        assert limit["speed_max_m_s"] > event["speed_m_s"]


def test_readings_of_the_data_invert_the_prediction() -> None:
    """Interpolated between lines 10 mm apart: within 0.5 % of the speed."""
    found = prediction_data(predicted("six legs"))
    table = found["readings"][0]
    assert table["events"] == ["nominal", "reserve"]
    for event in found["predicted"]:
        for level in ("low", "nominal", "high"):
            crush = event["groups"][0]["crush_m"][level]
            speed = np.interp(crush, table["crush_m"], table["speed_m_s"][level])
            assert speed == pytest.approx(event["speed_m_s"], rel=5e-3)


def test_tables_have_a_line_per_leg_and_per_crush(tmp_path: Path) -> None:
    found = prediction_data(predicted("six legs"))
    paths = write_prediction_csv(found, tmp_path)
    assert len(paths) == 4
    legs = pd.read_csv(tmp_path / "prediction-crush.csv")
    assert legs["leg"].tolist() == [1, 2, 3, 4, 5, 6] * 2
    assert legs["crush_nominal_m"][0] == found["predicted"][0]["groups"][0]["crush_m"]["nominal"]
    readings = pd.read_csv(tmp_path / "prediction-readings.csv")
    assert readings["speed_high_m_s"].tolist() == found["readings"][0]["speed_m_s"]["high"]
    text = (tmp_path / "prediction-READ-FIRST.txt").read_text(encoding="utf-8")
    assert text.startswith(SCREENING)
    assert found["sha256"] in text


# ---------------------------------------------------------------- pictures


@pytest.mark.parametrize(
    ("name", "paper"), [*((name, "a4") for name in CASES), ("rig", "letter"), ("many", "letter")]
)
def test_every_text_of_the_sheet_stays_on_its_page(name: str, paper: str) -> None:
    width, height = SIZES[paper]
    for figure in sheet_pages(predicted(name), SEAL, "si", paper).figures:
        FigureCanvasAgg(figure)
        scale = 25.4 / figure.dpi
        for text in [*figure.texts, *(t for axes in figure.axes for t in axes.texts)]:
            box = text.get_window_extent()
            assert box.x0 * scale > 0.5 * MARGIN, text.get_text()
            assert box.x1 * scale < width - 0.3 * MARGIN, text.get_text()
            assert box.y0 * scale > 0.25 * FOOT, text.get_text()
            assert box.y1 * scale < height - 0.5 * MARGIN, text.get_text()


@pytest.mark.parametrize("name", ["six legs", "rig", "coupon"])
def test_lines_of_the_sheet_do_not_overlap(name: str) -> None:
    for figure in sheet_pages(predicted(name), SEAL, "si").figures:
        FigureCanvasAgg(figure)
        boxes = [t.get_window_extent() for t in figure.texts if t.get_text().strip()]
        for i, one in enumerate(boxes):
            for other in boxes[i + 1 :]:
                wide = min(one.x1, other.x1) - max(one.x0, other.x0)
                tall = min(one.y1, other.y1) - max(one.y0, other.y0)
                assert wide < 1.0 or tall < 0.45 * min(one.height, other.height)


def test_a_stage_of_six_legs_takes_one_page_with_room_to_sign() -> None:
    pages = sheet_pages(predicted("six legs"), SEAL, "si")
    (figure,) = pages.figures
    texts = [text.get_text() for text in figure.texts]
    for who in ("predicted by", "checked by", "test conductor"):
        assert f"{who}, date" in texts
    assert any(f"Prediction {SEAL[:12]} · page 1 of 1" in " ".join(t.split()) for t in texts)


def test_the_same_prediction_gives_the_same_pdf() -> None:
    one, other = (sheet_pdf(predicted("coupon"), SEAL, "si") for _ in "12")
    assert one == other
    assert one.startswith(b"%PDF")


def test_numbers_of_the_nomogram_stand_where_the_curve_has_them() -> None:
    prediction = predicted("six legs")
    axes = nomogram_figures(prediction)["nomogram"].axes[0]
    for level, row in enumerate((4.0, 5.0, 6.0)):
        numbers = [t for t in axes.texts if t.get_position()[1] == pytest.approx(row - 0.26)]
        assert len(numbers) >= 5
        for text in numbers:
            x = float(text.get_position()[0])
            found = back(prediction, prediction.events[0], np.array([1e-3 * x]))
            assert found.speed[level, 0] == pytest.approx(float(text.get_text()), rel=5e-3)


def test_bars_of_the_nomogram_reach_from_high_to_low_force() -> None:
    prediction = predicted("six legs")
    axes = nomogram_figures(prediction)["nomogram"].axes[0]
    bars = {str(line.get_gid()): line.get_xdata() for line in axes.lines if line.get_gid()}
    for event in prediction.events:
        ends = np.asarray(bars[f"predicted, {event.name}"], dtype=float)
        np.testing.assert_allclose(ends, 1e3 * np.sort(event.groups[0].crush)[[0, 2]])
    assert np.asarray(bars["reject"], dtype=float)[0] == pytest.approx(
        1e3 * prediction.rejects.crush
    )


def test_bars_of_legs_that_crush_apart_say_which_legs() -> None:
    prediction = predict(check_case(read_case(EXAMPLES / "godwit-outrigger.toml")), DAY)
    axes = nomogram_figures(prediction)["nomogram"].axes[0]
    gids = [str(line.get_gid()) for line in axes.lines]
    named = ["predicted, nominal", "leg 1, one leg first", "legs 2 to 4, one leg first"]
    assert [gid for gid in gids if gid.endswith((", nominal", "leg first"))] == named


# ---------------------------------------------------------------- verb


def run(folder: Path, *words: str) -> int:
    case = folder / "case.toml"
    if not case.exists():
        case.write_text(template("coupon"), encoding="utf-8")
    return cli.main(["predict", str(case), *words])


def test_the_verb_writes_sheet_data_tables_and_figure(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pdf, issued, out = tmp_path / "sheet.pdf", tmp_path / "issued.json", tmp_path / "out"
    words = ("--sheet", str(pdf), "--json", str(issued), "--csv", "--out", str(out))
    assert run(tmp_path, *words, "--date", "2026-11-25", "--paper", "letter") == 0
    assert pdf.read_bytes().startswith(b"%PDF")
    data: dict[str, Any] = unsealed(json.loads(issued.read_text(encoding="utf-8")))
    assert data["date"] == "2026-11-25"
    assert {p.name for p in out.iterdir()} == {
        "nomogram.png",
        "nomogram.svg",
        "prediction-READ-FIRST.txt",
        "prediction-crush.csv",
        "prediction-events.csv",
        "prediction-readings.csv",
    }
    assert "issued 2026-11-25" in capsys.readouterr().out


def test_json_on_standard_output_is_all_there_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, "--json", "-", "--no-plots") == 0
    assert unsealed(json.loads(capsys.readouterr().out))["schema"] == "crushleg-prediction-1"


@pytest.mark.parametrize("date", ["2026-13-01", "26-1-1", "today", ""])
def test_a_date_that_is_none_is_refused(
    date: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, "--date", date, "--no-plots") == 2
    assert 'write a date, such as "2026-11-25"' in capsys.readouterr().err


def test_a_pdf_that_would_replace_json_or_case_is_refused_before_anything_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    same = str(tmp_path / "same")
    assert run(tmp_path, "--json", same, "--sheet", same) == 2
    assert run(tmp_path, "--sheet", str(tmp_path / "case.toml")) == 2
    assert run(tmp_path, "--sheet", str(tmp_path / "no" / "sheet.pdf")) == 2
    assert [p.name for p in tmp_path.iterdir()] == ["case.toml"]
    assert capsys.readouterr().out == ""


def test_a_case_that_fails_its_check_says_so_and_leaves_with_3(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, "--no-plots", "--set", 'vehicle.mass="500 kg"') == 3
    assert "This case FAILS its check" in capsys.readouterr().out
