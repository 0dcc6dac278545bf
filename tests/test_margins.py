"""Every margin by hand on small inputs: demand, capability, direction, reserve rule, null reasons.

margin = capability/(factor × demand) - 1. All values are invented and worked in the docstrings [D].
Levels are three different numbers everywhere, so that a wrong one shows.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.case.material import Rate
from crushleg.case.records import (
    Case,
    Correlation,
    Factors,
    Girder,
    Leg,
    Limits,
    Row,
    Standing,
    Touchdown,
    Vehicle,
)
from crushleg.check import check_case
from crushleg.landing.touchdown import Landed, land
from crushleg.margins import Margin, governing, margins
from tests.samples import crushed, girder, mm

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.girder.crush import Crush

G0 = 9.80665
PLAIN = girder()
DRILLED = girder(Row(height=0.2, size=60 * mm), Row(height=0.6, size=40 * mm))
VEHICLE = Vehicle(
    mass=12e3,
    legs=4,
    centre_of_gravity_height=1.5,
    pad_circle_radius=2.0,
    radius_of_gyration=1.0,
    clearance=0.8,
    clearance_radius=0.9,
)
LIMITS = Limits(
    leg_limit_load=50e3,
    deceleration_max=60.0,
    clearance_min=0.10,
    lean_max=0.05,
    stroke_fraction=0.9,
    pad_pressure_max=400e3,
)
LEG = Leg(side_load="guide", pad_friction=0.0, pad_area=0.2, free_length=1.0)
FACTORS = Factors(speed_reserve=1.2, ultimate=1.5, column=1.4)
TOUCHDOWN = Touchdown(name="sample", vertical_speed=3.0)
RESERVE = replace(TOUCHDOWN, reserve=True)


def levels(low: float, nominal: float, high: float) -> np.ndarray[Any, Any]:
    return np.array([low, nominal, high])[:, None]


def case(touchdown: Touchdown = TOUCHDOWN, record: Girder = PLAIN, **given: Any) -> Case:
    fields: dict[str, Any] = {
        "title": "",
        "revision": "",
        "author": "",
        "vehicle": VEHICLE,
        "leg": LEG,
        "girder": record,
        "touchdowns": (touchdown,),
        "standings": (),
        "limits": LIMITS,
        "factors": FACTORS,
        "input_sha256": "",
        "assumed": (),
    }
    return Case(**(fields | given))


def judge(of: Case, record: Girder = PLAIN, **landed: Any) -> dict[str, Margin]:
    """Margins of a touchdown whose results are replaced by invented ones, by check."""
    crush = crushed(record)
    return {m.check: m for m in margins(of, crush, (stopped(of, crush, **landed),))}


def stopped(of: Case, made: Crush, /, **landed: Any) -> Landed:
    """Landing whose results are invented ones, three unlike levels each."""
    invented: dict[str, Any] = {
        "asked": levels(9e3, 8e3, 7e3),
        "capacity": levels(18e3, 24e3, 28e3),
        "stroke": levels(0.20, 0.15, 0.12),
        "others": levels(0.20, 0.15, 0.12),
        "stroke_needed": levels(0.20, 0.15, 0.12),
        "peak": levels(40e3, 30e3, 35e3),
        "pad_peak": levels(32e3, 48e3, 40e3),
        "deceleration": levels(25.0, 48.0, 40.0),
        "accelerometer": levels(35.0, 58.0, 50.0),
        "mean_at_stop": levels(70e3, 80e3, 90e3),
        "at_stop": levels(60e3, 65e3, 66e3),
    }
    real = land(made, of.vehicle, of.leg, of.touchdowns[0], of.factors)
    return replace(real, **(invented | landed))


def assert_judged(found: Margin, asked: float, there: float, factor: float = 1.0) -> None:
    assert_allclose(demand(found), [asked], rtol=1e-9)
    assert_allclose(capability(found), [there], rtol=1e-9)
    assert found.factor == factor
    assert found.margin is not None
    assert_allclose(found.margin, [there / (factor * asked) - 1.0], rtol=1e-9)


def capability(found: Margin) -> FloatArray:
    assert found.capability is not None
    return found.capability


def demand(found: Margin) -> FloatArray:
    assert found.demand is not None
    return found.demand


def assert_not_judged(found: Margin, reason: str) -> None:
    assert (found.demand, found.capability, found.margin) == (None, None, None)
    assert reason in found.reason


def test_the_margin_is_capability_over_factor_times_demand_less_one() -> None:
    """28/(1.4·10) - 1 = +1; 7/(1.4·10) - 1 = -0.5; struck by 0.05 of 0.10: -1.5."""
    of: dict[str, Any] = {"check": "", "touchdown": "", "unit": "", "basis": ""}
    found = Margin(demand=np.full(2, 10.0), capability=np.array([28.0, 7.0]), factor=1.4, **of)
    assert found.margin is not None
    assert_allclose(found.margin, [1.0, -0.5])
    struck = Margin(demand=np.array([0.1]), capability=np.array([-0.05]), **of)
    assert struck.margin is not None
    assert_allclose(struck.margin, [-1.5])


def test_energy_and_stroke_are_judged_on_the_low_curve() -> None:
    """18/9 - 1; stroke 0.9 of the usable stroke against what would be needed, 0.3 m."""
    found = judge(case(), stroke_needed=levels(0.3, 0.16, 0.12))
    assert_judged(found["energy"], 9e3, 18e3)
    assert_judged(found["stroke"], 0.3, 0.9 * float(crushed(PLAIN).usable[0]))
    assert (found["energy"].unit, found["stroke"].unit) == ("J", "m")


@pytest.mark.parametrize("most", [0, 1, 2])
def test_loads_and_decelerations_are_the_largest_of_the_three(most: int) -> None:
    three = np.full((3, 1), 30e3)
    three[most] = 45e3
    found = judge(case(), peak=three, pad_peak=2.0 * three, deceleration=three / 1e3)
    assert_judged(found["leg_load"], 45e3, 50e3)
    assert_judged(found["pad_pressure"], 90e3 / 0.2, 400e3)
    assert_judged(found["deceleration"], 45.0, 60.0)


def test_a_reserve_case_is_judged_on_four_checks_and_the_ultimate_load() -> None:
    """1.5 × 50 kN against 40 kN; nothing else changes, factor 1 as written."""
    of = case(RESERVE)
    found = judge(of)
    assert_judged(found["leg_load"], 40e3, 75e3)
    assert_judged(found["deceleration"], 48.0, 60.0)
    assert_judged(found["pad_pressure"], 48e3 / 0.2, 400e3)
    counted = {name for name, m in found.items() if m.counts and m.touchdown == "sample"}
    assert counted == {"energy", "stroke", "leg_load", "clearance"}
    assert all(m.counts for m in judge(case()).values())


def test_only_the_column_carries_a_factor() -> None:
    for touchdown in (TOUCHDOWN, RESERVE):
        of = case(touchdown, leg=replace(LEG, side_load="girder", pad_friction=0.4))
        found = judge(replace(of, standings=(Standing(name="s", mass=1e3),)))
        factors = {name: m.factor for name, m in found.items()}
        assert factors.pop("column") == 1.4
        assert set(factors.values()) == {1.0}
        assert found["bending"].margin is not None


def test_clearance_is_the_lesser_of_even_and_uneven_crush() -> None:
    """Even 0.8 - 0.20 = 0.6; uneven 0.8 - 0.14 - r_c 0.02: 0.642 at r_c 0.9 m, 0.54 at 6 m."""
    assert_judged(judge(case())["clearance"], 0.10, 0.6)
    wide = replace(VEHICLE, clearance_radius=6.0)
    assert_judged(judge(case(vehicle=wide))["clearance"], 0.10, 0.54)


def test_clearance_without_a_least_one_is_what_is_used_against_what_there_is() -> None:
    """0.2 of 0.8 m used."""
    of = case(limits=replace(LIMITS, clearance_min=0.0))
    assert_judged(judge(of)["clearance"], 0.2, 0.8)
    assert_not_judged(judge(case(vehicle=replace(VEHICLE, clearance=None)))["clearance"], "given")


def test_a_hard_point_that_strikes_has_a_margin_below_minus_one() -> None:
    """0.15 m of clearance, 0.20 m of travel: -0.05/0.10 - 1."""
    of = case(vehicle=replace(VEHICLE, clearance=0.15, clearance_radius=0.0))
    assert_judged(judge(of)["clearance"], 0.10, -0.05)


def test_lean_is_that_of_one_leg_low_and_the_rest_high() -> None:
    """(0.20 - 0.12)/(2·2) = 0.02 on four legs."""
    assert_judged(judge(case())["lean"], float(np.arctan(0.02)), 0.05)
    assert_not_judged(judge(case(limits=replace(LIMITS, lean_max=None)))["lean"], "lean_max")


def test_tip_over_with_horizontal_speed_is_the_lowest_speed_that_tips() -> None:
    """Before crush, k 1, h 1.5, r √2: CHECKS' 2.060422 m/s on the Moon, × √(g/1.62) here.

    Even crush helps; 0.20 m low and 0.12 high lean by atan 0.02 at h' 1.36 and stay above it.
    """
    touchdown = replace(TOUCHDOWN, horizontal_speed=0.5)
    found = judge(case(touchdown))["tip_over"]
    assert_allclose(capability(found), 2.060422 * np.sqrt(G0 / 1.62), rtol=1e-6)
    assert_allclose(demand(found), [0.5])
    reserve = judge(case(replace(touchdown, reserve=True)))["tip_over"]
    assert_allclose(demand(reserve), [0.6])
    assert not reserve.counts


def test_tip_over_after_uneven_crush_can_be_the_lowest() -> None:
    """0.6 m low, 0.05 m high: lean atan(0.55/4), h' 1.3125, r √2."""
    touchdown = replace(TOUCHDOWN, horizontal_speed=0.5)
    bad = levels(0.6, 0.3, 0.05)
    found = judge(case(touchdown), stroke=bad, others=bad)["tip_over"]
    h, r, lean = 1.5 - (0.6 + 3 * 0.05) / 4, np.sqrt(2.0), np.arctan(0.55 / 4.0)
    lift = G0 * np.hypot(h, r) * (1.0 - np.cos(np.arctan2(r, h) - lean))
    assert_allclose(capability(found), np.sqrt(2.0 * (1.0 + h**2 + r**2) * lift) / h, rtol=1e-9)


