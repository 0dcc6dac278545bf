"""Motion of the whole vehicle against closed forms worked by hand [D].

Unless said otherwise m = 1000 kg, v = 3 m/s, g0 = 9.80665. Legs of the tests spring on K before
they crush: on n legs of force F the vehicle of weight W stops after the total travel x of
m v²/2 + W x = n (F x − F²/2K). The printed digits are those of rigid legs; the spring's part is
taken off before they are compared.
"""

from __future__ import annotations

from functools import cache, partial
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.optimize import brentq

from crushleg.landing.leg import sliding_leg
from crushleg.landing.motion.run import run
from crushleg.landing.tip_over import critical_speed
from tests.landing.motion.setups import (
    EARTH,
    MARS,
    MOON,
    curve,
    ends_after,
    even,
    flat,
    together,
    touching,
    vehicle,
)
from tests.outside import Outside, each

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from crushleg.arrays import FloatArray
    from crushleg.landing.motion.curves import Curves
    from crushleg.landing.motion.record import History
    from crushleg.landing.motion.setup import Setup

MASS, SPEED, K = 1000.0, 3.0, 5e7
RTOL = 5e-3  # the promise; what is found is closer by far


class Stop(NamedTuple):
    """A landing straight down on all legs, up to its first stop."""

    history: History
    last: int
    stroke: float
    time: float


def down(setup: Setup, legs: Curves, seconds: float = 0.2) -> Stop:
    """Land at 3 m/s on all legs; the stop is where the travel is largest."""
    with ends_after(seconds, setup):
        moved = run(setup, legs, touching(setup, (0.0, 0.0, -SPEED)), record=True)
    (history,) = moved.history
    last = int(history.travel[:, 0].argmax())
    return Stop(history, last, float(moved.pads.most[0, 0]), float(history.time[last]))


def sprung(force: float, net: float, legs: int = 4) -> float:
    """Travel that the spring adds to the stroke of rigid legs, n F²/2K over the net force."""
    return legs * force**2 / (2.0 * K) / net


derived = partial(
    Outside,
    status="derived",
    source="closed form against motion in time",
    relative=RTOL,
    why="steps in time; found closer by far",
)


@cache
def constant(gravity: float, thrust: float) -> tuple[float, float, float]:
    """Stroke [m], time [s] and energy [J] at 40 kN on four legs, the spring's part taken off."""
    net = 40e3 - MASS * gravity * (1.0 - thrust)
    setup = vehicle(even(4), gravity=gravity, thrust=thrust * MASS * gravity, stiffness=K)
    stop = down(setup, flat(10e3, K))
    assert_allclose(stop.history.push[stop.last - 9, 2], net, rtol=1e-9)
    stroke = stop.stroke - sprung(10e3, net)
    return stroke, stop.time, 40e3 * stroke


@cache
def ramp(first: float) -> tuple[float, float, float]:
    """Stroke [m], time [s] and largest force [N] on a ramp of 200 kN/m on four legs."""
    points = [(0.002 * i, (first + 200e3 * 0.002 * i) / 4.0) for i in range(251)]
    stop = down(vehicle(even(4), stiffness=K), curve(*points, stiffness=K))
    push = stop.history.force[: stop.last + 1, :, 2].sum(axis=1)
    return stop.stroke, stop.time, float(push.max())


@cache
def steps() -> tuple[float, float, float, float]:
    """Stroke, time, and speeds after the first two steps of force."""
    given = [(0.0, 15e3), (0.06, 15e3), (0.06, 25e3), (0.12, 25e3), (0.12, 40e3), (0.27, 40e3)]
    stop = down(
        vehicle(even(4), stiffness=K), curve(*((s, f / 4.0) for s, f in given), stiffness=K)
    )
    height, time = stop.history.position[: stop.last, 2], stop.history.time[: stop.last]
    sunk = 0.5 * (1.5 - height[1:] + 1.5 - height[:-1])
    first, second = (
        float(np.interp(at, sunk, -np.diff(height)) / np.interp(at, sunk, np.diff(time)))
        for at in (0.06, 0.12)
    )
    return stop.stroke, stop.time, first, second


