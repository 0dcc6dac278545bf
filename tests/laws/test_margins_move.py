"""Which way every margin moves, and by how much, with its own demand and capability.

Random girders and landings; each law changes one thing and knows the new margin: by the ratio
where demand or capability is proportional to it, by its sign where it is not. A swapped sign, a
swapped ratio or another level makes one of them fail. By-hand values of single margins stand in
tests/test_margins.py, of those of the motion in tests/test_land.py.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from crushleg.case.reader import read_case_text
from crushleg.case.templates import template
from crushleg.land import Moving, land_case
from crushleg.landing.touchdown import land
from crushleg.margins import governing, margins
from crushleg.margins.motion import motion_margins
from tests.girder.strategies import share
from tests.laws.landings import Drawn, judged, landings, lawful

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import FloatArray
    from crushleg.margins import Margin

CONTACTS = ("all", "all", "one", "two")
FACTOR = share(1.001, 3.0)


def ratio(after: Margin, before: Margin) -> float:
    """Capability over factor × demand, after over before; not of a landing that never stops."""
    assert after.margin is not None
    assert before.margin is not None
    assume(before.margin[0] > -1.0)
    return float((1.0 + after.margin[0]) / (1.0 + before.margin[0]))


def at_level(values: FloatArray, level: int | None, by: float) -> FloatArray:
    """Low (0), nominal (1), high (2) or all (None) of an array times ``by``."""
    found = np.array(values)
    found[slice(None) if level is None else level] *= by
    return found


def others_alike(after: dict[str, Margin], before: dict[str, Margin], *but: str) -> None:
    """Nothing else moved."""
    for check, margin in before.items():
        if check in but or margin.margin is None:
            continue
        found = after[check].margin
        assert found is not None
        assert_allclose(found, margin.margin, rtol=1e-12, err_msg=check)


LIMITS = {
    "leg_limit_load": ("leg_load", 1.0),
    "deceleration_max": ("deceleration", 1.0),
    "clearance_min": ("clearance", -1.0),
    "lean_max": ("lean", 1.0),
    "pad_pressure_max": ("pad_pressure", 1.0),
    "stroke_fraction": ("stroke", 1.0),
}
"""Limit -> margin, and the power of the limit in it."""


@lawful(10)
@given(landings(contacts=CONTACTS), FACTOR)
def test_every_limit_moves_its_own_margin_by_its_ratio_and_no_other(
    drawn: Drawn, by: float
) -> None:
    before = drawn.margins
    for limit, (check, power) in LIMITS.items():
        if before[check].margin is None:
            continue
        by_now = 1.0 / by if limit == "stroke_fraction" else by
        value = by_now * getattr(drawn.case.limits, limit)
        case = replace(drawn.case, limits=replace(drawn.case.limits, **{limit: value}))
        after = judged(case, drawn.crush, drawn.landed)
        assert ratio(after[check], before[check]) == pytest.approx(by_now**power, rel=1e-9)
        others_alike(after, before, check)


OWN: tuple[tuple[str, int | None, str, float], ...] = (
    ("asked", 0, "energy", -1.0),
    ("asked", 1, "energy", 0.0),
    ("asked", 2, "energy", 0.0),
    ("capacity", 0, "energy", 1.0),
    ("capacity", 1, "energy", 0.0),
    ("capacity", 2, "energy", 0.0),
    ("stroke_needed", 0, "stroke", -1.0),
    ("stroke_needed", 1, "stroke", 0.0),
    ("stroke_needed", 2, "stroke", 0.0),
    ("peak", None, "leg_load", -1.0),
    ("deceleration", None, "deceleration", -1.0),
    ("pad_peak", None, "pad_pressure", -1.0),
    ("mean_at_stop", 0, "standing_after", 1.0),
    ("mean_at_stop", 1, "standing_after", 0.0),
    ("mean_at_stop", 2, "standing_after", 0.0),
)
"""Result of the landing, level, margin, power of the result in it."""


@lawful(9)
@given(landings(contacts=CONTACTS), FACTOR)
def test_every_result_of_the_landing_moves_its_margin_the_right_way(
    drawn: Drawn, by: float
) -> None:
    """Twice the demand is half of the margin's ratio; the levels not judged change nothing."""
    for name, level, check, power in OWN:
        values: dict[str, Any] = {name: at_level(getattr(drawn.landed, name), level, by)}
        after = judged(drawn.case, drawn.crush, replace(drawn.landed, **values))
        assert ratio(after[check], drawn.margins[check]) == pytest.approx(by**power), name
        others_alike(after, drawn.margins, check)


