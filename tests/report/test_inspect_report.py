"""What an inspection prints, draws and writes: on a terminal, in a pipe, on one page, as data."""

from __future__ import annotations

import io
import json
import re
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd
import pytest
from rich.cells import cell_len

import crushleg
from crushleg import cli
from crushleg.cautions import SCREENING
from crushleg.report.inspect_card import card_pages, inspection_card
from crushleg.report.inspect_csv import write_inspection_csv
from crushleg.report.inspect_data import inspection_data
from crushleg.report.inspect_flags import flags
from crushleg.report.inspect_text import inspection_text, print_inspection
from crushleg.report.inspect_words import NO_RELEASE, speed_words
from crushleg.report.paper import FOOT
from crushleg.report.plot_inspect import inspection_figure
from crushleg.report.plots import rendered
from crushleg.trial.heights import from_options
from crushleg.trial.heights_file import read_heights
from crushleg.trial.inspect import Asked, Inspection, inspect_legs
from tests.report.cases import WIDTH, bare, printed, terminal

if TYPE_CHECKING:
    from matplotlib.axes import Axes

EXAMPLES = Path(__file__).parents[2] / "examples"
DUNLIN = (str(EXAMPLES / "dunlin.toml"), str(EXAMPLES / "dunlin-readings.csv"))
UNITS = pytest.mark.parametrize("units", ["si", "us"])
LONG = "title=" + '"' + "A very long title " * 12 + '"'


def legs_of(*crush_mm: float, length: float) -> list[str]:
    return [
        f"{i + 1}={length - c},{length - c},{length - c},{length - c} mm"
        for i, c in enumerate(crush_mm)
    ]


@cache
def found(name: str) -> Inspection:
    if name == "example":
        case = crushleg.read_case(DUNLIN[0])
        return inspect_legs(case, read_heights(Path(DUNLIN[1]), 6), Asked(other=5e3))
    if name == "coupon":
        case = crushleg.read_case(EXAMPLES / "coupon.toml")
        return inspect_legs(case, from_options(legs_of(56.0, length=300.0), ["1=2"], 1))
    if name == "canted":
        case = crushleg.read_case(EXAMPLES / "godwit.toml", [LONG])
        legs = legs_of(50.0, 90.0, 0.0, 60.0, length=500.0)
        return inspect_legs(case, from_options(legs, ["2=9"], 4), Asked(other=0.0))
    case = crushleg.read_case(DUNLIN[0], ["vehicle.legs=24", LONG, "vehicle.mass=400 t"])
    wild = 400.0 + 350.0 * np.sin(np.arange(24) ** 2)
    legs = [f"{i + 1}={1000 - c},{980 - c},{1010 - c},{950 - c} mm" for i, c in enumerate(wild)]
    return inspect_legs(case, from_options(legs, [f"{i + 1}=1" for i in range(24)], 24))


NAMES = ("example", "coupon", "canted", "wild")
EVERY = pytest.mark.parametrize("name", NAMES)


@EVERY
@UNITS
def test_every_line_fits_80_columns(name: str, units: str) -> None:
    shown = bare(printed(lambda console: print_inspection(found(name), console, units), terminal()))
    assert [text for text in shown.splitlines() if cell_len(text) > WIDTH] == []


@EVERY
@UNITS
def test_the_report_releases_no_leg_and_ends_with_the_caution(name: str, units: str) -> None:
    text = inspection_text(found(name), units)
    assert NO_RELEASE in text.splitlines()
    assert text.endswith(f"{SCREENING}\n")
    assert "not for another landing" in text
    assert not re.search(r"\b(fit|cleared|safe|released|reusable|may fly)\b", text)
    assert "nan" not in text.replace("nant", "").lower().split()


def test_the_example_is_read_as_printed() -> None:
    """By hand: leg 1 1000 − (812+815+811+813)/4 = 187.25 mm; legs together 1199.75/6 = 199.96."""
    case = found("example")
    assert case.faces.crush[0] == pytest.approx(0.18725)
    assert case.rest.sunk == pytest.approx(0.199958, abs=1e-6)
    text = inspection_text(case)
    assert "Speed at touchdown: 3.53 m/s, 2.76 to 4.15 m/s (about 95 %)." in text
    assert "force, common to all legs dominates" in text
    assert "812.0 815.0 811.0 813.0" in text


