"""The chain of land: what it refuses, what its margins compare, which standard cases it runs."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from crushleg.case.reader import read_case_text
from crushleg.case.templates import template
from crushleg.check import check_case
from crushleg.errors import InputError
from crushleg.land import Moving, land_case
from crushleg.landing.motion.assemble import Landing, assemble, curves_for
from crushleg.landing.motion.outcome import WORDS, closure
from crushleg.landing.motion.outcome import outcome as outcome_of
from crushleg.landing.motion.run import run
from crushleg.landing.motion.standard import as_asked, standard
from crushleg.landing.touchdown import land
from crushleg.margins.motion import MOTION, motion_margins

if TYPE_CHECKING:
    from crushleg.case.records import Case
    from crushleg.landing.motion.outcome import Outcome
    from crushleg.margins import Margin


def stage(*overrides: str) -> Case:
    return read_case_text(template("test-stage"), "stage", list(overrides))


@cache
def moving() -> Moving:
    return land_case(stage())


def judged(outcome: Outcome, reserve: bool = False, **limits: Any) -> dict[str, Margin]:
    """Margins of a landing of the stage whose outcome is given."""
    case = stage()
    case = replace(case, limits=replace(case.limits, **limits))
    checked = moving().checked
    touchdown = replace(case.touchdowns[0], reserve=reserve)
    landed = land(checked.crush, case.vehicle, case.leg, touchdown, case.factors)
    found = motion_margins(case, checked.crush, landed, outcome)
    assert all(margin.touchdown == "nominal" + MOTION for margin in found)
    return {margin.check: margin for margin in found}


def nominal_alone(case: Case) -> Outcome:
    """Outcome of the first touchdown on nominal legs, run once."""
    crush = check_case(case).crush
    levels = (1,) * case.vehicle.legs
    landing = Landing(case.touchdowns[0], levels, case.leg.pad_friction)
    setup, start = assemble(case, crush, [landing])
    curves = curves_for(crush)
    return outcome_of(crush, curves, setup, run(setup, curves, start))


def sides(margin: Margin) -> tuple[float, float]:
    assert margin.demand is not None
    assert margin.capability is not None
    return float(margin.demand[0]), float(margin.capability[0])


# ---------------------------------------------------------------- refused


def test_every_length_that_is_missing_is_named_at_once() -> None:
    text = template("coupon")
    with pytest.raises(InputError) as error:
        land_case(read_case_text(text, "coupon"))
    fields = {problem.field for problem in error.value.problems}
    assert fields == {
        "vehicle.centre_of_gravity_height",
        "vehicle.pad_circle_radius",
        "vehicle.radius_of_gyration",
    }


@pytest.mark.parametrize(
    ("override", "field"),
    [
        ("vehicle.radius_of_gyration=1 mm", "vehicle.radius_of_gyration"),
        ("vehicle.axial_radius_of_gyration=1 mm", "vehicle.axial_radius_of_gyration"),
        ("vehicle.clearance=9.5 m", "vehicle.clearance"),
    ],
)
def test_a_vehicle_that_cannot_be_is_refused_with_its_field(override: str, field: str) -> None:
    with pytest.raises(InputError) as error:
        land_case(stage(override))
    assert [problem.field for problem in error.value.problems] == [field]


# ---------------------------------------------------------------- level landings


def test_level_strokes_are_those_of_the_balance_to_one_percent() -> None:
    for move, landed in zip(moving().moves, moving().checked.landings, strict=True):
        assert move.outcome.stroke == pytest.approx(np.repeat(landed.stroke, 6, axis=1), rel=0.01)
        assert move.outcome.deceleration == pytest.approx(landed.deceleration[:, 0], rel=0.01)
        assert move.outcome.word == ("stands",) * 3


def test_ledger_closes_to_a_thousandth_and_half_the_step_changes_little() -> None:
    for move in moving().moves:
        assert (move.closure < 1e-3).all()
        assert (move.halved < 5e-3).all()


def test_the_filtered_reading_is_no_more_than_the_raw_one() -> None:
    for move in moving().moves:
        assert (move.filtered <= move.outcome.accelerometer * 1.01).all()
        assert (move.filtered > 0.8 * move.outcome.accelerometer).all()


def test_margins_of_the_balance_and_of_the_motion_stand_in_one_table() -> None:
    names = [margin.touchdown for margin in moving().margins]
    assert len(moving().checked.margins) < len(names)
    assert {"nominal", "reserve", "nominal, motion", "reserve, motion"} <= set(names)
    assert moving().passes


# ---------------------------------------------------------------- what each margin compares


def test_stroke_and_standing_are_those_of_the_worst_leg_of_the_low_column() -> None:
    outcome = moving().moves[0].outcome
    needed, mean = outcome.needed.copy(), outcome.mean_at_stop.copy()
    needed[0, 3], needed[2, 1], mean[0, 2] = 0.5, 0.9, 123e3
    found = judged(replace(outcome, needed=needed, mean_at_stop=mean))
    usable = float(moving().checked.crush.usable[0])
    assert sides(found["stroke"]) == pytest.approx((0.5, 0.95 * usable))
    assert sides(found["standing_after"])[1] == 123e3


@pytest.mark.parametrize("column", [0, 1, 2])
def test_loads_are_those_of_the_worst_leg_of_the_worst_column(column: int) -> None:
    outcome = moving().moves[0].outcome
    axial, pad, slow = outcome.axial.copy(), outcome.pad.copy(), outcome.deceleration.copy()
    axial[column, 4], pad[column, 5], slow[column] = 9e5, 8e5, 99.0
    found = judged(replace(outcome, axial=axial, pad=pad, deceleration=slow))
    assert sides(found["leg_load"]) == (9e5, 620e3)
    assert sides(found["pad_pressure"]) == pytest.approx((8e5 / 0.16, 6e6))
    assert sides(found["deceleration"])[0] == 99.0


def test_a_reserve_landing_is_judged_on_stroke_ultimate_load_and_clearance() -> None:
    found = judged(moving().moves[0].outcome, reserve=True)
    counted = {check for check, margin in found.items() if margin.counts}
    assert counted == {"stroke", "leg_load", "clearance"}
    assert sides(found["leg_load"])[1] == pytest.approx(1.4 * 620e3)


def test_clearance_is_the_least_of_all_columns_and_a_strike_is_negative() -> None:
    outcome = replace(moving().moves[0].outcome, clearance=np.array([0.3, -0.02, 0.5]))
    margin = judged(outcome)["clearance"]
    assert sides(margin) == (0.1, -0.02)
    assert margin.margin is not None
    assert margin.margin[0] < -1.0
    used = judged(outcome, clearance_min=0.0)["clearance"]
    assert sides(used) == pytest.approx((0.82, 0.80))


def test_lean_is_the_largest_at_the_end_and_none_when_upright() -> None:
    outcome = moving().moves[0].outcome
    leaned = replace(outcome, lean=np.radians([1.0, 2.0, 0.5]))
    assert sides(judged(leaned)["lean"]) == pytest.approx((math.radians(2.0), math.radians(3.0)))
    assert judged(replace(outcome, lean=np.zeros(3)))["lean"].margin is None


def test_tip_over_is_the_tilt_used_against_the_static_angle() -> None:
    outcome = moving().moves[0].outcome
    least = outcome.angle_before - np.array([0.05, 0.2, -0.01])
    margin = judged(replace(outcome, angle_least=least))["tip_over"]
    assert sides(margin) == pytest.approx((0.2, outcome.angle_before[1]))
    tipped = replace(outcome, angle_least=np.full(3, -0.1))
    value = judged(tipped)["tip_over"].margin
    assert value is not None
    assert value[0] < 0.0


def test_the_static_angle_is_that_of_the_weakest_line_of_pads() -> None:
    angle = math.atan(3.4 * math.cos(math.pi / 6) / 9.0)
    assert moving().moves[0].outcome.angle_before == pytest.approx(angle)


# ---------------------------------------------------------------- standard cases


def test_the_case_is_run_with_low_nominal_and_high_legs() -> None:
    plans = as_asked(stage())
    assert [plan.name for plan in plans] == ["nominal", "reserve"]
    assert [label for label, _ in plans[0].columns] == ["low", "nominal", "high"]
    assert [levels for _, levels in plans[0].columns] == [(0,) * 6, (1,) * 6, (2,) * 6]


def test_standard_cases_are_those_asked_for_and_say_what_they_assume() -> None:
    plans, said = standard(stage())
    by_name = {plan.name: plan for plan in plans}
    assert len(by_name) == 12
    assert by_name["one leg first"].touchdown.first_contact == "one"
    assert by_name["uphill, pads stuck"].stuck
    assert not by_name["uphill, pads slide"].stuck
    assert by_name["downhill, pads slide"].touchdown.slope_azimuth == math.pi
    assert by_name["reserve speed"].touchdown.reserve
    assert by_name["light and strong"].touchdown.mass == pytest.approx(38e3)
    assert by_name["heavy and weak"].touchdown.mass == pytest.approx(42e3)
    assert by_name["one leg weak"].columns[0][1] == (0, 2, 2, 2, 2, 2)
    assert by_name["thrust tails off"].touchdown.thrust_to_weight == 0.3
    assert {sentence.split()[0] for sentence in said} == {
        "slope",
        "attitude",
        "horizontal_speed",
        "thrust_to_weight",
        "shutdown_time",
    }


def test_standard_cases_take_what_the_case_gives() -> None:
    plans, said = standard(
        stage(
            "touchdown.nominal.slope=7 deg",
            "touchdown.nominal.attitude=-2 deg",
            "touchdown.nominal.horizontal_speed=0.4 m/s",
            "touchdown.nominal.thrust_to_weight=0.5",
            "touchdown.nominal.shutdown_time=0.3 s",
            "touchdown.nominal.first_contact=one",
        )
    )
    by_name = {plan.name: plan.touchdown for plan in plans}
    assert by_name["uphill, pads slide"].slope == pytest.approx(math.radians(7.0))
    assert by_name["uphill, pads slide"].horizontal_speed == 0.4
    assert by_name["one leg first"].attitude == pytest.approx(math.radians(2.0))
    assert by_name["thrust tails off"].shutdown_time == pytest.approx(0.3)
    assert by_name["level, all legs at once"].first_contact == "all"
    assert by_name["level, all legs at once"].thrust_to_weight == 0.0
    assert said == ()


def test_words_go_from_mild_to_bad() -> None:
    assert WORDS == ("stands", "slides", "bottoms", "strikes", "tips")


# ---------------------------------------------------------------- what must never pass


def test_legs_that_leave_half_the_circle_free_are_refused() -> None:
    with pytest.raises(InputError) as error:
        land_case(
            stage(
                'vehicle.leg_azimuths=["0 deg","30 deg","60 deg","90 deg","120 deg","150 deg"]',
            )
        )
    assert [problem.field for problem in error.value.problems] == ["vehicle.leg_azimuths"]


def test_a_landing_that_tips_on_any_number_of_legs_fails() -> None:
    outcome = moving().moves[0].outcome
    few = replace(
        outcome,
        word=("stands", "tips", "stands"),
        angle_before=np.full(3, np.nan),
        heel=np.array([0.0, 1.3, 0.0]),
    )
    margin = judged(few)["tip_over"].margin
    assert margin is not None
    assert margin[0] < 0.0


def test_a_landing_that_never_comes_to_rest_fails() -> None:
    outcome = moving().moves[0].outcome
    assert "at_rest" not in judged(outcome)
    moves = replace(
        outcome, rested=np.array([True, False, True]), word=("stands", "slides", "tips")
    )
    for reserve in (False, True):
        margin = judged(moves, reserve=reserve)["at_rest"]
        assert margin.counts
        assert margin.margin is not None
        assert margin.margin[0] == -1.0


def test_pads_that_stick_on_a_slope_do_not_slide() -> None:
    outcome = nominal_alone(
        stage("touchdown.nominal.slope=5 deg", "leg.pad_friction=1.5", "leg.damping=0.5")
    )
    assert np.nanmin(outcome.contact[:, 3]) > 0.05
    assert outcome.word == ("stands",)


def test_ground_that_carries_nothing_ends_the_landing() -> None:
    case = read_case_text(
        template("test-stage")
        + '\n[ground]\nbearing_pressure = "10 Pa"\nsource = "invented: dust"\n',
        "stage",
    )
    outcome = nominal_alone(case)
    assert not outcome.rested.any()
    assert outcome.word == ("strikes",)


def test_the_ledger_closes_where_legs_bottom_hard() -> None:
    case = stage("touchdown.nominal.vertical_speed=8 m/s")
    crush = check_case(case).crush
    landing = Landing(case.touchdowns[0], (1,) * 6, case.leg.pad_friction)
    setup, start = assemble(case, crush, [landing])
    moved = run(setup, curves_for(crush), start, record=True)
    assert float(moved.pads.most.max()) > float(crush.usable[0])
    assert closure(moved.history[0]) < 1e-3
