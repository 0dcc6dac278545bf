"""What the report prints are the numbers of the arrays."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from crushleg.report.words import margin_text
from tests.report.cases import CASES, checked, line, report

if TYPE_CHECKING:
    from crushleg.check import Checked

G0 = 9.80665


def numbers(text: str) -> list[float]:
    return [float(x) for x in re.findall(r"(?<![\w.])[-+]?\d+\.?\d*", text)]


@pytest.mark.parametrize("name", ["test-stage", "coupon", "heavy"])
def test_printed_touchdowns_agree_with_the_arrays(name: str) -> None:
    case = CASES[name]
    text = report(case).partition("\nTouchdowns\n")[2]
    landed = case.landings[0]
    expected = {
        "stroke, most crushed leg, mm": landed.stroke * 1e3,
        "folds used": landed.folds,
        "gear load factor F/(m g0)": landed.gear_factor,
        "deceleration (F - Wn)/(m g0)": landed.deceleration / G0,
        "accelerometer (F + T)/(m g0)": landed.accelerometer / G0,
        "peak force, axial, one leg, kN": landed.peak * 1e-3,
        "time to stop, ms": landed.duration * 1e3,
    }
    for label, values in expected.items():
        said = numbers(line(text, label).removeprefix(label))
        assert_allclose(said, values[:, 0], rtol=5e-3, atol=5e-3)


def test_printed_rows_and_folds_agree_with_the_arrays() -> None:
    case = CASES["test-stage"]
    lines = report(case).splitlines()
    rows = next(i for i, row in enumerate(lines) if row.startswith("height mm")) + 1
    said = np.array([numbers(row) for row in lines[rows : rows + 6]])
    assert_allclose(said[:, 4:] * 1e3, case.crush.sequence.start[:, 0].T, rtol=5e-3)
    folds = next(i for i, row in enumerate(lines) if row.startswith("fold  height")) + 1
    count = case.crush.folds.length.shape[1]
    said = np.array([numbers(row) for row in lines[folds : folds + count]])
    assert_allclose(said[:, 3:6] * 1e3, case.crush.folds.crest[:, 0].T, rtol=5e-3)
    assert_allclose(said[:, 6:9] * 1e3, case.crush.folds.force[:, 0].T, rtol=5e-3)
    work = (case.crush.folds.force[1] * case.crush.folds.length)[0]
    assert_allclose(said[:, 9] * 1e3, work, rtol=5e-3, atol=50.0)


@pytest.mark.parametrize("name", CASES)
def test_every_judged_margin_is_printed_and_the_rest_has_its_reason(name: str) -> None:
    case = CASES[name]
    text = report(case)
    table = text.partition("All margins, as they come")[2].splitlines()
    for margin in case.margins:
        check = margin.check.replace("_", " ")
        if margin.margin is None:
            assert margin.reason in line(text, "Not judged ")
        else:
            value = margin_text(float(margin.margin[0]))
            assert any(
                row.startswith(check) and margin.touchdown in row and value in row for row in table
            )
    assert sum("governs" in row for row in table) == 1


def governing_parts(case: Checked) -> tuple[float, float, float]:
    """Capability, demand and margin as the worked division prints them."""
    found = re.search(
        r"^margin +(?P<capability>[\d.]+) (?P<unit>\S+) / (?P<demand>[\d.]+) (?P=unit) - 1 = "
        r"(?P<margin>[-+][\d.]+)$",
        report(case),
        re.MULTILINE,
    )
    assert found
    return float(found["capability"]), float(found["demand"]), float(found["margin"])


@pytest.mark.parametrize("name", ["test-stage", "lunar-lander", "heavy"])
def test_the_governing_division_is_right_as_printed(name: str) -> None:
    capability, demand, margin = governing_parts(CASES[name])
    assert_allclose(capability / demand - 1.0, margin, atol=2e-3)


def test_the_factor_stands_in_the_division_when_it_is_not_one() -> None:
    text = report(checked("test-stage", 'leg.free_length="5 m"', "factors.column=10.0"))
    assert re.search(
        r"^Governing: column \(nominal\): [\d.]+ kN / \(10 × [\d.]+ kN\) - 1 = ", text, re.M
    )
    assert line(text, "factor ").split() == ["factor", "10"]


def test_us_units_are_the_same_lengths_and_forces() -> None:
    case = CASES["test-stage"]
    text = report(case, "us").partition("\nCautions")[0]
    assert not re.search(r"\b(mm|kN|kJ|MPa|kg|m/s)\b", text)
    stroke = numbers(line(text, "stroke, most crushed leg, in").removeprefix("stroke, most"))
    assert_allclose(stroke, case.landings[0].stroke[:, 0] / 0.0254, rtol=5e-3)
    peak = numbers(line(text, "peak force, axial, one leg, kip"))
    assert_allclose(peak, case.landings[0].peak[:, 0] / 4448.2216152605, rtol=5e-3)


@given(st.floats(-0.9999999, 1e4))
def test_a_margin_is_never_printed_above_its_value(value: float) -> None:
    text = margin_text(value)
    assert float(text) <= value + 2e-9
    assert float(text) > value - 0.00101
    assert text.startswith("-") == (value < 0.0)


def test_a_margin_that_is_a_round_number_is_printed_as_it() -> None:
    """By hand: a ligament of 1 mm where 5 mm are to be kept, 1/5 − 1."""
    assert margin_text(1e-3 / 5e-3 - 1.0) == "-0.800"
    assert margin_text(0.3 / 0.1 - 1.0) == "+2.000"
    assert margin_text(-1.0) == "-1.000"
    assert margin_text(-1e-12) == "-0.001"