@lawful(9)
@given(landings(contacts=CONTACTS), st.integers(0, 2), share(1.5, 3.0))
def test_the_largest_load_of_the_three_counts(drawn: Drawn, level: int, by: float) -> None:
    """Put above the other two at any level, it is the one that is judged."""
    for name, check in (
        ("peak", "leg_load"),
        ("deceleration", "deceleration"),
        ("pad_peak", "pad_pressure"),
    ):
        values = np.array(getattr(drawn.landed, name))
        values[level] = by * values.max()
        changed: dict[str, Any] = {name: values}
        after = judged(drawn.case, drawn.crush, replace(drawn.landed, **changed))
        assert ratio(after[check], drawn.margins[check]) == pytest.approx(1.0 / by)


def never_better(after: Drawn, before: Drawn, *checks: str, strictly: bool = False) -> None:
    for check in checks:
        if after.margins[check].margin is None or before.margins[check].margin is None:
            continue
        found, was = 1.0 + margin_of(after, check), 1.0 + margin_of(before, check)
        assert found < was * (1.0 - 1e-9) if strictly else found <= was * (1.0 + 1e-9), check


@lawful(9)
@given(landings(), FACTOR)
def test_the_pad_column_and_ultimate_factors_move_their_margins_by_their_ratio(
    drawn: Drawn, by: float
) -> None:
    case, before = drawn.case, drawn.margins
    leg = replace(case.leg, pad_area=by * (case.leg.pad_area or 0.0))
    after = drawn.changed(leg=leg).margins
    assert ratio(after["pad_pressure"], before["pad_pressure"]) == pytest.approx(by)
    others_alike(after, before, "pad_pressure")
    after = drawn.changed(factors=replace(case.factors, column=by * case.factors.column)).margins
    assert ratio(after["column"], before["column"]) == pytest.approx(1.0 / by)
    others_alike(after, before, "column")
    slow = replace(case.factors, speed_reserve=1.0)
    touchdown = replace(case.touchdowns[0], reserve=True)
    reserve = drawn.changed(factors=slow, touchdowns=(touchdown,)).margins
    assert ratio(reserve["leg_load"], before["leg_load"]) == pytest.approx(case.factors.ultimate)
    others_alike(reserve, before, "leg_load")


@lawful(10)
@given(landings(contacts=CONTACTS), FACTOR, share(0.1, 3.0))
def test_room_under_the_hull_and_a_wider_base_help(drawn: Drawn, by: float, more: float) -> None:
    """Clearance: exactly what is added over clearance_min. Lean: at most as the base widens."""
    vehicle, least = drawn.case.vehicle, drawn.case.limits.clearance_min
    assert vehicle.clearance is not None
    assert vehicle.pad_circle_radius is not None
    higher = drawn.changed(vehicle=replace(vehicle, clearance=vehicle.clearance + more))
    gained = margin_of(higher, "clearance") - margin_of(drawn, "clearance")
    assert gained == pytest.approx(more / least)
    others_alike(higher.margins, drawn.margins, "clearance")
    out = replace(vehicle, clearance_radius=vehicle.clearance_radius + more)
    assert margin_of(drawn.changed(vehicle=out), "clearance") <= margin_of(drawn, "clearance")
    if drawn.landed.first < vehicle.legs:
        return
    wide = drawn.changed(vehicle=replace(vehicle, pad_circle_radius=by * vehicle.pad_circle_radius))
    never_better(drawn, wide, "clearance", "standing_before")
    never_better(drawn, wide, "lean", "tip_over", strictly=True)
    if drawn.margins["lean"].demand is not None:
        slope, wider = (np.tan(leaning(d)) for d in (drawn, wide))
        assert_allclose(slope, by * wider, rtol=1e-9)


