"""Girders side by side: as each alone, one crush, slopes as the laws say."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from numpy.testing import assert_allclose

import crushleg
from crushleg.design import batch
from crushleg.design.compare import Comparison, compare, severest
from crushleg.design.merit import foot_shares, margin_of, merit
from crushleg.design.schemes import cases_lineup, scheme_lineup, vary_lineup
from crushleg.design.sensitivity import varied_cases as stepped_cases
from crushleg.design.vary import read_varied, varied_cases
from crushleg.girder.crush import crush

if TYPE_CHECKING:
    from crushleg.case.records import Case

EXAMPLE = Path(__file__).parents[2] / "examples" / "dunlin-schemes.toml"
LIGHT = ("vehicle.gravity=0.001 m/s2", "girder.wall_tolerance=0 mm")


@cache
def example() -> Comparison:
    return compare(scheme_lineup(crushleg.read_case(EXAMPLE), "example"))


def stage(*overrides: str) -> Case:
    return crushleg.read_case_text(crushleg.template("test-stage"), "stage", overrides)


def pair(*overrides: str) -> Comparison:
    cases = [stage(*overrides), stage(*overrides, 'girder.holes={law="none"}')]
    return compare(cases_lineup(cases, ["drilled", "plain"]))


def assert_alike(one: crushleg.Checked, other: crushleg.Checked) -> None:
    assert one.cautions == other.cautions
    assert one.governs == other.governs
    for ours, theirs in zip(one.margins, other.margins, strict=True):
        assert (ours.check, ours.reason, ours.basis, ours.note) == (
            theirs.check,
            theirs.reason,
            theirs.basis,
            theirs.note,
        )
        if theirs.margin is None:
            assert ours.margin is None
        else:
            assert ours.margin is not None
            assert_allclose(ours.margin, theirs.margin, rtol=1e-8, atol=1e-10)


def test_every_scheme_is_as_its_own_check() -> None:
    for one in example().compared:
        assert_alike(one.checked, crushleg.check_case(one.entry.case))


def test_cases_that_share_nothing_are_as_alone() -> None:
    cases = [
        stage(),
        stage("vehicle.mass=45 t"),
        stage("girder.effective_length_factor=2.0", 'leg.side_load="girder"'),
        stage("girder.rate=true"),
        stage("girder.rate=true", "touchdown.1.vertical_speed=4 m/s"),
        crushleg.read_case_text(crushleg.template("lunar-lander"), "lander"),
        crushleg.read_case_text(crushleg.template("coupon"), "coupon"),
    ]
    for case, found in zip(cases, batch.check_batch(cases).checked, strict=True):
        assert_alike(found, crushleg.check_case(case))


def test_all_girders_go_through_one_crush(monkeypatch: pytest.MonkeyPatch) -> None:
    counts: list[int] = []

    def counting(girders: Any) -> Any:
        counts.append(girders.count)
        return crush(girders)

    monkeypatch.setattr("crushleg.design.batch.crush", counting)
    compare(scheme_lineup(crushleg.read_case(EXAMPLE), "example"))
    assert len(counts) == 1


def test_the_plain_column_is_the_case_without_holes() -> None:
    one = example().compared[0]
    plain = crushleg.check_case(replace(one.entry.case, girder=one.plain.case.girder))
    assert_alike(one.plain, plain)
    assert one.plain_merit.first_peak == pytest.approx(4 * 0.136 * 0.004 * 295e6, rel=0.01)


def test_strokes_and_loads_are_those_of_the_hardest_reserve_case() -> None:
    assert example().landed.name == "reserve"
    assert compare(cases_lineup([stage("touchdown.1.reserve=false"), stage()], "ab")).touchdown == 0


@pytest.mark.parametrize(
    ("words", "number"),
    [
        (("touchdown.0.vertical_speed=9 m/s",), 1),
        (("touchdown.1.reserve=false", "touchdown.1.vertical_speed=4 m/s"), 1),
        (
            (
                "touchdown.1.reserve=false",
                "touchdown.1.mass=50 t",
                "touchdown.1.vertical_speed=3 m/s",
            ),
            0,
        ),
    ],
)
def test_a_reserve_case_goes_first_then_the_largest_kinetic_energy(
    words: tuple[str, ...], number: int
) -> None:
    """½ m v²: 50 t at 3 m/s is 225 kJ, 40 t at 3.5 m/s 245 kJ."""
    assert severest(crushleg.check_case(stage(*words))) == number


def test_a_margin_is_the_lowest_of_all_touchdowns() -> None:
    checked = example().first
    energy = [
        float(m.margin[0]) for m in checked.margins if m.check == "energy" and m.margin is not None
    ]
    assert energy[0] > energy[1]
    assert margin_of(checked, "energy") == energy[1]


def test_a_leg_that_bottoms_at_low_force_alone_bottoms() -> None:
    checked = crushleg.check_case(stage("touchdown.1.vertical_speed=5.2 m/s"))
    assert checked.landings[1].bottomed[:, 0].tolist() == [True, False, False]
    assert merit(checked, 1).bottomed


def test_efficiency_is_energy_over_peak_times_stroke() -> None:
    """Nominal, all legs alike: E = ½ m v² + m g S over 6 F_peak S."""
    one = example().compared[0]
    landed = one.checked.landings[1]
    energy = 352.8e3 + 40e3 * 9.80665 * landed.stroke[1, 0]
    box = 6.0 * landed.peak[1, 0] * landed.stroke[1, 0]
    assert one.merit.efficiency == pytest.approx(energy / box, rel=2e-3)


def test_energy_per_mass_and_ramp_are_those_of_the_folds() -> None:
    one = example().compared[0]
    folds = one.checked.crush.folds
    energy = float((folds.force[1, 0] * folds.length[0]).sum())
    assert one.merit.specific_energy == pytest.approx(energy / one.merit.mass, rel=1e-9)
    assert one.merit.ramp > 1.0


def light(mass: str) -> tuple[Any, float, float]:
    """Slopes of a plain column on a weightless vehicle; F S/E at its low stop, and E."""
    words = ("girder.width=200 mm", "girder.wall=2 mm", 'girder.holes={law="none"}')
    cases = [stage(*LIGHT, *words, f"vehicle.mass={mass}"), stage()]
    one = compare(cases_lineup(cases, ["a", "b"])).compared[0]
    landed = one.checked.landings[1]
    energy = float(landed.demand[0, 0]) / 6.0
    return one.sensitivity, float(landed.at_stop[0, 0] * landed.stroke[0, 0]) / energy, energy


@pytest.mark.parametrize("mass", ["8 t", "14 t", "17 t"])
def test_slope_of_stroke_on_the_wall_is_that_of_the_symmetric_mode(mass: str) -> None:
    """F = t^(5/3) f(s/h), h ~ H ~ t^(1/3), C held, energy E held.

    d ln S/d ln t = −[5/3 + ⅓ (1 − F S/E)] E/(F S).
    """
    slopes, fullness, _ = light(mass)
    expected = -(5.0 / 3.0 + (1.0 - fullness) / 3.0) / fullness
    assert slopes.stroke["wall"] == pytest.approx(expected, rel=0.03)
    assert slopes.stroke["holes"] is None


@pytest.mark.parametrize("mass", ["8 t", "14 t", "17 t"])
def test_slope_of_stroke_on_speed_is_that_of_the_energy(mass: str) -> None:
    """F dS = m v dv without weight: d ln S/d ln v = 2 E/(F S)."""
    slopes, fullness, energy = light(mass)
    assert energy > 0.0
    assert slopes.stroke["speed"] == pytest.approx(2.0 / fullness, rel=0.03)


def test_larger_holes_travel_farther() -> None:
    for one in example().compared:
        assert one.sensitivity is not None
        if one.drilled:
            slope = one.sensitivity.stroke["holes"]
            assert slope is not None
            assert slope > 0.0


def test_slopes_are_central_differences_of_whole_checks() -> None:
    """±1 % of the wall by hand: stroke at low force of two cases of their own."""
    low, high = (
        crushleg.check_case(stage(f"girder.wall={4 * (1 + x)} mm")).landings[1].stroke_needed[0, 0]
        for x in (-0.01, 0.01)
    )
    one = pair().compared[0]
    assert one.sensitivity is not None
    assert one.sensitivity.stroke["wall"] == pytest.approx(
        (high - low) / 0.02 / one.merit.stroke, rel=1e-6
    )


def test_slopes_move_every_wall_every_hole_and_every_speed() -> None:
    steps = 'girder.wall_steps=[{from="530 mm", wall="5 mm"}]'
    case = stage(steps, "touchdown.0.horizontal_speed=0.5 m/s", "touchdown.0.attitude_rate=1 deg/s")
    thin, thick, _, wide, _, fast = stepped_cases(case)
    for factor, one in ((0.99, thin), (1.01, thick)):
        walls = [one.girder.wall, one.girder.wall_steps[0].wall]
        assert walls == pytest.approx([factor * 4e-3, factor * 5e-3])
    assert [row.size for row in wide.girder.holes.rows] == pytest.approx(
        [1.01 * row.size for row in case.girder.holes.rows]
    )
    ours, theirs = case.touchdowns[0], fast.touchdowns[0]
    for name in ("vertical_speed", "horizontal_speed", "attitude_rate"):
        assert getattr(theirs, name) == pytest.approx(1.01 * getattr(ours, name))


def test_an_input_at_the_end_of_its_bounds_has_no_slope() -> None:
    assert pair("touchdown.1.vertical_speed=100 m/s").compared[0].sensitivity is None


def test_foot_shares_are_net_area_and_mean_force_over_plain() -> None:
    """Row 1, d 82 mm: 4 (136 − 82) × 4 = 864 mm² sharp; rounded corners 837 of 2149 mm²."""
    one = example().compared[0]
    net, mean = foot_shares(one.checked, one.plain)
    assert net == pytest.approx(0.39, abs=0.005)
    assert net < mean < 1.0
    assert mean * one.merit.ramp == pytest.approx(1.0, abs=0.01), "the last fold is plain metal"


def test_a_girder_that_never_stops_is_compared() -> None:
    heavy = pair("vehicle.mass=400 t").compared[0]
    assert np.isinf(heavy.merit.stroke)
    assert not heavy.checked.passes
    assert heavy.sensitivity is not None
    assert heavy.sensitivity.stroke["speed"] is None


def test_values_of_a_vehicle_share_one_girder() -> None:
    varied = read_varied("vehicle.mass=36 t:44 t:5")
    read = lambda overrides: stage(*overrides)  # noqa: E731 - a reader of one line
    found = compare(vary_lineup(varied_cases(read, [], varied), varied))
    strokes = [one.merit.stroke for one in found.compared]
    assert strokes == sorted(strokes)
    assert len({one.merit.mass for one in found.compared}) == 1
    assert all(one.sensitivity is None for one in found.compared)