@cache
def decelerations() -> tuple[float, float]:
    """Largest deceleration and accelerometer reading [g0]."""
    setup = vehicle(even(4), stiffness=K)
    with ends_after(0.2, setup):
        seen = run(setup, flat(10e3, K), touching(setup, (0.0, 0.0, -SPEED))).seen
    return float(seen.deceleration[0]) / EARTH, float(seen.accelerometer[0]) / EARTH


def item(of: Callable[..., Sequence[float]], index: int, *given: float) -> Callable[[], float]:
    return lambda: of(*given)[index]


CONSTANT = tuple(
    derived(
        what=f"{what} in the motion, constant 40 kN, {where}",
        theirs=theirs,
        ours=item(constant, index, gravity, thrust),
        place=formula,
        unit=unit,
    )
    for where, gravity, thrust, row in (
        ("Earth", EARTH, 0.0, (0.1490394, 0.099360, 5961.578)),
        ("Moon", MOON, 0.0, (0.117249, 0.078166, 4689.943)),
        ("Mars", MARS, 0.0, (0.123999, 0.082667, 4959.977)),
        ("thrust = weight", EARTH, 1.0, (0.112500, 0.075000, 4500.000)),
        ("thrust of half the weight", EARTH, 0.5, (0.128217, 0.085478, 5128.690)),
    )
    for index, (what, theirs, formula, unit) in enumerate(
        zip(
            ("stroke", "time", "energy"),
            row,
            ("m v²/[2 (F − Wn)]", "m v/(F − Wn)", "F S"),
            ("m", "s", "J"),
            strict=True,
        )
    )
)
DOWN = (
    *CONSTANT,
    *(
        derived(
            what=f"{what} in the motion over g0, 40 kN under 1 t",
            theirs=theirs,
            ours=item(decelerations, index),
            place=formula,
            absolute=5e-6,
            relative=0.0,
        )
        for index, (what, theirs, formula) in enumerate(
            (("deceleration", 3.07886, "(F − Wn)/m"), ("accelerometer", 4.07886, "(F + T)/m"))
        )
    ),
    *(
        derived(
            what=f"{what} in the motion, ramp of 200 kN/m from {first / 1e3:g} kN",
            theirs=theirs,
            ours=item(ramp, index, first),
            place="quarter swing on a ramp",
            unit=unit,
        )
        for first, row in (
            (10e3, (0.211167, 0.110750, 52233.5)),
            (0.0, (0.266758, 0.127134, 53351.7)),
        )
        for index, (what, theirs, unit) in enumerate(
            zip(("stroke", "time", "largest force"), row, ("m", "s", "N"), strict=True)
        )
    ),
    *(
        derived(
            what=f"{what} in the motion, steps of 15, 25, 40 kN",
            theirs=theirs,
            ours=item(steps, index),
            place="(F − Wn) s of each step",
            unit=unit,
        )
        for index, (what, theirs, unit) in enumerate(
            (
                ("stroke", 0.228527, "m"),
                ("time", 0.127147, "s"),
                ("speed after the first", 2.894270, "m/s"),
                ("speed after the second", 2.559999, "m/s"),
            )
        )
    ),
)


