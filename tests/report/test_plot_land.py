"""Figures of landings in motion: what is drawn, in which units, and the side view to scale."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from matplotlib.patches import PathPatch
from matplotlib.text import Text

from crushleg.case.reader import read_case_text
from crushleg.case.templates import template
from crushleg.land import Moving, land_case
from crushleg.landing.motion.outcome import WORDS
from crushleg.report.land_names import file_names
from crushleg.report.plot_land import figures
from crushleg.report.plot_land_axes import crush_over, load_axis, stroke_axis
from crushleg.report.plot_land_body import lean_text
from crushleg.report.plot_land_facts import facts, head
from crushleg.report.plot_land_legs import groups, named
from crushleg.report.plot_land_overview import overview_figure
from crushleg.report.plot_land_poses import side_axes, views
from crushleg.report.plot_land_side import bar_length, land_side_figure
from crushleg.report.plot_land_time import ending, land_time_figure
from crushleg.report.plot_stability import conditions, stability_figure
from crushleg.report.plots import write_figures
from crushleg.report.style import INCH, WHITE
from crushleg.stability import StabilityMap

if TYPE_CHECKING:
    from pathlib import Path

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.land import Move

SLOPE = math.radians(5.0)
DRIFTING = """[[touchdown]]
name = "drifting"
vertical_speed = "2.0 m/s"
horizontal_speed = "0.5 m/s"
slope = "5 deg"

