"""From first to next contact, against the plane motion integrated by scipy."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose, assert_array_equal
from scipy.integrate import solve_ivp

from crushleg.landing.energy import work_against
from crushleg.landing.first_leg import effective_mass, rotation_per_impulse, shared_fraction
from crushleg.landing.next_touch import NextTouch, until_next_touch

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

MASS, SPEED, FALL, HEIGHT, GYRATION, RADIUS = 1000.0, 3.0, 9.80665, 2.5, 2.0, 2.0
STROKE = np.linspace(0.0, 0.3, 3001)
FORCE = 20e3 + 60e3 * STROKE
ENERGY = 20e3 * STROKE + 30e3 * STROKE**2


@dataclass(frozen=True)
class Setting:
    friction: float
    following: float
    rotation: float = 0.0

    @property
    def turn(self) -> FloatArray:
        return rotation_per_impulse(RADIUS, HEIGHT, GYRATION, self.friction)

    def run(self, gap: float | FloatArray, scale: float = 1.0) -> NextTouch:
        return until_next_touch(
            STROKE,
            scale * FORCE,
            scale * ENERGY,
            mass=MASS,
            effective=effective_mass(MASS, RADIUS, self.turn),
            shared=shared_fraction(RADIUS, self.following, self.turn),
            speed=SPEED,
            acceleration=FALL,
            gap=gap,
            rotation=self.rotation,
            offset=RADIUS,
            following=self.following,
            gyration=GYRATION,
        )


def integrate(setting: Setting, gap: float) -> FloatArray:
    """State (z, θ, outward x; their rates) at the moment pad j has come down by the gap.

    Reaction V on the first pad from its own travel z - R θ; friction inward, μV, or what keeps
    the pad from moving outward: m ẍ = -Ff, m k² θ̈ = R V - h Ff, ẍ + h θ̈ = 0.
    """
    limit = RADIUS * HEIGHT / (GYRATION**2 + HEIGHT**2)
    ratio = min(setting.friction, limit)

    def motion(_: float, y: FloatArray) -> list[float]:
        v = float(np.interp(y[0] - RADIUS * y[1], STROKE, FORCE))
        turn = (RADIUS * v - HEIGHT * ratio * v) / (MASS * GYRATION**2)
        return [*y[3:], FALL - v / MASS, turn, -ratio * v / MASS]

    def touches(_: float, y: FloatArray) -> float:
        return float(y[0] - setting.following * y[1] - gap)

    touches.terminal = True  # type: ignore[attr-defined]  # scipy reads it from the function
    start = [0.0, 0.0, 0.0, SPEED, -setting.rotation, 0.0]
    moved = solve_ivp(
        motion, (0.0, 1.0), start, events=touches, rtol=1e-10, atol=1e-12, max_step=1e-3
    )
    return np.append(moved.y_events[0][0], moved.t_events[0][0])


@pytest.mark.parametrize("friction", [0.0, 0.2, 1.0], ids=["frictionless", "sliding", "stuck"])
@pytest.mark.parametrize("following", [-2.0, -1.0, 0.0, 1.0])
def test_the_plane_motion_gives_the_same_state(friction: float, following: float) -> None:
    setting, gap = Setting(friction, following), 0.12
    z, turned, _, w, turning, slid, time = integrate(setting, gap)
    at = setting.run(gap)
    assert not at.pivots | at.bottomed
    assert_allclose(at.time, time, rtol=1e-6)
    assert_allclose([at.drop, at.travel], [z, z - RADIUS * turned], rtol=1e-6)
    assert_allclose(
        [at.first_speed, at.next_speed], [w - RADIUS * turning, w - following * turning], rtol=1e-5
    )
    moving = 0.5 * MASS * (w**2 + slid**2 + (GYRATION * turning) ** 2)
    if friction == 0.2:
        assert at.kinetic > moving
    else:
        assert_allclose(at.kinetic, moving, rtol=1e-5)


@pytest.mark.parametrize("following", [-2.0, 0.0, 1.0])
def test_a_rotation_at_contact_gives_the_state_of_the_plane_motion(following: float) -> None:
    setting, gap = Setting(0.0, following, rotation=0.2), 0.12
    z, turned, _, w, turning, _, time = integrate(setting, gap)
    at = setting.run(gap)
    assert not at.pivots | at.bottomed
    assert_allclose(at.time, time, rtol=1e-6)
    assert_allclose([at.drop, at.travel], [z, z - RADIUS * turned], rtol=1e-6)
    assert_allclose(
        [at.first_speed, at.next_speed], [w - RADIUS * turning, w - following * turning], rtol=1e-5
    )
    assert_allclose(at.kinetic, 0.5 * MASS * (w**2 + (GYRATION * turning) ** 2), rtol=1e-5)


def test_no_gap_is_touched_at_once_with_all_energy_still_there() -> None:
    at = Setting(0.0, -2.0).run(0.0)
    assert_array_equal([at.travel, at.time, at.energy, at.drop], 0.0)
    assert_allclose([at.kinetic, at.next_speed], [4500.0, SPEED])


def test_a_constant_force_is_exact_on_a_grid_of_two_points() -> None:
    """40 kN on m_eff 500 kg, cj = 0.25: pad 1 slows at 80 - g, pad j at 20 - g.

    After 0.02 s pad 1 is down 0.06 - (80 - g) 0.0002, pad j 0.06 - (20 - g) 0.0002.
    """
    s, f = np.array([0.0, 0.3]), np.full(2, 40e3)
    at = until_next_touch(
        s,
        f,
        work_against(s, f),
        mass=MASS,
        effective=500.0,
        shared=0.25,
        speed=SPEED,
        acceleration=FALL,
        gap=0.06 - (20.0 - FALL) * 0.0002,
    )
    assert_allclose(at.time, 0.02, rtol=1e-12)
    assert_allclose(at.travel, 0.06 - (80.0 - FALL) * 0.0002, rtol=1e-12)
    assert_allclose(at.next_speed, SPEED - (20.0 - FALL) * 0.02, rtol=1e-12)


def test_the_legs_that_have_stopped_are_pivoted_on() -> None:
    """40 kN constant, k = R: m_eff 500 kg stops in 0.064109 m, as in the derived table.

    The opposite pad has cj = 0 and falls free, to √(v² + 2 g s) over 0.5 m. The centre of gravity
    is midway between the two pads; at the end the vehicle turns about the first: m (k² + R²) ω²/2
    with ω = w/(2R) is m w²/4.
    """
    s = np.array([0.0, 0.1, 0.2])
    f = np.full(3, 40e3)
    at = until_next_touch(
        s,
        f,
        work_against(s, f),
        mass=MASS,
        effective=500.0,
        shared=0.0,
        speed=SPEED,
        acceleration=FALL,
        gap=0.5,
    )
    assert at.pivots
    arrives = np.sqrt(SPEED**2 + 2 * FALL * 0.5)
    assert_allclose(at.travel, 0.064109, atol=5e-7)
    assert_allclose([at.first_speed, at.next_speed], [0.0, arrives], atol=1e-12)
    assert_allclose(at.time, (arrives - SPEED) / FALL, rtol=1e-12)
    assert_allclose(at.drop, 0.5 * (at.travel + 0.5), rtol=1e-12)
    assert_allclose(at.kinetic, 0.25 * MASS * arrives**2, rtol=1e-12)


def test_a_first_leg_too_weak_for_its_share_meets_the_next_pads_or_its_own_end() -> None:
    """A tenth of the force is below m_eff g: it never stops by itself."""
    weak = Setting(0.0, -2.0)
    joined, alone = weak.run(0.2, scale=0.1), weak.run(1.0, scale=0.1)
    assert not joined.pivots | joined.bottomed
    assert joined.first_speed > SPEED
    assert alone.bottomed
    assert_allclose(alone.travel, STROKE[-1])
    assert_allclose(alone.energy, 0.1 * ENERGY[-1], rtol=1e-12)


def test_a_batch_is_its_cases() -> None:
    setting, gaps = Setting(0.2, -1.0), np.array([0.0, 0.05, 0.2, 0.9])
    batch = setting.run(gaps)
    for i, gap in enumerate(gaps):
        alone = setting.run(float(gap))
        for field in ("travel", "energy", "time", "drop", "kinetic", "next_speed", "pivots"):
            assert_allclose(getattr(batch, field)[i], getattr(alone, field), rtol=1e-12)


@pytest.mark.parametrize("friction", [0.0, 1.0])
def test_a_wider_gap_leaves_more_to_the_first_leg_and_comes_later(friction: float) -> None:
    at = Setting(friction, -2.0).run(np.linspace(0.0, 0.6, 25))
    assert np.any(at.pivots)
    assert np.all(np.diff(at.time) > 0.0)
    assert np.all(np.diff(at.energy) >= 0.0)


def test_a_pad_thrown_down_comes_harder_the_farther_it_has_to_go_a_held_one_softer() -> None:
    """Without friction cj = 0 here and the pad falls free.

    Stuck, cj = (1 - 4/10.25)/(1 + 4/10.25) > 0: the first leg slows it too, until that stops.
    """
    gaps = np.linspace(0.0, 0.1, 6)
    assert np.all(np.diff(Setting(0.0, -2.0).run(gaps).next_speed) > 0.0)
    assert np.all(np.diff(Setting(1.0, -2.0).run(gaps).next_speed) < 0.0)
