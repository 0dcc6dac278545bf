"""Laws of curve and stroke over random girders and landings.

Laws that stand elsewhere: low, nominal and high of mean force, first peak and of the energy of
the girder (tests/girder/test_levels.py); less metal never more (tests/girder/
test_removing_metal.py); scale and mirror (test_similarity.py); jumps of the energy along seventeen
chosen lengths (test_continuity.py); batches of girders (test_batch.py); soundness of random curves
(test_extremes.py); the stop on invented curves (tests/landing/test_energy.py), energy that closes,
chosen batches of landings (tests/landing/test_batch.py); the motion (tests/landing/motion/
test_laws.py).
"""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from crushleg.case.records import Band
from crushleg.landing.energy import energy_at
from crushleg.landing.share import sample
from crushleg.margins import margins
from tests.girder.strategies import girders, share, with_rows
from tests.laws.landings import Drawn, drives_through, landed_on, landings, lawful
from tests.samples import assert_not_above, crushed

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import FloatArray
    from crushleg.case.material import Material
    from crushleg.case.records import Girder
    from crushleg.landing.touchdown import Landed

    Vary = Callable[[Drawn, float], "tuple[Girder, float]"]

CONTACTS = ("all", "one", "two")


# ---------------------------------------------------------------- levels


@lawful(20)
@given(girders())
def test_the_mean_force_of_every_fold_is_in_order(record: Girder) -> None:
    folds = crushed(record).folds
    real = folds.length[0] > 0.0
    force = folds.force[:, 0, real]
    assert_not_above(force[:-1], force[1:])


@lawful(15)
@given(landings())
def test_the_work_of_a_leg_is_in_order_at_every_travel(drawn: Drawn) -> None:
    """Elastic shortening included, between the points of the curve too; each on its own grid.

    Between two points the force is straight while the points hold the exact work, δ more than the
    trapezoid as a mean force. Past the end of its elastic rise at f0 a level may so be (δ/f0)² of
    its work too high until the next level yields; δ/f0 is under 1 % on these grids.
    """
    curve = drawn.landed.curve
    end = curve.travel[:, 0, -1].min()
    for at in (np.linspace(0.0, 1.0, 997)[1:] * end, np.geomspace(1e-6, 1.0, 97) * end):
        each = (curve.travel[:, 0], curve.reaction[:, 0], curve.work[:, 0])
        work = np.stack([energy_at(z, v, e, at) for z, v, e in zip(*each, strict=True)])
        assert_not_above(work[:-1], work[1:], slack=1e-4)


@lawful(20)
@given(landings(contacts=CONTACTS))
def test_low_force_travels_farthest_and_has_least_energy(drawn: Drawn) -> None:
    """Beyond the end of a girder no order is asked: first legs that bottom leave others uncrushed.

    Nominal may need less than high: high crests leave deeper troughs, and low is what is judged.
    """
    landed = drawn.landed
    assert np.all(landed.crush[1:] <= landed.crush[0] + 1e-9)
    if not landed.bottomed[0, 0]:
        assert not landed.bottomed.any()
        assert np.all(landed.stroke_needed[1:] <= landed.stroke_needed[0] + 1e-9)
    assert_not_above(landed.capacity[:-1], landed.capacity[1:])


@lawful(12)
@given(landings(contacts=("one", "two")))
def test_the_weaker_of_the_folds_that_the_legs_stop_in_is_kept(drawn: Drawn) -> None:
    """First legs crush farther than the others: what stands on them is held by the lesser."""
    landed, folds = drawn.landed, drawn.crush.folds
    back = landed.at_stop / drawn.crush.stiffness
    ends = folds.stroke[0, 1:][folds.length[0] > 0.0]
    for level in range(3):
        force = folds.force[level, 0, folds.length[0] > 0.0]
        crush = np.array([each[level, 0] for each in (landed.stroke - back, landed.others - back)])
        crush = np.clip(crush, 0.0, drawn.crush.usable[0])
        assume(np.abs(ends[:, None] - crush).min() > 1e-6)
        least = force[np.searchsorted(ends, crush)].min()
        assert_allclose(landed.mean_at_stop[level, 0], least, rtol=1e-9)


