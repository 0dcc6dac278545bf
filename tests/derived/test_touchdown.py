"""Touchdown on all legs at once: m = 1000 kg, v = 3 m/s, worked by hand [D].

Energy: the force less the net weight Wn = m g - T does the work of the kinetic energy,
(F - Wn) S = m v²/2; momentum: (F - Wn) t = m v. On a ramp F0 + c s the first is the quadratic
c S²/2 + (F0 - Wn) S = m v²/2; its motion is a quarter swing about (Wn - F0)/c at √(c/m), so
t = atan2(√(c/m) v, (F0 - Wn)/m)/√(c/m). On steps each one takes (F_i - Wn) of its length. The
ramps and steps were confirmed by numerical time integration; gravity as printed.

A leg canted by γ whose pad slips inward: the ground pushes V up and μV outward. F is what of both
runs along the axis, V (cos γ − μ sin γ); T across it, V (sin γ + μ cos γ). v² = 2 g h; inch
25.4 mm, foot 304.8 mm, mile 1609.344 m, exact.
"""

from __future__ import annotations

from functools import cache, partial

import numpy as np
from numpy.testing import assert_allclose

from crushleg.landing.energy import Stop, stop, swept_peak, work_against
from crushleg.landing.ideal import constant_force_stop, drop_height, free_fall_speed
from crushleg.landing.leg import sliding_leg
from crushleg.landing.rates import STANDARD_GRAVITY, accelerometer, deceleration, gear_factor
from crushleg.landing.timing import duration, speed_left
from tests.outside import Outside, each

MASS, SPEED, EARTH, MOON = 1000.0, 3.0, 9.80665, 1.62
DEMAND = 0.5 * MASS * SPEED**2
WEIGHT = MASS * EARTH
FORCE = 40e3
STEP_STROKE = np.array([0.0, 0.06, 0.06, 0.12, 0.12, 0.27])
STEP_FORCE = np.array([15e3, 15e3, 25e3, 25e3, 40e3, 40e3])
STEP_ENERGY = work_against(STEP_STROKE, STEP_FORCE)


by_hand = partial(Outside, status="derived", why="half a unit of the last digit given")
balance = partial(by_hand, source="energy and momentum of a falling mass")
NET = {"Earth": MASS * EARTH, "Moon": MASS * MOON, "thrust = weight": 0.0}


def constant(net: float) -> tuple[Stop, float]:
    """Stop and time on a straight curve of 40 kN."""
    s, f = np.linspace(0.0, 0.3, 7), np.full(7, FORCE)
    e = work_against(s, f)
    rest = stop(s, f, e, net, DEMAND)
    return rest, float(duration(s, f, e, net, MASS, SPEED, rest.stroke))


@cache
def ramp(first: float) -> tuple[float, float, float]:
    """Stroke, time and peak on a ramp of 200 kN/m, cut into pieces."""
    s = np.linspace(0.0, 0.4, 16001)
    f, e = first + 200e3 * s, first * s + 100e3 * s**2
    rest = stop(s, f, e, WEIGHT, DEMAND)
    t = duration(s, f, e, WEIGHT, MASS, SPEED, rest.stroke)
    return float(rest.stroke), float(t), float(swept_peak(s, f, rest.stroke))


def of_ramp(first: float, index: int) -> float:
    return ramp(first)[index]


def canted(name: str) -> float:
    return float(getattr(sliding_leg(np.radians(20.0), 0.4, 0.0), name))


def height(speed: float, unit: float) -> float:
    return float(drop_height(speed)) / unit


def whole_ramp() -> Stop:
    """One straight piece: exact."""
    s, f = np.array([0.0, 0.4]), np.array([10e3, 90e3])
    return stop(s, f, work_against(s, f), WEIGHT, DEMAND)


def efficiency() -> float:
    rest = whole_ramp()
    return float(rest.energy / (rest.force * rest.stroke))


def steps() -> float:
    return float(stop(STEP_STROKE, STEP_FORCE, STEP_ENERGY, WEIGHT, DEMAND).stroke)


def steps_time() -> float:
    given = STEP_STROKE, STEP_FORCE, STEP_ENERGY, WEIGHT, MASS, SPEED, steps()
    return float(duration(*given))


