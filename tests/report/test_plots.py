"""Pictures: their data, labels with units, texts that do not overlap, and the files."""

from __future__ import annotations

import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from matplotlib.collections import PolyCollection
from matplotlib.patches import Rectangle
from matplotlib.text import Text

import crushleg
from crushleg.cautions import SCREENING
from crushleg.girder.holes import area_below, corner_radius
from crushleg.report.plot_energy import demand_line
from crushleg.report.plot_geometry import faces, fold_bands, least_ligament, outlines, row_text
from crushleg.report.plot_labels import spread
from crushleg.report.plot_time import histories
from crushleg.report.plots import draw, figures
from crushleg.report.style import INCH, RC, number, styled

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from matplotlib.lines import Line2D

    from crushleg.check import Checked

SIX = "".join(
    f'[[touchdown]]\nname = "{name}"\nvertical_speed = "{speed} m/s"\n{more}\n'
    for name, speed, more in (
        ("nominal", 3.0, ""),
        ("heavy and fast landing after a long hover", 3.5, ""),
        ("low thrust", 3.1, "thrust_to_weight = 0.6"),
        ("gusty", 3.55, "reserve = true"),
        ("one engine out", 4.2, ""),
        ("night", 3.2, 'slope = "3 deg"\nfirst_contact = "two"'),
    )
)
TOO_FAST = "".join(
    f'[[touchdown]]\nname = "{name}"\nvertical_speed = "{speed} m/s"\n'
    for name, speed in (("too fast", 6.3), ("far too fast", 9.0), ("nominal", 3.5))
)
MANY = "".join(
    f'[[touchdown]]\nname = "case {i}, with a long name of its own"\n'
    f'vertical_speed = "{2.0 + 0.2 * i} m/s"\nreserve = {str(i % 3 == 0).lower()}\n'
    for i in range(13)
)
STEPS = '[[girder.wall_steps]]\nfrom = "400 mm"\nwall = "5 mm"\n'


def _row(height: int, size: int, along: int, faces: str, shape: str, count: int = 1) -> str:
    return (
        f'[[girder.holes.row]]\nheight = "{height} mm"\nsize = "{size} mm"\n'
        f'size_along = "{along} mm"\nfaces = "{faces}"\nshape = "{shape}"\n'
        f'per_face = {count}\nspacing = "{55 * (count > 1)} mm"\n'
    )


SLOTS = (
    STEPS
    + '[girder.holes]\nlaw = "listed"\n'
    + _row(80, 30, 70, "front-back", "slot", 2)
    + _row(80, 50, 40, "left-right", "rectangle")
    + _row(200, 26, 60, "front-back", "slot", 2)
    + _row(205, 46, 46, "left-right", "rectangle")
    + _row(500, 20, 30, "all", "slot")
)
LAW = '[girder.holes]\nlaw = "{}"\n{}\n'
MANY_ROWS = (
    'rows = 40\nfoot_size = "20 mm"\ntop_size = "8 mm"\nfirst = "30 mm"\nrow_pitch = "29 mm"'
)
GROWING = 'rows = 6\nfoot_size = "20 mm"\ntop_size = "80 mm"\nfirst = "80 mm"\nrow_pitch = "140 mm"'
GRID = (
    'rows = 4\nsize = "26 mm"\nfirst = "40 mm"\nrow_pitch = "60 mm"\nper_face = 7\n'
    'spacing = "36 mm"\nfaces = "front-back"'
)
CASES: dict[str, tuple[str, str, dict[str, str]]] = {
    "six": ("", SIX, {}),
    "bottoming": ("", TOO_FAST, {}),
    "many": ("", MANY, {"leg_limit_load": "9 MN"}),
    "endless": ("", "", {"mass": "400 t"}),
    "least work": (LAW.format("linear", GROWING), "", {}),
    "no holes": (LAW.format("none", ""), "", {}),
    "slots": (SLOTS, "", {"width": "150 mm", "depth": "100 mm", "length": "800 mm"}),
    "slender": (
        LAW.format("linear", MANY_ROWS),
        "",
        {
            "width": "100 mm",
            "length": "1200 mm",
            "free_length": "1.3 m",
            "title": "$x_1$ 漢字 " * 40,
        },
    ),
    "stubby": (
        LAW.format("even", GRID),
        "",
        {"width": "400 mm", "depth": "300 mm", "wall": "8 mm", "length": "300 mm"}
        | {"corner_radius": "10 mm"},
    ),
}
LEVELS = ("low", "nominal", "high")
STARTERS = ("test-stage", "lunar-lander", "coupon")
ALL = [*STARTERS, *CASES]