# ---------------------------------------------------------------- batches


@pytest.mark.parametrize("contact", CONTACTS)
@lawful(4)
@given(drawn=st.lists(landings(), min_size=2, max_size=3))
def test_random_girders_land_together_as_alone(contact: str, drawn: list[Drawn]) -> None:
    """One vehicle on all of them, in one batch and one at a time: every array, every margin."""
    case = drawn[0].case
    touchdown = replace(case.touchdowns[0], first_contact=contact)
    records = [one.case.girder for one in drawn]
    crush = crushed(*records)
    batch = landed_on(case, crush, touchdown)
    for place, (record, one) in enumerate(zip(records, drawn, strict=True)):
        alone = landed_on(case, one.crush, touchdown)
        assert_same_landing(batch, place, alone)
        beside = replace(case, girder=record)
        pairs = zip(
            margins(beside, crush, (batch,)), margins(beside, one.crush, (alone,)), strict=True
        )
        for together, single in pairs:
            if single.margin is not None:
                assert together.margin is not None
                found = np.broadcast_to(together.margin, (len(records),))[place]
                assert_allclose(found, single.margin[0], rtol=1e-8, atol=1e-10)


def test_a_curve_whose_travel_stalls_at_its_end_is_read_at_its_end() -> None:
    """A soft girder springs back as its force falls: a last piece without length, 2.0 to 1.9 J.

    Padded in a batch it is read right; alone it is not, and the two differ by parts per million.
    """
    x, force, work = np.array([[[0.0, 1.0, 1.0]], [[2.0, 2.0, 1.0]], [[0.0, 2.0, 1.9]]])
    found = sample(x, force, work, np.array([[1.0]]))
    assert_allclose(np.ravel(found), [1.0, 1.9])


def assert_same_landing(batch: Landed, place: int, alone: Landed) -> None:
    for field in fields(alone):
        single = getattr(alone, field.name)
        if isinstance(single, np.ndarray) and single.shape == (3, 1):
            together = getattr(batch, field.name)[:, place]
            assert_allclose(together, single[:, 0], rtol=1e-9, atol=1e-12, err_msg=field.name)


# ---------------------------------------------------------------- more and less


def never_less_travel(less: Drawn, more: Drawn) -> None:
    """Assert that a harder landing takes no less stroke and has no more energy margin."""
    assert np.all(more.landed.stroke_needed >= less.landed.stroke_needed * (1.0 - 1e-9))
    assert np.all(more.landed.crush >= less.landed.crush - 1e-12)
    assert value(more, "energy") <= value(less, "energy") + 1e-9
    assert value(more, "stroke") <= value(less, "stroke") + 1e-9


def value(drawn: Drawn, check: str) -> float:
    found = drawn.margins[check].margin
    assert found is not None
    return float(found[0])


@lawful(15)
@given(landings(), share(1.0001, 1.5))
def test_more_mass_never_takes_less_stroke(drawn: Drawn, by: float) -> None:
    vehicle = replace(drawn.case.vehicle, mass=by * drawn.case.vehicle.mass)
    never_less_travel(drawn, drawn.changed(vehicle=vehicle))
    own = replace(drawn.case.touchdowns[0], mass=by * drawn.case.vehicle.mass)
    never_less_travel(drawn, drawn.changed(touchdowns=(own,)))


FASTER = ("vertical_speed", "horizontal_speed", "attitude_rate")


@lawful(15)
@given(landings(), share(1.0001, 1.5), st.sampled_from(FASTER))
def test_more_speed_never_takes_less_stroke(drawn: Drawn, by: float, which: str) -> None:
    """Uphill speed closes faster, turning has its own energy: neither ever helps."""
    touchdown = replace(drawn.case.touchdowns[0], attitude_rate=0.2)
    slow = drawn.changed(touchdowns=(touchdown,))
    fast = replace(touchdown, **{which: by * getattr(touchdown, which)})
    never_less_travel(slow, drawn.changed(touchdowns=(fast,)))