def leaning(drawn: Drawn) -> FloatArray:
    found = drawn.margins["lean"].demand
    assert found is not None
    return found


def margin_of(drawn: Drawn, check: str) -> float:
    found = drawn.margins[check].margin
    assert found is not None
    return float(found[0])


@lawful(9)
@given(landings(), share(1.001, 1.3))
def test_more_crush_leaves_less_room_and_sits_lower(drawn: Drawn, by: float) -> None:
    """All legs by as much: clearance falls by it, exactly."""
    for level, same in ((0, False), (2, True)):
        values = at_level(drawn.landed.stroke, level, by)
        landed = replace(drawn.landed, stroke=values, others=values)
        after = judged(drawn.case, drawn.crush, landed)
        before = drawn.margins["clearance"]
        if same:
            even = drawn.case.vehicle.clearance_radius == 0.0
            assert not even or ratio(after["clearance"], before) <= 1.0 + 1e-9
        else:
            assert float(after["clearance"].margin[0]) < float(before.margin[0])  # type: ignore[index]  # both are judged
    if drawn.margins["lean"].margin is not None:
        low = at_level(drawn.landed.stroke, 0, by)
        after = judged(drawn.case, drawn.crush, replace(drawn.landed, stroke=low, others=low))
        assert ratio(after["lean"], drawn.margins["lean"]) < 1.0


@lawful(12)
@given(landings(), FACTOR)
def test_sideways_speed_height_and_slope_tip_and_inertia_and_gravity_hold(
    drawn: Drawn, by: float
) -> None:
    case, touchdown = drawn.case, drawn.case.touchdowns[0]
    vehicle = case.vehicle
    assume(margin_of(drawn, "tip_over") > -0.99)
    level = replace(touchdown, slope=0.0)
    flat = drawn.changed(touchdowns=(level,))
    sideways = replace(level, horizontal_speed=by * level.horizontal_speed)
    fast = drawn.changed(touchdowns=(sideways,))
    assert ratio(fast.margins["tip_over"], flat.margins["tip_over"]) == pytest.approx(1.0 / by)
    others_alike(fast.margins, flat.margins, "tip_over")
    assert flat.margins["tip_over"].unit == "m/s"
    height = by * (vehicle.centre_of_gravity_height or 0.0)
    tall = drawn.changed(vehicle=replace(vehicle, centre_of_gravity_height=height))
    never_better(tall, drawn, "tip_over", "standing_before")
    big = replace(vehicle, radius_of_gyration=by * (vehicle.radius_of_gyration or 0.0))
    never_better(drawn, drawn.changed(vehicle=big), "tip_over", strictly=True)
    steep = replace(touchdown, slope=touchdown.slope + 0.1)
    after = drawn.changed(touchdowns=(steep,))
    assert np.all(tip_demand_over_capability(after) >= tip_demand_over_capability(drawn))


def tip_demand_over_capability(drawn: Drawn) -> FloatArray:
    found = drawn.margins["tip_over"]
    assert found.demand is not None
    assert found.capability is not None
    with np.errstate(divide="ignore"):
        return np.asarray(found.demand / found.capability)