@pytest.fixture(autouse=True, scope="module")
def _coarse() -> Iterator[None]:
    """Few pixels: no test looks at them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(RC, "figure.dpi", 40)
        yield


@cache
def checked(name: str) -> Checked:
    """Check a template, or the test stage with other holes, touchdowns and keys."""
    if name in STARTERS:
        return crushleg.check_case(crushleg.read_case_text(crushleg.template(name)))
    holes, touchdowns, keys = CASES[name]
    text = crushleg.template("test-stage")
    a, b, c = (text.index(key) for key in ("[girder.holes]", "[[touchdown]]", "[[standing]]"))
    text = text[:a] + (holes or text[a:b]) + (touchdowns or text[b:c]) + text[c:]
    for key, value in keys.items():
        text, done = re.subn(rf"(?m)^(# )?{key} = .*$", f'{key} = "{value}"', text, count=1)
        assert done
    return crushleg.check_case(crushleg.read_case_text(text))


@cache
def drawn(name: str, units: str = "si") -> dict[str, Figure]:
    """Figures of a case."""
    return figures(checked(name), units)


def drawn_for(name: str) -> Callable[[Checked, str], dict[str, Figure]]:
    """Stand-in for :func:`figures` that draws a case but once."""
    return lambda _, units: drawn(name, units)


def line(axes: Axes, gid: str) -> Line2D:
    """Find the one line of that name."""
    (found,) = [one for one in axes.get_lines() if one.get_gid() == gid]
    return found


def data(axes: Axes, gid: str) -> tuple[Any, Any]:
    """Return the data of the one line of that name."""
    return line(axes, gid).get_data()


def written(figure: Figure) -> list[str]:
    """Every text of a figure that can be seen."""
    return [t.get_text() for t in figure.findobj(Text) if t.get_visible() and t.get_text().strip()]


def test_force_lines_are_the_leg_curve_as_axial_load() -> None:
    one = checked("lunar-lander")
    curve = one.landings[0].curve
    upper = drawn("lunar-lander")["force-stroke"].axes[0]
    for level, name in enumerate(("low", "nominal", "high")):
        x, y = data(upper, name)
        np.testing.assert_allclose(x, 1e3 * curve.travel[level, 0] / curve.forces.travel)
        girder = curve.reaction[level, 0] / curve.forces.reaction
        np.testing.assert_allclose(y, 1e-3 * girder * curve.forces.axial)


def test_axial_load_is_girder_force_times_the_axial_factor() -> None:
    one = checked("lunar-lander")
    forces = one.landings[0].curve.forces
    assert float(forces.axial) > 1.03
    _, y = data(drawn("lunar-lander")["force-stroke"].axes[0], "nominal")
    np.testing.assert_allclose(y[1:], 1e-3 * one.crush.curve.force[1, 0] * forces.axial)


def test_stops_stand_where_the_landing_says() -> None:
    one = checked("six")
    upper = drawn("six")["force-stroke"].axes[0]
    for landed in one.landings:
        for level, name in enumerate(("low", "nominal", "high")):
            x, y = data(upper, f"stop {landed.name} {name}")
            assert float(x[0]) == pytest.approx(1e3 * landed.stroke[level, 0])
            assert float(y[0]) == pytest.approx(1e-3 * landed.at_stop[level, 0])


def test_stops_lie_on_their_curves() -> None:
    one = checked("test-stage")
    upper = drawn("test-stage")["force-stroke"].axes[0]
    for landed in one.landings:
        for name in ("low", "nominal", "high"):
            x, y = data(upper, f"stop {landed.name} {name}")
            assert float(y[0]) == pytest.approx(np.interp(x, *data(upper, name))[0], rel=2e-3)


def test_touchdowns_have_markers_of_their_own() -> None:
    one = checked("six")
    upper = drawn("six")["force-stroke"].axes[0]
    shapes = {line(upper, f"stop {landed.name} nominal").get_marker() for landed in one.landings}
    assert len(shapes) == 6


def test_limit_loads_are_drawn_and_ultimate_only_for_reserve_cases() -> None:
    upper = drawn("test-stage")["force-stroke"].axes[0]
    assert data(upper, "limit load")[1][0] == pytest.approx(620.0)
    assert data(upper, "1.4 × limit load, for reserve cases")[1][0] == pytest.approx(868.0)
    assert not any("1.4" in text for text in written(drawn("bottoming")["force-stroke"]))
    assert any("↑ limit load\n9000 kN" in text for text in written(drawn("many")["force-stroke"]))


def test_fold_boundaries_follow_the_folds_and_their_shortening() -> None:
    one = checked("test-stage")
    upper = drawn("test-stage")["force-stroke"].axes[0]
    found = [np.asarray(one.get_xdata()) for one in upper.get_lines() if one.get_gid() == "fold"]
    at = [1e-3 * float(x[0]) for x in found]
    folds = one.crush.folds
    spring = folds.force[1].max() / one.crush.stiffness[0]
    np.testing.assert_allclose(at, folds.stroke[0, 1:], atol=2.0 * spring)
    numbers = [t.get_text() for t in upper.texts if t.get_gid() == "fold number"]
    assert numbers == [str(k + 1) for k in range(13)]


def test_usable_stroke_and_its_share_are_drawn() -> None:
    one = checked("coupon")
    upper = drawn("coupon")["force-stroke"].axes[0]
    usable = 1e3 * one.crush.usable[0]
    assert data(upper, f"usable stroke {usable:.0f} mm")[0][0] == pytest.approx(usable)
    assert data(upper, "95 % of it may be used")[0][0] == pytest.approx(0.95 * usable)


def test_energy_lines_are_the_work_of_all_legs_and_cross_the_demand_at_the_stops() -> None:
    one = checked("lunar-lander")
    axes = drawn("lunar-lander")["energy-stroke"].axes[0]
    curve = one.landings[0].curve
    for level, name in enumerate(("low", "nominal", "high")):
        np.testing.assert_allclose(data(axes, name)[1], 4e-3 * curve.work[level, 0])
        for landed in one.landings:
            x, y = data(axes, f"stop {landed.name} {name}")
            assert float(y[0]) == pytest.approx(np.interp(x, *data(axes, name))[0], rel=2e-3)
            asked = demand_line(landed, landed.stroke[level, :1])
            assert float(y[0]) == pytest.approx(1e-3 * asked[0], rel=1e-9)


def test_demand_is_kinetic_energy_plus_weight_times_vertical_travel() -> None:
    landed = checked("lunar-lander").landings[0]
    x, y = data(drawn("lunar-lander")["energy-stroke"].axes[0], "demand nominal")
    assert y[0] == pytest.approx(0.5 * 1.8 * 2.0**2)
    fall = (x[1] - x[0]) * 1e-3 * np.cos(np.radians(10.0))
    assert y[1] - y[0] == pytest.approx(1.8 * 1.62 * fall)
    assert landed.name == "nominal"


def test_histories_end_with_the_stop() -> None:
    one = checked("test-stage")
    for axes, landed in zip(drawn("test-stage")["force-time"].axes, one.landings, strict=True):
        for level, (name, history) in enumerate(
            zip(("low", "nominal", "high"), histories(landed, 6), strict=True)
        ):
            t, f = data(axes, name)
            np.testing.assert_allclose(t, 1e3 * history.time)
            assert t[-1] == pytest.approx(1e3 * landed.duration[level, 0])
            assert f[-1] == pytest.approx(1e-3 * landed.at_stop[level, 0])
            assert np.all(np.diff(t) >= -1e-9)


def test_impulse_under_the_history_is_momentum_and_weight() -> None:
    """Newton's law: legs × ∫F dt = m v + m g t, rigid upright legs."""
    for landed in checked("test-stage").landings:
        arrival = landed.arrival
        for history in histories(landed, 6):
            mean = 0.5 * (history.load[1:] + history.load[:-1])
            impulse = 6.0 * float(np.sum(mean * np.diff(history.time)))
            fall = arrival.net_weight * history.time[-1]
            assert impulse == pytest.approx(arrival.mass * arrival.vertical + fall, rel=0.01)


