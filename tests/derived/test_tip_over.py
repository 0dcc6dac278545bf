"""Tip-over: h 1.5 m, R 2 m, four legs, k 1 m, worked by hand [D].

r = 2 cos 45° = 1.41421, ρ² = 1.5² + 2 = 4.25, α = atan(r/h). Tipping lifts the centre of gravity
to straight above the line: ΔE = m g ρ (1 - cos(α - tilt)). A speed v whose pads stick at once
keeps its angular momentum m h v about the line: Ip ω = m h v with Ip = m (1 + 4.25), and
Ip ω²/2 = ΔE gives the critical speed; it goes with √g.

Uneven crush: the pair at the line has crushed 0.10 m more than the pair across, 2 r = 2.828 m
apart, lean 2.0249°. h' = 1.35, ρ'² = 1.35² + 2 = 3.8225, ρ' = 1.95512, α' = 46.3308°;
1 − cos(46.3308° − 2.0249°) = 0.284379 and v = √(2 (k² + ρ'²) g ρ' 0.284379)/h' =
√(2 · 4.8225 · 1.62 · 1.95512 · 0.284379)/1.35 = 2.18329, 43 % of the gain of even crush is lost.
Slip 0.1 m: r' = 1.31421, ρ'² = 3.97716, ρ' = 1.99428, ρ' − h = 0.49428 and
v = √(2 · 4.97716 · 1.62 · 0.49428)/1.5 = 1.88217. With k 2 m: √(2 · 8.25 · 1.62 · 0.561553)/1.5 =
2.582876 m/s.
"""

from __future__ import annotations

from functools import partial

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from crushleg.landing.tip_over import (
    after_crush,
    critical_speed,
    edge_angle,
    edge_distance,
    energy_to_tip,
)
from tests.outside import Outside, each

MASS, MOON, MARS, HEIGHT, GYRATION = 1000.0, 1.62, 3.71, 1.5, 1.0
LINE = edge_distance(2.0, 4)


derived = partial(
    Outside,
    source="angular momentum kept about the edge between two pads",
    status="derived",
    why="half a unit of the last digit given",
)


def speed(
    gravity: float, slope: float = 0.0, crush: float = 0.0, uneven: float = 0.0, slip: float = 0.0
) -> float:
    """Critical speed on a slope [°], after an even crush, legs at the line crushed more [m]."""
    h, r = after_crush(HEIGHT, LINE, crush, slip)
    tilt = np.radians(slope) + np.arctan(uneven / (2.0 * LINE))
    return float(critical_speed(gravity, h, r, GYRATION, tilt))


VALUES = (
    derived(
        what="angle at the edge",
        theirs=43.31386,
        place="α = atan(r/h)",
        unit="°",
        ours=lambda: float(np.degrees(edge_angle(HEIGHT, LINE))),
        absolute=5e-6,
    ),
    derived(
        what="energy to tip, 1 t on the Moon",
        theirs=909.716,
        unit="J",
        ours=lambda: float(energy_to_tip(MASS, MOON, HEIGHT, LINE, 0.0)),
        absolute=5e-4,
        place="m g ρ (1 − cos(α − tilt))",
    ),
    *(
        derived(
            what=f"critical speed, {where}",
            theirs=theirs,
            ours=ours,
            absolute=absolute,
            place="√(2 Ip ΔE)/(m h)",
            unit="m/s",
        )
        for where, theirs, ours, absolute in (
            ("Moon, level", 2.060422, lambda: speed(MOON), 5e-7),
            ("Moon, slope 12°", 1.506741, lambda: speed(MOON, 12.0), 5e-7),
            ("Mars, level", 3.118068, lambda: speed(MARS), 5e-7),
            ("Moon, after 0.15 m of even crush", 2.277698, lambda: speed(MOON, crush=0.15), 5e-7),
            ("Moon, 0.10 m of it uneven", 2.18329, lambda: speed(MOON, 0.0, 0.15, 0.10), 5e-6),
            ("Moon, pads slipped inward 0.1 m", 1.88217, lambda: speed(MOON, slip=0.1), 5e-6),
        )
    ),
    derived(
        what="critical speed, Moon, level, k 2 m",
        theirs=2.582876,
        ours=lambda: float(critical_speed(MOON, HEIGHT, LINE, 2.0, 0.0)),
        absolute=5e-6,
        place="√(2 Ip ΔE)/(m h)",
        unit="m/s",
    ),
)


@each(VALUES)
def test_tip_over_is_as_worked_by_hand(value: Outside) -> None:
    value.check()


@given(
    height=st.floats(0.0, 50.0),
    distance=st.floats(0.0, 20.0),
    travel=st.floats(0.0, 60.0),
    slip=st.floats(0.0, 30.0),
    tilt=st.floats(-1.5, 1.5),
)
def test_never_negative_and_never_undefined(
    height: float, distance: float, travel: float, slip: float, tilt: float
) -> None:
    h, r = after_crush(height, distance, travel, slip)
    assert min(h, r) >= 0.0
    speed = critical_speed(MOON, h, r, GYRATION, tilt)
    assert speed >= 0.0
    assert energy_to_tip(MASS, MOON, h, r, tilt) >= 0.0
    if tilt >= edge_angle(h, r):
        assert speed == 0.0
