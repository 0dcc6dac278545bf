"""A drop rig against motion integrated on its own (scipy), and against closed forms.

Falling mass M, gravity g, guide friction R always against the motion, lift P from contact on:
fall M z'' = M g − R, crush M z'' = M g − R − P − F(z) until it stops.
Moon: S 0.117249 m, h 0.458872 m, 1000 (0.458872 + 0.165194 · 0.117249)/0.576121 = 830.105 kg.
Effective weight: 2000 (13 + 6/3)/19 = 1578.947 lb, 2000 (8 + 2)/14 = 1428.571 lb.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import pytest
from scipy.integrate import solve_ivp

from crushleg.landing.ideal import constant_force_stop
from crushleg.trial.rig import (
    cell_force,
    contact_speed,
    effective_weight,
    equivalent_mass,
    release_height,
)
from tests.outside import Outside, each

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

EARTH, MOON, MARS = 9.80665, 1.62, 3.71
MASS, SPEED = 1000.0, 3.0


def ramp(z: float) -> float:
    """Force of all legs [N] at a travel [m]."""
    return 20e3 + 120e3 * z


def fallen(height: float, mass: float, gravity: float, friction: float) -> float:
    """Speed after a fall, integrated in time."""

    def down(_: float, y: FloatArray) -> float:
        return float(y[0] - height)

    down.terminal = True  # type: ignore[attr-defined] # how solve_ivp is told to end
    run = solve_ivp(
        lambda _, y: [y[1], gravity - friction / mass],
        (0.0, 60.0),
        [0.0, 0.0],
        events=down,
        rtol=1e-10,
        atol=1e-12,
    )
    return float(run.y_events[0][0][1])


def stopped(mass: float, speed: float, net_force_down: float) -> float:
    """Travel at which the ramp stops a mass, integrated in time."""

    def at_rest(_: float, y: FloatArray) -> float:
        return float(y[1])

    at_rest.terminal = True  # type: ignore[attr-defined] # how solve_ivp is told to end
    run = solve_ivp(
        lambda _, y: [y[1], (net_force_down - ramp(y[0])) / mass],
        (0.0, 5.0),
        [0.0, speed],
        events=at_rest,
        rtol=1e-10,
        atol=1e-12,
    )
    return float(run.y_events[0][0][0])


derived = partial(
    Outside,
    source="energy of a drop equal to that of the landing",
    status="derived",
    why="half a unit of the last digit given",
)


def moon_on_earth() -> float:
    """Mass [kg] whose drop on Earth takes the energy and stroke of 1 t at 3 m/s on the Moon."""
    stroke, _, energy = constant_force_stop(MASS, SPEED, 40e3, MASS * MOON)
    return float(equivalent_mass(energy, stroke, SPEED, EARTH))


def weight(height: float) -> float:
    return float(effective_weight(2000.0, height, 6.0, 2.0 / 3.0))


VALUES = (
    derived(
        what="drop mass on Earth for 1 t, 3 m/s, 40 kN on the Moon",
        theirs=830.1054,
        ours=moon_on_earth,
        place="m (h + λ S)/(h + S), λ = g/g0",
        absolute=5e-5,
        unit="kg",
    ),
    derived(
        what="its release height",
        theirs=0.458872,
        ours=lambda: float(release_height(SPEED, moon_on_earth(), EARTH, 0.0)),
        place="h = v²/(2 g0)",
        absolute=5e-7,
        unit="m",
    ),
    *(
        derived(
            what=f"effective weight of 2000 lb, lift 2/3, {height:g} in onto 6 in",
            theirs=theirs,
            ours=partial(weight, height),
            place="W [h + (1 − L) d]/(h + d)",
            absolute=5e-4,
            unit="lb",
        )
        for height, theirs in ((13.0, 1578.947), (8.0, 1428.571))
    ),
)


@each(VALUES)
def test_a_drop_stands_for_the_landing_as_worked_by_hand(value: Outside) -> None:
    value.check()


def test_equivalent_mass_is_m_times_h_and_lambda_s_over_h_and_s() -> None:
    h, s, ratio = SPEED**2 / (2.0 * EARTH), 0.1, MARS / EARTH
    energy = 0.5 * MASS * SPEED**2 + MASS * MARS * s
    expected = MASS * (h + ratio * s) / (h + s)
    assert equivalent_mass(energy, s, SPEED, EARTH) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("friction", [0.0, 150.0, 900.0])
@pytest.mark.parametrize("gravity", [MOON, EARTH])
def test_fall_with_friction_ends_at_the_speed_of_the_integrated_fall(
    friction: float, gravity: float
) -> None:
    height = float(release_height(SPEED, MASS, gravity, friction))
    assert fallen(height, MASS, gravity, friction) == pytest.approx(SPEED, rel=1e-8)
    assert contact_speed(height, MASS, gravity, friction) == pytest.approx(SPEED, rel=1e-12)


@pytest.mark.parametrize("gravity", [MOON, MARS, EARTH])
@pytest.mark.parametrize("thrust", [0.0, 0.4])
@pytest.mark.parametrize(
    ("friction", "lift", "lift_force"), [(0, 0, 0), (400, 0.3, 0), (250, 0, 2e3)]
)
def test_equivalent_mass_stops_where_the_landing_does(
    gravity: float, thrust: float, friction: float, lift: float, lift_force: float
) -> None:
    """The landing and the drop, both integrated in time, end at one travel."""
    weight = MASS * gravity * (1.0 - thrust)
    travel = stopped(MASS, SPEED, weight)
    energy = 0.5 * MASS * SPEED**2 + weight * travel
    mass = float(equivalent_mass(energy, travel, SPEED, EARTH, lift, friction + lift_force))
    down = mass * EARTH * (1.0 - lift) - friction - lift_force
    assert stopped(mass, SPEED, down) == pytest.approx(travel, rel=1e-7)


def test_a_cell_between_two_masses_reads_what_stops_the_upper_one() -> None:
    """Newton on the mass above: N + R + P − m_a g = m_a a, with a of both masses together."""
    above, below, friction, reaction = 900.0, 100.0, 2e3, 40e3
    a = (reaction + friction) / (above + below) - EARTH
    assert cell_force(reaction, above, below, friction) == pytest.approx(
        above * (a + EARTH) - friction, rel=1e-12
    )


def test_a_cell_on_the_ground_reads_the_reaction() -> None:
    assert cell_force(40e3, 900.0, 0.0, 2e3) == pytest.approx(40e3, rel=1e-15)
