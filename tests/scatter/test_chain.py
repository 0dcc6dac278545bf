"""Many landings at once are what `check` says of each; the bytes do not depend on the company."""

from __future__ import annotations

import pickle
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.case.reader import read_case_text
from crushleg.case.records import Correlation
from crushleg.case.templates import template
from crushleg.check import check_case
from crushleg.errors import InputError
from crushleg.scatter.chain import evaluate
from crushleg.scatter.records import Draws
from crushleg.scatter.sample import sampled_case, values_of
from crushleg.scatter.sampling import draws

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case
    from crushleg.scatter.records import Judged


def case_of(kind: str = "test-stage", text: str = "", *overrides: str) -> Case:
    return read_case_text(f"{template(kind)}\n{text}", "case.toml", overrides)


def inputs(*keys: str, cov: float = 0.02, more: str = "") -> str:
    rows = "".join(
        f'[[scatter.input]]\nkey = "{key}"\ndistribution = "normal"\ncov = {cov}\n{more}\n'
        for key in keys
    )
    return f"[scatter]\ndefaults = false\n{rows}"


BESIDE = (
    "vehicle.mass",
    "vehicle.gravity",
    "vehicle.centre_of_gravity_height",
    "vehicle.clearance",
    "leg.pad_friction",
    "touchdown.nominal.vertical_speed",
    "touchdown.reserve.thrust_to_weight",
    "limits.leg_limit_load",
    "limits.deceleration_max",
    "factors.ultimate",
)
OTHERS = (
    "girder.length",
    "girder.width",
    "girder.crest_ratio.1",
    "girder.first_peak_fraction",
    "girder.effective_length_factor",
    "girder.holes.sizes.1",
)
CERTIFICATE = '[girder.measured]\nyield_strength = "310 MPa"\nwall = "4.05 mm"\n'
STEP = '[[girder.wall_steps]]\nfrom = "500 mm"\nwall = "5 mm"\n'
SLOPED = ("touchdown.nominal.slope=3 deg", "touchdown.reserve.slope=2 deg")
FIRST = ("touchdown.nominal.first_contact=one", "touchdown.reserve.first_contact=two", *SLOPED)
CASES: dict[str, tuple[str, ...]] = {
    "stage": (),
    "lander": ("lunar-lander",),
    "coupon": ("coupon",),
    "beside": ("test-stage", inputs(*BESIDE), "touchdown.reserve.thrust_to_weight=0.1"),
    "others": (
        "test-stage",
        inputs(*OTHERS, cov=0.01),
        "girder.first_peak_fraction=0.7",
        "leg.free_length=1.2 m",
    ),
    "step": ("test-stage", STEP),
    "first legs": ("test-stage", "", *FIRST),
    "certificate": ("test-stage", CERTIFICATE),
    "bent": ("test-stage", "", "leg.side_load=girder", "leg.cant=10 deg", *SLOPED),
    "slots": ("test-stage", "", "girder.holes.shape=slot", "girder.holes.size_along=90 mm"),
    "one touchdown": ("test-stage", inputs("touchdown.nominal.vertical_speed")),
    "short": ("test-stage", inputs("vehicle.mass", cov=0.1), "girder.length=800 mm"),
}


@cache
def known(kind: str) -> Case:
    return case_of(*CASES[kind])


def rows_of_check(case: Case, found: Draws, index: int) -> FloatArray:
    """Margins that `check` gives of one landing."""
    margins = check_case(sampled_case(case, values_of(found, index))).margins
    return np.array([np.nan if m.margin is None else m.margin[0] for m in margins])


def first(found: Draws, count: int, start: int = 0) -> Draws:
    values = {key: value[start : start + count] for key, value in found.values.items()}
    return Draws(found.start + start, values, count)


def same_bytes(whole: Judged, parts: list[Judged]) -> None:
    joined = np.concatenate([part.margin for part in parts], axis=1)
    assert joined.tobytes() == whole.margin.tobytes()
    for name, values in whole.quantities.items():
        assert np.concatenate([p.quantities[name] for p in parts]).tobytes() == values.tobytes()


@pytest.mark.parametrize("kind", CASES)
def test_check_gives_the_margins_of_every_landing(kind: str) -> None:
    case = known(kind)
    found = draws(case, 5, 9)
    judged = evaluate(case, found)
    for index in (0, 4, 8):
        expected = rows_of_check(case, found, index)
        assert_allclose(judged.margin[:, index], expected, rtol=0.0, atol=1e-9, equal_nan=True)
    checked = check_case(case).margins
    assert judged.names == tuple((m.check, m.touchdown) for m in checked)
    assert judged.counts.tolist() == [m.counts for m in checked]


@pytest.mark.parametrize("kind", ["stage", "beside", "others", "first legs", "short"])
def test_the_bytes_of_a_landing_do_not_depend_on_those_it_goes_with(kind: str) -> None:
    case = known(kind)
    found = draws(case, 0, 72 if kind == "stage" else 13)
    whole = evaluate(case, found)
    for size in (1, 5):
        count = found.landings if size > 1 else 7
        parts = [evaluate(case, first(found, size, at)) for at in range(0, count - size + 1, size)]
        there = sum(part.margin.shape[1] for part in parts)
        same_bytes(evaluate(case, first(found, there)), parts)
        assert whole.margin[:, :there].tobytes() == np.hstack([p.margin for p in parts]).tobytes()


