"""The comparison as it is printed, written and drawn."""

from __future__ import annotations

import json
import re
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
import pytest
from matplotlib.collections import PolyCollection

import crushleg
from crushleg import cli
from crushleg.case.reader import case_reader
from crushleg.cautions import SCREENING
from crushleg.design.compare import Comparison, compare
from crushleg.design.schemes import cases_lineup, scheme_lineup, vary_lineup
from crushleg.design.vary import read_varied, varied_cases
from crushleg.report.compare_csv import write_comparison_csv
from crushleg.report.compare_data import comparison_result
from crushleg.report.compare_text import comparison_text, print_comparison
from crushleg.report.compare_words import findings
from crushleg.report.csv_files import READ_FIRST
from crushleg.report.plot_compare import comparison_figures
from crushleg.report.plot_compare_curves import MOST
from crushleg.report.plot_compare_margins import series
from crushleg.report.plots import write_figures
from tests.report.cases import bare, printed, terminal

if TYPE_CHECKING:
    from matplotlib.figure import Figure

EXAMPLES = Path(__file__).parents[2] / "examples"
SCHEMES, DUNLIN = EXAMPLES / "dunlin-schemes.toml", EXAMPLES / "dunlin.toml"


@cache
def schemes(*overrides: str) -> Comparison:
    return compare(scheme_lineup(crushleg.read_case(SCHEMES, overrides), "example"))


@cache
def varied(text: str = "girder.wall=3mm:6mm:7") -> Comparison:
    one = read_varied(text)
    return compare(vary_lineup(varied_cases(case_reader(DUNLIN), [], one), one))


ALL = (schemes, varied)


def table(text: str, heading: str) -> dict[str, list[str]]:
    """Cells of a printed table by the name in its first column."""
    lines = text.split(f"\n{heading}", 1)[1].splitlines()[2:]
    rows = [re.split(r"\s{2,}", line.strip()) for line in lines]
    end = next(i for i, row in enumerate(rows) if len(row) < 2)
    return {row[0]: row[1:] for row in rows[:end]}


def test_every_girder_and_yardstick_has_its_line() -> None:
    found = table(comparison_text(schemes()), "Girders, nominal")
    names = [one.name for one in schemes().compared]
    assert list(found) == [*names, "plain column", "round tube", "constant force"]
    assert found["girder"] == ["14.9", "254", "298", "15.1"]
    assert found["round tube"][1] == "–"


def test_stroke_and_loads_are_those_of_check_at_the_same_touchdown() -> None:
    """The README's extract of `check examples/dunlin.toml`: 421 mm, 527 kN, 7.06 g0 at reserve."""
    found = table(comparison_text(schemes()), "At the touchdown reserve")
    assert found["girder"][:3] == ["421", "527", "7.06"]
    assert found["constant force"][3] == "1.00"


def test_what_fails_is_named_with_its_margins() -> None:
    text = comparison_text(schemes())
    assert "1 of 6 FAIL: even. Pass: girder, linear, slots, wall step, initiator." in text
    assert "even FAILS: collapse sequence (girder) -0.04" in text


def test_a_comparison_in_which_all_pass_says_so() -> None:
    text = comparison_text(schemes("scheme.even.holes={law='none'}"))
    assert "ALL 6 PASS this screening check" not in text
    text = comparison_text(compare(cases_lineup([crushleg.read_case(DUNLIN)] * 2, ["a", "b"])))
    assert "ALL 2 PASS this screening check" in text
    assert "b is the same girder as a." in text


def test_the_report_fits_a_terminal_of_80_columns() -> None:
    for make in ALL:
        text = printed(partial(print_comparison, make()), terminal(80))
        lines = bare(text).splitlines()
        assert max(map(len, lines)) <= 80


@pytest.mark.parametrize("units", ["si", "us"])
def test_the_caution_stands_in_every_output(units: str, tmp_path: Path) -> None:
    for make in ALL:
        assert comparison_text(make(), units).count(SCREENING) == 2
        assert SCREENING in comparison_result(make())["cautions"]
        paths = {p.name: p.read_text("utf-8") for p in write_comparison_csv(make(), tmp_path)}
        assert paths[READ_FIRST].splitlines()[0] == SCREENING
        for name in ("compare.csv", "compare-margins.csv"):
            assert all(SCREENING in line for line in paths[name].splitlines()[1:])


