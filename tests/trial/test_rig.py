"""The drops of a case with a rig: against time integration, and against the vehicle."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from crushleg import Checked, InputError, check_case, read_case_text, template
from crushleg.trial.drops import Drop, drops, standins

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Rig

RIG = 'rig={mass_above="6.3 t", mass_below="150 kg", friction="2 kN", lift=0.2}'


def checked(*overrides: str, kind: str = "test-stage") -> Checked:
    return check_case(read_case_text(template(kind), kind, overrides))


def rig_of(case: Checked) -> Rig:
    assert case.case.rig is not None
    return case.case.rig


def integrated(case: Checked, drop: Drop, level: int) -> float:
    """Travel at rest of the falling mass on the curve of one level, integrated in time."""
    rig, curve = rig_of(case), drop.landed.curve
    travel, reaction = curve.travel[level, 0], rig.legs * curve.reaction[level, 0]
    down = rig.mass * rig.gravity - rig.friction - rig.carried

    def motion(_: float, y: FloatArray) -> list[float]:
        return [y[1], (down - float(np.interp(y[0], travel, reaction))) / rig.mass]

    def at_rest(_: float, y: FloatArray) -> float:
        return float(y[1])

    at_rest.terminal = True  # type: ignore[attr-defined] # how solve_ivp is told to end
    speed = np.sqrt(2.0 * (rig.gravity - rig.friction / rig.mass) * drop.height)
    run = solve_ivp(motion, (0.0, 2.0), [0.0, speed], events=at_rest, max_step=2e-4)
    return float(run.y_events[0][0][0])


@pytest.mark.parametrize("level", range(3))
def test_a_drop_ends_where_the_integrated_motion_does(level: int) -> None:
    """The curve's energy is exact, its force straight between points: 0.2 % of travel."""
    case = checked(RIG, kind="test-stage")
    drop = drops(case, rig_of(case))[0]
    travel = drop.landed.stroke[level, 0] * drop.landed.curve.forces.travel
    assert integrated(case, drop, level) == pytest.approx(travel, rel=2e-3)


def test_a_share_of_the_vehicle_dropped_freely_crushes_as_the_vehicle_does() -> None:
    """One leg under a sixth of 40 t on Earth is the touchdown itself."""
    case = checked(f'rig={{mass_above="{40000 / 6} kg"}}')
    found = drops(case, rig_of(case))
    for drop, landed in zip(found, case.landings, strict=True):
        np.testing.assert_allclose(drop.landed.stroke, landed.stroke, rtol=1e-9)
        np.testing.assert_allclose(drop.cell, landed.peak[:, 0], rtol=1e-9)
        assert drop.height == pytest.approx(landed.arrival.closing**2 / (2 * 9.80665))


@pytest.mark.parametrize("cant", ["0 deg", "4 deg"])
@pytest.mark.parametrize("gravity", ["9.80665 m/s2", "3.71 m/s2"])
def test_the_equivalent_mass_dropped_in_the_rig_crushes_as_the_vehicle_does(
    cant: str, gravity: str
) -> None:
    more = (f'leg.cant="{cant}"', f'vehicle.gravity="{gravity}"', "limits={}")
    mass = float(standins(case := checked(RIG, *more), rig_of(case))[0].mass[1])
    below = rig_of(case).mass_below
    exact = RIG.replace("6.3 t", f"{mass - below} kg")
    again = checked(exact, *more)
    drop = drops(again, rig_of(again))[0]
    assert drop.landed.stroke[1, 0] == pytest.approx(case.landings[0].stroke[1, 0], rel=1e-9)


def test_two_legs_take_the_mass_of_two() -> None:
    one, two = (checked(f'rig={{mass_above="6 t", legs={legs}, lift=0.1}}') for legs in (1, 2))
    single, double = (standins(case, rig_of(case))[0].mass for case in (one, two))
    np.testing.assert_allclose(double, 2.0 * single, rtol=1e-12)


def test_the_cell_of_a_drop_reads_less_by_what_stops_the_mass_below_it() -> None:
    """N = F − m_b (a + g), a + g = (F + R + P)/M."""
    case = checked(RIG)
    rig, drop = rig_of(case), drops(case, rig_of(case))[0]
    felt = drop.landed.accelerometer[:, 0]
    reaction = drop.landed.pad_peak[:, 0]
    np.testing.assert_allclose(felt * rig.mass, reaction + rig.friction + rig.carried, rtol=1e-12)
    np.testing.assert_allclose(drop.cell, reaction - rig.mass_below * felt, rtol=1e-12)