def test_at_the_values_of_the_case_it_is_the_nominal_level_of_check() -> None:
    case = known("stage")
    material = case.girder.material
    values = {
        "girder.wall": case.girder.wall,
        "girder.hole_size": 0.0,
        "girder.material.yield_strength": material.yield_strength.nominal,
        "girder.material.ultimate_strength": material.ultimate_strength.nominal,
        "girder.material.youngs_modulus": material.youngs_modulus,
        "girder.material.density": material.density,
        "model": 1.0,
    }
    found = Draws(0, {key: np.full(3, value) for key, value in values.items()}, 3)
    judged = evaluate(case, found)
    for landed in check_case(case).landings:
        for name, level in (
            ("stroke_m", landed.stroke),
            ("leg_load_N", landed.peak),
            ("deceleration_m_s2", landed.deceleration),
            ("energy_J", landed.demand),
        ):
            expected = np.broadcast_to(level[1], 3)
            assert_allclose(judged.quantities[f"{name} {landed.name}"], expected, rtol=1e-12)


def test_many_landings_on_one_girder_are_looked_up_exactly() -> None:
    """More than the table takes to begin; some bottom, some are as heavy as girders are strong."""
    keys = (
        "vehicle.mass",
        "touchdown.nominal.vertical_speed",
        "touchdown.nominal.thrust_to_weight",
    )
    case = case_of("test-stage", inputs(*keys), "touchdown.nominal.thrust_to_weight=0.1")
    rng = np.random.default_rng(7)
    n = 6000
    mass = case.vehicle.mass * np.exp(0.6 * rng.standard_normal(n))
    mass[:50] *= 15.0
    speed = case.touchdowns[0].vertical_speed * rng.uniform(0.05, 2.0, n)
    found = Draws(0, dict(zip(keys, (mass, speed, rng.uniform(0.0, 0.5, n)), strict=True)), n)
    judged = evaluate(case, found)
    usable = check_case(case).crush.usable[0]
    stroke = judged.quantities["stroke_m nominal"]
    assert 0.05 < (stroke > usable).mean() < 0.9
    for index in (*range(0, 50, 7), *range(60, n, 500)):
        expected = rows_of_check(case, found, index)
        assert_allclose(judged.margin[:, index], expected, rtol=1e-12, atol=1e-9, equal_nan=True)
    parts = [evaluate(case, first(found, 1500, at)) for at in range(0, n, 1500)]
    same_bytes(judged, parts)


LEG = 'part = "leg"'


def test_legs_that_differ_but_are_alike_land_as_one_girder() -> None:
    case = case_of("test-stage", inputs("girder.wall", more=LEG))
    wall = case.girder.wall * np.array([0.98, 1.0, 1.03])
    one = evaluate(case, Draws(0, {"girder.wall": wall}, 3))
    legs = np.repeat(wall[:, None], case.vehicle.legs, axis=1)
    each = evaluate(case, Draws(0, {"girder.wall": legs}, 3))
    assert_allclose(each.margin, one.margin, rtol=2e-3, atol=2e-3, equal_nan=True)
    for name, values in one.quantities.items():
        assert_allclose(each.quantities[name], values, rtol=5e-4)


def test_one_soft_leg_lets_the_vehicle_down_a_quarter_as_much_as_four() -> None:
    case = case_of("test-stage", inputs("girder.wall", more=LEG))
    count, wall = case.vehicle.legs, case.girder.wall
    walls = np.full((3, count), wall)
    walls[1, 2], walls[2] = 0.97 * wall, 0.97 * wall
    judged = evaluate(case, Draws(0, {"girder.wall": walls}, 3))
    hard, mixed, soft = judged.quantities["stroke_m nominal"]
    assert (mixed - hard) / (soft - hard) == pytest.approx(1.0 / count, abs=0.05)
    load = judged.quantities["leg_load_N nominal"]
    assert load[1] == pytest.approx(load[0], rel=1e-3)


def test_drawn_legs_are_judged_alike_in_any_chunks_and_the_worst_is_told() -> None:
    case = case_of("test-stage", "[scatter]\n" + inputs("girder.wall", more=LEG).split("\n", 2)[2])
    found = draws(case, 0, 5)
    assert found.values["girder.wall"].shape == (5, case.vehicle.legs)
    judged = evaluate(case, found)
    same_bytes(judged, [evaluate(case, first(found, 1, at)) for at in range(5)])
    assert judged.margin.shape[1] == 5
    stroke = judged.quantities["stroke_m nominal"]
    alone = [evaluate(case, Draws(0, _leg(found, k), 5)) for k in range(case.vehicle.legs)]
    each = np.stack([one.quantities["stroke_m nominal"] for one in alone])
    assert np.all((each.min(axis=0) < stroke) & (stroke < each.max(axis=0)))