def test_us_units_are_shown() -> None:
    found = table(comparison_text(schemes(), "us"), "Girders, nominal")
    assert float(found["girder"][0]) == pytest.approx(14.904 / 0.45359237, abs=0.05)
    assert float(found["girder"][3]) == pytest.approx(15108.1 / 2.98906692, rel=1e-3)


# ---------------------------------------------------------------- words from numbers


def signed(text: str) -> list[tuple[float, float, float]]:
    """Every "+5 % (a unit against b unit)" as change, a, b."""
    pattern = r"([+-]\d+) % \(([\d.]+)[^)]*? against ([\d.]+)"
    return [tuple(map(float, found)) for found in re.findall(pattern, text)]  # type: ignore[misc]


def test_what_is_bought_and_what_it_costs_follows_the_numbers() -> None:
    one = schemes().compared[0]
    said = findings(schemes())[0]
    buys, costs = said.split("they cost")
    assert f"leg load {100 * (one.merit.load / one.plain_merit.load - 1):+.0f} %" in buys
    assert f"stroke {100 * (one.merit.stroke / one.plain_merit.stroke - 1):+.0f} %" in costs
    assert "an order from the foot (sequence margin +0.092)" in buys
    for change, ours, plain in signed(said):
        assert change == pytest.approx(100 * (ours / plain - 1), abs=1.0)


def test_a_pattern_without_a_sure_order_does_not_buy_one() -> None:
    said = next(text for text in findings(schemes()) if text.startswith("even, against"))
    assert "no sure order from the foot" in said.split("they cost")[1]


def test_holes_that_change_nothing_buy_nothing() -> None:
    pin = "girder.holes={law='even', rows=2, size='0.01 mm', first='200 mm', row_pitch='300 mm'}"
    cases = [crushleg.read_case(DUNLIN, [pin, "girder.hole_tolerance=0 mm"])] * 2
    said = findings(compare(cases_lineup(cases, ["a", "b"])))[0]
    assert "leg load" not in said
    assert "they cost" in said


def test_loads_of_a_leg_that_bottoms_are_not_called_bought() -> None:
    said = findings(schemes("vehicle.mass=120 t"))
    assert "leg load" not in said[0]
    assert any("bottoms at reserve: strokes and loads are not compared." in text for text in said)


def test_a_girder_that_is_there_twice_is_told_once() -> None:
    case = crushleg.read_case(DUNLIN)
    said = findings(compare(cases_lineup([case, case], ["a", "b"])))
    assert any(text.startswith("a, against") for text in said)
    assert not any(text.startswith("b, against") for text in said)


def test_wall_steps_without_holes_are_told_by_their_ramp() -> None:
    steps = ["girder.holes={law='none'}", "girder.wall_steps=[{from='500 mm', wall='5 mm'}]"]
    cases = [crushleg.read_case(DUNLIN, steps), crushleg.read_case(DUNLIN, steps[:1])]
    found = compare(cases_lineup(cases, ["stepped", "plain"]))
    said = findings(found)
    assert said[0].startswith("stepped, without holes: from the first zone")
    assert f"the mean force {found.compared[0].merit.ramp:.2f} times." in said[0]
    assert not any(text.startswith("plain") for text in said)


def test_the_net_area_rule_is_judged_by_its_own_numbers() -> None:
    text = next(text for text in findings(schemes()) if text.startswith("girder: from the first"))
    net, mean = map(int, re.findall(r"(\d+) % of the", text))
    assert net == 39
    assert ("overstates" in text) == (net < mean)


def test_the_best_are_chosen_among_those_that_pass() -> None:
    text = next(text for text in findings(schemes()) if text.startswith("Of those that pass"))
    assert "least leg load, 437 kN: slots" in text
    assert "even" not in text
    none = findings(schemes("limits.leg_limit_load=1 kN"))
    assert "None of them passes: no girder leads." in none


def test_a_varied_input_says_where_the_governing_margin_changes_sign() -> None:
    said = " ".join(findings(varied()))
    assert "changes sign between 3 mm and 3.5 mm; between 5.5 mm and 6 mm." in said
    assert "Governing: leg load (reserve) at 3 mm;" in said
    steady = " ".join(findings(varied("girder.wall=4mm:4.2mm:3")))
    assert "The governing margin is zero or more at every value." in steady