def test_the_effective_weight_dropped_freely_crushes_as_the_drop_with_lift_does() -> None:
    case = checked('rig={mass_above="6.3 t", lift=0.3}')
    drop = drops(case, rig_of(case))[0]
    free = checked(f'rig={{mass_above="{drop.effective_weight[1] / 9.80665} kg"}}')
    again = drops(free, rig_of(free))[0]
    assert again.height == pytest.approx(drop.height, rel=1e-12)
    assert again.landed.stroke[1, 0] == pytest.approx(drop.landed.stroke[1, 0], rel=1e-9)


def test_a_first_leg_is_stood_for_by_its_own_work() -> None:
    text = template("lunar-lander").replace(
        'name = "nominal"', 'name = "nominal"\nattitude="2 deg"\nfirst_contact = "one"', 1
    )
    case = check_case(read_case_text(text + '\n[rig]\nmass_above = "500 kg"\n'))
    landed = case.landings[0]
    assert landed.first == 1
    mass = float(standins(case, rig_of(case))[0].mass[1])
    again = check_case(read_case_text(text + f'\n[rig]\nmass_above = "{mass} kg"\n'))
    drop = drops(again, rig_of(again))[0]
    assert drop.landed.stroke[1, 0] == pytest.approx(landed.stroke[1, 0], rel=1e-6)


def test_a_height_that_is_given_makes_one_drop() -> None:
    case = checked('rig={mass_above="120 kg", friction="15 N", drop_height="0.8 m"}', kind="coupon")
    (drop,) = drops(case, rig_of(case))
    assert drop.height == pytest.approx(0.8)
    assert drop.landed.arrival.closing == pytest.approx(
        np.sqrt(2.0 * (9.80665 - 15.0 / 120.0) * 0.8)
    )


def test_lift_as_a_share_and_as_a_force_are_one() -> None:
    share = checked('rig={mass_above="100 kg", lift=0.25}', kind="coupon")
    force = checked(f'rig={{mass_above="100 kg", lift_force="{25 * 9.80665} N"}}', kind="coupon")
    one, other = (drops(case, rig_of(case))[0].landed.stroke for case in (share, force))
    np.testing.assert_allclose(one, other, rtol=1e-12)


@pytest.mark.parametrize(
    ("rig", "says"),
    [
        ('mass_above="10 kg", friction="99 N"', "rig.*friction of 99 N under a weight of 98.1 N"),
        ('mass_above="10 kg", lift=0.9, friction="20 N"', "friction and lift of 108 N"),
        ('mass_above="10 kg", lift=0.1, lift_force="9 N"', "lift and lift_force; write one"),
        ('mass_above="10 kg", lift=1.0', "at 1 the lift carries the mass"),
        ('mass_below="10 kg"', "mass_above: read nothing"),
        ('mass_above="10 kg", drop_height="90 m"', "drop_height: read 90 m; write at least"),
        (
            'mass_above="10 kg", gravity="0.001 m/s2", drop_height="0.2 mm"',
            "a drop that ends at 0.000632 m/s",
        ),
        ('mass_above="10 kg", legs=0', "legs: read 0"),
    ],
)
def test_a_rig_that_cannot_be_is_refused(rig: str, says: str) -> None:
    with pytest.raises(InputError, match=says):
        read_case_text(template("test-stage"), overrides=[f"rig={{{rig}}}"])


def test_lift_given_as_a_force_counts_in_what_stands_in_and_in_the_effective_weight() -> None:
    """Worked from the energy: (E + (R + P) z)/(v²/2 + g z); W (h + (1 − P/W) d)/(h + d)."""
    rig = 'rig={mass_above="6.3 t", mass_below="150 kg", friction="2 kN", lift_force="13 kN"}'
    case = checked(rig, "leg.travel_ratio=1.4")
    found = standins(case, rig_of(case))[0]
    energy = (0.5 * 40e3 * 3.5**2 + 40e3 * 9.80665 * found.travel) / 6.0
    by_hand = (energy + 15e3 * found.travel) / (0.5 * 3.5**2 + 9.80665 * found.travel)
    assert found.mass == pytest.approx(by_hand, rel=1e-6)
    drop = drops(case, rig_of(case))[0]
    weight, deflection = 6450.0 * 9.80665, 1.4 * drop.landed.stroke[:, 0]
    carried = weight * drop.height + (weight - 13e3) * deflection
    assert drop.effective_weight == pytest.approx(carried / (drop.height + deflection), rel=1e-9)