def test_tip_over_on_a_slope_alone_is_static_and_its_worst_state() -> None:
    """α/(slope + lean): before crush 43.31°/0.1; uneven atan(√2/1.36)/(0.1 + atan 0.02)."""
    found = judge(case(replace(TOUCHDOWN, slope=0.1)))["tip_over"]
    assert_judged(found, 0.1 + np.arctan(0.02), float(np.arctan(np.sqrt(2.0) / 1.36)))
    assert found.unit == "rad"


def test_standing_after_is_the_share_against_the_low_mean_force_where_it_stopped() -> None:
    """12 t on two of four legs: 58 839.9 N against 70 kN; thrust does not help."""
    for thrust in (0.0, 0.5):
        found = judge(case(replace(TOUCHDOWN, thrust_to_weight=thrust)))
        assert_judged(found["standing_after"], 6e3 * G0, 70e3)


def test_standing_before_is_against_the_low_force_that_begins_the_crush() -> None:
    standing = Standing(name="fuelled", mass=20e3, side_acceleration=0.5)
    found = judge(case(standings=(standing,)))["standing_before"]
    assert_judged(
        found, 5e3 * G0 + 2.0 * 10e3 * 1.5 / (4.0 * 2.0), float(crushed(PLAIN).first_peak[0, 0])
    )
    assert found.touchdown == "fuelled"
    half = judge(case(standings=(standing,)), girder(first_peak_fraction=0.5))["standing_before"]
    assert_allclose(capability(half), 0.5 * capability(found))


