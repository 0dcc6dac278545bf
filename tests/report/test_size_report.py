"""What a sizing and a schedule print, write and draw."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from io import StringIO
from typing import TYPE_CHECKING

import pandas as pd
import pytest
from rich.console import Console

from crushleg import template
from crushleg.cautions import SCREENING
from crushleg.design import search
from crushleg.design import size as sizing
from crushleg.design.asked import fixed_space, space_of
from crushleg.design.drill import schedule_of
from crushleg.design.follow import follow
from crushleg.design.line import read_line
from crushleg.design.ranges import Asked
from crushleg.design.settled import Schedule, Sizing, settled
from crushleg.design.stock import stock_of
from crushleg.design.written import read_original, written
from crushleg.report.drill_words import NO_TOOL, tool_text
from crushleg.report.follow_text import schedule_text
from crushleg.report.plot_follow import follow_figure
from crushleg.report.plot_size import size_figure
from crushleg.report.plots import write_figures
from crushleg.report.size_csv import write_schedule_csv, write_sizing_csv
from crushleg.report.size_data import schedule_result, sizing_result
from crushleg.report.size_progress import shown_progress
from crushleg.report.size_text import print_sizing, sizing_text
from crushleg.report.size_words import tools_of
from tests.report.cases import terminal

if TYPE_CHECKING:
    from pathlib import Path

    from matplotlib.figure import Figure

    from crushleg.design.written import Original

mm = 1e-3
QUICK = {"POPULATION": 14, "GENERATIONS": 2, "STARTS": 1}
NO_ROOM = "limits.leg_limit_load=9 kN"
GONE = """
[[girder.wall_steps]]
from = "200 mm"
wall = "2 mm"