def test_first_legs_have_no_history_and_the_panel_says_why() -> None:
    last = drawn("six")["force-time"].axes[5]
    assert not last.get_lines()
    assert any("two legs first" in text.get_text() for text in last.texts)
    assert any("crushleg land" in text.get_text() for text in last.texts)


def test_only_the_one_row_of_the_least_ligament_is_bold() -> None:
    stage = checked("test-stage")
    (face,) = faces(stage.case.girder, stage.crush)
    least = least_ligament(face)
    assert least is face.rows[0]
    assert least_ligament(face._replace(rows=(face.rows[0], face.rows[0]))) is None


def test_stops_of_legs_that_bottom_stand_at_the_end_of_their_curves() -> None:
    one, shown = checked("bottoming"), drawn("bottoming")
    upper = shown["force-stroke"].axes[0]
    for landed in one.landings:
        for level in np.flatnonzero(landed.bottomed[:, 0]):
            name = ("low", "nominal", "high")[level]
            x, y = data(upper, f"stop {landed.name} {name}")
            ends = data(upper, name)
            assert float(x[0]) == pytest.approx(ends[0][-1])
            assert float(y[0]) == pytest.approx(ends[1][-1])
            axes = shown["force-time"].axes[one.landings.index(landed)]
            load = number(float(landed.peak[level, 0]), "kN")
            assert any(
                f"{name} bottoms" in t.get_text() and load in t.get_text() for t in axes.texts
            )