def speed_after(step: int) -> float:
    return float(speed_left(STEP_STROKE, STEP_ENERGY, WEIGHT, MASS, SPEED)[2 * step - 1])


def corner(mass: float, speed: float, force: float) -> float:
    m = mass * MASS
    return float(constant_force_stop(m, speed * SPEED, force * FORCE, m * EARTH)[0])


def swept_at_half_mass(factor: float) -> float:
    """Largest force at 1.5 m/s on the steps times ``factor``."""
    f, e = factor * STEP_FORCE, factor * STEP_ENERGY
    rest = stop(STEP_STROKE, f, e, WEIGHT, 0.5 * MASS * 1.5**2)
    return float(swept_peak(STEP_STROKE, f, rest.stroke))


CONSTANT = tuple(
    balance(
        what=f"{what}, constant 40 kN, {where}",
        theirs=theirs,
        ours=ours,
        place=formula,
        absolute=absolute,
        unit=unit,
    )
    for where, stroke, time, energy in (
        ("Earth", 0.1490394, 0.099360, 5961.578),
        ("Moon", 0.117249, 0.078166, 4689.943),
        ("thrust = weight", 0.112500, 0.075000, 4500.000),
    )
    for what, theirs, ours, formula, absolute, unit in (
        (
            "stroke",
            stroke,
            lambda w=where: float(constant(NET[w])[0].stroke),
            "S = m v²/[2 (F − Wn)]",
            5e-7,
            "m",
        ),
        ("time", time, lambda w=where: constant(NET[w])[1], "t = m v/(F − Wn)", 5e-7, "s"),
        ("energy", energy, lambda w=where: float(constant(NET[w])[0].energy), "E = F S", 5e-4, "J"),
    )
)
RAMPS = tuple(
    balance(
        what=f"{what}, ramp of 200 kN/m from {first / 1e3:g} kN, Earth",
        theirs=theirs,
        ours=partial(of_ramp, first, index),
        place="quarter swing on a ramp",
        absolute=absolute,
        unit=unit,
    )
    for first, row in (
        (10e3, (0.211167, 0.110750, 52_233.5)),
        (0.0, (0.266758, 0.127134, 53_351.7)),
    )
    for index, (what, theirs, absolute, unit) in enumerate(
        zip(
            ("stroke", "time", "largest force"),
            row,
            (5e-7, 5e-7, 0.05),
            ("m", "s", "N"),
            strict=True,
        )
    )
)
STEPS = tuple(
    balance(
        what=f"{what}, steps of 15, 25, 40 kN over 60, 60, 150 mm, Earth",
        theirs=theirs,
        ours=ours,
        place="(F − Wn) s of each step",
        absolute=5e-7,
        unit=unit,
    )
    for what, theirs, ours, unit in (
        ("stroke", 0.228527, steps, "m"),
        ("time", 0.127147, steps_time, "s"),
        ("speed after the first", 2.894270, lambda: speed_after(1), "m/s"),
        ("speed after the second", 2.559999, lambda: speed_after(2), "m/s"),
    )
)
VALUES = (
    *CONSTANT,
    balance(
        what="gear factor, 40 kN under 1 t",
        theirs=4.07886,
        ours=lambda: float(gear_factor(FORCE, MASS)),
        place="F/(m g0)",
        absolute=5e-6,
    ),
    balance(
        what="deceleration over g0, 40 kN under 1 t",
        theirs=3.07886,
        ours=lambda: float(deceleration(FORCE, WEIGHT, MASS)) / STANDARD_GRAVITY,
        place="(F − Wn)/(m g0)",
        absolute=5e-6,
    ),
    balance(
        what="accelerometer over g0, 40 kN under 1 t",
        theirs=4.07886,
        ours=lambda: float(accelerometer(FORCE, 0.0, MASS)) / STANDARD_GRAVITY,
        place="(F + T)/(m g0)",
        absolute=5e-6,
    ),
    *RAMPS,
    balance(
        what="energy, ramp from 10 kN",
        theirs=6570.846,
        ours=lambda: float(whole_ramp().energy),
        place="m v²/2 + m g S",
        absolute=5e-4,
        unit="J",
    ),
    balance(
        what="efficiency E/(F_peak S), ramp from 10 kN",
        theirs=0.59572,
        ours=efficiency,
        place="(F0 + F_peak)/(2 F_peak)",
        absolute=5e-6,
    ),
    *STEPS,
    balance(
        what="stroke, mass +5 %, speed +10 %, force −15 %",
        theirs=0.24120,
        ours=lambda: corner(1.05, 1.10, 0.85),
        place="constant force",
        absolute=5e-6,
        unit="m",
    ),
    balance(
        what="stroke, mass −5 %, speed +10 %, force +15 %",
        theirs=0.14101,
        ours=lambda: corner(0.95, 1.10, 1.15),
        place="constant force",
        absolute=5e-6,
        unit="m",
    ),
    balance(
        what="gear factor, mass −5 %, force +15 %",
        theirs=4.938,
        ours=lambda: float(gear_factor(1.15 * FORCE, 0.95 * MASS)),
        place="constant force",
        absolute=5e-4,
    ),
    *(
        balance(
            what=f"largest force of the {leg} steps at 1.5 m/s",
            theirs=theirs,
            ours=partial(swept_at_half_mass, factor),
            place=reason,
            relative=1e-9,
            unit="N",
            why="a step times its factor",
        )
        for leg, factor, theirs, reason in (
            ("weak", 0.85, 34.0e3, "1125 J come in, two steps less weight hold 863 J"),
            ("strong", 1.15, 28.75e3, "1125 J come in, two steps less weight hold 1583 J"),
        )
    ),
    *(
        by_hand(
            what=f"{what}, cant 20°, μ 0.4",
            theirs=theirs,
            ours=partial(canted, name),
            source="statics of a sliding pad",
            place=formula,
            absolute=5e-6,
        )
        for what, name, theirs, formula in (
            ("ground reaction over crush force V/F", "reaction", 1.24551, "1/(cos γ − μ sin γ)"),
            ("side load over crush force T/F", "side", 0.89415, "tan(γ + arctan μ)"),
        )
    ),
    *(
        by_hand(
            what=f"drop height of {what}",
            theirs=theirs,
            ours=partial(height, speed, unit),
            source="free fall",
            place="h = v²/(2 g0)",
            absolute=absolute,
            unit=symbol,
        )
        for what, speed, unit, theirs, absolute, symbol in (
            ("3 m/s", 3.0, 1.0, 0.458872, 5e-7, "m"),
            ("10 ft/s", 10 * 0.3048, 0.0254, 18.649, 5e-4, "in"),
            ("12 ft/s", 12 * 0.3048, 0.0254, 26.854, 5e-4, "in"),
        )
    ),
    by_hand(
        what="speed after a fall of 13 in",
        theirs=2.5449,
        ours=lambda: float(free_fall_speed(13 * 0.0254, 0.0, EARTH)),
        source="free fall",
        place="v = √(2 g h)",
        absolute=5e-5,
        unit="m/s",
    ),
    by_hand(
        what="touchdown after cut-off at 13 ft and 3.3 mph over the Moon",
        theirs=3.8749,
        ours=lambda: float(free_fall_speed(13 * 0.3048, 3.3 * 1609.344 / 3600.0, MOON)),
        source="free fall; cut-off from a press report of 1966",
        place="√(v² + 2 g h)",
        absolute=5e-5,
        unit="m/s",
    ),
)


@each(VALUES)
def test_touchdown_on_all_legs_is_the_one_worked_by_hand(value: Outside) -> None:
    value.check()


def test_the_closed_form_is_the_stop_on_the_curve() -> None:
    for net in NET.values():
        rest, time = constant(net)
        closed = np.array(constant_force_stop(MASS, SPEED, FORCE, net))
        assert_allclose(closed, np.array([rest.stroke, time, rest.energy]), rtol=1e-12)


def test_thrust_moves_deceleration_and_accelerometer_by_the_same_but_not_the_gear_factor() -> None:
    """(F - m g + T)/m against (F + T)/m: both gain T/m, they stay g apart."""
    thrust = 0.3 * WEIGHT
    slowed = deceleration(FORCE, WEIGHT - thrust, MASS)
    assert_allclose(accelerometer(FORCE, thrust, MASS) - slowed, EARTH, rtol=1e-12)
    assert_allclose(slowed - deceleration(FORCE, WEIGHT, MASS), thrust / MASS, rtol=1e-12)
