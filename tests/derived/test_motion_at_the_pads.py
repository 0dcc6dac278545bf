r"""Bottoming, sliding and a damped grip in the motion, worked by hand [D].

*Bottoming.* Four legs of 10 kN over 0.1 m of crush on 10 MN/m, 1 t at 3 m/s: each shortens 1 mm
more, then is stiff. A quarter of 4500 J and of the weight over 0.101 m, less 1005 J: 367.618 J too
many, F = 2451.66 + √((10 000 − 2451.66)² + 2 · 10⁷ · 367.618) = 88 529.2 N. What it held beyond the
end, (F² − 10⁸)/(2 · 10⁷) = 386.871 J, would at 10 kN have taken 0.0386871 m more.
*Sliding.* Flat legs that do not crush, μ 0.4, at √(2 · 0.4 g 0.0985) = 0.879070 m/s: it goes 0.0985
m, and friction takes 0.4 · 9806.65 · 0.0985 = 386.382 J. That is less than 0.05 of the circle of 2
m, so it stands; from 0.892356 m/s it goes 0.1015 m and slides.
*Grip.* Stuck pads, 100 kN/m each sideways, m at 1 m/s along the ground: ω = √(400) = 20 rad/s, c 4
· 2 kN s/m, ζ = 8000/(2 · 1000 · 20) = 0.2. From one stop of the swing to the next the amplitude
falls by exp(−π ζ/√(1 − ζ²)), so the energy held by exp(−2π 0.2/√0.96) = 0.277329; what is lost the
dampers take. At a stop the books hold 4 · ½ · 10⁵ x², and W²/8K = 0.12021 J of the standing legs of
100 MN/m.
*Damped leg.* 10 kN on 1 MN/m, 50 mm of travel so far, of which 10 mm spring; c = 0.4 √(250 · 10⁶) =
6324.555 N s/m. Back at 43 mm it springs 3 kN: at 0.1 m/s inward 3632.456 N; no more than twice the
spring, 6 kN; outward never below zero; and at 49 mm, 9 kN, no more than the 10 kN it crushes at.
*Standing.* h 1.5, R 2, four legs: atan(2 cos 45°/1.5) = 43.31386° to the edge upright; at rest on
12° the axis is 12° from the vertical, but for 1 MN/m: W sin 12° h over the turning spring 4 K R²/2
of 8 MN m tilts by 0.0219°.
"""

from __future__ import annotations

from functools import cache, partial
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.motion.assemble import curves_for
from crushleg.landing.motion.body import at_start, pose_of
from crushleg.landing.motion.ledger import Ledger
from crushleg.landing.motion.outcome import Outcome, outcome
from crushleg.landing.motion.pads import in_the_air, pushed
from crushleg.landing.motion.run import run
from tests.landing.motion.setups import ends_after, even, flat, touching, vehicle
from tests.landing.test_touchdown import flat as legs_of
from tests.outside import Outside, each

if TYPE_CHECKING:
    from collections.abc import Callable

NOMINAL = 1
derived = partial(
    Outside,
    source="work, friction and a damped spring",
    place="worked by hand in the docstring",
    status="derived",
    why="steps in time",
)


@cache
def bottoming() -> Outcome:
    crush = legs_of(end=0.1, stiffness=1e7)
    setup, curves = vehicle(even(4), stiffness=1e7, curve=NOMINAL), curves_for(crush)
    with ends_after(0.2, setup):
        moved = run(setup, curves, touching(setup, (0.0, 0.0, -3.0)))
    return outcome(crush, curves, setup, moved)


@cache
def sliding(speed: float) -> Outcome:
    crush = legs_of(force=1e6, end=1.0, stiffness=1e6)
    curves = curves_for(crush)
    setup = vehicle(even(4), stiffness=1e6, curve=NOMINAL, friction=0.4, height=0.01, grip=20.0)
    return outcome(crush, curves, setup, run(setup, curves, touching(setup, (speed, 0.0, 0.0))))


@cache
def standing() -> Outcome:
    crush = legs_of(force=1e6, end=1.0, stiffness=1e6)
    curves = curves_for(crush)
    setup = vehicle(
        even(4, np.pi / 4.0),
        stiffness=1e6,
        curve=NOMINAL,
        friction=np.inf,
        slope=np.radians(12.0),
    )
    return outcome(crush, curves, setup, run(setup, curves, touching(setup, (0.0, 0.0, -1e-3))))