def zones(of: Crush, height: list[float], ratio: list[float]) -> Crush:
    """Zones with the given ratios to the least one above; start force 100, 110, … kN nominal."""
    nominal = 100e3 + 10e3 * np.arange(len(height))
    sequence = of.sequence._replace(
        height=np.array([height]),
        start=np.stack([0.8 * nominal, nominal, 1.2 * nominal])[:, None],
        ratio=np.array([ratio]),
        scatter=np.full((1, len(height)), 0.03),
    )
    return of._replace(sequence=sequence)


@pytest.mark.parametrize(
    ("crush", "ratio", "asked"),
    [(0.05, 1.3, 100e3), (0.288, 1.2, 110e3), (0.40, 1.2, 110e3), (0.60, 1.1, 120e3)],
)
def test_collapse_sequence_counts_the_zones_that_fold_and_takes_the_scatter_off(
    crush: float, ratio: float, asked: float
) -> None:
    """Zones at 0.2, 0.4, 0.7 m of 1 m, ratios 1.3, 1.2, 1.1 and one on top; usable 0.756 m.

    Low crush of 0.05 m reaches 66 mm: the first zone counts always. 0.288 m reaches 381 mm, where
    the fold about 0.4 m has begun (H 38 mm). 0.40 m reaches 529 mm, 0.60 m 794 mm. Capability =
    demand × ratio × exp(-1.645·0.03); nominal force in both.
    """
    made = zones(crushed(PLAIN), [0.2, 0.4, 0.7, 0.9], [1.3, 1.2, 1.1, np.inf])
    of = case()
    landed = stopped(of, made, crush=levels(crush, 0.03, 0.02))
    found = {m.check: m for m in margins(of, made, (landed,))}["collapse_sequence"]
    assert_judged(found, asked, asked * ratio * np.exp(-1.645 * 0.03))
    assert f"nominal ratio {ratio:.3f}" in found.note