@lawful(9)
@given(landings(), share(0.02, 0.1), share(1.01, 2.0))
def test_without_sideways_speed_slope_and_lean_use_up_the_static_angle(
    drawn: Drawn, slope: float, by: float
) -> None:
    still = replace(drawn.case.touchdowns[0], horizontal_speed=0.0, slope=slope)
    gentle = drawn.changed(touchdowns=(still,))
    found = gentle.margins["tip_over"]
    assert found.unit == "rad"
    steep = drawn.changed(touchdowns=(replace(still, slope=by * slope),))
    never_better(steep, gentle, "tip_over", strictly=True)
    h, r = drawn.case.vehicle.centre_of_gravity_height, drawn.case.vehicle.pad_circle_radius
    assert h is not None
    assert r is not None
    before_crush = np.arctan(r * np.cos(np.pi / drawn.case.vehicle.legs) / h) / slope
    assert margin_of(gentle, "tip_over") <= before_crush - 1.0 + 1e-9


@lawful(9)
@given(landings(), FACTOR)
def test_a_longer_or_softer_column_buckles_earlier(drawn: Drawn, by: float) -> None:
    """Euler: square of the effective length, first power of Young's modulus."""
    record, leg = drawn.case.girder, drawn.case.leg
    long = drawn.changed(leg=replace(leg, free_length=by * (leg.free_length or 0.0)))
    never_better(long, drawn, "column", strictly=True)
    never_better(long, drawn, "bending")
    k = by * record.effective_length_factor
    pinned = drawn.changed(girder=replace(record, effective_length_factor=k))
    assert ratio(pinned.margins["column"], drawn.margins["column"]) == pytest.approx(by**-2.0)
    others_alike(pinned.margins, drawn.margins, "column")
    inertia = drawn.crush._replace(inertia=by * drawn.crush.inertia)
    stiffer = judged(drawn.case, inertia, drawn.landed)
    assert ratio(stiffer["column"], drawn.margins["column"]) == pytest.approx(by)
    harder = replace(drawn.landed, girder_peak=100.0 * drawn.landed.girder_peak)
    crushed = judged(drawn.case, drawn.crush, harder)
    assert ratio(crushed["column"], drawn.margins["column"]) < 1.0


@lawful(9)
@given(landings(), FACTOR)
def test_a_side_load_bends_by_its_ratio_and_a_guide_takes_it(drawn: Drawn, by: float) -> None:
    """Moment M = T z: with the side force; capacity with the yield strength, start force kept."""
    before = drawn.margins["bending"]
    curve = drawn.landed.curve
    forces = replace(curve.forces, side=by * curve.forces.side)
    landed = replace(drawn.landed, curve=curve._replace(forces=forces))
    assume(before.margin is not None and float(before.margin[0]) > -1.0)
    after = judged(drawn.case, drawn.crush, landed)
    assert ratio(after["bending"], before) == pytest.approx(1.0 / by)
    others_alike(after, drawn.margins, "bending")
    guided = replace(drawn.case, leg=replace(drawn.case.leg, side_load="guide"))
    assert judged(guided, drawn.crush, drawn.landed)["bending"].margin is None
    slippery = drawn.changed(leg=replace(drawn.case.leg, pad_friction=0.0, cant=0.0))
    assert slippery.margins["bending"].margin is None


@lawful(10)
@given(landings(), FACTOR, share(0.1, 0.9))
def test_what_stands_on_the_leg_and_what_holds_it(drawn: Drawn, by: float, less: float) -> None:
    """Load with the mass, exactly; with the push, never less; capability with the first peak."""
    standing = drawn.case.standings[0]
    before = drawn.margins["standing_before"]
    heavy = drawn.changed(standings=(replace(standing, mass=by * standing.mass),))
    assume(float(before.margin[0]) > -1.0)  # type: ignore[index]  # it is judged
    assert ratio(heavy.margins["standing_before"], before) == pytest.approx(1.0 / by)
    others_alike(heavy.margins, drawn.margins, "standing_before")
    push = replace(standing, side_acceleration=standing.side_acceleration * less)
    if standing.side_acceleration > 0.0:
        never_better(drawn, drawn.changed(standings=(push,)), "standing_before", strictly=True)
    start = drawn.crush.sequence.start.copy()
    for level, power in ((0, 1.0), (1, 0.0), (2, 0.0)):
        scaled = at_level(start, level, by)
        crush = drawn.crush._replace(sequence=drawn.crush.sequence._replace(start=scaled))
        after = judged(drawn.case, crush, drawn.landed)["standing_before"]
        assert ratio(after, before) == pytest.approx(by**power)
    weight = drawn.landed.arrival.weight
    landed = replace(drawn.landed, arrival=drawn.landed.arrival._replace(weight=by * weight))
    after = judged(drawn.case, drawn.crush, landed)["standing_after"]
    assert ratio(after, drawn.margins["standing_after"]) == pytest.approx(1.0 / by)