def test_an_unknown_energy_elsewhere_is_said_and_makes_a_lower_bound() -> None:
    text = inspection_text(found("coupon"))
    assert "at least" in speed_words(found("coupon"), "si")
    assert "a lower bound" in text
    assert "--other-energy" in text
    assert re.search(r"not in the legs .*unknown", text)
    assert "lean       not known" in text


def test_the_ledger_adds_up() -> None:
    for name in NAMES:
        entries = {e["entry"]: e["nominal"] for e in inspection_data(found(name))["energy_J"]}
        kinetic = entries.pop("kinetic energy at touchdown")
        total = sum(value or 0.0 for value in entries.values())
        assert max(total, 0.0) == pytest.approx(kinetic, rel=1e-9)
        speed = found(name).band.speed[1]
        assert kinetic == pytest.approx(0.5 * found(name).arrival.mass * speed**2)


@EVERY
def test_the_data_are_plain_json_and_say_that_nothing_is_released(name: str) -> None:
    data = inspection_data(found(name))
    again = json.loads(json.dumps(data, allow_nan=False))
    assert again == data
    assert data["schema"] == "crushleg-inspection-1"
    assert data["released"] is False
    assert data["cautions"][:2] == [SCREENING, NO_RELEASE]
    assert [leg["leg"] for leg in data["legs"]] == list(range(1, len(data["legs"]) + 1))
    assert (data["speed_m_s"]["high"] is None) == data["speed_is_lower_bound"]
    assert sum(cause["share_of_squares"] for cause in data["causes"]) == pytest.approx(1.0)


def test_the_tables_are_those_of_the_data(tmp_path: Path) -> None:
    paths = write_inspection_csv(found("example"), tmp_path / "new")
    legs = pd.read_csv(tmp_path / "new" / "inspection-legs.csv")
    data = inspection_data(found("example"))
    assert legs["crush_m"].tolist() == pytest.approx([leg["crush_m"] for leg in data["legs"]])
    assert legs["energy_low_J"].iloc[0] == pytest.approx(data["legs"][0]["energy_J"]["low"])
    assert SCREENING in paths[-1].read_text(encoding="utf-8")
    assert all(path.exists() for path in paths)


def line_of(axes: Axes, gid: str) -> Any:
    return next(line for line in axes.get_children() if line.get_gid() == gid)


@EVERY
@UNITS
def test_the_figure_shows_every_leg_at_its_crush_with_units(name: str, units: str) -> None:
    figure = inspection_figure(found(name), units)
    curve, strip, plan = figure.axes
    scale = {"si": 1e3, "us": 1.0 / 0.0254}[units]
    dots = line_of(curve, "legs")
    assert dots.get_xdata() == pytest.approx(found(name).faces.crush * scale)
    unit = {"si": "mm", "us": "in"}[units]
    assert strip.get_xlabel() == f"Crush that stays ({unit})"
    assert curve.get_ylabel().startswith("Force of one girder (")
    assert curve.get_xlim() == pytest.approx(strip.get_xlim())
    assert len(strip.get_yticks()) == found(name).faces.crush.size
    assert len(line_of(plan, "pads").get_xdata()) == found(name).faces.crush.size


def test_the_figure_is_the_same_for_the_same_inspection() -> None:
    one, other = (rendered(inspection_figure(found("example")), "svg") for _ in range(2))
    assert one == other


@EVERY
@pytest.mark.parametrize(("units", "paper"), [("si", "a4"), ("us", "letter")])
def test_the_card_is_one_page_with_its_lines_to_sign_inside(
    name: str, units: str, paper: str
) -> None:
    pages = card_pages(found(name), units, paper)
    assert len(pages.figures) == 1
    assert pages.y <= pages.height - FOOT + 0.5
    figure = pages.figures[0]
    strip = figure.axes[1].get_position()
    assert strip.height * pages.height > 1.2 * found(name).faces.crush.size
    words = " ".join(text.get_text() for text in figure.texts)
    for part in ("releases no leg", "responsible engineer, date", "Screening estimate only"):
        assert part in words
    for text in figure.texts:
        x, y = text.get_position()
        assert 0.0 < x < 1.0
        assert 0.0 < y < 1.0


@pytest.mark.parametrize(("paper", "width"), [("a4", 595.2), ("letter", 612.0)])
def test_the_card_is_a_pdf_of_one_page_and_of_the_paper_asked_for(paper: str, width: float) -> None:
    raw = inspection_card(found("coupon"), "si", paper)
    assert raw.startswith(b"%PDF")
    assert len(re.findall(rb"/Type /Page\b(?!s)", raw)) == 1
    box = re.search(rb"/MediaBox \[ ?0 0 ([0-9.]+)", raw)
    assert box is not None
    assert float(box[1]) == pytest.approx(width, abs=0.3)


