r"""First legs alone, the time of all legs, lean and tip-over after crush, a bent leg, by hand [D].

1 t at 3 m/s on four legs of 10 kN, h 1.5, R 2, k 2 m; low and high force 0.85 and 1.15 of it.

*Time.* One leg first, leaned by 1°: it carries m/2, the body turns at F x1/(m k²) = 5 rad/s² and
comes down 3 t − 0.096675 t². The pads beside it, on the axis of the turn and 2 tan 1° = 34.910 mm
up, touch at 0.0116411 s, at 2.997749 m/s and 0.058205 rad/s: √(2.997749² + 4 · 0.058205²) =
3.000009 m/s of all legs, that 40 kN less the weight stop in 3000.009/30 193.35 s: 0.1110010 s in
all.
*First legs that bottom.* 0.02 m of crush on 10 MN/m, leaned by 5°. One leg has m/2: 2250 + 4903.325
z = 10⁴ z − 5 at z = 0.4424453 m. After 0.021 m 2250 + 102.97 − 205 = 2147.970 J are too many: F =
2451.6625 + √(7548.3375² + 2 · 10⁷ · 2147.970) = 209 855.6 N. A pair, x1 = √2, has 2 m/3: 3000 +
6537.77 z = 2 · 10⁴ z − 10 at 0.2235885 m; 1363.6466 J too many for each, 167 769.3 N.
*Lean.* Two legs first, low to high 0.20, 0.15, 0.10 m, the others 0.08, 0.06, 0.04 m. All low:
0.14 m of travel on average, slope (2/8) · 0.12 √2, 2.429397°. One low and the rest high: 0.20,
0.10, 0.04, 0.04: 0.095 m, (2/8) √(0.16² + 0.06²), 2.446189°.
*Tip-over on the Moon.* All low: 4500/(34 000 − 1620) = 0.1389747 m down, h 1.361025, r √2, atan r/h
= 46.097955°; (k² + h² + r²) = 7.852389, √(h² + r²) − h = 0.601725: √(2 · 7.852389 · 1.62 ·
0.601725)/h = 2.874792 m/s. One low and the rest high, 0.1013970 m: mean 0.1107914 m, leaned by
0.538244°, h 1.389209, r/h 45.511034°, √(h² + r²) (1 − cos 44.972790°) = 0.579965, 2.778689 m/s.
*Bent.* 200 kN, μ 0.4 on 1 m, no tolerances. Low: 170 kN, start force 4 · 136 · 4 · 220 = 478.720
kN, M = 68 kN m, 220 · 110 976 (1 − 170/478.720) = 15.74472 kN m. 0.2315 of M, nominal 0.2807 and
high 0.2947: low is worst. Rows of 60 mm at 0.1 and 0.5 m: Z 110 976 − 8 (60 · 68 + 30²) = 71 136
mm³, low start force 478.720 · 76/136 = 267.520 kN. The force steps from 160 to 240 kN at 0.30 m,
before the row at 0.5 m begins at 0.7 (0.5 − H) > 0.31 m: 204 kN, 40.8 kN m on the row, 220 · 71 136
(1 − 204/267.520) = 3.71592 kN m, 0.0911 of it; 0.1717 where it is held.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from crushleg.case.records import Leg, Row
from crushleg.landing.afterwards import settle, tip_over
from crushleg.landing.members import bending_moments
from tests.landing.test_touchdown import STAGE, UPRIGHT, flat, invented, touch
from tests.outside import Outside, each
from tests.samples import girder

if TYPE_CHECKING:
    from crushleg.landing.touchdown import Landed

MOON = replace(STAGE, gravity=1.62)
derived = partial(
    Outside,
    source="motion and statics of a rigid vehicle in the plane",
    place="worked by hand in the docstring",
    status="derived",
    relative=3e-6,
    why="digits given",
)


def time_of_all_legs() -> float:
    landed = touch(flat(), first_contact="one", attitude=np.radians(1.0))
    return float(landed.duration[1, 0])


def bottomed(first: str, name: str) -> float:
    """Of first legs that bottom before the others touch: travel needed [m] or force [N]."""
    crush = flat(end=0.02, stiffness=1e7)
    landed = touch(crush, first_contact=first, attitude=np.radians(5.0))
    return float(getattr(landed, name)[1, 0])


def uneven() -> Landed:
    return replace(
        touch(flat()),
        first=2,
        stroke=np.array([[0.20], [0.15], [0.10]]),
        others=np.array([[0.08], [0.06], [0.04]]),
    )


def settled(name: str, index: int) -> float:
    """Mean travel [m] or lean [°]: all low, and one low with the rest high."""
    found = float(getattr(settle(STAGE, uneven()), name)[index, 0])
    return float(np.degrees(found)) if name == "lean" else found


def tips(name: str, index: int) -> float:
    """Tip-over speed [m/s] or angle [°] on the Moon."""
    landed = touch(flat(), MOON)
    found = float(getattr(tip_over(MOON, UPRIGHT, landed, settle(MOON, landed)), name)[index, 0])
    return found if name == "speed" else float(np.degrees(found))


def bent(index: int) -> float:
    """Worst moment and its capacity [kN m]."""
    record = girder(wall_tolerance=0.0, hole_tolerance=0.0)
    crush = invented([0.0, 0.3], [200e3, 200e3], record=record)
    leg = Leg(side_load="girder", pad_friction=0.4)
    return float(bending_moments(crush, touch(crush, leg=leg), leg, record)[index][0]) / 1e3


def bent_at_a_row(index: int) -> float:
    """Worst moment and its capacity with two rows, the force stepping up before the upper one."""
    rows = (Row(height=height, size=60e-3) for height in (0.1, 0.5))
    record = girder(*rows, wall_tolerance=0.0, hole_tolerance=0.0)
    crush = invented([0.0, 0.3, 0.3, 0.7], [160e3, 160e3, 240e3, 240e3], record=record)
    leg = Leg(side_load="girder", pad_friction=0.4)
    landed = replace(touch(crush, leg=leg), stroke=np.full((3, 1), 0.6))
    return float(bending_moments(crush, landed, leg, record)[index][0]) / 1e3


VALUES = (
    derived(
        what="time of one leg, then of all",
        theirs=0.1110010,
        ours=time_of_all_legs,
        unit="s",
        relative=5e-5,
        why="small angles: 2 · 1° for 2 tan 1°",
    ),
    *(
        derived(what=what, theirs=theirs, ours=ours, unit=unit)
        for what, theirs, ours, unit in (
            *(
                (f"{what} of {legs} that bottom", theirs, partial(bottomed, first, name), unit)
                for legs, first, row in (
                    ("one first leg", "one", (0.4424453, 209855.6)),
                    ("a pair of first legs", "two", (0.2235885, 167769.3)),
                )
                for what, theirs, name, unit in (
                    ("travel needed", row[0], "stroke_needed", "m"),
                    ("force", row[1], "peak", "N"),
                )
            ),
            ("mean travel, all low", 0.14, partial(settled, "travel", 0), "m"),
            ("mean travel, one low", 0.095, partial(settled, "travel", 1), "m"),
            ("lean of a pair, all low", 2.429397, partial(settled, "lean", 0), "°"),
            ("lean of a pair, one low", 2.446189, partial(settled, "lean", 1), "°"),
            ("tip-over speed, even crush, Moon", 2.874792, partial(tips, "speed", 1), "m/s"),
            ("tip-over speed, uneven crush, Moon", 2.778689, partial(tips, "speed", 2), "m/s"),
            ("angle to the edge, even crush", 46.097955, partial(tips, "angle", 1), "°"),
            ("angle to the edge, uneven crush", 45.511034, partial(tips, "angle", 2), "°"),
            ("tilt, uneven crush", 0.538244, partial(tips, "tilt", 2), "°"),
            ("moment of the worst bent leg", 68.0, partial(bent, 0), "kN m"),
            ("capacity of the worst bent leg", 15.74472, partial(bent, 1), "kN m"),
            ("moment on a row halfway up", 40.8, partial(bent_at_a_row, 0), "kN m"),
            ("capacity of a row halfway up", 3.71592, partial(bent_at_a_row, 1), "kN m"),
        )
    ),
)


@each(VALUES)
def test_first_legs_and_what_comes_after_are_as_worked_by_hand(value: Outside) -> None:
    value.check()
