"""How fast the motion is, in ratios within one run; run with -m benchmark -s to see the table."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from crushleg.landing.motion.run import run
from tests.landing.motion.setups import curve, ends_after, even, together, touching, vehicle
from tests.landing.motion.test_against_solve_ivp import STEPS, K, Reference

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.landing.motion.setup import Setup, Start

pytestmark = pytest.mark.benchmark
SECONDS = 0.25
LOOPED = 8
ROOT = Path(__file__).parents[2]


def landings(count: int, legs: int = 4) -> tuple[Setup, Start]:
    """Different landings of one vehicle, some friction, slope, lean and drift."""
    rng = np.random.default_rng(7)
    pairs = []
    for _ in range(count):
        slope, uphill = rng.uniform(0.0, 0.1), rng.uniform(0.0, 6.0)
        setup = vehicle(
            even(legs, rng.uniform(0.0, 6.0)),
            mass=250.0 * legs,
            slope=slope,
            uphill=uphill,
            friction=0.4,
            stiffness=K,
        )
        speed = (*rng.uniform(-0.7, 0.7, 2), -rng.uniform(1.5, 3.0))
        pairs.append((setup, touching(setup, speed, (*rng.uniform(-0.05, 0.05, 2), 0.0))))
    setups, starts = zip(*pairs, strict=True)
    return together(setups), together(starts)


def timed(setup: Setup, start: Start) -> tuple[float, FloatArray]:
    began = time.perf_counter()
    with ends_after(SECONDS, setup):
        moved = run(setup, curve(*STEPS, stiffness=K), start)
    return time.perf_counter() - began, moved.pads.most


def alone(record: Any, row: int) -> Any:
    """One landing of a batch."""
    return type(record)(*(field[row : row + 1] for field in record))


def solved(setup: Setup, start: Start, tolerance: float) -> tuple[float, FloatArray]:
    """Loop over the first landings: time per landing and strokes."""
    strokes, began = [], time.perf_counter()
    for row in range(LOOPED):
        one, begin = alone(setup, row), alone(start, row)
        right = Reference(one)
        found = solve_ivp(
            right, (0.0, SECONDS), right.start(begin), rtol=tolerance, atol=0.01 * tolerance
        )
        strokes.append(found.y[18 : 18 + right.legs, -1])
    return (time.perf_counter() - began) / LOOPED, np.array(strokes)


def error(found: FloatArray, exact: FloatArray) -> float:
    """Mean over the landings of the largest error in stroke over the largest stroke."""
    gap = np.abs(found[:LOOPED] - exact).max(axis=1) / exact.max(axis=1)
    return float(gap.mean())


def test_fifty_times_faster_than_a_loop_at_equal_accuracy() -> None:
    setup, start = landings(1000)
    taken, strokes = timed(setup, start)
    _, exact = solved(setup, start, 1e-7)
    ours = error(strokes, exact)
    for tolerance in (1e-2, 3e-3, 1e-3, 3e-4, 1e-4, 1e-5):
        loop, looped = solved(setup, start, tolerance)
        theirs = error(looped, exact)
        print(f"solve_ivp rtol {tolerance:.0e}: {loop * 1e3:.1f} ms, error {theirs:.1e}")  # noqa: T201 - the table is the point
        if theirs <= 2.0 * ours:
            break
    ratio = loop / (taken / 1000.0)
    print(f"ours: {taken:.2f} ms, error {ours:.1e}; {ratio:.0f} times faster")  # noqa: T201 - the table is the point
    assert ratio > 50.0


def test_time_is_linear_in_landings() -> None:
    times = [timed(*landings(count))[0] for count in (250, 500, 1000)]
    print("250, 500, 1000 landings [s]:", np.round(times, 2))  # noqa: T201 - the table is the point
    assert times[1] < 2.4 * times[0]
    assert times[2] < 2.4 * times[1]


def test_time_is_linear_in_legs() -> None:
    times = [timed(*landings(500, legs))[0] for legs in (3, 6, 12)]
    print("3, 6, 12 legs [s]:", np.round(times, 2))  # noqa: T201 - the table is the point
    assert times[1] < 2.4 * times[0]
    assert times[2] < 2.4 * times[1]


MEMORY = """
import resource
from tests.benchmarks.test_motion_speed import landings, timed
timed(*landings(10000))
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0)
"""


def test_ten_thousand_landings_in_one_gigabyte() -> None:
    done = subprocess.run(
        [sys.executable, "-c", MEMORY], cwd=ROOT, capture_output=True, text=True, check=True
    )
    print(f"10 000 landings: {float(done.stdout):.0f} MB")  # noqa: T201 - the table is the point
    assert float(done.stdout) < 1024.0
