r"""Attitude, frequency, thrust and coming to rest of a body in motion, worked by hand [D].

*Attitude.* Turn of 60° about n = (1, 2, 2)/3, cos θ I + sin θ [n]× + (1 − cos θ) n nᵀ: diagonal ½ +
½/9 = 0.5555556 and ½ + ½ · 4/9 = 0.7222222; (0,1) 1/9 − 0.8660254 · 2/3 = −0.4662392, (0,2) 1/9 +
0.5773503 = 0.6884614, (1,2) 2/9 − 0.2886751 = −0.0664529, (2,1) 2/9 + 0.2886751 = 0.5108973. A
quarter turn about x, then about z, is a third of a turn about (1, 1, 1): quaternion (½, ½, ½, ½).
*Free top.* Radii of gyration 1, 1, √2 m, ω (1, 0, 2) rad/s: L along n = (1, 0, 4)/√17, round which
the axis goes at L/I₁ = √17 rad/s; after ½ s by f = 2.061553: (4 (1 − cos f), −√17 sin f, 17 cos f +
16 (1 − cos f))/17 = (0.346187, −0.213911, 0.913453).
*Frequency.* Four legs of 10 MN/m, 1 t, k 2 m: down √(4 · 10⁷/1000) = 200 rad/s, pitch
20 000 of its square 40 000 only. Dampers of 0.4 √(250 · 10⁷) = 20 kN s/m: 80 1/s. Canted 20°:
40 000/cos² 20° = 45 298.97, and 80/cos² 20° = 90.59795. Stuck pads three times as stiff sideways:
120 000, and 138.5641 = √3 · 80. Half as stiff, k 1 m about the axis: 4 · 5 · 10⁶ · 4/1000 = 80 000.
*Thrust.* 1 t falls freely under a thrust of 4 kN: 5.80665 m/s² from rest, and the work of weight
and thrust is ½ · 1000 (5.80665 t)².
*Rest.* h 1.5, R 2: ρ = 2.5 m, √(ρ/g) = 0.504905 s. Slow below 0.005 · 3 = 0.015 m/s; two bounces,
4π √(1000/4 · 10⁷) = 0.0628319 s. Rocking falls to a half in ln 2 · 0.25 · 0.504905 = 0.0874933 s,
and its energy by ¾; not above a fifth of the energy to tip, 9806.65 (2.061553 − 1.5) / 5 = 1101.39
J: 1.4842 m/s, or 1 m/s and 601.39 J of 0.061325 m. k ω counts as a speed: 2 m · 0.0075 rad/s.
*Corners.* The stage of 40 t five per cent lighter and heavier: 38 and 42 t.
"""

from __future__ import annotations

from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from crushleg.case.reader import read_case
from crushleg.landing.motion.body import at_start, drifted, pose_of
from crushleg.landing.motion.ledger import nothing_spent
from crushleg.landing.motion.pads import in_the_air
from crushleg.landing.motion.rotation import matrix, turned
from crushleg.landing.motion.run import run
from crushleg.landing.motion.settling import Quiet, calm, faded, height_of, pace_of
from crushleg.landing.motion.setup import highest_damping, highest_frequency
from crushleg.landing.motion.standard import standard
from tests.landing.motion.setups import ends_after, even, flat, touching, vehicle
from tests.outside import Outside, each

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import TypeAlias

    from crushleg.arrays import FloatArray
    from crushleg.landing.motion.setup import Setup

    Given: TypeAlias = tuple[str, float, Callable[[], float], str, float]

K = 1e7
EXAMPLE = Path(__file__).parents[2] / "examples" / "dunlin.toml"
UNTURNED = [1.0, 0.0, 0.0, 0.0]
HALF_TIME = 0.0874933
derived = partial(
    Outside,
    source="kinematics and dynamics of a rigid body",
    place="worked by hand in the docstring",
    status="derived",
)


def turn(row: int, column: int) -> float:
    around = np.pi / 3.0 * np.array([1.0, 2.0, 2.0]) / 3.0
    return float(matrix(turned(UNTURNED, around))[row, column])


def two_turns(index: int) -> float:
    first = turned(UNTURNED, [np.pi / 2.0, 0.0, 0.0])
    return float(turned(first, [0.0, 0.0, np.pi / 2.0])[index])


@cache
def free_top() -> FloatArray:
    """Axis of a free symmetric top after half a second, in 40 steps."""
    setup = vehicle(even(4), gyration=(1.0, 1.0, 2.0**0.5))
    body = at_start(setup, touching(setup, (0.0, 0.0, 0.0), turning=(1.0, 0.0, 2.0)))
    for _ in range(40):
        body, _ = drifted(setup, body, np.array([0.5 / 40]))
    return body.rotation[0, :, 2]


def axis(index: int) -> float:
    return float(free_top()[index])


def stiffest(**given: Any) -> float:
    """Square of the highest frequency [rad2/s2]."""
    return float(highest_frequency(vehicle(even(4), stiffness=K, **given))[0]) ** 2


def most_damped(**given: Any) -> float:
    return float(highest_damping(vehicle(even(4), stiffness=K, **given))[0])


def under_thrust() -> float:
    """Work in the books over that by hand [-]."""
    setup = vehicle(even(4), thrust=4000.0, stiffness=K)
    start = touching(setup, (0.0, 0.0, 0.0))
    start = start._replace(position=start.position + np.array([0.0, 0.0, 5.0]))
    with ends_after(0.3, setup):
        moved = run(setup, flat(10e3, K), start)
    return float(moved.ledger.came[0]) / (500.0 * (5.80665 * float(moved.time[0])) ** 2)