def test_the_card_is_the_same_for_the_same_inspection() -> None:
    assert inspection_card(found("coupon")) == inspection_card(found("coupon"))


def test_lines_differ_without_colour() -> None:
    curve = inspection_figure(found("example")).axes[0]
    lines = [line_of(curve, level) for level in ("low", "nominal", "high")]
    assert len({str(line._unscaled_dash_pattern) for line in lines}) == 3
    assert lines[1].get_linewidth() > max(lines[0].get_linewidth(), lines[2].get_linewidth())


def test_flags_say_where_and_how_much() -> None:
    said = " ".join(flags(found("canted"), "si"))
    assert "leg 2 (9 counted, 3.8 by its crush)" in said
    assert "Unequal crush: leg 2 90 mm more than leg 3." in said
    assert "Leg 3: no crush beyond the reading error." in said


def run(*words: str, capsys: pytest.CaptureFixture[str]) -> tuple[int, str, str]:
    code = cli.main(["inspect", *words])
    shown = capsys.readouterr()
    return code, shown.out, shown.err


def test_the_verb_writes_all_it_is_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out, card, data = tmp_path / "out", tmp_path / "card.pdf", tmp_path / "data.json"
    code, text, said = run(
        *DUNLIN, "--out", str(out), "--card", str(card), "--json", str(data), "--csv",
        "--other-energy", "5 kJ", capsys=capsys,
    )  # fmt: skip
    assert code == cli.PASSED
    assert text == inspection_text(found("example"))
    assert card.read_bytes().startswith(b"%PDF")
    assert json.loads(data.read_text(encoding="utf-8"))["other_energy_J"] == 5000.0
    assert {path.name for path in out.iterdir()} >= {"inspection.svg", "inspection-legs.csv"}
    assert "card: " in said


def test_options_in_place_of_a_file_give_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    case = str(EXAMPLES / "coupon.toml")
    words = (case, "--leg", "1=244,244,244,244mm", "--folds", "1=2", "--no-plots")
    code, text, _ = run(*words, capsys=capsys)
    assert code == cli.PASSED
    assert text == inspection_text(found("coupon"))


def test_a_limit_exceeded_exits_with_3(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, _ = run(
        *DUNLIN, "--no-plots", "--quiet", "--set", "limits.clearance_min=0.7 m", capsys=capsys
    )
    assert code == cli.NEGATIVE


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((DUNLIN[0],), "no heights"),
        ((DUNLIN[0], "none.csv"), "no such file"),
        ((*DUNLIN, "--leg", "1=1,1,1,1 m"), "READINGS, or --leg for every leg"),
        ((*DUNLIN, "--touchdown", "hard"), '"nominal" or "reserve"'),
        ((*DUNLIN, "--reading-error", "2"), "--reading-error"),
        ((*DUNLIN, "--before", "700 mm"), "815 mm at the right, before the landing 700 mm"),
        ((*DUNLIN, "--card", DUNLIN[1]), "an input"),
        ((*DUNLIN, "--card", "-"), "the name of a file"),
        ((*DUNLIN, "--card", "/none/card.pdf"), "a folder that is missing"),
        ((*DUNLIN, "--json", "x.pdf", "--card", "x.pdf"), "a name that two files would have"),
        ((*DUNLIN, "--out", str(EXAMPLES)), "another folder"),
        ((str(EXAMPLES / "godwit.toml"), DUNLIN[1]), "leg 5"),
    ],
)
def test_bad_input_exits_with_2_and_writes_nothing(
    words: tuple[str, ...],
    said: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    code, text, message = run(*words, capsys=capsys)
    assert (code, text) == (cli.INPUT, "")
    assert re.search(said, message)
    assert list(tmp_path.iterdir()) == []


def test_pictures_are_legible_in_grey() -> None:
    """Band, dots and lines keep apart in brightness: the band is light, the dots dark."""
    image = pytest.importorskip("PIL.Image")
    figure = inspection_figure(found("example"))
    raw = rendered(figure, "png")
    grey = np.asarray(image.open(io.BytesIO(raw)).convert("L"))
    share = [(grey < 80).mean(), ((grey > 200) & (grey < 245)).mean()]
    assert share[0] > 0.005
    assert share[1] > 0.02