@lawful(10)
@given(landings(), FACTOR, share(1.001, 3.0))
def test_the_sequence_by_its_ratio_less_its_scatter(drawn: Drawn, by: float, wider: float) -> None:
    before = drawn.margins["collapse_sequence"]
    assume(before.margin is not None)
    sequence = drawn.crush.sequence
    apart = drawn.crush._replace(sequence=sequence._replace(ratio=by * sequence.ratio))
    after = judged(drawn.case, apart, drawn.landed)["collapse_sequence"]
    assert ratio(after, before) == pytest.approx(by)
    loose = drawn.crush._replace(sequence=sequence._replace(scatter=wider * sequence.scatter))
    after = judged(drawn.case, loose, drawn.landed)["collapse_sequence"]
    assert ratio(after, before) < 1.0
    nominal = np.where(np.isfinite(sequence.ratio), sequence.ratio, np.inf)
    assert float(before.margin[0]) < nominal[0].max() - 1.0  # type: ignore[index]  # see assume
    deep = replace(drawn.landed, crush=np.broadcast_to(drawn.crush.usable, (3, 1)))
    all_zones = judged(drawn.case, drawn.crush, deep)["collapse_sequence"]
    assert ratio(all_zones, before) <= 1.0 + 1e-12
    none = replace(drawn.landed, crush=np.zeros((3, 1)))
    first = judged(drawn.case, drawn.crush, none)["collapse_sequence"]
    if first.margin is not None:
        assert ratio(before, first) <= 1.0 + 1e-12


@lawful(10)
@given(landings(), FACTOR)
def test_ligaments_by_the_metal_left_over_the_metal_to_keep(drawn: Drawn, by: float) -> None:
    """Twice the hole leaves less; holes and walls grown alike where 5 mm do not govern."""
    before = drawn.margins["ligament"]
    girders = drawn.crush.girders
    grown = {name: 1.1 * getattr(girders, name) for name in ("across", "along", "corner")}
    wide = replace(girders, **grown)
    after = judged(drawn.case, drawn.crush._replace(girders=wide), drawn.landed)["ligament"]
    assert ratio(after, before) < 1.0
    bent = replace(girders, corner_radius=girders.corner_radius + by * 1e-3)
    after = judged(drawn.case, drawn.crush._replace(girders=bent), drawn.landed)["ligament"]
    assert ratio(after, before) <= 1.0 + 1e-12
    record = drawn.case.girder
    steps = tuple(replace(step, wall=1.2 * step.wall) for step in record.wall_steps)
    if 1.2 * max(record.wall, *(step.wall for step in record.wall_steps), 0.0) < 0.04:
        thick = replace(record, wall=1.2 * record.wall, wall_steps=steps)
        assert ratio(drawn.regirdered(thick).margins["ligament"], before) <= 1.0 + 1e-12