def test_collapse_sequence_reaches_its_share_of_a_shorter_girder() -> None:
    """Of 0.8 m half the usable stroke reaches 0.4 m: zone 0.3 m counts, 0.5 m does not."""
    made = zones(crushed(girder(length=0.8)), [0.1, 0.3, 0.5, 0.7], [1.3, 1.2, 1.1, np.inf])
    of = case()
    half = 0.5 * float(made.usable[0])
    landed = stopped(of, made, crush=levels(half, half, half))
    found = {m.check: m for m in margins(of, made, (landed,))}["collapse_sequence"]
    assert_allclose(demand(found), [110e3])


def test_ligament_of_a_batch_is_judged_where_there_are_holes() -> None:
    made = crushed(PLAIN, DRILLED)
    of = case()
    landed = land(made, of.vehicle, of.leg, TOUCHDOWN, of.factors)
    found = {m.check: m for m in margins(of, made, (landed,))}["ligament"]
    assert found.margin is not None
    assert np.isnan(found.margin).tolist() == [True, False]
    assert (found.unit, found.basis) == ("m", "derived, untested")
    assert "2 t and 5 mm" in found.note


def test_collapse_sequence_counts_the_zones_of_every_touchdown() -> None:
    made = zones(crushed(PLAIN), [0.2, 0.4, 0.9], [1.3, 1.2, np.inf])
    of = case()
    pair = tuple(stopped(of, made, crush=levels(c, c, c)) for c in (0.4, 0.05))
    for order in (pair, pair[::-1]):
        found = {m.check: m for m in margins(of, made, order)}["collapse_sequence"]
        assert_allclose(demand(found), [110e3])


def test_the_chance_of_folding_out_of_order_is_the_normal_tail() -> None:
    """Logarithm 1.03 over 0.03: ln 1.03/0.03 = 0.98529 σ: 16.22 %."""
    made = zones(crushed(PLAIN), [0.2, 0.9], [1.03, np.inf])
    of = case()
    landed = stopped(of, made)
    found = {m.check: m for m in margins(of, made, (landed,))}["collapse_sequence"]
    assert "16 %" in found.note


def test_one_zone_has_nothing_to_fold_out_of_order_and_no_holes_no_ligament() -> None:
    found = judge(case())
    assert_not_judged(found["collapse_sequence"], "one zone")
    assert found["collapse_sequence"].unit == "N"
    assert found["collapse_sequence"].basis == "derived, untested"
    assert_not_judged(found["ligament"], "no holes")


def test_ligament_is_the_worst_of_webs_and_corner_distances() -> None:
    """One row of 82 in 140 mm: 29 mm to the corner against 2·4 + 6 = 14; end web 59 against 8.

    With its edge 9 mm above the foot: 9 against 8. In 2 mm sheet a web of 9 mm needs 5 mm.
    """
    drilled = girder(Row(height=0.1, size=82 * mm))
    assert_judged(judge(case(record=drilled), drilled)["ligament"], 14 * mm, 29 * mm)
    low = girder(Row(height=50 * mm, size=82 * mm))
    assert_judged(judge(case(record=low), low)["ligament"], 8 * mm, 9 * mm)
    thin = girder(Row(height=50 * mm, size=82 * mm), wall=2 * mm)
    assert_judged(judge(case(record=thin), thin)["ligament"], 5 * mm, 9 * mm)


def test_what_no_limit_asks_for_is_not_judged_and_says_why() -> None:
    found = judge(case(limits=Limits(), leg=replace(LEG, pad_area=None)))
    assert_not_judged(found["leg_load"], "leg_limit_load")
    assert_not_judged(found["deceleration"], "deceleration_max")
    assert_not_judged(found["pad_pressure"], "pad_pressure_max")
    assert_not_judged(found["tip_over"], "level ground")
    assert_not_judged(found["bending"], "guide")
    bare = judge(case(leg=replace(LEG, side_load="girder")))
    assert_not_judged(bare["bending"], "no side load")
    two = judge(case(replace(TOUCHDOWN, slope=0.1), vehicle=replace(VEHICLE, legs=2)))
    assert_not_judged(two["tip_over"], "fewer than three legs")