"""


@pytest.fixture(scope="module")
def moving() -> Moving:
    """Godwit drifting up a slope, legs 1 and 2 ahead."""
    text = template("lunar-lander")
    text = re.sub(r"(?ms)^\[\[touchdown\]\].*?(?=^\[limits\])", DRIFTING, text)
    return land_case(read_case_text(text, "lander"))


@pytest.fixture
def move(moving: Moving) -> Move:
    return moving.moves[0]


@pytest.fixture(scope="module")
def level(moving: Moving) -> StabilityMap:
    """Map of made-up outcomes on the slope of the case: each word in rows of its own."""
    touchdown = moving.checked.case.touchdowns[0]
    word = np.repeat(np.arange(5), 5).reshape(5, 5)
    return StabilityMap(touchdown, np.linspace(1.0, 3.0, 5), np.linspace(0.0, 2.0, 5), word, 1.4)


def drawn(axes: Axes, gid: str) -> list[Any]:
    return [line for line in axes.get_lines() if line.get_gid() == gid]


def texts(figure: Figure) -> str:
    return "\n".join(text.get_text() for text in figure.findobj(Text))


def assert_all_on_the_sheet(figure: Figure) -> None:
    """Fail with the text that leaves the sheet."""
    figure.draw_without_rendering()
    for text in figure.findobj(Text):
        box = text.get_window_extent()
        if text.get_text() and text.get_visible():
            assert box.x0 > -1.0, text
            assert box.x1 < figure.bbox.width + 1.0, text
            assert box.y0 > -1.0, text
            assert box.y1 < figure.bbox.height + 1.0, text


# ---------------------------------------------------------------- which legs, and where


def test_legs_that_do_the_same_are_one_group_with_their_place(moving: Moving, move: Move) -> None:
    found = groups(moving.checked.case, move)
    assert [group.legs for group in found] == [(0, 1), (2, 3)]
    assert [group.name for group in found] == [
        "legs 1, 2 (ahead, both sides)",
        "legs 3, 4 (behind, both sides)",
    ]


@pytest.mark.parametrize(
    ("heading", "leg", "said"),
    [
        (0.0, 0, "leg 1 (ahead)"),
        (0.0, 1, "leg 2 (left)"),
        (0.0, 3, "leg 4 (right)"),
        (math.pi / 2, 0, "leg 1 (right)"),
        (math.pi / 4, 2, "leg 3 (behind left)"),
    ],
)
def test_a_leg_is_placed_from_the_direction_of_travel(
    moving: Moving, heading: float, leg: int, said: str
) -> None:
    case = moving.checked.case
    assert named(case, replace(case.touchdowns[0], heading=heading), [leg]) == said


def test_nothing_is_ahead_of_a_vehicle_that_goes_nowhere(moving: Moving) -> None:
    case = moving.checked.case
    still = replace(case.touchdowns[0], horizontal_speed=0.0, slope=0.0)
    assert named(case, still, [0]) == "leg 1"
    assert named(case, still, [0, 1, 2, 3]) == "all 4 legs"


# ---------------------------------------------------------------- loads and strokes against time


def test_strips_show_the_load_of_every_column(moving: Moving, move: Move) -> None:
    figure = land_time_figure(moving, move)
    behind, ahead, _ = figure.axes
    for axes, leg in ((ahead, 0), (behind, 2)):
        for name, history in zip(("low", "nominal", "high"), move.histories, strict=True):
            (line,) = drawn(axes, name)
            assert line.get_xdata() == pytest.approx(1e3 * history.time)
            assert line.get_ydata() == pytest.approx(1e-3 * history.strut[:, leg])
        (contact,) = drawn(axes, "contact")
        assert contact.get_xdata()[0] == pytest.approx(1e3 * move.outcome.contact[1, leg])
        (limit,) = drawn(axes, "limit load")
        assert limit.get_ydata()[0] == pytest.approx(45.0)
    assert "Axial load (kN)" in texts(figure)


def test_strokes_are_those_of_the_nominal_column_and_end_with_the_crush(
    moving: Moving, move: Move
) -> None:
    axes = land_time_figure(moving, move).axes[-1]
    for leg, name in ((0, "legs 1, 2 (ahead, both sides)"), (2, "legs 3, 4 (behind, both sides)")):
        (line,) = drawn(axes, name)
        assert line.get_ydata() == pytest.approx(1e3 * move.histories[1].travel[:, leg])
    for k, name in ((0, "low"), (2, "high")):
        (thin,) = drawn(axes, name)
        assert thin.get_ydata() == pytest.approx(1e3 * move.histories[k].travel[:, 0])
    assert axes.get_xlim()[1] == pytest.approx(1.15e3 * crush_over(move))
    assert axes.get_xlabel() == "Time since contact (ms)"
    assert axes.get_ylabel() == "Stroke, crush and elastic (mm)"


def test_the_crush_is_over_when_the_strokes_are_all_but_final(move: Move) -> None:
    over = crush_over(move)
    assert over > np.nanmax(move.outcome.contact)
    for history in move.histories:
        there = np.array([np.interp(over, history.time, x) for x in history.travel.T])
        assert there == pytest.approx(history.travel.max(axis=0), rel=0.1)


def test_us_units_reach_every_axis_and_number(moving: Moving, move: Move) -> None:
    figure = land_time_figure(moving, move, "us")
    said = texts(figure)
    assert "Axial load (kip)" in said
    assert "Stroke, crush and elastic (in)" in said
    assert not re.search(r"\d (kN|mm)\b", said)
    said = texts(land_side_figure(moving, move, "us"))
    assert re.search(r"6\.56 ft/s down, 1\.64 ft/s ahead", said)
    assert not re.search(r"\d (m|mm|m/s)\b", said)


def test_how_each_column_ends_is_said(move: Move) -> None:
    assert ending(move).startswith("Stands; at rest after ")
    mixed = replace(move.outcome, word=("bottoms", "stands", "stands"))
    assert ending(move._replace(outcome=mixed)).startswith("Bottoms (low), stands (nominal, high);")


def test_a_bottomed_leg_goes_off_the_scale_and_says_so(moving: Moving, move: Move) -> None:
    axial, bottomed = move.outcome.axial.copy(), move.outcome.bottomed.copy()
    axial[0, 0], bottomed[0, 0] = 5e6, True
    hard = move._replace(outcome=replace(move.outcome, axial=axial, bottomed=bottomed))
    assert load_axis(moving, hard, "si").end < 100e3
    assert "BOTTOMS (low); off the scale" in texts(land_time_figure(moving, hard))


def test_limits_are_drawn_when_near_and_said_when_far(moving: Moving, move: Move) -> None:
    far = stroke_axis(moving, move, "si")
    assert far.limits == ()
    assert far.far.startswith("0.95 × usable stroke is 357 mm")
    deep = replace(move.outcome, stroke=5.0 * move.outcome.stroke)
    near = stroke_axis(moving, move._replace(outcome=deep), "si")
    assert [name for _, name in near.limits] == ["0.95 × usable stroke", "usable stroke"]


def test_a_reserve_landing_has_the_ultimate_load_as_its_limit(moving: Moving, move: Move) -> None:
    touchdown = replace(move.plan.touchdown, reserve=True)
    reserve = move._replace(plan=move.plan._replace(touchdown=touchdown))
    (limit,) = load_axis(moving, reserve, "si").limits
    assert limit[0] == pytest.approx(1.4 * 45e3)
    assert limit[1] == "1.4 × limit load"


# ---------------------------------------------------------------- side view


def test_one_metre_up_is_one_metre_across_at_the_named_scale(moving: Moving, move: Move) -> None:
    figure = land_side_figure(moving, move)
    across, up = figure.get_size_inches() * INCH
    for axes in figure.axes[:3]:
        assert axes.get_aspect() == 1.0
        box = axes.get_position()
        for paper, ends in (
            (box.width * across, axes.get_xlim()),
            (box.height * up, axes.get_ylim()),
        ):
            assert paper / (ends[1] - ends[0]) == pytest.approx(10.0)
    assert "side view to scale, 1 : 100" in texts(figure)
    for system, metres, name in (("si", 1.0, "1 m"), ("us", 5 * 0.3048, "5 ft")):
        length, said = bar_length(10.0, system)
        assert length == pytest.approx(metres)
        assert said == name


def test_legs_have_their_length_and_lose_their_stroke(moving: Moving, move: Move) -> None:
    first, _, last = views(moving, move)
    cant, azimuth = math.radians(10.0), math.pi / 4
    seen = 0.7 * math.hypot(math.sin(cant) * math.cos(azimuth), math.cos(cant))
    assert np.hypot(*(first.held - first.pads).T) == pytest.approx(seen)
    whole, left = np.hypot(*(last.held - last.free).T), np.hypot(*(last.held - last.pads).T)
    assert left / whole == pytest.approx(1.0 - last.travel / 0.7)
    assert last.travel.max() > 0.05
    axes = land_side_figure(moving, move).axes[0]
    (leg,) = drawn(axes, "leg 1")
    assert np.hypot(*np.ptp(leg.get_xydata(), axis=0)) == pytest.approx(seen)


def test_gravity_is_down_and_the_ground_rises_ahead(moving: Moving, move: Move) -> None:
    first, peak, last = views(moving, move)
    for view in (first, peak, last):
        assert view.slope == pytest.approx([math.tan(SLOPE), 0.0], abs=1e-12)
        assert (view.pads[:, 1] > view.slope[0] * view.pads[:, 0] - 1e-3).all()
        assert view.centre[0] == pytest.approx(0.0)
    ahead = first.pads[:2]
    assert ahead[:, 1] == pytest.approx(math.tan(SLOPE) * ahead[:, 0])
    assert ahead[0, 0] == pytest.approx(2.1 * math.cos(math.pi / 4))
    assert first.lean == pytest.approx([0.0, 0.0], abs=1e-12)
    assert first.velocity == pytest.approx([0.5, -2.0])
    assert last.lean[0] < -math.radians(4.0)


def test_clearance_is_measured_along_the_normal_of_the_ground(moving: Moving, move: Move) -> None:
    for view in views(moving, move):
        line = view.lowest - view.below
        assert np.hypot(*line) == pytest.approx(view.clearance)
        assert line[0] / line[1] == pytest.approx(-math.tan(SLOPE))
    last = views(moving, move)[-1]
    assert last.clearance == pytest.approx(move.outcome.clearance[1], abs=5e-3)


def test_the_second_pose_is_that_of_the_largest_deceleration(moving: Moving, move: Move) -> None:
    peak = views(moving, move)[1]
    history = move.histories[1]
    push = np.sqrt((history.push**2).sum(axis=1))
    at = int(np.searchsorted(history.time, peak.time))
    assert push[at] / 1800.0 == pytest.approx(move.outcome.deceleration[1])


@pytest.mark.parametrize("azimuth", [0.0, math.pi, math.pi / 2, 1.0])
def test_the_plane_of_view_holds_gravity_and_the_direction_of_travel(azimuth: float) -> None:
    tilt = math.sin(SLOPE)
    gravity = -1.62 * np.array(
        [tilt * math.cos(azimuth), tilt * math.sin(azimuth), math.cos(SLOPE)]
    )
    ahead, up, left = side_axes(gravity)
    assert up == pytest.approx(-gravity / 1.62)
    assert ahead @ up == pytest.approx(0.0, abs=1e-12)
    assert ahead[0] > 0.9
    assert left[1] > 0.9
    assert left[0] == pytest.approx(0.0, abs=0.01)


def test_poses_are_described_in_words(moving: Moving, move: Move) -> None:
    first, peak, last = views(moving, move)
    assert facts(moving, move, 0, first, "si") == [
        "2 m/s down, 0.5 m/s ahead",
        "ground 5°, rising ahead",
        "pad friction 0.4",
        "upright",
    ]
    assert "g0, nominal girders" in facts(moving, move, 1, peak, "si")[0]
    assert facts(moving, move, 2, last, "si")[0].startswith("stands; pads slid ")
    end = facts(moving, move, 2, last, "si")
    assert any(re.fullmatch(r"clearance \d+ mm, least \d+ mm", line) for line in end)
    assert head(move, 2, last, "si").startswith("At rest, ")
    tipped = move._replace(outcome=replace(move.outcome, word=("tips",) * 3))
    assert head(tipped, 2, last, "si").startswith("Tipped, ")
    assert lean_text(np.radians([-3.0, 2.0])) == "leans 3.0° back, 2.0° left"


# ---------------------------------------------------------------- overview and map


def test_the_overview_has_every_value_and_limit(moving: Moving, move: Move) -> None:
    figure = overview_figure(moving)
    strokes, loads = figure.axes
    for axes, values, unit in (
        (strokes, move.outcome.needed.max(axis=1), 1e3),
        (loads, move.outcome.axial.max(axis=1), 1e-3),
    ):
        found = [drawn(axes, name)[0].get_xdata()[0] for name in ("low", "nominal", "high")]
        assert found == pytest.approx(unit * values)
    assert drawn(loads, "limit")[0].get_xdata()[0] == pytest.approx(45.0)
    usable = float(moving.checked.crush.usable[0])
    assert drawn(strokes, "limit")[0].get_xdata()[0] == pytest.approx(0.95e3 * usable)
    assert (strokes.get_xlabel(), loads.get_xlabel()) == ("Stroke needed (mm)", "Axial load (kN)")


def test_every_outcome_is_an_area_with_its_own_hatch_and_name(
    moving: Moving, level: StabilityMap
) -> None:
    figure = stability_figure(moving.checked, level)
    (axes,) = figure.axes
    areas = {p.get_gid(): p for p in axes.patches if isinstance(p, PathPatch)}
    assert tuple(areas) == WORDS
    assert len({area.get_hatch() for area in areas.values()}) == len(WORDS)
    stands = areas["stands"].get_path().get_extents()
    assert (stands.y0, stands.y1) == pytest.approx((0.75, 1.25))
    names = [text.get_text() for text in axes.texts if text.get_gid() == "outcome"]
    assert names == list(WORDS)
    legend = axes.get_legend()
    assert legend is not None
    assert [text.get_text().split(":")[0] for text in legend.get_texts()] == list(WORDS)


def test_the_map_marks_the_touchdowns_and_the_tipping_speed(
    moving: Moving, level: StabilityMap
) -> None:
    case = moving.checked.case
    base = case.touchdowns[0]
    twin = replace(base, name="reserve on level ground", slope=0.0, reserve=True)
    both = replace(moving.checked, case=replace(case, touchdowns=(base, twin)))
    (axes,) = stability_figure(both, level).axes
    (same,), (other,) = drawn(axes, "drifting"), drawn(axes, "reserve on level ground")
    assert (same.get_xdata()[0], same.get_ydata()[0]) == pytest.approx((0.5, 2.0))
    assert (other.get_xdata()[0], other.get_ydata()[0]) == pytest.approx((0.6, 2.4))
    assert other.get_markerfacecolor() == WHITE != same.get_markerfacecolor()
    assert drawn(axes, "tips at")[0].get_xdata()[0] == pytest.approx(1.4)
    assert axes.get_xlabel() == "Horizontal speed at contact (m/s)"
    (us,) = stability_figure(both, level, "us").axes
    assert drawn(us, "tips at")[0].get_xdata()[0] == pytest.approx(1.4 / 0.3048)
    assert us.get_ylabel() == "Vertical speed at contact, downward (ft/s)"


def test_the_map_says_on_which_ground_it_is(level: StabilityMap) -> None:
    said = conditions(level.touchdown)
    assert said == "slope 5° rising ahead, upright (touchdown drifting)"
    other = replace(level.touchdown, slope=0.0, attitude=-0.1, attitude_rate=0.05)
    assert conditions(other).startswith("level ground, lean 5.73° back, turning 2.86°/s ahead")


# ---------------------------------------------------------------- files


def test_standard_cases_are_in_the_overview_only(moving: Moving, level: StabilityMap) -> None:
    move = moving.moves[0]
    more = move._replace(plan=move.plan._replace(touchdown=replace(move.plan.touchdown, name="x")))
    many = replace(moving, moves=(move, more, more))
    assert list(figures(many, stability=level)) == [
        "land-drifting-time",
        "land-drifting-side",
        "land-overview",
        "land-stability",
    ]
    assert list(figures(moving)) == ["land-drifting-time", "land-drifting-side"]


def test_file_names_are_plain_and_no_two_alike() -> None:
    assert file_names(["Nominal", "drift, 5°", "drift 5", "着陸", "../a/b"]) == [
        "nominal",
        "drift-5",
        "drift-5-2",
        "landing",
        "a-b",
    ]
    assert len(file_names(["long " * 40])[0]) <= 40


def test_files_are_written_in_the_formats_asked_for(moving: Moving, tmp_path: Path) -> None:
    paths = write_figures(figures(moving), tmp_path / "new", ("svg",))
    assert [path.name for path in paths] == ["land-drifting-time.svg", "land-drifting-side.svg"]
    assert all(path.read_bytes().startswith(b"<?xml") for path in paths)


def test_long_names_stay_on_the_sheet(moving: Moving, level: StabilityMap) -> None:
    move = moving.moves[0]
    touchdown = replace(move.plan.touchdown, name="a rather long name " * 9)
    long = move._replace(plan=move.plan._replace(touchdown=touchdown))
    many = replace(moving, moves=(long, move))
    for figure in figures(many, stability=level._replace(touchdown=touchdown)).values():
        assert_all_on_the_sheet(figure)