@lawful(10)
@given(landings(contacts=CONTACTS))
def test_a_margin_is_negative_just_where_demand_is_above_capability(drawn: Drawn) -> None:
    found = margins(drawn.case, drawn.crush, (drawn.landed,))
    for margin in found:
        if margin.margin is None:
            continue
        assert margin.demand is not None
        assert margin.capability is not None
        below = margin.capability < margin.factor * margin.demand
        assert bool(below[0]) is bool(margin.margin[0] < 0.0)
        assert margin.demand[0] > 0.0
    worst = found[int(governing(found)[0])]
    values = [float(m.margin[0]) for m in found if m.margin is not None]
    assert worst.margin is not None
    assert float(worst.margin[0]) == min(values)


@lawful(10)
@given(landings())
def test_stroke_and_energy_change_sign_together(drawn: Drawn) -> None:
    """On level force and all legs at once: what does not fit in the stroke needs more energy."""
    limits = replace(drawn.case.limits, stroke_fraction=1.0)
    found = drawn.changed(limits=limits)
    bottomed = bool(found.landed.bottomed[0, 0])
    assert (margin_of(found, "energy") < 0.0) is bottomed
    assert not bottomed or margin_of(found, "stroke") < 0.0


# ---------------------------------------------------------------- landings in motion


@cache
def moving() -> Moving:
    return land_case(read_case_text(template("test-stage"), "stage"))


def in_motion(limits: dict[str, float] | None = None, **outcome: Any) -> dict[str, Margin]:
    """Margins of the stage's landing in motion whose outcome or limits are changed."""
    checked = moving().checked
    case = checked.case
    case = replace(case, limits=replace(case.limits, **(limits or {})))
    landed = land(checked.crush, case.vehicle, case.leg, case.touchdowns[0], case.factors)
    found = replace(moving().moves[0].outcome, **outcome)
    return {m.check: m for m in motion_margins(case, checked.crush, landed, found)}


MOTION: tuple[tuple[str, Callable[[FloatArray, float], FloatArray], str, float], ...] = (
    ("needed", lambda v, by: by * v, "stroke", -1.0),
    ("axial", lambda v, by: by * v, "leg_load", -1.0),
    ("deceleration", lambda v, by: by * v, "deceleration", -1.0),
    ("pad", lambda v, by: by * v, "pad_pressure", -1.0),
    ("mean_at_stop", lambda v, by: by * v, "standing_after", 1.0),
    ("clearance", lambda v, by: by * v, "clearance", 1.0),
)
"""Result of the motion, how it is changed, margin, power."""
BASE: dict[str, Any] = {
    "clearance": np.array([0.3, 0.5, 0.6]),
    "lean": np.array([0.01, 0.02, 0.015]),
}


@lawful(8)
@given(FACTOR)
def test_every_result_of_the_motion_moves_its_margin_by_its_ratio(by: float) -> None:
    outcome = replace(moving().moves[0].outcome, **BASE)
    before = in_motion(**BASE)
    for name, change, check, power in MOTION:
        after = in_motion(**BASE | {name: change(np.array(getattr(outcome, name)), by)})
        assert ratio(after[check], before[check]) == pytest.approx(by**power), name
        others_alike(after, before, check, "column" if name == "girder" else "")


@lawful(8)
@given(FACTOR, st.integers(0, 2))
def test_the_worst_column_and_leg_of_the_motion_counts(by: float, column: int) -> None:
    """The girder's own peak bends and buckles; the least mean force of the low column stands."""
    outcome = moving().moves[0].outcome
    before = in_motion(**BASE)
    for name, check in (("axial", "leg_load"), ("pad", "pad_pressure")):
        values = np.array(getattr(outcome, name))
        values[column, column] = (1.0 + by) * values.max()
        after = in_motion(**BASE | {name: values})
        assert ratio(after[check], before[check]) == pytest.approx(1.0 / (1.0 + by))
    strokes = np.array(outcome.needed)
    strokes[0, column] = (1.0 + by) * strokes[0].max()
    after = in_motion(**BASE, needed=strokes)
    assert ratio(after["stroke"], before["stroke"]) == pytest.approx(1.0 / (1.0 + by))
    least = np.array(outcome.mean_at_stop)
    least[0, column] = least[0].min() / (1.0 + by)
    after = in_motion(**BASE, mean_at_stop=least)
    assert ratio(after["standing_after"], before["standing_after"]) == pytest.approx(1 / (1 + by))
    lean = np.array(BASE["lean"])
    lean[column] = by * lean.max()
    after = in_motion(**BASE | {"lean": lean})
    assert ratio(after["lean"], before["lean"]) == pytest.approx(1.0 / by)
    room = np.array(BASE["clearance"])
    room[column] = room.min() / by
    after = in_motion(**BASE | {"clearance": room})
    assert ratio(after["clearance"], before["clearance"]) == pytest.approx(1.0 / by)


