"""First contact against the impulse equations of a rigid body in the plane, solved directly."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from crushleg.landing.first_leg import (
    arrival_speed,
    effective_mass,
    rotation_per_impulse,
    shared_fraction,
    sticks,
)

LENGTHS = st.floats(0.5, 10.0)
MASS, SPEED = 1000.0, 3.0


def impulse_solution(x: float, h: float, k: float, friction: float | None) -> np.ndarray:
    """Solve for J, Jf, and Δω: pad at (x, -h) from the centre of gravity, ω lifts it.

    Centre of gravity: Δw = -J/m down, Δu = -Jf/m outward; m k² Δω = x J - h Jf. The pad stops:
    Δw - x Δω = -v. It sticks, Δu + h Δω = 0 (friction None), or slides, Jf = μ J.
    """
    turning = [x, -h, -MASS * k**2]
    stopping = [1.0 / MASS, 0.0, x]
    pad = [0.0, -1.0 / MASS, h] if friction is None else [-friction, 1.0, 0.0]
    return np.linalg.solve(np.array([turning, stopping, pad]), [0.0, SPEED, 0.0])


@given(x=LENGTHS, h=LENGTHS, k=LENGTHS, friction=st.floats(0.0, 1.0), far=st.floats(-10.0, 10.0))
def test_every_result_of_the_first_contact(
    x: float, h: float, k: float, friction: float, far: float
) -> None:
    stuck = impulse_solution(x, h, k, None)
    holds = stuck[1] <= friction * stuck[0]
    if abs(stuck[1] - friction * stuck[0]) > 1e-9 * stuck[0]:
        assert bool(sticks(x, h, k, friction)) == holds
    j, _, turned = stuck if holds else impulse_solution(x, h, k, friction)
    turn = rotation_per_impulse(x, h, k, friction)
    assert_allclose(turn, MASS * turned / j, rtol=1e-7)
    assert_allclose(effective_mass(MASS, x, turn), j / SPEED, rtol=1e-7)
    lost = j / MASS + far * turned
    assert_allclose(shared_fraction(x, far, turn), lost / SPEED, rtol=1e-7, atol=1e-9)
    assert_allclose(arrival_speed(SPEED, x, far, turn), SPEED - lost, rtol=1e-7, atol=1e-9)


@given(x=LENGTHS, h=LENGTHS, k=LENGTHS)
def test_sliding_passes_into_sticking_without_a_step(x: float, h: float, k: float) -> None:
    limit = x * h / (k**2 + h**2)
    below, above = rotation_per_impulse(x, h, k, limit * np.array([1 - 1e-9, 1 + 1e-9]))
    assert_allclose(below, above, rtol=1e-6)


@pytest.mark.parametrize("friction", [0.0, 0.2, 1.0])
def test_a_first_pad_on_the_axis_takes_the_whole_mass(friction: float) -> None:
    turn = rotation_per_impulse(0.0, 0.0, 2.0, friction)
    assert_allclose(effective_mass(MASS, 0.0, turn), MASS)