def test_low_nominal_and_high_markers_differ_without_colour_and_in_place() -> None:
    upper, lower = drawn("bottoming")["force-stroke"].axes
    styles = [line(upper, f"stop nominal {name}").get_fillstyle() for name in LEVELS]
    assert styles == ["left", "full", "right"]
    strip = [one for one in lower.get_lines() if one.get_gid() == "strip"]
    places = {tuple(np.round(np.asarray(one.get_xydata()), 6).flat) for one in strip}
    assert len(places) == len(strip) == 9


def test_a_case_that_never_stops_is_drawn_without_infinities() -> None:
    shown = drawn("endless")
    for figure in shown.values():
        for axes in figure.axes:
            assert np.isfinite([*axes.get_xlim(), *axes.get_ylim()]).all()
            for one in axes.get_lines():
                assert np.isfinite(np.asarray(one.get_xydata(), dtype=float)).all()
    assert any("never stops" in text for text in written(shown["energy-stroke"]))


@pytest.mark.parametrize("name", ["test-stage", "slots", "slender", "stubby"])
def test_girders_are_drawn_to_standard_scales(name: str) -> None:
    """ISO 5455 and 1 : 2.5."""
    texts = written(drawn(name)["girder"])
    (ratio,) = {found[1] for text in texts if (found := re.search(r"faces, (\S+ : \S+) on", text))}
    big, small = ratio.split(" : ")
    assert big in ("1", "2", "5", "10")
    assert small in ("1", "2", "2.5", "5", "10", "20", "25", "50", "100")
    one = checked(name)
    plate = next(
        p
        for p in drawn(name)["girder"].axes[0].patches
        if isinstance(p, Rectangle) and p.get_zorder() == 2.5
    )
    assert plate.get_height() == pytest.approx(
        1e3 * one.case.girder.length * float(big) / float(small)
    )


