"""The vehicle at rest, and what its girders carry as columns and springs, worked by hand [D].

Lean: least-squares plane through n even legs, |∇s| = 2/(nR) |Σ s e^{iθ}|; 0.12, 0.15, 0.18,
0.15 m on four legs at 2 m: 2/8 · 0.06 = 0.015, atan 0.8594°. Three legs 0.10, 0.16, 0.16 m at
3 m: |0.10 − 0.16| · 2/9 = 0.013333. Two legs: the line through both, 0.06/4 = 0.015. At a travel
of cos 20° per stroke the first is 0.014095.
Clearance: 0.8 − 0.15 − 0.9 · 0.015 − 0.02 = 0.6165 m.
Standing: share W/n, a moment M in the direction of a leg adds 2M/(nR): 60 kN, six legs, 30 kN·m,
3 m: 10 + 3.3333 kN. At M = WR/2 it is 2W/n; from there in a straight line to W at M = WR: halfway
(M = ¾WR) on four legs ½(½ + 1) W. It goes over at M = W R cos(π/n), 141.42 N·m of 100 N on four
legs at 2 m; three legs: 100.
Spring: F 40 kN on K 50 MN/m shortens 0.8 mm and holds 16 J. Left with 80 J at 30 kN on 10 MN/m:
√(30² + 2·10·80) = 50 kN; with 10 kN of weight on it 10 + √(20² + 1600) = 54.7214 kN.
Euler: π² 200e9 · 1e-6/(2 · 0.7 m)² = 1 007 102.5 N.
"""

from __future__ import annotations

from functools import partial

import numpy as np

from crushleg.landing.elastic import bottoming_force, with_elastic
from crushleg.landing.members import euler_load
from crushleg.landing.settle import (
    clearance_left,
    crush_tilt,
    lean_angle,
    standing_load,
    topples,
    worst_share_after,
)
from tests.outside import Outside, each

derived = partial(
    Outside, source="statics", status="derived", why="half a unit of the last digit given"
)
FOUR = np.array([0.12, 0.15, 0.18, 0.15])


def tilt(strokes: tuple[float, ...], radius: float, travel: float = 1.0) -> float:
    azimuths = 2.0 * np.pi * np.arange(len(strokes)) / len(strokes)
    return float(crush_tilt(strokes, azimuths, radius, travel))


def lean() -> float:
    return float(np.degrees(lean_angle(tilt(tuple(FOUR), 2.0))))


def topples_from(legs: int) -> float:
    """Least moment that tips 100 N on ``legs`` at 2 m, by bisection [N m]."""
    low, high = 0.0, 1000.0
    for _ in range(50):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if topples(100.0, legs, middle, 2.0) else (middle, high)
    return high


def sprung(index: int) -> float:
    """Displacement [m] and energy [J] of a curve of 40 kN over 0.1 m on 50 MN/m, at its end."""
    curve = with_elastic([0.0, 0.1], [40e3, 40e3], [0.0, 4e3], 5e7)
    return float(curve[index][-1])


VALUES = (
    derived(
        what="lean of four legs, opposite pads 4 m apart",
        theirs=0.8594,
        ours=lean,
        place="atan of the slope of the plane",
        absolute=5e-5,
        unit="°",
    ),
    *(
        derived(
            what=f"slope of the vehicle on {name}",
            theirs=theirs,
            ours=ours,
            place="plane of best fit",
            absolute=5e-7,
        )
        for name, theirs, ours in (
            ("four legs", 0.015, partial(tilt, tuple(FOUR), 2.0)),
            ("three legs", 0.0133333, partial(tilt, (0.10, 0.16, 0.16), 3.0)),
            ("two legs", 0.015, partial(tilt, (0.15, 0.09), 2.0)),
            ("one leg", 0.0, partial(tilt, (0.15,), 2.0)),
            ("four legs canted 20°", 0.0140954, partial(tilt, tuple(FOUR), 2.0, 0.9396926)),
        )
    ),
    derived(
        what="clearance left",
        theirs=0.6165,
        ours=lambda: float(clearance_left(0.8, 0.15, 0.9, 0.015, 0.02)),
        place="c − z − r_c |∇s| − sinkage",
        relative=1e-9,
        unit="m",
        why="exact",
    ),
    *(
        derived(
            what=f"load on the worst leg standing, {name}",
            theirs=theirs,
            ours=partial(lambda *given: float(standing_load(*given)), *given),
            place=formula,
            relative=1e-6,
            unit="N",
        )
        for name, given, theirs, formula in (
            ("60 kN, six legs, 30 kN·m at 3 m", (60e3, 6, 30e3, 3.0), 13333.333, "W/n + 2M/(nR)"),
            ("100 N, four legs, M = WR/2", (100.0, 4, 100.0, 2.0), 50.0, "2W/n"),
            ("100 N, four legs, M = ¾WR", (100.0, 4, 150.0, 2.0), 75.0, "halfway to W"),
            ("100 N, four legs, M = WR", (100.0, 4, 200.0, 2.0), 100.0, "W"),
            ("100 N, four legs, beyond that", (100.0, 4, 240.0, 2.0), 100.0, "W"),
        )
    ),
    *(
        derived(
            what=f"moment that topples 100 N on {legs} legs at 2 m",
            theirs=theirs,
            ours=partial(topples_from, legs),
            place="W R cos(π/n)",
            absolute=5e-5,
            unit="N·m",
        )
        for legs, theirs in ((3, 100.0), (4, 141.4214), (6, 173.2051))
    ),
    *(
        derived(
            what=f"worst share of the weight afterwards, {legs} legs",
            theirs=theirs,
            ours=partial(lambda n: float(worst_share_after(n)), legs),
            place="three legs stand, four rock on a diagonal pair",
            absolute=1e-9,
            why="exact",
        )
        for legs, theirs in ((1, 1.0), (2, 0.5), (3, 1 / 3), (4, 0.5), (6, 1 / 3))
    ),
    derived(
        what="displacement with elastic shortening, 40 kN on 50 MN/m",
        theirs=0.1008,
        ours=partial(sprung, 0),
        place="s + F/K",
        relative=1e-9,
        unit="m",
        why="exact",
    ),
    derived(
        what="energy with elastic shortening, 40 kN on 50 MN/m",
        theirs=4016.0,
        ours=partial(sprung, 2),
        place="E + F²/(2K)",
        relative=1e-9,
        unit="J",
        why="exact",
    ),
    derived(
        what="bottoming force, 80 J left at 30 kN on 10 MN/m",
        theirs=50e3,
        ours=lambda: float(bottoming_force(30e3, 80.0, 1e7)),
        place="√(F² + 2KΔE)",
        relative=1e-9,
        unit="N",
        why="exact",
    ),
    derived(
        what="bottoming force, the same under 10 kN of weight",
        theirs=54721.36,
        ours=lambda: float(bottoming_force(30e3, 80.0, 1e7, 10e3)),
        place="Wn + √((F − Wn)² + 2KΔE)",
        absolute=5e-3,
        unit="N",
    ),
    derived(
        what="Euler load, E 200 GPa, I 1e-6 m4, K 2, 0.7 m",
        theirs=1007102.5,
        ours=lambda: float(euler_load(np.array(200e9), np.array(1e-6), 2.0, np.array(0.7))),
        place="π² E I/(K ℓ)²",
        absolute=0.05,
        unit="N",
    ),
)


@each(VALUES)
def test_at_rest_it_is_as_worked_by_hand(value: Outside) -> None:
    value.check()