class Stops(NamedTuple):
    """Sideways displacement of the pads [m] and the books at two stops of a swing, one after."""

    way: tuple[float, float]
    books: tuple[Ledger, Ledger]


@cache
def swinging() -> Stops:
    setup = vehicle(even(4), stiffness=1e8, friction=np.inf, height=1e-3, grip=1e-3)
    with ends_after(0.3, setup):
        moved = run(setup, flat(10e6, 1e8), touching(setup, (1.0, 0.0, 0.0)), record=True)
    (history,) = moved.history
    way = history.place[:, 0, 0] - 2.0
    first = int(way.argmax())
    second = first + int(way[first:].argmin())
    one, other = (Ledger(*history.ledger[at]) for at in (first, second))
    return Stops((float(way[first]), float(way[second])), (one, other))


def damped(travel: float, speed: float) -> float:
    """Force of a leg that springs and has been 50 mm in, moving inward [N]."""
    setup = vehicle(even(4), stiffness=1e6)
    start = touching(setup, (0.0, 0.0, -speed))
    start = start._replace(position=start.position - np.array([0.0, 0.0, travel]))
    pose = pose_of(setup, at_start(setup, start))
    before = in_the_air(setup, pose)
    before = before._replace(most=np.full_like(before.most, 0.05))
    return float(pushed(setup, flat(10e3, 1e6), before, pose).force[0, 0, 2])


def held(stop: int) -> float:
    """Energy held in the books over that by hand [-]."""
    at = swinging()
    by_hand = 4.0 * 0.5 * 1e5 * at.way[stop] ** 2 + 0.12021
    return float(at.books[stop].elastic) / by_hand


def taken() -> float:
    """Work of the dampers between the stops over what the grips lost [-]."""
    first, second = swinging().books
    return float((second.damping - first.damping) / (first.elastic - second.elastic))


def decay() -> float:
    first, second = swinging().way
    return (second / first) ** 2


def further() -> float:
    return float(bottoming().needed[0, 0]) - 0.101


def angle(name: str) -> float:
    return float(np.degrees(getattr(standing(), name)[0]))


def rows(*given: tuple[str, float, Callable[[], float], str, float]) -> tuple[Outside, ...]:
    return tuple(
        derived(what=what, theirs=theirs, ours=ours, unit=unit, relative=relative)
        for what, theirs, ours, unit, relative in given
    )


VALUES = rows(
    ("further stroke that a bottomed leg needs", 0.0386871, further, "m", 5e-3),
    ("force of a bottomed leg", 88529.2, lambda: float(bottoming().girder[0, 0]), "N", 2e-3),
    ("way that pads slide", 0.0985, lambda: float(sliding(0.879070).slide[0, 0]), "m", 3e-3),
    (
        "work of friction on it",
        386.382,
        lambda: float(sliding(0.879070).ledger.friction[0]),
        "J",
        3e-3,
    ),
    ("energy held by the grips at the first stop", 1.0, partial(held, 0), "", 1e-3),
    ("energy held by the grips at the second stop", 1.0, partial(held, 1), "", 1e-3),
    ("energy left of a damped swing", 0.277329, decay, "", 3e-3),
    ("work of the sideways dampers over what was lost", 1.0, taken, "", 1e-3),
    ("damped leg at 0.1 m/s", 3632.456, partial(damped, 0.043, 0.1), "N", 1e-6),
    ("damped leg, fast inward", 6000.0, partial(damped, 0.043, 5.0), "N", 1e-6),
    ("damped leg, near its crush force", 10e3, partial(damped, 0.049, 5.0), "N", 1e-6),
    ("angle to the edge, upright", 43.31386, partial(angle, "angle_before"), "°", 1e-6),
    ("heel at rest on 12 deg", 12.0219, partial(angle, "heel"), "°", 2e-4),
    ("lean at rest on 12 deg", 0.0219, partial(angle, "lean"), "°", 0.01),
)


@each(VALUES)
def test_pads_bottom_slide_and_hold_as_worked_by_hand(value: Outside) -> None:
    value.check()


def test_a_damped_leg_never_pulls() -> None:
    assert damped(0.043, -5.0) == 0.0


def test_it_slides_from_a_twentieth_of_the_circle_on() -> None:
    assert [sliding(speed).word for speed in (0.879070, 0.892356)] == [("stands",), ("slides",)]