def test_bottoming_is_shown_in_every_figure() -> None:
    one, shown = checked("bottoming"), drawn("bottoming")
    x, y = data(shown["force-stroke"].axes[0], "bottoms too fast low")
    assert x[0] == pytest.approx(1e3 * one.landings[0].stroke[0, 0])
    assert y[1] == pytest.approx(shown["force-stroke"].axes[0].get_ylim()[1])
    for name in ("force-stroke", "energy-stroke", "force-time"):
        assert any("BOTTOMS" in text for text in written(shown[name]))
    crossings = [one.get_gid() for one in shown["energy-stroke"].axes[0].get_lines()]
    assert "stop too fast high" in crossings
    assert "stop too fast low" not in crossings


def test_least_work_is_said_in_the_title_and_at_the_folds() -> None:
    shown = drawn("least work")
    assert any("NOT from the foot" in text for text in written(shown["force-stroke"]))
    assert any("largest start force, high" in text for text in written(shown["force-stroke"]))
    assert any("which the curves do not" in text for text in written(shown["force-stroke"]))
    assert any("not on the curves" in text for text in written(shown["force-time"]))
    assert any("NOT in order from the foot" in text for text in written(shown["girder"]))


@pytest.mark.parametrize("name", ALL)
def test_fold_bands_cover_the_girder_once_and_count_every_fold(name: str) -> None:
    one = checked(name)
    bands = sorted(fold_bands(one.crush), key=lambda band: band.bottom)
    length = float(one.crush.girders.length[0])
    assert bands[0].bottom == pytest.approx(0.0, abs=1e-9)
    assert bands[-1].top == pytest.approx(length)
    for below, above in pairwise(bands):
        assert below.top == pytest.approx(above.bottom, abs=1e-9)
    assert {band.order for band in bands} == set(range(1, max(b.order for b in bands) + 1))


@pytest.mark.parametrize("name", ["test-stage", "slots", "stubby"])
def test_holes_have_their_true_shape_size_and_place(name: str) -> None:
    for row in checked(name).case.girder.holes.rows:
        corner = corner_radius(row.shape, row.size, row.along)
        half = area_below(9.9, row.height, row.size, row.along, corner)
        shapes = outlines(row)
        assert len(shapes) == row.per_face
        for shape in shapes:
            x, z = shape.T
            area = 0.5 * abs(np.dot(x, np.roll(z, 1)) - np.dot(z, np.roll(x, 1)))
            assert area == pytest.approx(2.0 * half, rel=2e-3)
            assert np.ptp(x) == pytest.approx(row.size)
            assert np.ptp(z) == pytest.approx(row.along)
            assert 0.5 * (z.max() + z.min()) == pytest.approx(row.height)


@pytest.mark.parametrize("name", ALL)
def test_girder_is_drawn_to_one_scale_both_ways(name: str) -> None:
    one, figure = checked(name), drawn(name)["girder"]
    (axes,) = figure.axes
    size = figure.get_size_inches() * INCH
    box = axes.get_position()
    assert np.ptp(axes.get_xlim()) == pytest.approx(box.width * size[0])
    assert np.ptp(axes.get_ylim()) == pytest.approx(box.height * size[1])
    shown = faces(one.case.girder, one.crush)
    plates = [p for p in axes.patches if isinstance(p, Rectangle) and p.get_zorder() == 2.5]
    for plate, face in zip(plates, shown, strict=True):
        slender = one.case.girder.length / face.width
        assert plate.get_height() / plate.get_width() == pytest.approx(slender)
    drawn_shapes = [c for c in axes.collections if isinstance(c, PolyCollection)]
    holes = [c for c in drawn_shapes if str(c.get_gid()).startswith("holes ")]
    counts = [sum(row.row.per_face for row in face.rows) for face in shown]
    assert [len(c.get_paths()) for c in holes] == counts


def test_faces_are_two_only_when_they_differ() -> None:
    names = {name: len(faces(checked(name).case.girder, checked(name).crush)) for name in ALL}
    assert {name for name, count in names.items() if count == 2} == {"slots", "stubby"}