def test_no_demand_is_null_and_never_infinite() -> None:
    """All strokes alike: no lean, on any number of legs."""
    alike = levels(0.1, 0.1, 0.1)
    for legs in (1, 2, 3, 4, 5, 6, 8):
        of = case(vehicle=replace(VEHICLE, legs=legs))
        assert_not_judged(judge(of, stroke=alike, others=alike)["lean"], "no lean")


def test_a_plain_girder_beside_it_takes_no_margin_from_a_drilled_one() -> None:
    of = case(record=DRILLED)
    pair, alone = crushed(DRILLED, PLAIN), crushed(DRILLED)
    together, single = (
        margins(of, crush, (land(crush, VEHICLE, LEG, TOUCHDOWN, FACTORS),))
        for crush in (pair, alone)
    )
    for beside, by_itself in zip(together, single, strict=True):
        assert (beside.margin is None) == (by_itself.margin is None), beside.check
        if beside.margin is not None and by_itself.margin is not None:
            assert_allclose(beside.margin[0], by_itself.margin[0], rtol=1e-9)


def test_basis_is_published_undrilled_derived_drilled_and_your_test_with_a_correlation() -> None:
    tested = replace(
        DRILLED, correlation=Correlation(force_factor=1.0, scatter=0.05, tests=3, source="sample")
    )
    for record, basis in (
        (PLAIN, "published"),
        (DRILLED, "derived, untested"),
        (tested, "your test"),
    ):
        assert judge(case(record=record), record)["energy"].basis == basis
        assert judge(case(record=record), record)["clearance"].basis == "derived, untested"


def made(value: float | None, *, counts: bool = True) -> Margin:
    array = None if value is None else np.array([value + 1.0])
    one = None if value is None else np.ones(1)
    return Margin(
        check="",
        touchdown="",
        unit="",
        basis="",
        demand=one,
        capability=array,
        counts=counts,
    )


def test_the_lowest_counted_margin_governs() -> None:
    found = (made(0.5), made(None), made(0.1, counts=False), made(0.2), made(0.3))
    assert governing(found).tolist() == [3]
    assert governing((made(0.5), made(-0.7), made(-0.2))).tolist() == [1]
    assert governing((made(0.5), made(np.nan), made(0.2))).tolist() == [2]


def test_a_case_passes_when_every_counted_margin_is_zero_or_more() -> None:
    """The load limit set to the largest load found: 0; a hair less: negative, exit by that."""
    free = Limits(stroke_fraction=1.0)
    of = case(limits=free, touchdowns=(replace(TOUCHDOWN, vertical_speed=1.0),))
    peak = float(check_case(of).landings[0].peak.max())
    exact = check_case(replace(of, limits=replace(free, leg_limit_load=peak)))
    short = check_case(replace(of, limits=replace(free, leg_limit_load=peak * (1.0 - 1e-9))))
    assert exact.passes
    assert not short.passes
    assert short.margins[short.governs].check == "leg_load"
    reserve = replace(TOUCHDOWN, vertical_speed=1.0, reserve=True)
    slow = replace(of, touchdowns=(reserve,), limits=replace(free, deceleration_max=0.01))
    assert check_case(slow).passes


def test_the_strain_rate_is_that_of_the_fastest_touchdown() -> None:
    """0.33 v/C on a pair of 100 1/s, 10: the fast touchdown sets it, in whatever order."""
    pair = Rate(D=100.0, q=10.0, fitted_at="yield", test_rate=1e-3)
    record = replace(PLAIN, rate=True, material=replace(PLAIN.material, rate=pair))
    fast, slow = replace(TOUCHDOWN, name="fast"), replace(TOUCHDOWN, vertical_speed=0.5)
    alone, *both = (
        check_case(case(record=record, touchdowns=touchdowns)).crush.first_peak
        for touchdowns in ((fast,), (fast, slow), (slow, fast))
    )
    for found in both:
        assert_allclose(found, alone, rtol=1e-12)
    assert check_case(case(record=record, touchdowns=(slow,))).crush.first_peak[1, 0] < alone[1, 0]