@cache
def resting() -> Setup:
    return vehicle(even(4, np.pi / 4.0), stiffness=K, friction=np.inf)


def pace(name: str) -> float:
    return float(getattr(pace_of(resting(), np.array([4500.0])), name)[0])


def after_fading(speed: float, raised: float = 0.0) -> tuple[float, float]:
    """Speed [m/s] and energy lost [J] of a quiet vehicle, half a life of its rocking later."""
    setup = resting()
    body = at_start(setup, touching(setup, (speed, 0.0, 0.0)))
    rate = pace_of(setup, np.array([4500.0]))
    none, lowest = np.zeros(1), height_of(setup, body.position) - raised
    pads = in_the_air(setup, pose_of(setup, body))
    quiet = Quiet(none, none, lowest)
    step, since = np.array([HALF_TIME]), 2.0 * rate.time
    slower, used = faded(setup, rate, body, pads, nothing_spent(1), quiet, step, since)
    return float(slower.velocity[0, 0]), float(used.damping[0])


def corner(name: str) -> float:
    """Mass of a standard landing of the test stage [kg]."""
    plans, _ = standard(read_case(EXAMPLE))
    (mass,) = (plan.touchdown.mass for plan in plans if plan.name == name)
    assert mass is not None
    return float(mass)


def matrix_rows() -> tuple[Given, ...]:
    expected = (
        (0.5555556, -0.4662392, 0.6884614),
        (0.6884614, 0.7222222, -0.0664529),
        (-0.4662392, 0.5108973, 0.7222222),
    )
    return tuple(
        (f"turn of 60 deg about (1, 2, 2), {i} {j}", expected[i][j], partial(turn, i, j), "", 2e-6)
        for i in range(3)
        for j in range(3)
    )


GRIPPED: dict[str, Any] = {"height": 1e-9, "friction": np.inf}
GIVEN: tuple[Given, ...] = (
    *matrix_rows(),
    *(
        (f"quaternion of two quarter turns, {i}", 0.5, partial(two_turns, i), "", 1e-9)
        for i in range(4)
    ),
    ("square of the highest frequency", 40e3, stiffest, "rad2/s2", 1e-7),
    (
        "the same, canted 20 deg",
        45298.97,
        partial(stiffest, cant=np.radians(20.0)),
        "rad2/s2",
        1e-6,
    ),
    ("the same, stiff grip", 120e3, partial(stiffest, grip=3.0, **GRIPPED), "rad2/s2", 1e-6),
    (
        "the same, turning about the axis",
        80e3,
        partial(stiffest, grip=0.5, gyration=(2.0, 2.0, 1.0), **GRIPPED),
        "rad2/s2",
        1e-6,
    ),
    ("highest rate of damping", 80.0, most_damped, "1/s", 1e-7),
    (
        "the same, canted 20 deg, damped",
        90.59795,
        partial(most_damped, cant=np.radians(20.0)),
        "1/s",
        1e-6,
    ),
    (
        "the same, stiff grip, damped",
        138.5641,
        partial(most_damped, grip=3.0, **GRIPPED),
        "1/s",
        1e-6,
    ),
    ("work of weight and thrust over that by hand", 1.0, under_thrust, "", 1e-6),
    ("reach of the pads", 2.5, partial(pace, "reach"), "m", 1e-9),
    ("time that rest is measured by", 0.504905, partial(pace, "time"), "s", 2e-6),
    ("slow speed", 0.015, partial(pace, "slow"), "m/s", 1e-9),
    ("time of two bounces", 0.0628319, partial(pace, "window"), "s", 1e-6),
    ("light corner", 38e3, partial(corner, "light and strong"), "kg", 1e-9),
    ("heavy corner", 42e3, partial(corner, "heavy and weak"), "kg", 1e-9),
    ("speed after half a life", 5e-3, lambda: after_fading(0.01)[0], "m/s", 2e-6),
    ("energy lost in half a life", 0.0375, lambda: after_fading(0.01)[1], "J", 2e-6),
)
VALUES = (
    *(
        derived(
            what=what, theirs=theirs, ours=ours, unit=unit, relative=relative, why="digits given"
        )
        for what, theirs, ours, unit, relative in GIVEN
    ),
    *(
        derived(
            what=f"axis of a free top, {name}",
            theirs=theirs,
            ours=partial(axis, index),
            absolute=6e-5,
            why="second order of steps of 1/80 s",
        )
        for index, (name, theirs) in enumerate((("x", 0.346187), ("y", -0.213911), ("z", 0.913453)))
    ),
)


@each(VALUES)
def test_the_parts_of_a_motion_are_as_worked_by_hand(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize(
    ("speed", "raised", "fades"),
    [(1.475, 0.0, True), (1.495, 0.0, False), (1.0, 0.0605, True), (1.0, 0.0622, False)],
)
def test_rocking_fades_below_a_fifth_of_the_energy_to_tip(
    speed: float, raised: float, fades: bool
) -> None:
    assert (after_fading(speed, raised)[0] < speed) is fades


@pytest.mark.parametrize(
    ("speed", "turning", "slow"),
    [(0.0149, 0.0, True), (0.0151, 0.0, False), (0.0, 0.00745, True), (0.0, 0.00755, False)],
)
def test_a_vehicle_is_calm_below_the_slow_speed(speed: float, turning: float, slow: bool) -> None:
    setup = resting()
    start = touching(setup, (speed, 0.0, 0.0), turning=(0.0, turning, 0.0))
    pose = pose_of(setup, at_start(setup, start))
    pads = in_the_air(setup, pose)
    pads = pads._replace(spring=np.ones_like(pads.spring))
    assert bool(calm(setup, pace_of(setup, np.array([4500.0])), pose, pads)[0]) is slow