def test_rows_say_holes_and_the_ligament_of_the_report() -> None:
    """By hand: slots of 30 at 55 leave 25 between them, as does 100/2 − 50/2 to the corner.

    Test stage, foot row: (140 − 82)/2 = 29 to the corner, less than 80 − 41 to the end.
    """
    one = checked("slots")
    front, side = faces(one.case.girder, one.crush)
    assert row_text(front.rows[0], "mm", ", ") == "2 × 30×70, ligament 25"
    assert row_text(side.rows[0], "in", ", ") == "1.969×1.575, ligament 0.984"
    stage = checked("test-stage")
    (every,) = faces(stage.case.girder, stage.crush)
    assert row_text(every.rows[0], "mm", ", ") == "Ø82, ligament 29"


def test_wall_steps_and_foot_are_written() -> None:
    texts = written(drawn("slots")["girder"])
    assert {"wall 4 mm", "wall 5 mm", "from 400", "FOOT", "front and back"} <= set(texts)
    assert "no holes" in written(drawn("no holes")["girder"])


@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("name", ["test-stage", "coupon"])
def test_every_axis_names_quantity_and_unit(name: str, units: str) -> None:
    length, force = {"si": ("mm", "kN"), "us": ("in", "kip")}[units]
    energy = {"si": "kJ", "us": "10³ ft-lbf" if name == "test-stage" else "ft-lbf"}[units]
    shown = drawn(name, units)
    upper, lower = shown["force-stroke"].axes
    assert upper.get_ylabel() == f"Axial load at the leg attachment ({force})"
    assert f"Stroke of the leg, elastic shortening included ({length})" in lower.get_xlabel()
    assert shown["energy-stroke"].axes[0].get_ylabel().endswith(f"({energy})")
    assert shown["force-time"].axes[0].get_xlabel() == "Time since contact (ms)"
    assert shown["force-time"].axes[0].get_ylabel() == f"Axial load ({force})"
    assert any(f"dimensions ({length})" in text for text in written(shown["girder"]))


@pytest.mark.parametrize("name", ["test-stage", "coupon", "six", "slots", "stubby"])
def test_figures_in_us_units_carry_no_si_unit(name: str) -> None:
    si = re.compile(r"\b(mm|kN|kJ|kg|MPa|m/s)\b")
    for figure in drawn(name, "us").values():
        assert [text for text in written(figure) if si.search(text)] == []


def test_us_units_scale_the_same_curve() -> None:
    for name in ("force-stroke", "energy-stroke"):
        x, y = data(drawn("test-stage")[name].axes[0], "nominal")
        x_us, y_us = data(drawn("test-stage", "us")[name].axes[0], "nominal")
        np.testing.assert_allclose(x_us * 25.4, x)
        factor = {"force-stroke": 4.4482216152605, "energy-stroke": 1.3558179483314004}[name]
        np.testing.assert_allclose(y_us * factor, y)


@pytest.mark.parametrize("name", ALL)
def test_every_figure_has_title_revision_hash_and_screening_at_its_foot(name: str) -> None:
    case = checked(name).case
    for figure in drawn(name).values():
        texts = [" ".join(text.split()) for text in written(figure)]
        assert SCREENING in texts
        assert any(f"revision A · input {case.input_sha256[:8]}" in text for text in texts)
        assert any(text.startswith(case.title[:4]) for text in texts)


