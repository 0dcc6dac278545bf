"""Books, balance and clearance of the whole vehicle in motion, worked by hand [D].

Four legs of 10 kN (10 MN/m, cant 20°, pads of μ 0.4 slipping inward, guide friction 0.1) at the
stop, s the crush of a leg and x = s + F/K its travel, A/F, V/F and T/F of the sliding leg at the
same friction: crushed 4 F s, elastic 4 F²/2K, friction of pads 4 μ V x sin 20°, of guides
4 · 0.1 T x; what came in is 4500 J and the weight over x cos 20°.
Balance on the Moon, level, h 1.5, R 2: 43.31386° and 909.716 J to the edge. Slope 12° uphill of the
edge: 31.31386° are left, m g ρ (1 − cos) = 1000 · 1.62 · 2.061553 · 0.145677 = 486.515 J.
Clearance, leaned by 10°: centre of gravity 1.5 cos 10° + 2 sin 10° = 1.824508 m up, hard points 0.7
below it at 0.9 m: 1.824508 − 0.7 cos 10° − 0.9 sin 10° = 0.978859 m.
Kinetic energy of 1 t at 3 m/s, k 2 m, ω 0.2 rad/s: 4500 + ½ · 4000 · 0.04 = 4580 J.
"""

from __future__ import annotations

from functools import cache, partial
from typing import TYPE_CHECKING

import numpy as np

from crushleg.landing.leg import sliding_leg
from crushleg.landing.motion.balance import clearance
from crushleg.landing.motion.body import at_start, kinetic, pose_of
from crushleg.landing.motion.ledger import Ledger
from crushleg.landing.motion.run import run
from tests.landing.motion.setups import EARTH, MOON, ends_after, even, flat, touching, vehicle
from tests.outside import Outside, each

if TYPE_CHECKING:
    from collections.abc import Callable

FORCE, K, CANT, MU, GUIDE = 10e3, 1e7, np.radians(20.0), 0.4, 0.1
derived = partial(
    Outside,
    source="energies of a vehicle on four legs",
    place="worked by hand in the docstring",
    status="derived",
    relative=5e-3,
    why="steps in time",
)


@cache
def at_stop() -> tuple[dict[str, float], float]:
    """Energies at the largest travel [J], and that travel [m]."""
    setup = vehicle(even(4), cant=CANT, friction=MU, guide=GUIDE, stiffness=K, grip=50.0)
    with ends_after(0.2, setup):
        moved = run(setup, flat(FORCE, K), touching(setup, (0.0, 0.0, -3.0)), record=True)
    (history,) = moved.history
    last = int(history.travel[:, 0].argmax())
    books = dict(zip(Ledger._fields, history.ledger[last].tolist(), strict=True))
    return books, float(history.travel[last, 0])


def over(name: str, expected: Callable[[float], float]) -> float:
    """Energy in the books over that of the travel found [-]."""
    books, travel = at_stop()
    return books[name] / expected(travel)


def open_at_stop() -> float:
    """Energy that the books leave open [J]."""
    books, _ = at_stop()
    return 2.0 * books["came"] - sum(books.values())


def open_at_rest() -> float:
    """Part of the energy that the books leave open at rest, a leaned vehicle on stuck pads [-]."""
    setup = vehicle(even(4), friction=np.inf, stiffness=1e6)
    start = touching(setup, (0.3, 0.0, -2.0), lean=(0.0, 0.05, 0.0))
    moved = run(setup, flat(FORCE, 1e6), start)
    return float(moved.ledger.open[0] / moved.ledger.came[0])


def rubbed(x: float) -> float:
    ratio = sliding_leg(CANT, MU, GUIDE)
    pads = MU * float(ratio.reaction) * FORCE * x * np.sin(CANT)
    return 4.0 * (float(pads) + GUIDE * float(ratio.side) * FORCE * x)


def resting(name: str, slope: float) -> float:
    """Angle [°] or energy [J] that keeps a vehicle on strong legs and stuck pads from tipping."""
    setup = vehicle(
        even(4, np.pi / 4.0),
        gravity=MOON,
        slope=np.radians(slope),
        uphill=np.pi,
        friction=np.inf,
        stiffness=K,
    )
    moved = run(setup, flat(10e6, K), touching(setup, (0.0, 0.0, -1e-3)))
    found = float(getattr(moved.balance, name)[0])
    return float(np.degrees(found)) if name == "angle" else found


def clear() -> float:
    setup = vehicle(even(4), hull_height=0.7, hull_radius=0.9)
    start = touching(setup, (0.0, 0.0, 0.0), lean=(0.0, np.radians(10.0), 0.0))
    return float(clearance(setup, pose_of(setup, at_start(setup, start)))[0])


def moving() -> float:
    setup = vehicle(even(4))
    start = touching(setup, (0.0, 0.0, -3.0), turning=(0.0, 0.2, 0.0))
    return float(kinetic(setup, at_start(setup, start))[0])


VALUES = (
    *(
        derived(
            what=f"{what} in the books at the stop, over that by hand",
            theirs=1.0,
            ours=partial(over, name, by_hand),
            relative=relative,
            why=why,
        )
        for what, name, by_hand, relative, why in (
            ("crushed", "crushed", lambda x: 4.0 * FORCE * (x - FORCE / K), 1e-6, "exact"),
            (
                "elastic",
                "elastic",
                lambda _: 4.0 * FORCE**2 / (2.0 * K),
                0.01,
                "sideways grip of the pads holds 0.5 %",
            ),
            (
                "friction of pads and guides",
                "friction",
                rubbed,
                0.006,
                "forces rise first: 0.5 % less",
            ),
            (
                "what came in",
                "came",
                lambda x: 4500.0 + 1000.0 * EARTH * x * float(np.cos(CANT)),
                1e-6,
                "exact",
            ),
        )
    ),
    derived(
        what="energy that the books leave open at the stop",
        theirs=0.0,
        ours=open_at_stop,
        relative=0.0,
        absolute=0.1,
        unit="J",
        why="of 5488 J; steps in time",
    ),
    derived(
        what="part that the books leave open at rest",
        theirs=0.0,
        ours=open_at_rest,
        relative=0.0,
        absolute=1e-3,
        why="rebound and rocking in steps of time",
    ),
    *(
        derived(what=what, theirs=theirs, ours=ours, unit=unit)
        for what, theirs, ours, unit in (
            ("angle to the edge at rest, Moon", 43.31386, partial(resting, "angle", 0.0), "°"),
            ("energy to tip at rest, Moon", 909.716, partial(resting, "energy", 0.0), "J"),
            ("angle to the edge on 12°", 31.31386, partial(resting, "angle", 12.0), "°"),
            ("energy to tip on 12°", 486.515, partial(resting, "energy", 12.0), "J"),
        )
    ),
    derived(
        what="clearance leaned by 10°",
        theirs=0.978859,
        ours=clear,
        unit="m",
        relative=2e-6,
        why="digits given",
    ),
    derived(
        what="kinetic energy with rotation",
        theirs=4580.0,
        ours=moving,
        unit="J",
        relative=1e-9,
        why="exact",
    ),
)


@each(VALUES)
def test_the_books_of_a_motion_are_those_by_hand(value: Outside) -> None:
    value.check()
