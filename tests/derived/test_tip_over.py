"""Tip-over: h 1.5 m, R 2 m, four legs, k 1 m, worked by hand [D].

r = 2 cos 45° = 1.41421, ρ² = 1.5² + 2 = 4.25, α = atan(r/h). Tipping lifts the centre of gravity
to straight above the line: ΔE = m g ρ (1 - cos(α - tilt)). A speed v whose pads stick at once
keeps its angular momentum m h v about the line: Ip ω = m h v with Ip = m (1 + 4.25), and
Ip ω²/2 = ΔE gives the critical speed; it goes with √g.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from crushleg.landing.tip_over import (
    after_crush,
    critical_speed,
    edge_angle,
    edge_distance,
    energy_to_tip,
)

MASS, MOON, MARS, HEIGHT, GYRATION = 1000.0, 1.62, 3.71, 1.5, 1.0
LINE = edge_distance(2.0, 4)


def test_angle_and_energy_on_the_moon() -> None:
    assert_allclose(np.degrees(edge_angle(HEIGHT, LINE)), 43.31386, atol=5e-6)
    assert_allclose(energy_to_tip(MASS, MOON, HEIGHT, LINE, 0.0), 909.716, atol=5e-4)


@pytest.mark.parametrize(
    ("gravity", "slope", "speed"),
    [(MOON, 0.0, 2.060422), (MOON, 12.0, 1.506741), (MARS, 0.0, 3.118068)],
)
def test_critical_speed(gravity: float, slope: float, speed: float) -> None:
    found = critical_speed(gravity, HEIGHT, LINE, GYRATION, np.radians(slope))
    assert_allclose(found, speed, atol=5e-7)


def test_even_crush_lowers_the_vehicle_and_helps() -> None:
    lower = after_crush(HEIGHT, LINE, 0.15, 0.0)
    assert_allclose(critical_speed(MOON, *lower, GYRATION, 0.0), 2.277698, atol=5e-7)


def test_a_tenth_of_a_metre_uneven_takes_back_nearly_half_of_that_gain() -> None:
    """The pair at the line has crushed 0.10 m more than the pair across, 2 r = 2.828 m apart.

    Lean 2.0249°. After the crush h' = 1.35, ρ'² = 1.35² + 2 = 3.8225, ρ' = 1.95512, α' =
    46.3308°; 1 - cos(46.3308° - 2.0249°) = 0.284379 and v = √(2 (k² + ρ'²) g ρ' 0.284379)/h' =
    √(2 · 4.8225 · 1.62 · 1.95512 · 0.284379)/1.35 = 2.18329, 43 % of the gain.
    """
    lower = after_crush(HEIGHT, LINE, 0.15, 0.0)
    leaning = critical_speed(MOON, *lower, GYRATION, np.arctan(0.10 / (2.0 * LINE)))
    assert_allclose(leaning, 2.18329, atol=5e-6)


def test_pads_that_slip_inward_hurt() -> None:
    slipped = after_crush(HEIGHT, LINE, 0.0, 0.1)
    still = critical_speed(MOON, HEIGHT, LINE, GYRATION, 0.0)
    assert critical_speed(MOON, *slipped, GYRATION, 0.0) < still


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