@pytest.mark.parametrize(
    ("name", "units"),
    [*((name, "si") for name in ALL), *((name, "us") for name in ("six", "slots", "stubby"))],
)
def test_no_text_overlaps_another_or_is_cut(name: str, units: str) -> None:
    for figure in drawn(name, units).values():
        coarse = figure.get_dpi()
        figure.set_dpi(200)
        with styled():
            figure.draw_without_rendering()
        beyond = _beyond(figure)
        seen = [t for t in figure.findobj(Text) if t.get_visible() and t.get_text().strip()]
        texts = [t for t in seen if t not in beyond]
        boxes = np.array([t.get_window_extent().extents for t in texts])
        low, high = boxes[:, :2], boxes[:, 2:]
        cut = (low < 0.0).any(axis=1) | (high > figure.bbox.max).any(axis=1)
        assert [t.get_text() for t, bad in zip(texts, np.atleast_1d(cut), strict=True) if bad] == []
        shared = np.minimum(high[:, None], high) - np.maximum(low[:, None], low)
        over = np.argwhere(np.triu((shared > 1.0).all(axis=2), k=1))
        assert [(texts[i].get_text(), texts[j].get_text()) for i, j in over] == []
        figure.set_dpi(coarse)


def _beyond(figure: Figure) -> set[Text]:
    """Labels of ticks beyond the end of their axis: objects that are not drawn."""
    found: set[Text] = set()
    for axes in figure.axes:
        for axis in (axes.xaxis, axes.yaxis):
            low, high = sorted(axis.get_view_interval())
            for tick in axis.get_major_ticks():
                if not (axes.axison and low <= tick.get_loc() <= high):
                    found |= {tick.label1, tick.label2}
    return found


@pytest.mark.parametrize("name", ["test-stage", "bottoming", "least work", "slots"])
def test_files_are_whole_svg_and_png(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("crushleg.report.plots.figures", drawn_for(name))
    done = draw(checked(name), tmp_path / "new" / "folder")
    assert sorted(path.name for path in done) == sorted(
        f"{figure}.{kind}"
        for figure in ("force-stroke", "energy-stroke", "force-time", "girder")
        for kind in ("svg", "png")
    )
    assert sorted(done) == sorted((tmp_path / "new" / "folder").iterdir())
    for path in done:
        if path.suffix == ".svg":
            assert ET.parse(path).getroot().tag.endswith("svg")
        else:
            assert path.read_bytes().startswith(b"\x89PNG\r\n\x1a\n")


def test_other_formats_on_request(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("crushleg.report.plots.figures", drawn_for("coupon"))
    done = draw(checked("coupon"), tmp_path, "us", ["pdf"])
    assert all(path.read_bytes().startswith(b"%PDF") for path in done)
    assert len(done) == 4


def test_the_same_case_gives_the_same_bytes(tmp_path: Path) -> None:
    first, again = (draw(checked("coupon"), tmp_path / name) for name in ("a", "b"))
    for one, other in zip(first, again, strict=True):
        assert one.read_bytes() == other.read_bytes()
        assert b"dc:date" not in one.read_bytes()


def test_a_failure_leaves_the_old_files_and_no_others(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = tmp_path / "energy-stroke.svg"
    old.write_text("old", encoding="utf-8")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("crushleg.report.plots.figures", drawn_for("coupon"))
    monkeypatch.setattr("crushleg.report.files.os.fsync", full)
    with pytest.raises(crushleg.InputError, match="full disk"):
        draw(checked("coupon"), tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == [old.name]
    assert old.read_text(encoding="utf-8") == "old"


def test_a_failure_while_drawing_writes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        message = "broken"
        raise RuntimeError(message)

    monkeypatch.setattr("crushleg.report.plots.girder_figure", broken)
    with pytest.raises(RuntimeError, match="broken"):
        draw(checked("coupon"), tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_no_pyplot_and_no_matplotlib_before_the_plots_are_asked_for() -> None:
    code = (
        "import sys, crushleg; assert 'matplotlib' not in sys.modules\n"
        "import crushleg.report.plots; assert 'matplotlib.pyplot' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_spread_keeps_order_and_distance() -> None:
    """By hand: three labels of height 2 wanted at 5 stand at 3, 5, 7; a low one stays."""
    assert spread([5.0, 5.0, 5.0], [2.0] * 3, 0.0, 10.0) == pytest.approx([3.0, 5.0, 7.0])
    assert spread([9.9, 0.2], [2.0, 2.0], 0.0, 10.0) == pytest.approx([9.0, 1.0])
