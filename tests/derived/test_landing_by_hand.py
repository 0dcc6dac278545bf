"""First pads until the next touch, then all together, and what assembles them, by hand [D].

*Next touch.* 1 t at 3 m/s on Earth, first pad 40 kN, m_eff 500 kg, opposite pad (c 0) 80 mm up:
it falls freely, 3 t + 4.903325 t² = 0.08, t = 0.0255959 s. The first pad goes
3 t − ½ (80 − 9.80665) t² = 0.0537941 m and takes 2151.76 J, the centre of gravity (c ½) comes down
0.0668971 m: 4500 + 656.04 − 2151.76 = 3004.27 J stay in motion; speeds 3 − 70.19335 t = 1.203337
and 3.251010 m/s.
*Pivot.* 400 kN stop 500 kg after 2250/(400 000 − 4903.3) = 0.0056948 m. A pad with c ¼, 300 mm up:
¾ (3 t + 4.903325 t²) = 0.3 − ¼ · 0.0056948, t = 0.112145 s. Constant 40 kN and c ¼, 80 mm up: z_j =
3 t − 5.096675 t², touches at 0.0279985 s when the first pad is 3 t − 35.096675 t² = 0.0564826 m
down.
*Together.* Four legs of 10 kN + 100 kN/m over 0.25 m, the first 0.05 m ahead, 0.1 m on: 25 + 3 · 20
= 85 kN; work 1000 + 50 000 (0.15² − 0.05²) + 3 (1000 + 500) = 6500 J. Twice as steep from 0.1 m,
0.08 m on: 26 + 3 · 18 = 80 kN, 2190 − 625 + 3 · 1120 = 4925 J; the first bottom after 0.2 m.
*Arrival.* 1 t, v 3, v_h 1 m/s, slope 10°, ω 0.1 rad/s, k 2: closing 3 cos 10° + sin 10° = 3.128071,
½ (9.784830 + 0.04) 1000 = 4912.41 J. Reserve 1.2: times 1.44, 7073.88 J.
*Canted.* Four legs of 10 kN, cant 20°, no friction: V = 10/cos 20° = 10.641778 kN, the sum less
9806.65 N stops 4500 J in 4500/32 760.46 = 0.137361 m of travel, 0.146176 m along each girder.
With μ 0.4 and guide friction 0.1: A/F = 1/(1 − 0.1 tan(20° + 21.8014°)) = 1.098195, V/F 1.367812,
T/F 0.981948.
*Bottoming.* Rigid, it would need the 0.1490394 m of 40 kN. 0.1 m of 40 kN, legs of 10 MN/m: each
shortens 1 mm more and holds 5 J. A quarter of 4500 J and of the weight over 0.101 m, less 1005 J:
367.618 J too many; F = 2451.66 + √((10 000 − 2451.66)² + 2 · 10⁷ · 367.618) = 88 529.2 N.
*Given back.* 4 F²/2K = 4 · 10⁸/(2 · 10⁷) = 20 J, whichever leg was first.
*Afterwards.* Four legs of 10 kN stop in 3000/30 193.35 = 0.0993596 s. One leg low, the rest high:
4500/24 193.35 − 4500/36 193.35 = 0.061669 m apart, slope 2/(4 · 2) of it, lean 0.883278°. Tip-over
on the Moon before crush, k 2, h 1.5, R 2: √(2 · 8.25 · 1.62 · 0.561553)/1.5 = 2.582876 m/s.
*Inside a piece.* Force falling from 60 kN to 0 over 0.2 m: net energy 50 193.35 s − 150 000 s², at
most 4198.9 J inside and 4038.67 J at the end; 4100 J are met at (50 193.35 − 7705.35)/300 000 =
0.141627 m. Rising from 0 to 100 kN: 250 000 s² − 9806.65 s = 500 at 0.0684465 m.
*Column.* 10 kN on 1 m against 20.6 kN on 0.7 m: F ℓ² is 10 and 10.094, so the latter is worse; of
the high curve 23.69 kN, also where it is met in bottoming. A linkage of 2: V/F = ½.
*Setup.* 1 t, k 2 m: 4000 kg m². ζ 0.1 on four legs of 10 MN/m: 0.2 √(250 · 10⁷) = 10 kN s/m, grip
half as stiff. Leaned forward 10°: lowest pad 1.5 cos 10° + 2 sin 10° = 1.824508 m below, quaternion
(cos 5°, 0, sin 5°, 0). Uphill 10°: gravity −g sin 10° = −1.702907 and −g cos 10° = −9.657663 m/s².
*At the edge.* Cant 20°, four legs: 0.1 m of travel slips a pad 0.1 tan 20° = 0.036397 m.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.integrate import solve_ivp

from crushleg.case.reader import read_case
from crushleg.case.records import Factors, Leg, Touchdown
from crushleg.landing.afterwards import settle, tip_over
from crushleg.landing.arrival import arrive
from crushleg.landing.energy import stop, work_against
from crushleg.landing.first_leg import effective_mass, rotation_per_impulse, shared_fraction
from crushleg.landing.leg import linkage_leg, pad_slip, sliding_leg
from crushleg.landing.members import column_loads
from crushleg.landing.motion.assemble import Landing, assemble
from crushleg.landing.next_touch import NextTouch, until_next_touch
from crushleg.landing.share import together
from tests.landing.test_touchdown import STAGE, UPRIGHT, flat, invented, touch
from tests.outside import Outside, each
from tests.samples import girder

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import FloatArray

EARTH = 9.80665
EXAMPLE = Path(__file__).parents[2] / "examples" / "dunlin.toml"
derived = partial(
    Outside,
    source="motion of a rigid vehicle in the plane",
    place="worked by hand in the docstring",
    status="derived",
    relative=5e-6,
    why="digits given",
)


def opposite() -> NextTouch:
    return until_next_touch(
        [0.0, 0.3], [4e4, 4e4], [0.0, 12e3],
        mass=1000.0, effective=500.0, shared=0.0, speed=3.0, acceleration=EARTH, gap=0.08,
    )  # fmt: skip


def pivoting() -> NextTouch:
    return until_next_touch(
        [0.0, 0.3], [4e5, 4e5], [0.0, 12e4],
        mass=1000.0, effective=500.0, shared=0.25, speed=3.0, acceleration=EARTH, gap=0.3,
    )  # fmt: skip


def all_legs(name: str) -> float:
    """At 0.1 m beyond the moment the others touched."""
    x = np.array([0.0, 0.25])  # one straight piece
    curve = together(x, 10e3 + 100e3 * x, 10e3 * x + 50e3 * x**2, np.array(0.05), 1, 4)
    return float(np.interp(0.1, curve.travel, getattr(curve, name)))


def all_kinked(name: str) -> float:
    """At 0.08 m beyond, on a curve that is twice as steep from 0.1 m."""
    x, f = np.array([0.0, 0.1, 0.25]), np.array([10e3, 20e3, 50e3])
    curve = together(x, f, work_against(x, f), np.array(0.05), 1, 4)
    return float(np.interp(0.08, curve.travel, getattr(curve, name)))


def ends() -> float:
    x, f = np.array([0.0, 0.25]), np.array([10e3, 35e3])
    return float(together(x, f, work_against(x, f), np.array(0.05), 1, 4).travel[-1])


def quarter(name: str) -> float:
    found = until_next_touch(
        [0.0, 0.3], [4e4, 4e4], [0.0, 12e3],
        mass=1000.0, effective=500.0, shared=0.25, speed=3.0, acceleration=EARTH, gap=0.08,
    )  # fmt: skip
    return float(getattr(found, name))


def guided(name: str) -> float:
    return float(getattr(sliding_leg(np.radians(20.0), 0.4, 0.1), name))


def needed() -> float:
    s, f = np.array([0.0, 0.1]), np.full(2, 40e3)
    return float(stop(s, f, work_against(s, f), 1000.0 * EARTH, 4500.0).stroke_needed)


def arriving(*, reserve: bool) -> float:
    landing = Touchdown(
        name="slope",
        vertical_speed=3.0,
        horizontal_speed=1.0,
        slope=np.radians(10.0),
        attitude_rate=0.1,
        reserve=reserve,
    )
    return float(arrive(STAGE, landing, Factors(speed_reserve=1.2)).kinetic)


def canted() -> float:
    leg = Leg(side_load="guide", pad_friction=0.0, cant=np.radians(20.0))
    return float(touch(flat(), leg=leg).stroke[1, 0])


def bottomed() -> float:
    return float(touch(flat(end=0.1, stiffness=1e7)).peak[1, 0])


def returned(first: str) -> float:
    """Return the elastic energy of four legs of 10 kN on 10 MN/m, all loaded at the stop [J]."""
    landed = touch(flat(stiffness=1e7), first_contact=first, attitude=np.radians(1.0))
    return float(landed.returned[1, 0])


def leaned() -> float:
    return float(np.degrees(settle(STAGE, touch(flat())).lean[1, 0]))


def tips() -> float:
    vehicle = replace(STAGE, gravity=1.62)
    landed = touch(flat(), vehicle)
    return float(tip_over(vehicle, UPRIGHT, landed, settle(vehicle, landed)).speed[0, 0])


def standing(kick: float) -> float:
    """Net weight of 1 t with a thrust of a part of it, Earth [N]."""
    landing = Touchdown(name="thrust", vertical_speed=3.0, thrust_to_weight=kick)
    return float(arrive(STAGE, landing, Factors(speed_reserve=1.2)).net_weight)


def falling() -> float:
    """Stop inside a piece whose ends do not reach the demand [m]."""
    s, f = np.array([0.0, 0.2]), np.array([60e3, 0.0])
    return float(stop(s, f, work_against(s, f), 1000.0 * EARTH, 4100.0).stroke)


def beyond_the_top() -> float:
    """Whether 4210 J, more than the most inside the piece, bottom; 1 if so."""
    s, f = np.array([0.0, 0.2]), np.array([60e3, 0.0])
    return float(stop(s, f, work_against(s, f), 1000.0 * EARTH, 4210.0).bottomed)


def falling_among_many() -> float:
    """Stop of one case of a hundred on one curve [m]."""
    s, f = np.array([0.0, 0.2]), np.array([60e3, 0.0])
    many = np.full(100, 1000.0 * EARTH), np.linspace(1000.0, 4100.0, 100)
    return float(stop(s, f, work_against(s, f), *many).stroke[-1])


def rising() -> float:
    s, f = np.array([0.0, 0.2]), np.array([0.0, 100e3])
    return float(stop(s, f, work_against(s, f), 1000.0 * EARTH, 500.0).stroke)


def column(*, bottoming: bool) -> float:
    """Force of the worst pair of force and length left [N]."""
    if bottoming:
        crush = invented([0.0, 0.3], [10e3, 10e3])
        peak = 20.6e3 * np.array([[0.85], [1.0], [1.15]])
        met = replace(touch(crush), stroke=np.full((3, 1), 0.3), girder_peak=peak)
    else:
        crush = invented([0.0, 0.3, 0.3, 0.4], [10e3, 10e3, 20.6e3, 20.6e3])
        met = replace(touch(crush), stroke=np.full((3, 1), 0.35))
    leg = Leg(side_load="guide", pad_friction=0.0)
    return float(column_loads(crush, met, leg, girder())[0][0])


def begun(name: str, index: int | tuple[int, ...], **given: Any) -> Callable[[], float]:
    """Return the item of the setup or start of the sample vehicle on legs of 10 MN/m."""

    def found() -> float:
        case = read_case(EXAMPLE)
        leg = Leg(side_load="guide", pad_friction=0.4, damping=0.1)
        landing = Touchdown(name="sample", vertical_speed=3.0, **{"heading": 0.0, **given})
        case = replace(case, vehicle=STAGE, leg=leg)
        made = assemble(case, flat(stiffness=1e7), [Landing(landing, (1, 1, 1, 1), 0.4)])
        of = made[0] if hasattr(made[0], name) else made[1]
        return float(np.asarray(getattr(of, name))[0][index])

    return found


VALUES = tuple(
    derived(what=what, theirs=theirs, ours=ours, unit=unit)
    for what, theirs, ours, unit in (
        ("time until the opposite pad touches", 0.0255959, lambda: float(opposite().time), "s"),
        ("travel of the first pad then", 0.0537941, lambda: float(opposite().travel), "m"),
        ("energy of the first leg then", 2151.76, lambda: float(opposite().energy), "J"),
        ("drop of the centre of gravity then", 0.0668971, lambda: float(opposite().drop), "m"),
        ("energy in motion then", 3004.27, lambda: float(opposite().kinetic), "J"),
        ("speed of the first pad then", 1.203337, lambda: float(opposite().first_speed), "m/s"),
        ("speed of the opposite pad then", 3.251010, lambda: float(opposite().next_speed), "m/s"),
        ("time until the next pad, pivoting", 0.112145, lambda: float(pivoting().time), "s"),
        ("travel of the first pad, pivoting", 0.0056948, lambda: float(pivoting().travel), "m"),
        ("reaction of four legs, the first ahead", 85e3, partial(all_legs, "reaction"), "N"),
        ("work of four legs, the first ahead", 6500.0, partial(all_legs, "work"), "J"),
        ("reaction, twice as steep later", 80e3, partial(all_kinked, "reaction"), "N"),
        ("work, twice as steep later", 4925.0, partial(all_kinked, "work"), "J"),
        ("travel left to the first leg", 0.2, ends, "m"),
        ("time until a pad with c ¼ touches", 0.0279985, partial(quarter, "time"), "s"),
        ("travel of the first pad then, c ¼", 0.0564826, partial(quarter, "travel"), "m"),
        ("axial load over force with a guide", 1.098195, partial(guided, "axial"), ""),
        ("reaction over force with a guide", 1.367812, partial(guided, "reaction"), ""),
        ("side load over force with a guide", 0.981948, partial(guided, "side"), ""),
        ("stroke needed when it bottoms", 0.1490394, needed, "m"),
        ("energy arriving uphill with rotation", 4912.41, partial(arriving, reserve=False), "J"),
        ("the same as a reserve case", 7073.88, partial(arriving, reserve=True), "J"),
        ("stroke of four legs canted 20°", 0.146176, canted, "m"),
        ("force of a leg that bottoms", 88529.2, bottomed, "N"),
        (
            "slip of a pad, 0.1 m of travel, cant 20°",
            0.0363970,
            lambda: float(pad_slip(0.1, np.radians(20.0))),
            "m",
        ),
        ("stop inside a piece of falling force", 0.141627, falling, "m"),
        ("4210 J on it bottom", 1.0, beyond_the_top, ""),
        ("the same among a hundred cases", 0.141627, falling_among_many, "m"),
        ("stop on a force that begins below weight", 0.0684465, rising, "m"),
        ("force of the worst column", 23690.0, partial(column, bottoming=False), "N"),
        ("force of the worst column, bottoming", 23690.0, partial(column, bottoming=True), "N"),
        (
            "reaction over force in a linkage of 2",
            0.5,
            lambda: float(linkage_leg(2.0).reaction),
            "",
        ),
        ("inertia in the motion", 4000.0, begun("inertia", 0), "kg m2"),
        ("damping of a leg in the motion", 10e3, begun("damping", 0), "N s/m"),
        ("grip of a pad in the motion", 5e6, begun("grip", 0), "N/m"),
        ("second pad in the motion", 2.0, begun("pads", (1, 1)), "m"),
        ("third pad in the motion", -2.0, begun("pads", (2, 0)), "m"),
        (
            "height at first contact, 10° forward",
            1.824508,
            begun("position", 2, attitude=np.radians(10.0)),
            "m",
        ),
        (
            "quaternion at first contact, scalar",
            0.9961947,
            begun("attitude", 0, attitude=np.radians(10.0)),
            "",
        ),
        (
            "quaternion at first contact, pitch",
            0.0871557,
            begun("attitude", 2, attitude=np.radians(10.0)),
            "",
        ),
        (
            "gravity along a slope of 10°",
            -1.702907,
            begun("gravity", 0, slope=np.radians(10.0)),
            "m/s2",
        ),
        (
            "gravity into a slope of 10°",
            -9.657663,
            begun("gravity", 2, slope=np.radians(10.0)),
            "m/s2",
        ),
        (
            "first pad of a pair, 45° off the heading",
            1.414214,
            begun("pads", (0, 0), heading=None, first_contact="two"),
            "m",
        ),
        (
            "time to the stop of four legs",
            0.0993596,
            lambda: float(touch(flat()).duration[1, 0]),
            "s",
        ),
        ("lean, one leg low and the rest high", 0.883278, leaned, "°"),
        ("tip-over speed before crush, Moon, k 2", 2.582876, tips, "m/s"),
        ("energy given back by four legs", 20.0, partial(returned, "all"), "J"),
        ("energy given back, one leg first", 20.0, partial(returned, "one"), "J"),
        ("net weight under a thrust of 0.3 weight", 6864.655, partial(standing, 0.3), "N"),
    )
)


@each(VALUES)
def test_a_landing_is_as_worked_by_hand(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize("gap", [0.02, 0.12])
@pytest.mark.parametrize("turning", [0.0, 0.2])
def test_the_next_touch_is_that_of_newton_and_euler_in_time(gap: float, turning: float) -> None:
    """Rigid vehicle in the plane, ramp on the first pad: m z'' = m a − F, m k² θ'' = −F x1.

    A pad at x stands z + x θ down, θ the turn that lowers the first pad; integrated by scipy.
    """
    m, k, x1, xj, v = 1000.0, 2.0, 2.0, -1.0, 3.0

    def force(travel: float) -> float:
        return 20e3 + 100e3 * travel

    def motion(_: float, y: FloatArray) -> list[float]:
        push = force(y[0] + x1 * y[1])
        return [y[2], y[3], EARTH - push / m, -push * x1 / (m * k * k)]

    def touches(_: float, y: FloatArray) -> float:
        return float(y[0] + xj * y[1] - gap)

    touches.terminal = True  # type: ignore[attr-defined] # how solve_ivp is told to end
    run = solve_ivp(
        motion, (0.0, 1.0), [0.0, 0.0, v, turning], events=touches, rtol=1e-10, atol=1e-12
    )
    z, theta, dz, dtheta = run.y_events[0][0]
    s = np.linspace(0.0, 0.5, 4001)
    turn = rotation_per_impulse(x1, 1.0, k, 0.0)
    found = until_next_touch(
        s,
        20e3 + 100e3 * s,
        20e3 * s + 50e3 * s**2,
        mass=m,
        effective=effective_mass(m, x1, turn),
        shared=shared_fraction(x1, xj, turn),
        speed=v,
        acceleration=EARTH,
        gap=gap,
        rotation=turning,
        offset=x1,
        following=xj,
        gyration=k,
    )
    assert not found.pivots
    kinetic = 0.5 * m * (dz**2 + (k * dtheta) ** 2)
    travel = z + x1 * theta
    expected = [
        *(run.t_events[0][0], travel, 20e3 * travel + 50e3 * travel**2, z, kinetic),
        *(dz + x1 * dtheta, dz + xj * dtheta),
    ]
    names = ("time", "travel", "energy", "drop", "kinetic", "first_speed", "next_speed")
    assert_allclose([float(getattr(found, name)) for name in names], expected, rtol=2e-5)


def test_on_the_moon_the_canted_leg_goes_less_far() -> None:
    """4 · 10.641778 kN − 1620 N: 4500/40 947.11/cos 20° = 0.116951 m."""
    leg = Leg(side_load="guide", pad_friction=0.0, cant=np.radians(20.0))
    assert_allclose(
        touch(flat(), replace(STAGE, gravity=1.62), leg).stroke[1, 0], 0.116951, rtol=5e-6
    )