@lawful(12)
@given(landings(contacts=("one", "two")), share(1.0001, 1.3))
def test_more_speed_on_the_first_legs_never_takes_less_of_their_stroke(
    drawn: Drawn, by: float
) -> None:
    assume(not drives_through(drawn))
    touchdown = drawn.case.touchdowns[0]
    fast = replace(touchdown, vertical_speed=by * touchdown.vertical_speed)
    found = drawn.changed(touchdowns=(fast,)).landed
    assert np.all(found.stroke_needed >= drawn.landed.stroke_needed * (1.0 - 1e-9))


@lawful(15)
@given(landings(), share(1.0, 3.0), share(0.0, 0.9))
def test_a_reserve_thrust_and_gravity_push_the_right_way(
    drawn: Drawn, by: float, thrust: float
) -> None:
    touchdown = drawn.case.touchdowns[0]
    never_less_travel(drawn, drawn.changed(touchdowns=(replace(touchdown, reserve=True),)))
    held = drawn.changed(touchdowns=(replace(touchdown, thrust_to_weight=thrust),))
    never_less_travel(held, drawn)
    vehicle = replace(drawn.case.vehicle, gravity=by * drawn.case.vehicle.gravity)
    never_less_travel(drawn, drawn.changed(vehicle=vehicle))


def stronger(material: Material, by: float) -> Material:
    def times(band: Band) -> Band:
        return Band(low=by * band.low, nominal=by * band.nominal, high=by * band.high)

    return replace(
        material,
        yield_strength=times(material.yield_strength),
        ultimate_strength=times(material.ultimate_strength),
    )


@lawful(15)
@given(landings(), share(1.0001, 1.6))
def test_a_stronger_alloy_never_takes_more_stroke(drawn: Drawn, by: float) -> None:
    """Where the folds come in the same order: a wall that buckles earlier may change it."""
    record = replace(drawn.case.girder, material=stronger(drawn.case.girder.material, by))
    hard = drawn.regirdered(record)
    assert_not_above(drawn.crush.first_peak, hard.crush.first_peak)
    assert_not_above(drawn.crush.front.force, hard.crush.front.force)
    assume(np.array_equal(hard.crush.sequence.from_foot, drawn.crush.sequence.from_foot))
    assert np.all(hard.landed.crush <= drawn.landed.crush + 1e-12)
    assert np.all(hard.landed.stroke_needed <= drawn.landed.stroke_needed * (1.0 + 1e-9))
    assert value(hard, "energy") >= value(drawn, "energy") - 1e-9


# ---------------------------------------------------------------- continuity

STEPS = 17
ZOOMS = 5
"""To 1e-6 of the range: a crest is climbed elastically, over micrometres, and is no jump."""
CONTINUOUS = ("energy", "stroke", "leg_load", "deceleration", "clearance", "pad_pressure")
"""Margins that have no jump by design; standing and sequence go fold by fold."""


def wall(drawn: Drawn, at: float) -> Girder:
    record = drawn.case.girder
    steps = tuple(replace(step, wall=step.wall * (1.0 + at)) for step in record.wall_steps)
    return replace(record, wall=record.wall * (1.0 + at), wall_steps=steps)


def hole(drawn: Drawn, at: float) -> Girder:
    rows = list(drawn.case.girder.holes.rows)
    along = rows[0].size_along
    along = along and along * (1.0 + at)
    rows[0] = replace(rows[0], size=rows[0].size * (1.0 + at), size_along=along)
    return with_rows(drawn.case.girder, rows)


def height(drawn: Drawn, at: float) -> Girder:
    rows = list(drawn.case.girder.holes.rows)
    rows[-1] = replace(rows[-1], height=rows[-1].height * (1.0 + at))
    return with_rows(drawn.case.girder, rows)


def length(drawn: Drawn, at: float) -> Girder:
    return replace(drawn.case.girder, length=drawn.case.girder.length * (1.0 + at))


