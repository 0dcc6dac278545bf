"""The result as data: its keys, and that its numbers are those of the arrays."""

from __future__ import annotations

import json
import math
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.report.data import result
from tests.report.cases import ENDLESS, HEAVY, KINDS, checked, line, report

if TYPE_CHECKING:
    from collections.abc import Iterator

LEVELS = {"low", "nominal", "high"}
KEYS = {
    "": "schema title revision version input_sha256 girder folds curve touchdowns margins "
    "cautions sources",
    "girder": "mass_kg usable_stroke_m flow_stress_Pa band_probability rows",
    "rows": "height_m size_m per_face ligament_m net_area_m2 start_force_N",
    "folds": "order from_m to_m half_fold_length_m mode plain_mean_force_N mean_force_N "
    "start_force_N hinge_fraction sweep_fraction corner_fraction energy_J",
    "curve": "sequence stroke_m force_N energy_J",
    "touchdowns": "name reserve energy_demand_J stroke_m peak_force_N deceleration_m_s2 "
    "accelerometer_m_s2 gear_factor duration_s folds_used bottomed",
    "margins": "check touchdown demand capability factor unit margin basis governs",
}
BY_LEVEL = {
    "flow_stress_Pa", "start_force_N", "mean_force_N", "force_N", "energy_demand_J",
    "peak_force_N", "deceleration_m_s2", "accelerometer_m_s2", "gear_factor",
}  # fmt: skip


