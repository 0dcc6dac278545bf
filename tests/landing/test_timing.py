"""Time along a curve: order of its error, and what it shares with the speed."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.landing.timing import duration, speed_left, times

MASS, SPEED, WEIGHT, RAMP = 1000.0, 3.0, 9806.65, 200e3
SWING = np.sqrt(RAMP / MASS)


def exact_time(stroke: float) -> float:
    """Ramp c s: s = W/c + A sin(ωt + φ), s(0) = 0, s'(0) = v, ω² = c/m."""
    middle = WEIGHT / RAMP
    size = np.hypot(middle, SPEED / SWING)
    return float(np.arcsin((stroke - middle) / size) + np.arcsin(middle / size)) / float(SWING)


def error(points: int, stroke: float) -> float:
    s = np.linspace(0.0, stroke, points)
    e = 0.5 * RAMP * s**2
    found = duration(s, RAMP * s, e, WEIGHT, MASS, SPEED, stroke)
    return float(abs(found - exact_time(stroke)))


@pytest.mark.parametrize(("ends_at_rest", "order"), [(False, 2.0), (True, 1.5)])
def test_the_error_falls_as_the_module_says(*, ends_at_rest: bool, order: float) -> None:
    rest = float(WEIGHT / RAMP + np.hypot(WEIGHT / RAMP, SPEED / SWING))
    stroke = rest if ends_at_rest else 0.15
    slope = np.log2(error(801, stroke) / error(1601, stroke))
    assert_allclose(slope, order, atol=0.1)


def test_times_are_held_beyond_the_stroke_asked_for() -> None:
    s = np.linspace(0.0, 0.3, 4)
    t = times(s, np.full(4, 40e3), 40e3 * s, 0.0, MASS, SPEED, [0.05, 0.1125])
    assert t.shape == (2, 4)
    assert np.all(np.diff(t, axis=-1) >= 0.0)
    assert_allclose(t[1, -2:], 0.075, rtol=1e-12)
    assert_allclose(t[0, 1:], (3.0 - np.sqrt(9.0 - 2.0 * 40.0 * 0.05)) / 40.0, rtol=1e-12)


def test_speed_is_zero_from_the_stop_on() -> None:
    v = speed_left([0.0, 0.1125, 0.2], [0.0, 4500.0, 8000.0], 0.0, MASS, SPEED)
    assert v.tolist() == [3.0, 0.0, 0.0]