# ---------------------------------------------------------------- data


def test_json_holds_every_girder_with_its_check() -> None:
    found = json.loads(json.dumps(comparison_result(schemes()), allow_nan=False))
    assert found["schema"] == "crushleg-comparison-1"
    assert found["passes"] is False
    assert [one["name"] for one in found["girders"]][:2] == ["girder", "even"]
    first = found["girders"][0]
    assert first["check"]["margins"][0]["check"] == "energy"
    assert first["yardsticks"]["round_tube"]["mass_kg"] == first["mass_kg"]
    assert found["girders"][-1]["sensitivity"]["stroke"]["holes"] is None


def test_json_of_a_varied_input_has_values_and_no_curves() -> None:
    found = json.loads(json.dumps(comparison_result(varied()), allow_nan=False))
    assert found["varied"] == {"key": "girder.wall", "kind": "length"}
    values = [one["value"] for one in found["girders"]]
    assert values == pytest.approx(np.linspace(3e-3, 6e-3, 7))
    assert "curve" not in found["girders"][0]["check"]


def test_json_of_what_never_stops_is_json() -> None:
    found = comparison_result(schemes("vehicle.mass=400 t"))
    json.dumps(found, allow_nan=False)
    assert found["girders"][0]["stroke_needed_m"] is None


def test_tables_hold_the_numbers_of_the_json(tmp_path: Path) -> None:
    found = comparison_result(schemes())
    written = {path.stem: path for path in write_comparison_csv(schemes(), tmp_path)}
    lines = pd.read_csv(written["compare"])
    assert lines["leg_load_N"].tolist() == [one["leg_load_N"] for one in found["girders"]]
    slope = found["girders"][0]["sensitivity"]["load"]["wall"]
    assert lines["load_per_wall"][0] == pytest.approx(slope)
    margins = pd.read_csv(written["compare-margins"])
    assert set(margins["name"]) == set(lines["name"])
    curves = pd.read_csv(written["compare-curves"])
    assert curves.groupby("name").size().min() > 100
    assert len(pd.read_csv(written["yardsticks"])) == 3 * len(lines)


# ---------------------------------------------------------------- figures


@cache
def figures(of: str) -> dict[str, Figure]:
    return comparison_figures(schemes() if of == "schemes" else varied())


def test_every_girder_has_a_panel_with_its_curves_and_stops() -> None:
    panels = figures("schemes")["compare-curves"].axes
    assert [axes.get_title(loc="left") for axes in panels] == [c.name for c in schemes().compared]
    for axes, one in zip(panels, schemes().compared, strict=True):
        lines = {str(line.get_gid()): line for line in axes.lines}
        stop = lines["stop nominal"].get_xydata()
        landed = one.checked.landings[1]
        assert np.asarray(stop)[0, 0] == pytest.approx(1e3 * landed.stroke[1, 0])
        assert len([line for line in axes.lines if line.get_gid() == "other"]) == len(panels) - 1
        assert ("plain column" in lines) is one.drilled


def test_faces_show_every_hole_to_one_scale() -> None:
    (axes,) = figures("schemes")["compare-girders"].axes
    drawn = {
        str(c.get_gid()).removeprefix("holes "): len(c.get_paths())
        for c in axes.collections
        if isinstance(c, PolyCollection)
    }
    for one in schemes().compared:
        rows = one.checked.case.girder.holes.rows
        assert drawn[one.name] == sum(row.per_face for row in rows)
    box = axes.get_position()
    across, up = axes.get_figure().get_size_inches()  # type: ignore[union-attr]
    (left, right), (low, high) = axes.get_xlim(), axes.get_ylim()
    assert box.width * across / (right - left) == pytest.approx(box.height * up / (high - low))