[girder.measured]
wall = "1.4 mm"
"""


def original(folder: Path, *overrides: str) -> Original:
    path = folder / "c.toml"
    path.write_text(template("coupon") + GONE, encoding="utf-8")
    return read_original(path, overrides)


@pytest.fixture(autouse=True, scope="module")
def _quick() -> object:
    patch = pytest.MonkeyPatch()
    for name, value in QUICK.items():
        patch.setattr(search, name, value)
    patch.setattr(search.descend, "__defaults__", (30,))
    patch.setattr(sizing, "ASIDE", 10)
    yield
    patch.undo()


@cache
def sized(folder: Path, *overrides: str) -> Sizing:
    of = original(folder, *overrides)
    asked = Asked(walls=(1.0 * mm, 1.2 * mm))
    space = space_of(of.case, of.given, asked, held=of.held)
    found = sizing.size(of.case, space, held=of.held)
    place, text = settled(found, of, folder)
    return Sizing(
        original=of,
        asked=asked,
        stock=stock_of(of.case),
        seed=1,
        file=folder / of.name,
        sized=found,
        place=place,
        written=text,
    )


@cache
def schedule(folder: Path) -> Schedule:
    of = original(folder)
    space = fixed_space(of.case, of.given, Asked())
    found = follow(of.case, space, read_line("ramp:12kN:30kN"))
    choice = found.archive.choices[found.best]
    return Schedule(
        original=of,
        asked=Asked(),
        stock=stock_of(of.case),
        seed=1,
        file=folder / of.name,
        followed=found,
        written=written(of, space, choice, folder, section=False),
    )


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("size")


@pytest.fixture(scope="module")
def other(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("none")


def test_a_sizing_begins_with_its_verdict_and_ends_with_the_caution(folder: Path) -> None:
    lines = sizing_text(sized(folder)).splitlines()
    assert lines[2].startswith("FOUND: ")
    assert lines[4] == f"Case file: {folder / 'c-sized.toml'}"
    assert lines[-1] == SCREENING


def test_a_sizing_names_what_stops_it_and_what_it_does_not_keep(folder: Path) -> None:
    text = sizing_text(sized(folder))
    assert "What stops further saving" in text
    assert "wall_steps: the girder is sized from one sheet" in text
    assert "[girder.measured]" in text


def test_every_row_has_its_tool_or_is_of_free_size(folder: Path) -> None:
    job = sized(folder)
    rows = sizing_result(job)["design"]["rows"]
    names = {tool.name for tool in job.stock.tools}
    assert rows
    assert all(row["tool"] in names for row in rows)
    assert all(row["tool"] in sizing_text(job) for row in rows)


def test_the_tool_of_a_row_is_the_one_that_drill_names(folder: Path) -> None:
    job = sized(folder)
    assert job.written is not None
    for tolerance in (0.1 * mm, 1.5 * mm):
        space = job.sized.archive.space
        space = replace(space, base=replace(space.base, hole_tolerance=tolerance))
        girder = space.girder(job.choice)
        plans = schedule_of(girder, job.stock).rows
        assert tools_of(job, space, job.choice) == [tool_text(plan, "mm") for plan in plans]
    slots = replace(space, pattern=space.pattern._replace(shape="slot", along=60 * mm))
    assert set(tools_of(job, slots, job.choice)) == {NO_TOOL}


@pytest.mark.parametrize("units", ["si", "us"])
def test_a_sizing_fits_a_terminal(folder: Path, units: str) -> None:
    console = terminal(80)
    print_sizing(sized(folder), console, units)
    assert isinstance(console.file, StringIO)
    assert "FOUND" in console.file.getvalue()


def test_no_design_says_so_first_and_names_the_conflict(other: Path) -> None:
    job = sized(other, NO_ROOM)
    text = sizing_text(job)
    assert text.splitlines()[2].startswith("NO DESIGN: ")
    assert text.splitlines()[2].endswith("No case file was written.")
    assert "Which limits conflict" in text
    assert "leg load (drop from 0.8 m)" in text
    assert "Margins of the written case" not in text
    found = sizing_result(job)
    assert (found["found"], found["case_file"], found["check"]) == (False, None, None)
    assert found["conflicts"][0]["margin"] < 0.0


def test_results_are_json_without_nan(folder: Path, other: Path) -> None:
    for found in (
        sizing_result(sized(folder)),
        sizing_result(sized(other, NO_ROOM)),
        schedule_result(schedule(folder)),
    ):
        assert json.loads(json.dumps(found, allow_nan=False)) == found


def test_the_front_in_the_table_is_that_of_the_data(folder: Path, tmp_path: Path) -> None:
    job = sized(folder)
    write_sizing_csv(job, tmp_path)
    front = pd.read_csv(tmp_path / "size-front.csv")
    assert front["mass_kg"].is_monotonic_increasing
    assert front["mass_kg"].tolist() == [one["mass_kg"] for one in sizing_result(job)["front"]]
    rows = pd.read_csv(tmp_path / "size-rows.csv")
    sizes = [float(text) for text in str(front["sizes_m"][0]).split()]
    assert rows["size_m"].tolist() == sizes
    assert (tmp_path / "READ-FIRST.txt").read_text(encoding="utf-8").startswith(SCREENING)


def test_tables_of_no_design_and_of_a_schedule_are_written_too(
    folder: Path, other: Path, tmp_path: Path
) -> None:
    write_sizing_csv(sized(other, NO_ROOM), tmp_path)
    assert "met_by" in pd.read_csv(tmp_path / "size-margins.csv").columns
    write_schedule_csv(schedule(folder), tmp_path)
    curve = pd.read_csv(tmp_path / "follow-curve.csv")
    assert (curve["least_in_reach_N"] <= curve["most_in_reach_N"]).all()


def test_a_schedule_says_how_close_it_is_and_what_it_cannot_reach(folder: Path) -> None:
    job = schedule(folder)
    text = schedule_text(job)
    assert "Follows ramp:12kN:30kN within " in text
    assert "over the plain girder" in text
    assert "under the largest holes" in text
    assert text.splitlines()[-1] == SCREENING


def gids(figure: Figure) -> dict[str, int]:
    found = (line for axes in figure.axes for line in axes.lines)
    return {str(line.get_gid()): len(line.get_xdata()) for line in found}  # type: ignore[arg-type]


def test_the_figure_of_a_sizing_shows_every_design_of_the_front(folder: Path) -> None:
    job = sized(folder)
    figure = size_figure(job)
    assert gids(figure)["front"] == len(job.sized.front)
    numbers = [text.get_text() for text in figure.axes[0].texts]
    assert {str(i + 1) for i in range(len(job.sized.front))} <= set(numbers)
    assert figure.axes[1].get_xlabel() == "Mass of one girder (kg)"


def test_the_figure_names_the_input_of_the_report_and_the_limit_of_reserve_cases(
    other: Path,
) -> None:
    job = sized(other, "limits.leg_limit_load=24 kN", "touchdown.0.reserve=true")
    figure = size_figure(job)
    assert job.original.case.input_sha256[:8] in " ".join(text.get_text() for text in figure.texts)
    said = [text.get_text() for text in figure.axes[0].texts]
    assert "limit load 24 kN, in reserve × 1.4" in said


def test_the_figure_of_no_design_marks_what_lacks_least(other: Path) -> None:
    shown = gids(size_figure(sized(other, NO_ROOM)))
    assert shown["nearest"] == 1
    assert "front" not in shown
    assert "meets every margin" not in shown


def test_the_figure_of_a_schedule_shows_wanted_and_found(folder: Path) -> None:
    job = schedule(folder)
    lines = {line.get_gid(): line for line in follow_figure(job, "us").axes[0].lines}
    digest = job.original.case.input_sha256[:8]
    assert any(digest in text.get_text() for text in follow_figure(job).texts)
    wanted = lines["wanted"].get_ydata()
    assert list(wanted) == pytest.approx((job.followed.wanted / 4448.2216152605).tolist())  # type: ignore[arg-type]


def test_figures_are_written_in_both_formats(folder: Path, tmp_path: Path) -> None:
    drawn = {"size-front": size_figure(sized(folder)), "follow": follow_figure(schedule(folder))}
    names = [path.name for path in write_figures(drawn, tmp_path)]
    assert sorted(names) == ["follow.png", "follow.svg", "size-front.png", "size-front.svg"]
    assert all((tmp_path / name).stat().st_size > 1000 for name in names)


def test_progress_is_shown_on_a_terminal_alone() -> None:
    on, off = terminal(100), Console(file=StringIO(), force_terminal=False)
    for console in (on, off):
        with shown_progress(100, console) as tell:
            tell(40, "lightest")
    assert isinstance(on.file, StringIO)
    assert isinstance(off.file, StringIO)
    assert "40 girders" in on.file.getvalue()
    assert off.file.getvalue() == ""