def test_linkage_of_two_travels_per_stroke() -> None:
    """V = F/2 and z = 2 s: rigid 2 S (20 kN − W) = 4500 J."""
    setup = vehicle(even(4), travel_ratio=2.0, friction=0.4, stiffness=K)
    stop = down(setup, flat(10e3, K), seconds=0.4)
    net = 20e3 - MASS * EARTH
    extra = 4.0 * 10e3**2 / (2.0 * K) / (2.0 * net)
    assert_allclose(stop.stroke - extra, 4500.0 / net / 2.0, rtol=1e-4)
    assert_allclose(stop.history.force[stop.last // 2, :, 2], 5e3, rtol=1e-9)
    assert_allclose(stop.history.across, 0.0)


@pytest.mark.parametrize("guide", [0.0, 0.1])
def test_canted_legs_whose_pads_slip_inward(guide: float) -> None:
    """Cant 20°, μ 0.4: V/F 1.24551, T/F 0.89415; with a guide's friction more."""
    cant, mu = np.radians(20.0), 0.4
    setup = vehicle(even(4), cant=cant, friction=mu, guide=guide, stiffness=K)
    stop = down(setup, flat(10e3, K))
    ratio = sliding_leg(cant, mu, guide)
    if not guide:
        assert_allclose((ratio.reaction, ratio.side), (1.24551, 0.89415), atol=5e-6)
    middle = stop.last // 2
    slope = np.gradient(stop.history.travel[:, 0])[middle]
    assert slope > 0.0
    assert_allclose(stop.history.force[middle, :, 2] / 10e3, ratio.reaction, rtol=1e-4)
    assert_allclose(stop.history.across[middle] / 10e3, ratio.side, rtol=1e-4)
    assert_allclose(stop.history.strut[middle] / 10e3, ratio.axial, rtol=1e-4)
    net = 4.0 * ratio.reaction * 10e3 - MASS * EARTH
    rigid = 0.5 * MASS * SPEED**2 / net / np.cos(cant)
    assert_allclose(stop.stroke, rigid, rtol=RTOL)


class FirstStop(NamedTuple):
    """When the first leg stops: time, its travel, downward speeds of all pads, slip of its pad."""

    time: float
    travel: float
    speeds: FloatArray
    slip: float


def first_leg(
    legs: int,
    *,
    height: float = 0.1,
    gyration: float = 2.0,
    offset: float = 2.0,
    force: float = 400e3,
    friction: float = 0.0,
    gravity: float = 1e-6,
    mass: float = MASS,
    lean: float = 0.01,
    stiffness: float = 2e9,
) -> FirstStop:
    """Leg 1 lower by a hair; the run ends before the others touch.

    Leaned by θ its pad is cos θ x1 − sin θ h from the axis: θ is small, and so is h where it is of
    no effect.
    """
    k = (gyration, gyration, gyration)
    setup = vehicle(
        even(legs),
        mass=mass,
        gyration=k,
        height=height,
        radius=offset,
        gravity=gravity,
        friction=friction,
        stiffness=stiffness,
        grip=8.0,
    )
    start = touching(setup, (0.0, 0.0, -SPEED), lean=(0.0, lean, 0.0))
    with ends_after(1.5 * mass * SPEED / force, setup):
        (history,) = run(setup, flat(force, stiffness, 0.3), start, record=True).history
    rate = np.gradient(history.travel[:, 0], history.time)
    last = int(np.argmax(rate < 0.0))
    share = rate[last - 1] / (rate[last - 1] - rate[last])
    assert not history.force[: last + 1, 1:].any()  # the others are in the air
    speeds = -np.gradient(history.place[..., 2], history.time, axis=0)
    slip = np.linalg.norm(history.place[last, 0, :2] - history.place[0, 0, :2])

    def there(values: FloatArray) -> FloatArray:
        return np.asarray(values[last - 1] + share * (values[last] - values[last - 1]))

    return FirstStop(
        float(there(history.time)), float(history.travel[:, 0].max()), there(speeds), float(slip)
    )


@cache
def alone(gyration: float, offset: float) -> tuple[float, float]:
    """Energy of the first leg [J] and speed of the opposite pad [m/s], no friction or gravity."""
    stop = first_leg(2, gyration=gyration, offset=offset)
    return 400e3 * stop.travel - 400e3**2 / 4e9, float(stop.speeds[1])


@cache
def on_earth(gyration: float, offset: float) -> tuple[float, float]:
    """Stroke [m] and time [s] of the first leg at 40 kN; what the spring adds is taken off."""
    stop = first_leg(2, gyration=gyration, offset=offset, force=40e3, gravity=EARTH, lean=0.04)
    part = gyration**2 / (gyration**2 + offset**2)
    extra = 40e3**2 / 4e9 / (40e3 - part * MASS * EARTH)
    return stop.travel - extra, stop.time


def with_friction(friction: float) -> float:
    """m_eff/m on a leg of m 9500, k 3.1, h 5.4, x1 2.2."""
    mass, force, stiffness, lean = 9500.0, 8e6, 4e11, 2.5e-3
    stop = first_leg(
        3,
        gyration=3.1,
        height=5.4,
        offset=2.2 + 5.4 * lean,  # so that the pad is 2.2 m from the axis of the leaned vehicle
        mass=mass,
        force=force,
        stiffness=stiffness,
        lean=lean,
        friction=friction,
    )
    energy = force * stop.travel - force**2 / (2.0 * stiffness)
    return energy / (0.5 * mass * SPEED**2)


FIRST_LEG = (
    *(
        derived(
            what=f"{what} in the motion, k {k:g}, x {x:g}",
            theirs=theirs,
            ours=item(alone, index, k, x),
            place=formula,
            unit=unit,
        )
        for k, x, row in (
            (2.0, 2.0, (2250.0, 3.0)),
            (6.0, 3.0, (3600.0, 1.2)),
            (1.5, 3.0, (900.0, 4.8)),
        )
        for index, (what, theirs, formula, unit) in enumerate(
            zip(
                ("energy of the first leg", "opposite pad arrives"),
                row,
                ("m_eff v²/2", "2 v x²/(k² + x²)"),
                ("J", "m/s"),
                strict=True,
            )
        )
    ),
    *(
        derived(
            what=f"{what} of the first leg in the motion, Earth, k {k:g}, x {x:g}",
            theirs=theirs,
            ours=item(on_earth, index, k, x),
            place="F − m_eff g",
            unit=unit,
        )
        for k, x, row in ((2.0, 2.0, (0.064109, 0.042739)), (6.0, 3.0, (0.111959, 0.074639)))
        for index, (what, theirs, unit) in enumerate(
            zip(("stroke", "time"), row, ("m", "s"), strict=True)
        )
    ),
    *(
        derived(
            what=f"m_eff/m in the motion, k 3.1, h 5.4, x 2.2, μ {friction:g}",
            theirs=theirs,
            ours=partial(with_friction, friction),
            place=formula,
        )
        for friction, theirs, formula in (
            (0.0, 0.6651, "k²/(k² + x²)"),
            (0.2, 0.7959, "k²/(k² + x² − μ x h)"),
            (0.35, 0.8890, "(k² + h²)/(k² + h² + x²), sticks from μ 0.3064"),
            (np.inf, 0.8890, "(k² + h²)/(k² + h² + x²)"),
        )
    ),
)
VALUES = (*DOWN, *FIRST_LEG)


@each(VALUES)
def test_the_motion_is_that_of_the_closed_form(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize("legs", [2, 3, 4, 5, 6])
def test_arrival_speed_of_the_other_pads(legs: int) -> None:
    """Without friction pad j arrives at v x1 (x1 − xj)/(k² + x1²); three legs, k 2: 2.25 m/s."""
    stop = first_leg(legs)
    expected = SPEED * 2.0 * (2.0 - 2.0 * np.cos(even(legs))) / (2.0**2 + 2.0**2)
    if legs == 3:
        assert_allclose(expected[1:], 2.25)
    assert_allclose(stop.speeds[1:], expected[1:], rtol=RTOL)


TIPS = [(MOON, 0.0, 2.060422), (MOON, 12.0, 1.506741), (MARS, 0.0, 3.118068)]
TIP_INERTIA = 1.0 + 1.5**2 + 2.0
"""Ip/m about the edge: k² + h² + r², h 1.5, R 2, four legs, k 1."""


def on_the_edge(gravity: float, slope: float, stiffness: float, damping: float) -> Setup:
    """Put a vehicle on strong legs with stuck pads, an edge ahead and downhill."""
    return vehicle(
        even(4, np.pi / 4.0),
        gyration=(1.0, 1.0, 1.0),
        gravity=gravity,
        slope=np.radians(slope),
        uphill=np.pi,
        friction=np.inf,
        stiffness=stiffness,
        damping=damping,
    )


@pytest.mark.parametrize("factor", [0.99, 1.01])
def test_just_under_the_critical_speed_it_stands_and_just_over_it_tips(factor: float) -> None:
    """Level and 12° downhill on the Moon, level on Mars, turning about the edge from the impact.

    The angular momentum m h v about the edge is given at the start: the centre of gravity moves
    square to its arm ρ from the edge at ω ρ.
    """
    slopes = np.radians([slope for _, slope, _ in TIPS])
    printed = np.array([speed for *_, speed in TIPS])
    gravity = np.array([g for g, *_ in TIPS])
    assert_allclose(critical_speed(gravity, 1.5, 2**0.5, 1.0, slopes), printed, rtol=1e-6)
    setups = [on_the_edge(g, slope, 1e6, 0.2) for g, slope, _ in TIPS]
    starts = []
    for setup, speed in zip(setups, factor * printed, strict=True):
        omega = 1.5 * speed / TIP_INERTIA
        starts.append(
            touching(setup, (omega * 1.5, 0.0, omega * 2**0.5), turning=(0.0, omega, 0.0))
        )
    moved = run(together(setups), flat(10e6, 1e6, 20.0), together(starts))
    assert moved.tipped.tolist() == [factor > 1.0] * 3
    assert moved.rested.tolist() == [factor < 1.0] * 3


@pytest.mark.parametrize("gradient", [0.0, 2e6])
def test_ground_that_gives_takes_the_energy_of_a_vehicle_on_rigid_legs(gradient: float) -> None:
    """Energies: m v²/2 + m g z = 4 (P w + G w²/2 + N²/2K): legs too strong to crush, P 10 kN each.

    N = P + G w at the end, z = w + N/K: what the legs spring is counted.
    """
    setup = vehicle(even(4), stiffness=K, bearing=10e3, bearing_gradient=gradient)
    with ends_after(0.2, setup):
        moved = run(setup, flat(10e6, K), touching(setup, (0.0, 0.0, -SPEED)))

    def left(sunk: float) -> float:
        force = 10e3 + gradient * sunk
        taken = 4.0 * (10e3 * sunk + 0.5 * gradient * sunk**2 + 0.5 * force**2 / K)
        return taken - 4500.0 - MASS * EARTH * (sunk + force / K)

    expected = brentq(left, 1e-3, 1.0)
    assert_allclose(moved.pads.sunk, expected, rtol=RTOL)
    taken = 4.0 * (10e3 * expected + 0.5 * gradient * expected**2)
    assert_allclose(moved.ledger.ground, taken, rtol=2.0 * RTOL)


def test_leg_and_ground_in_series_share_the_stroke() -> None:
    """Leg of 5 kN + 100 kN/m on ground of 6 kN + 50 kN/m: one force, two travels.

    The ground gives from 6 kN on: at a force N the leg is at (N − 5)/100 and the ground at
    (N − 6)/50; m v²/2 + m g (s + w) = 4 (energy of both).
    """
    points = [(0.002 * i, 5e3 + 100e3 * 0.002 * i) for i in range(251)]
    setup = vehicle(even(4), stiffness=K, bearing=6e3, bearing_gradient=50e3)
    with ends_after(0.4, setup):
        moved = run(setup, curve(*points, stiffness=K), touching(setup, (0.0, 0.0, -SPEED)))

    def travels(force: float) -> tuple[float, float]:
        return (force - 5e3) / 100e3, (force - 6e3) / 50e3

    def left(force: float) -> float:
        s, w = travels(force)
        taken = 4.0 * (0.5 * (5e3 + force) * s + 0.5 * (6e3 + force) * w)
        return taken - 4500.0 - MASS * EARTH * (s + w)

    force = brentq(left, 6e3, 1e5)
    stroke, sunk = travels(force)
    assert_allclose(moved.pads.most, stroke, rtol=RTOL)
    assert_allclose(moved.pads.sunk, sunk, rtol=RTOL)
    assert_allclose(moved.ledger.ground, 4.0 * 0.5 * (6e3 + force) * sunk, rtol=RTOL)


def test_thrust_that_stays_then_dies_away_gives_its_impulse() -> None:
    """Free flight: Δv = [T t_s + T τ (1 − exp(−(t − t_s)/τ))]/m − g t; no pad touches."""
    setup = vehicle(even(4), thrust=4000.0, shutdown=0.05, decay=0.04, stiffness=1e7)
    start = touching(setup, (0.0, 0.0, 0.0))
    start = start._replace(position=start.position + np.array([0.0, 0.0, 5.0]))
    with ends_after(0.3, setup):
        moved = run(setup, flat(10e3, 1e7), start)
    t = moved.time
    impulse = 4000.0 * (0.05 + 0.04 * (1.0 - np.exp(-(t - 0.05) / 0.04)))
    assert_allclose(moved.pose.velocity[:, 2], impulse / MASS - EARTH * t, rtol=1e-4)