def test_every_margin_is_a_line_against_the_varied_input() -> None:
    (axes,) = figures("varied")["compare-margins"].axes
    lines = {str(line.get_gid()): line for line in axes.lines}
    for one in series(varied()):
        line = np.asarray(lines[one.name].get_xydata())
        assert line[:, 0] == pytest.approx(np.linspace(3.0, 6.0, 7))
        assert line[:, 1] == pytest.approx(np.clip(one.ratio, *axes.get_ylim()), nan_ok=True)
    judged = {
        f"{m.check.replace('_', ' ')}, {m.touchdown}"
        for m in varied().first.margins
        if m.margin is not None
    }
    assert judged <= set(lines)
    assert axes.get_xlabel() == "girder.wall (mm)"


def test_no_two_lines_of_margins_look_alike() -> None:
    (axes,) = figures("varied")["compare-margins"].axes
    names = {one.name for one in series(varied())}
    looks = [
        (line.get_marker(), line.get_color(), line.get_linestyle(), line.get_linewidth())
        for line in axes.lines
        if line.get_gid() in names
    ]
    assert len(looks) == len(names)
    assert len(set(map(str, looks))) == len(looks)


def test_of_many_values_some_are_drawn_and_the_figure_says_so() -> None:
    many = varied("vehicle.mass=36 t:44 t:21")
    figure = comparison_figures(many)["compare-curves"]
    assert len(figure.axes) == MOST
    assert any(f"{MOST} of 21" in text.get_text() for text in figure.texts)


def test_files_are_the_same_every_time(tmp_path: Path) -> None:
    one, other = (
        {
            path.name: path.read_bytes()
            for path in write_figures(comparison_figures(schemes()), tmp_path / name, ("svg",))
        }
        for name in ("a", "b")
    )
    assert list(one) == ["compare-curves.svg", "compare-girders.svg"]
    assert one == other


# ---------------------------------------------------------------- the verb


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ([str(SCHEMES)], cli.NEGATIVE),
        ([str(DUNLIN), "--vary", "girder.wall=4mm:5mm:3"], cli.PASSED),
        ([str(DUNLIN), "--vary", "girder.wall=4mm:6mm:3"], cli.NEGATIVE),
        ([str(DUNLIN), str(EXAMPLES / "godwit.toml")], cli.NEGATIVE),
        ([str(DUNLIN), str(DUNLIN)], cli.PASSED),
        ([str(DUNLIN)], cli.INPUT),
        ([str(DUNLIN), "--vary", "girder.wall=4mm:5mm:1"], cli.INPUT),
        ([str(DUNLIN), "--vary", "girder.wall=4mm:8mm:3"], cli.INPUT),
        ([str(DUNLIN), str(DUNLIN), "--vary", "girder.wall=4mm:5mm:2"], cli.INPUT),
        ([str(DUNLIN), "none.toml"], cli.INPUT),
    ],
)
def test_exit_codes(words: list[str], code: int, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["compare", *words, "--no-plots"]) == code
    out, err = capsys.readouterr()
    assert (out == "") is (code == cli.INPUT)
    assert (err != "") is (code == cli.INPUT)


def test_results_go_where_they_are_asked_for(tmp_path: Path) -> None:
    case = tmp_path / "stage.toml"
    case.write_bytes(SCHEMES.read_bytes())
    words = ["compare", str(case), "--csv", "--json", str(tmp_path / "j.json"), "--quiet"]
    assert cli.main(words) == cli.NEGATIVE
    names = {path.name for path in (tmp_path / "stage").iterdir()}
    assert names >= {"compare.csv", "compare-curves.svg", "compare-girders.png", READ_FIRST}
    assert json.loads((tmp_path / "j.json").read_text("utf-8"))["kind"] == "schemes"


def test_a_scheme_file_is_never_overwritten(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    case = tmp_path / "stage.toml"
    case.write_bytes(SCHEMES.read_bytes())
    assert cli.main(["compare", str(DUNLIN), str(case), "--json", str(case)]) == cli.INPUT
    assert "the name of an input" in capsys.readouterr().err
    assert case.read_bytes() == SCHEMES.read_bytes()


def test_the_other_verbs_leave_schemes_out_but_read_them(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert cli.main(["check", str(SCHEMES), "--no-plots", "--quiet"]) == cli.PASSED
    words = ["check", str(SCHEMES), "--no-plots", "--set", "scheme.even.wall=5 kg"]
    assert cli.main(words) == cli.INPUT
    assert "--set scheme.even.wall" in capsys.readouterr().err