def _leg(found: Draws, leg: int) -> dict[str, FloatArray]:
    return {k: v if v.ndim == 1 else v[:, leg] for k, v in found.values.items()}


def test_legs_that_differ_are_refused_where_some_touch_first() -> None:
    case = case_of("test-stage", inputs("girder.wall", more=LEG), *FIRST)
    with pytest.raises(InputError, match="landed level, all at once"):
        evaluate(case, draws(case, 0, 2))


def test_what_it_gives_can_be_sent_and_the_case_stays_as_it_was() -> None:
    case = known("stage")
    found = draws(case, 0, 3)
    before = repr(case), {key: value.tobytes() for key, value in found.values.items()}
    judged = evaluate(case, found)
    again = pickle.loads(pickle.dumps(judged))
    assert again.margin.tobytes() == judged.margin.tobytes()
    assert again.names == judged.names
    assert before == (repr(case), {key: v.tobytes() for key, v in found.values.items()})
    assert np.isnan(judged.margin).any()


def test_a_landing_whose_inputs_together_are_no_case_is_refused_by_number() -> None:
    case = known("one touchdown")
    speeds = np.array([3.5, 3.4, np.nan, 3.5])
    found = Draws(7, {"touchdown.nominal.vertical_speed": speeds}, 4)
    with pytest.raises(InputError, match=r"no case, at landing 9 .* write narrower"):
        evaluate(case, found)


def test_unlike_legs_stop_where_the_work_of_all_of_them_meets_the_energy() -> None:
    """Forces of legs that landed alone, added on 200 000 points and integrated by trapezia."""
    case = case_of("test-stage", inputs("girder.wall", more=LEG), "girder.first_peak_fraction=0.6")
    legs = case.vehicle.legs
    walls = case.girder.wall * np.linspace(0.94, 1.05, legs)
    judged = evaluate(case, Draws(0, {"girder.wall": np.stack([walls, walls[::-1]])}, 2))
    alone = [check_case(sampled_case(case, {"girder.wall": float(t)})) for t in walls]
    curves = [one.landings[0].curve for one in alone]
    z = np.linspace(0.0, min(float(c.travel[1, 0, -1]) for c in curves), 200_001)
    forces = np.array([np.interp(z, c.travel[1, 0], c.reaction[1, 0]) for c in curves])
    total = forces.sum(axis=0)
    work = np.append(0.0, np.cumsum(0.5 * (total[1:] + total[:-1]) * np.diff(z)))
    mass, speed = case.vehicle.mass, case.touchdowns[0].vertical_speed
    energy = 0.5 * mass * speed**2 + mass * case.vehicle.gravity * z
    stop = int(np.argmax(work >= energy))
    assert 0.1 < z[stop] < 0.5
    stroke = judged.quantities["stroke_m nominal"]
    assert stroke == pytest.approx(z[stop], rel=2e-3)
    load = forces[:, : stop + 1].max()
    assert judged.quantities["leg_load_N nominal"] == pytest.approx(load, rel=2e-3)
    assert stroke[0] == pytest.approx(stroke[1], rel=1e-12)
    limit = case.limits.leg_limit_load
    assert limit is not None
    row = judged.names.index(("leg_load", "nominal"))
    assert judged.margin[row] == pytest.approx(limit / load - 1.0, abs=3e-3)


def test_unlike_legs_bottom_where_the_shortest_of_them_does() -> None:
    fast = "touchdown.nominal.vertical_speed=9 m/s"
    case = case_of("test-stage", inputs("girder.length", more=LEG), fast, "leg.free_length=1.2 m")
    lengths = np.full((2, case.vehicle.legs), 1.0)
    lengths[:, 3] = 0.85
    judged = evaluate(case, Draws(0, {"girder.length": lengths}, 2))
    short = check_case(sampled_case(case, {"girder.length": 0.85}))
    usable = float(short.crush.usable[0])
    assert judged.quantities["stroke_m nominal"] == pytest.approx(usable, rel=0.02)
    row = judged.names.index(("stroke", "nominal"))
    assert (judged.margin[row] < 0.0).all()


def test_the_factor_of_your_tests_is_in_a_landing_once() -> None:
    """Drawn about its own value, or left alone: never on top of what was drawn."""
    plain = known("stage")
    tests = Correlation(force_factor=1.2, scatter=0.04, tests=3, source="three drops")
    case = replace(plain, girder=replace(plain.girder, correlation=tests))
    found = draws(case, 0, 4)
    assert np.median(draws(case, 0, 1024).values["model"]) == pytest.approx(1.2, rel=1e-3)
    steady = found._replace(values={k: v for k, v in found.values.items() if k != "model"})
    for drawn in (found, steady):
        judged = evaluate(case, drawn)
        for index in (0, 3):
            expected = rows_of_check(case, drawn, index)
            assert_allclose(judged.margin[:, index], expected, atol=1e-9, equal_nan=True)
    once = {**steady.values, "model": np.full(4, 1.2)}
    again = evaluate(case, found._replace(values=once))
    assert_allclose(again.margin, evaluate(case, steady).margin, rtol=1e-9, equal_nan=True)