def tables(found: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    yield from (("", found), ("girder", found["girder"]), ("curve", found["curve"]))
    yield from (("rows", row) for row in found["girder"]["rows"])
    for name in ("folds", "touchdowns", "margins"):
        yield from ((name, entry) for entry in found[name])


def leaves(value: Any) -> Iterator[Any]:
    if isinstance(value, dict):
        for part in value.values():
            yield from leaves(part)
    elif isinstance(value, list):
        for part in value:
            yield from leaves(part)
    else:
        yield value


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_of_the_schema_is_there_and_levels_are_three(kind: str) -> None:
    for name, table in tables(result(checked(kind))):
        assert set(KEYS[name].split()) <= set(table), name
        for key in BY_LEVEL & set(table):
            assert set(table[key]) == LEVELS, key


@pytest.mark.parametrize("case", [(kind,) for kind in KINDS] + [("test-stage", HEAVY), ENDLESS])
def test_it_is_plain_data_with_finite_numbers(case: tuple[str, ...]) -> None:
    found = result(checked(*case))
    assert json.loads(json.dumps(found, allow_nan=False)) == found
    for leaf in leaves(found):
        assert leaf is None or type(leaf) in (str, bool, int, float)
        assert not isinstance(leaf, float) or math.isfinite(leaf)


def test_the_curve_is_that_of_the_girder_and_holds_the_energy_of_its_folds() -> None:
    case = checked("test-stage")
    found = result(case)
    curve = found["curve"]
    assert curve["stroke_m"] == case.crush.curve.stroke[0].tolist()
    for index, level in enumerate(("low", "nominal", "high")):
        assert curve["force_N"][level] == case.crush.curve.force[index, 0].tolist()
    assert np.all(np.diff(curve["stroke_m"]) >= 0.0)
    work = np.trapezoid(curve["force_N"]["nominal"], curve["stroke_m"])
    total = sum(fold["energy_J"] for fold in found["folds"])
    assert_allclose(curve["energy_J"]["nominal"][-1], total, rtol=1e-9)
    assert_allclose(work, total, rtol=2e-3)


@pytest.mark.parametrize("kind", KINDS)
def test_folds_follow_each_other_up_to_the_usable_stroke(kind: str) -> None:
    found = result(checked(kind))
    folds = found["folds"]
    assert [fold["order"] for fold in folds] == list(range(1, len(folds) + 1))
    for below, above in pairwise(folds):
        assert_allclose(above["stroke_from_m"], below["stroke_to_m"], rtol=1e-12)
        assert_allclose(above["from_m"], below["to_m"], rtol=1e-9)
    assert folds[0]["stroke_from_m"] == 0.0
    assert_allclose(folds[-1]["stroke_to_m"], found["girder"]["usable_stroke_m"], rtol=1e-12)
    assert_allclose(folds[-1]["to_m"], checked(kind).case.girder.length, rtol=1e-9)


def test_mean_force_is_the_plain_one_less_what_the_holes_take() -> None:
    """R = [(1−φc)(1−φh)(1−φs)]^(1/3), derived; means over a fold differ from it little."""
    for fold in result(checked("test-stage"))["folds"]:
        left = np.prod([1.0 - fold[f"{part}_fraction"] for part in ("corner", "hinge", "sweep")])
        expected = fold["plain_mean_force_N"] * np.cbrt(left)
        assert_allclose(fold["mean_force_N"]["nominal"], expected, rtol=5e-3)


def test_a_girder_without_holes_has_no_rows_and_loses_nothing() -> None:
    found = result(checked("test-stage", 'girder.holes={law="none"}'))
    assert found["girder"]["rows"] == []
    for fold in found["folds"]:
        assert fold["hinge_fraction"] == fold["sweep_fraction"] == fold["corner_fraction"] == 0.0
        assert_allclose(fold["mean_force_N"]["nominal"], fold["plain_mean_force_N"], rtol=1e-9)


def test_rows_by_hand() -> None:
    """140 × 4 mm, R 6 mm; derived by hand.

    Mid-line perimeter 4·136 − (8 − 2π)(6 − 2) = 537.133 mm. Net area at the centre of a row of d
    on all faces: 4 (537.133 − 4 d). Least ligament: to the corner, (140 − d)/2, at most 60 mm; the
    end has 80 − 41 = 39 mm beside 29 mm in the first row, webs have 130 − (d1 + d2)/2, 52 mm or
    more, always above the corner's.
    """
    rows = result(checked("test-stage"))["girder"]["rows"]
    sizes = np.array([82.0, 74.0, 64.0, 52.0, 38.0, 20.0])
    assert_allclose([1e3 * row["size_m"] for row in rows], sizes)
    assert_allclose([1e3 * row["height_m"] for row in rows], 80.0 + 130.0 * np.arange(6))
    around = 4.0 * 136.0 - (8.0 - 2.0 * np.pi) * 4.0
    assert_allclose([1e6 * row["net_area_m2"] for row in rows], 4.0 * (around - 4.0 * sizes))
    assert_allclose([1e3 * row["ligament_m"] for row in rows], (140.0 - sizes) / 2.0)


def test_start_forces_of_rows_are_those_of_their_zones_without_the_initiator() -> None:
    case = checked("lunar-lander")
    rows = result(case)["girder"]["rows"]
    fraction = case.case.girder.first_peak_fraction
    assert fraction < 1.0
    for zone, row in enumerate(rows):
        whole = case.crush.sequence.start[:, 0, zone] / (fraction if zone == 0 else 1.0)
        assert_allclose(list(row["start_force_N"].values()), whole, rtol=1e-9)


@pytest.mark.parametrize("kind", KINDS)
def test_margins_are_capability_over_factored_demand_less_one(kind: str) -> None:
    case = checked(kind)
    found = result(case)
    assert len(found["margins"]) == len(case.margins)
    for margin in found["margins"]:
        if margin["margin"] is None:
            assert margin["reason"]
            assert any(margin["reason"] in caution for caution in found["cautions"])
        else:
            expected = margin["capability"] / (margin["factor"] * margin["demand"]) - 1.0
            assert_allclose(margin["margin"], expected, rtol=1e-12)


@pytest.mark.parametrize("case", [(kind,) for kind in KINDS] + [("test-stage", HEAVY)])
def test_one_margin_governs_and_it_is_the_lowest_counted(case: tuple[str, ...]) -> None:
    found = result(checked(*case))
    governing = [margin for margin in found["margins"] if margin["governs"]]
    counted = [margin["margin"] for margin in found["margins"] if margin["counts"]]
    assert len(governing) == 1
    assert governing[0]["margin"] == min(counted)
    assert found["passes"] == (min(counted) >= 0.0)


def test_reserve_speeds_are_factored_and_a_leg_that_bottoms_says_so() -> None:
    nominal, reserve = result(checked("test-stage"))["touchdowns"]
    assert (nominal["speed_factor"], reserve["speed_factor"]) == (1.0, 1.2)
    assert_allclose(reserve["vertical_speed_m_s"], 1.2 * nominal["vertical_speed_m_s"])
    assert not nominal["bottomed"]
    bottoming = result(checked("test-stage", HEAVY))["touchdowns"][0]
    assert bottoming["bottomed"]
    assert bottoming["bottomed_by_force"] == {"low": True, "nominal": True, "high": False}
    assert bottoming["stroke_needed_m"]["low"] > bottoming["stroke_m"]["low"]


def test_a_case_that_never_stops_has_null_a_reason_and_a_caution() -> None:
    found = result(checked(*ENDLESS))
    margin = next(one for one in found["margins"] if one["check"] == "stroke")
    assert margin["demand"] is None
    assert margin["margin"] == -1.0
    assert margin["reason"].startswith("never stops: weight on the legs exceeds")
    assert any(margin["reason"] in caution for caution in found["cautions"])
    assert found["touchdowns"][0]["stroke_needed_m"]["low"] is None
    assert found["touchdowns"][0]["energy_demand_J"]["low"] is None
    assert not found["passes"]


def test_a_crush_below_a_nanometre_is_none() -> None:
    case = checked("test-stage", 'touchdown.nominal.vertical_speed="0.02 m/s"')
    assert 0.0 < case.landings[0].crush.max() < 1e-12
    assert set(result(case)["touchdowns"][0]["crush_m"].values()) == {0.0}
    assert line(report(case), "permanent crush, mm").split()[-3:] == ["0", "0", "0"]
