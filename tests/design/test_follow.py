"""Schedules for a force line: how close, what is out of reach, and how a line is read."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

import numpy as np
import pytest

from crushleg import check_case, read_case_text, template
from crushleg.cli import INPUT, NEGATIVE, PASSED, main
from crushleg.design import search
from crushleg.design.asked import fixed_space
from crushleg.design.choice import Choice
from crushleg.design.follow import (
    PLAIN,
    Followed,
    LineJudge,
    deviation,
    follow,
    reach_of,
    rms_of,
    weakest,
)
from crushleg.design.line import Line, read_line
from crushleg.design.mean_curve import mean_curve
from crushleg.design.ranges import Asked
from crushleg.errors import InputError
from crushleg.girder.modes import plain_fold

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.case.records import Case
    from crushleg.design.choice import Space


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, value in {"POPULATION": 14, "GENERATIONS": 2, "STARTS": 1}.items():
        monkeypatch.setattr(search, name, value)
    monkeypatch.setattr(search.descend, "__defaults__", (60,))


def coupon() -> Case:
    return read_case_text(template("coupon"), "coupon")


def space_of(case: Case) -> Space:
    return fixed_space(case, frozenset(), Asked())


def plain_force(case: Case) -> float:
    """Mean force of the plain column [N], from the published mode alone."""
    girder = case.girder
    stress = 0.5 * (
        girder.material.yield_strength.nominal + girder.material.ultimate_strength.nominal
    )
    return float(plain_fold(girder.width - girder.wall, girder.wall, stress).force)


def test_the_line_of_the_plain_girder_is_followed_by_the_plain_girder() -> None:
    case = coupon()
    force = plain_force(case)
    found = follow(case, space_of(case), read_line(f"constant:{force} N"))
    assert found.archive.choices[found.best] == PLAIN
    assert found.rms < 1e-6 * force


def test_the_line_of_a_schedule_in_order_is_found_again_within_a_percent(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(search, "GENERATIONS", 6)
    monkeypatch.setattr(search.descend, "__defaults__", (300,))
    case = coupon()
    space = space_of(case)
    target = space.girder(Choice(0, 0, 60, 75, (150, 140, 130, 115, 100, 80, 50)))
    curve = mean_curve([target])
    assert curve.order[0] > 0.0
    line = Line("target", curve.middle[0], curve.force[1, 0], shares=False)
    scores = LineJudge(line)([target])
    assert scores.values[0, 0] < 1e-6 * curve.force.max()
    found = follow(case, space, line)
    span = float(np.ptp(curve.force[1]))
    assert found.rms < 0.1 * span
    assert found.rms < 0.01 * float(found.wanted.mean())


def test_a_line_over_the_plain_girder_is_out_of_reach_by_the_difference() -> None:
    case = coupon()
    force = plain_force(case)
    reach = reach_of(space_of(case), read_line(f"constant:{force + 3000} N"))
    assert reach.above == pytest.approx(1.0)
    assert reach.over == pytest.approx(3000.0, rel=1e-6)
    assert (reach.below, reach.under) == (0.0, 0.0)


def test_half_a_line_under_the_weakest_girder_is_out_of_reach() -> None:
    case = coupon()
    reach = reach_of(space_of(case), read_line("ramp:1kN:1.001kN"))
    assert reach.below == pytest.approx(1.0)
    assert reach.under == pytest.approx(float(reach.least.max()) - 1000.0, abs=1.0)


@pytest.mark.parametrize("kind", ["coupon", "test-stage", "lunar-lander"])
def test_no_girder_of_a_section_is_weaker_than_the_weakest_or_stronger_than_the_plain(
    kind: str,
) -> None:
    case = read_case_text(template(kind), kind)
    space = space_of(case)
    low = weakest(space)
    assert space.keeps(low)
    ends = mean_curve([space.girder(low), space.girder(PLAIN)])
    some = [space.girder(Choice(0, 0, 120, 140, (low.sizes[0] - k, 30, 5))) for k in (0, 40)]
    mean = [float(c.mean()) for c in mean_curve([*some]).force[1]]
    assert all(ends.force[1, 0].mean() < m < ends.force[1, 1].mean() for m in mean)


def test_what_is_found_folds_from_the_foot_with_95_percent() -> None:
    case = coupon()
    space = space_of(case)
    found = follow(case, space, read_line("constant:17 kN"))
    assert isinstance(found, Followed)
    assert np.isnan(found.curve.order[0]) or found.curve.order[0] >= 0.0
    girder = space.girder(found.archive.choices[found.best])
    checked = check_case(dataclasses.replace(case, girder=girder))
    order = next(m for m in checked.margins if m.check == "collapse_sequence")
    assert order.margin is None or order.margin[0] >= 0.0
    assert found.loose is None or found.loose < found.rms


def test_the_deviation_is_that_of_the_curve_of_the_check() -> None:
    case = coupon()
    checked = check_case(case)
    curve = mean_curve([case.girder])
    energy = float((curve.force[1, 0] * np.diff(curve.stroke[0])).sum())
    assert energy == pytest.approx(float(checked.crush.curve.energy[1, 0, -1]), rel=1e-9)
    line = read_line("constant:10 kN")
    away = deviation(line, curve)
    assert rms_of(away, curve.stroke)[0] >= abs(away.mean()) * 0.99
    assert rms_of(np.full_like(away, 7.0), curve.stroke)[0] == pytest.approx(7.0)


# ---------------------------------------------------------------- reading a line


def test_a_ramp_rises_from_the_first_to_the_last_stroke() -> None:
    line = read_line("ramp:80kN:200 kN")
    assert line.at(np.array([0.0, 0.35, 0.7]), 0.7) == pytest.approx([80e3, 140e3, 200e3])


def test_points_are_joined_by_straight_pieces_and_level_outside() -> None:
    line = read_line("100mm:80kN, 0.3 m:120kN")
    found = line.at(np.array([0.0, 0.2, 0.5]), 0.7)
    assert found == pytest.approx([80e3, 100e3, 120e3])


def test_a_file_of_points_names_its_units(tmp_path: Path) -> None:
    path = tmp_path / "line.csv"
    path.write_text("force_kip,stroke_in\n10,0\n\n20,2\n", encoding="utf-8")
    line = read_line(str(path))
    assert line.stroke == pytest.approx([0.0, 0.0508])
    assert line.force == pytest.approx([44482.2, 88964.4], rel=1e-5)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("constant:120", "without a unit"),
        ("constant:1kN:2kN", "number of forces 2"),
        ("ramp:1kN", "number of forces 1"),
        ("falling", "constant:120kN"),
        ("0mm:1kN,0mm:2kN", "rise"),
        ("0mm:-1kN", "zero or less"),
        ("5kg:1kN", "mass"),
        ("missing.csv", "missing.csv"),
    ],
)
def test_a_line_that_cannot_be_read_says_what_to_write(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        read_line(text)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("", "empty"),
        ("stroke,force_kN\n1,2\n", "stroke_mm"),
        ("stroke_mm,force_x\n1,2\n", "force_kN"),
        ("stroke_mm,force_kN\n", "no point"),
        ("stroke_mm,force_kN\n1,2\n2,zwei\n", "line.csv:3: force_kN"),
        ("stroke_mm,force_kN\n1\n", "line.csv:2: force_kN"),
    ],
)
def test_a_file_that_cannot_be_read_names_file_and_line(
    tmp_path: Path, content: str, said: str
) -> None:
    path = tmp_path / "line.csv"
    path.write_text(content, encoding="utf-8")
    with pytest.raises(InputError, match=said):
        read_line(str(path))


# ---------------------------------------------------------------- the verb


def test_the_verb_writes_the_schedule_on_the_same_section(tmp_path: Path) -> None:
    path = tmp_path / "c.toml"
    path.write_text(template("coupon"), encoding="utf-8")
    words = ["--no-plots", "--quiet", "--out", str(tmp_path / "out")]
    code = main(["size", str(path), "--follow", "ramp:16kN:19kN", *words])
    file = tmp_path / "out" / "c-sized.toml"
    assert code in (PASSED, NEGATIVE)
    assert main(["check", str(file), "--no-plots", "--quiet"]) == code
    text = file.read_text(encoding="utf-8")
    assert 'wall = "1.5 mm"' in text
    assert 'length = "300 mm"' in text


def test_the_file_of_the_line_is_never_replaced(tmp_path: Path) -> None:
    path = tmp_path / "c.toml"
    path.write_text(template("coupon"), encoding="utf-8")
    line = tmp_path / "out" / "c-sized.toml"
    line.parent.mkdir()
    line.write_text("stroke_mm,force_kN\n0,16\n100,18\n", encoding="utf-8")
    words = ["--no-plots", "--quiet", "--out", str(line.parent)]
    assert main(["size", str(path), "--follow", str(line), *words]) == INPUT
    assert line.read_text(encoding="utf-8").startswith("stroke_mm")