@lawful(8)
@given(FACTOR, share(0.02, 0.3))
def test_limits_and_tilt_of_the_motion_move_the_right_way(by: float, used: float) -> None:
    outcome = moving().moves[0].outcome
    before = in_motion(**BASE)
    limits = moving().checked.case.limits
    for limit, (check, power) in LIMITS.items():
        by_now = 1.0 / by if limit == "stroke_fraction" else by
        value = by_now * getattr(limits, limit)
        after = in_motion({limit: value}, **BASE)
        assert ratio(after[check], before[check]) == pytest.approx(by_now**power), limit
        others_alike(after, before, check)
    tilted = [
        in_motion(**BASE, angle_least=outcome.angle_before - np.array([0.0, part * used, 0.0]))
        for part in (1.0, by)
    ]
    assert ratio(tilted[1]["tip_over"], tilted[0]["tip_over"]) == pytest.approx(1.0 / by)
    tips = in_motion(**BASE, angle_least=outcome.angle_before - 1.01 * outcome.angle_before)
    assert float(tips["tip_over"].margin[0]) < 0.0  # type: ignore[index]  # it is judged
    used_up = in_motion({"clearance_min": 0.0}, **BASE)["clearance"]
    whole = moving().checked.case.vehicle.clearance
    assert whole is not None
    assert_allclose(used_up.demand, whole - BASE["clearance"].min())  # type: ignore[arg-type]  # as
    assert_allclose(used_up.capability, whole)  # type: ignore[arg-type]  # it is judged


@lawful(6)
@given(FACTOR)
def test_a_side_force_of_the_motion_bends_and_a_harder_girder_buckles(by: float) -> None:
    """Side force over girder force beyond that of the balance; the girder's largest force."""
    outcome = moving().moves[0].outcome
    case = moving().checked.case
    bare = replace(case, leg=replace(case.leg, side_load="girder"))
    crush = moving().checked.crush
    landed = land(crush, bare.vehicle, bare.leg, bare.touchdowns[0], bare.factors)

    def found(**changes: Any) -> dict[str, Margin]:
        changed = replace(outcome, **changes)
        return {m.check: m for m in motion_margins(bare, crush, landed, changed)}

    strong = 2.0 * float(landed.curve.forces.side.max())
    side = strong * np.array(outcome.girder)
    one, more = found(side=side), found(side=by * side)
    assert ratio(more["bending"], one["bending"]) == pytest.approx(1.0 / by)
    assert ratio(one["bending"], found()["bending"]) <= 1.0
    hard = found(girder=100.0 * by * outcome.girder)
    harder = found(girder=200.0 * by * outcome.girder)
    assert ratio(hard["column"], found()["column"]) < 1.0
    assert ratio(harder["column"], hard["column"]) == pytest.approx(0.5)


def test_a_landing_in_motion_that_never_rests_fails_by_its_time() -> None:
    outcome = moving().moves[0].outcome
    restless = np.array([False, *[True] * (len(outcome.rested) - 1)])
    found = in_motion(rested=restless)["at_rest"]
    assert found.margin is not None
    assert float(found.margin[0]) == -1.0
    assert_allclose(found.demand, outcome.time[:1])  # type: ignore[arg-type]  # it is judged
    assert "at_rest" not in in_motion()