VARIED: dict[str, Callable[[Drawn, float], Girder]] = {
    "wall": wall,
    "hole": hole,
    "height": height,
    "length": length,
}
SMALL = {"wall": 1e-3, "hole": 4e-3, "height": 2e-3, "length": 2e-3}
"""Part of each that is searched; a micrometre is a part of 1e-3 to 1e-5 of it."""


def numbers_of(drawn: Drawn, records: list[Girder]) -> dict[str, FloatArray]:
    """Return what must not jump, girders of a batch on the last axis."""
    crush = crushed(*records)
    case = replace(drawn.case, girder=records[0])
    landed = landed_on(case, crush)
    found = {
        "usable": crush.usable,
        "stroke needed": landed.stroke_needed,
        "asked": landed.asked,
        "capacity": landed.capacity,
        "girder peak": landed.girder_peak,
        "deceleration": landed.deceleration,
    }
    orderly = crush.sequence.from_foot
    if orderly.any() and not orderly.all():
        found = {"usable": crush.usable}
    elif (judged := {m.check: m for m in margins(case, crush, (landed,))}) is not None:
        for check in CONTINUOUS:
            margin = judged[check].margin
            assert margin is not None
            found[f"margin of {check}"] = 1.0 + margin
    return found


def worst_step(
    numbers: Callable[[FloatArray], dict[str, FloatArray]], low: float, high: float
) -> tuple[float, str]:
    """Largest change between neighbours after zooming in; a smooth one has become small."""
    change, name = 0.0, ""
    for _ in range(ZOOMS):
        values = np.linspace(low, high, STEPS)
        change, at = 0.0, 0
        for key, found in numbers(values).items():
            scale = np.maximum(np.abs(found[..., 1:]), np.abs(found[..., :-1]))
            steps = np.abs(np.diff(found)) / np.maximum(scale, 1e-9)
            each = steps.reshape(-1, STEPS - 1).max(axis=0)
            if each.max() > change:
                change, at, name = float(each.max()), int(each.argmax()), key
        low, high = float(values[at]), float(values[at + 1])
    return change, name


@pytest.mark.parametrize("what", list(VARIED))
@lawful(2)
@given(drawn=landings(most=0.8))
def test_a_little_metal_more_changes_strokes_loads_and_margins_a_little(
    what: str, drawn: Drawn
) -> None:
    """No jump within 0.1 to 0.4 % of a length; zoomed to its millionth, ppm are left."""
    assume(not drives_through(drawn))
    part = SMALL[what]

    def numbers(values: FloatArray) -> dict[str, FloatArray]:
        return numbers_of(drawn, [VARIED[what](drawn, float(v)) for v in values])

    change, name = worst_step(numbers, 0.0, part)
    assert change < 2e-5, f"{name}: {change:.2e}"


@lawful(4)
@given(drawn=landings(most=0.8, contacts=CONTACTS), step=share(0.0, 0.2))
def test_a_little_speed_more_changes_strokes_loads_and_margins_a_little(
    drawn: Drawn, step: float
) -> None:
    assume(not drives_through(drawn))
    touchdown = drawn.case.touchdowns[0]
    begin = touchdown.vertical_speed * (1.0 + step)

    def numbers(values: FloatArray) -> dict[str, FloatArray]:
        found: dict[str, list[Any]] = {}
        for v in values:
            one = drawn.changed(touchdowns=(replace(touchdown, vertical_speed=float(v)),))
            landed = one.landed
            each: dict[str, Any] = {
                "stroke needed": landed.stroke_needed[:, 0],
                "others": landed.others[:, 0],
                "demand": landed.demand[:, 0],
                "pad peak": landed.pad_peak[:, 0],
                "deceleration": landed.deceleration[:, 0],
            }
            each |= {f"margin of {c}": [1.0 + value(one, c)] for c in CONTINUOUS}
            for key, number in each.items():
                found.setdefault(key, []).append(number)
        return {key: np.moveaxis(np.array(n), 0, -1) for key, n in found.items()}

    change, name = worst_step(numbers, begin, 1.005 * begin)
    assert change < 2e-5, f"{name}: {change:.2e}"
