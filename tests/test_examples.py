"""Every example runs, and one number of each is checked by hand."""

from __future__ import annotations

import importlib
import math
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

import crushleg
from crushleg.landing.motion.assemble import Landing, assemble, curves_for
from crushleg.landing.motion.outcome import Outcome, outcome
from crushleg.landing.motion.run import run
from crushleg.scatter.chain import evaluate
from crushleg.scatter.sampling import draws
from crushleg.scatter.study import study

EXAMPLES = Path(__file__).parents[1] / "examples"


def checked(name: str) -> crushleg.Checked:
    return crushleg.check_case(crushleg.read_case(EXAMPLES / name))


def margin(case: crushleg.Checked, check: str, touchdown: str) -> float:
    found = next(m for m in case.margins if (m.check, m.touchdown) == (check, touchdown))
    assert found.margin is not None
    return float(found.margin[0])


def moved(case: crushleg.Checked, touchdown: int) -> Outcome:
    """One touchdown in motion, legs of nominal force."""
    plan = Landing(
        case.case.touchdowns[touchdown], (1,) * case.case.vehicle.legs, case.case.leg.pad_friction
    )
    setup, start = assemble(case.case, case.crush, [plan])
    curves = curves_for(case.crush)
    return outcome(case.crush, curves, setup, run(setup, curves, start))


def test_dunlin_passes_and_its_first_peak_is_that_of_the_hand_calculation() -> None:
    """Row 1: 1 − 82/136 = 0.3971 of 4 × 136 × 4 mm at 295 MPa: 254.9 kN squash.

    Effective width, λ = √(295/613.9) = 0.6932: (1 − 0.3174 − 0.4824 + 0.0739)/0.6932 = 0.3954,
    253.8 kN; nominal is their mean, 254.4 kN.
    """
    case = checked("dunlin.toml")
    assert case.passes
    assert case.crush.first_peak[1, 0] == pytest.approx(254.4e3, rel=1e-3)


def test_dunlin_uses_fold_length_and_crushed_fraction_of_the_blended_modes() -> None:
    """C/t 34: 169.17 and 168.08 M0, weights 0.343 and 0.657: H 37.97 mm, η 0.756."""
    case = checked("dunlin.toml")
    assert case.crush.usable[0] == pytest.approx(0.756, abs=5e-4)
    assert case.crush.front.walls.half[0, 0] == pytest.approx(37.97e-3, abs=2e-5)


def test_dunlin_stroke_balances_energy() -> None:
    """6 legs: ∫F ds = ½ 40 t (3.5 m/s)² + 40 t g S."""
    landed = checked("dunlin.toml").landings[0]
    stop = landed.stroke[1, 0]
    assert landed.demand[1, 0] == pytest.approx(245e3 + 40e3 * 9.80665 * stop, rel=1e-9)


def test_godwit_passes_on_the_moon() -> None:
    case = checked("godwit.toml")
    assert case.passes
    assert case.case.vehicle.gravity == 1.62


def test_coupon_kinetic_energy_is_that_of_the_drop() -> None:
    """120 kg at 3.96 m/s: 940.9 J, a drop of 0.7995 m."""
    landed = checked("coupon.toml").landings[0]
    assert landed.arrival.kinetic == pytest.approx(940.9, abs=0.1)


def test_outrigger_is_slender_slotted_and_stepped_and_passes() -> None:
    case = checked("godwit-outrigger.toml")
    girder = case.case.girder
    assert (0.5 * (girder.width + girder.depth) - girder.wall) / girder.wall > 60.0
    assert {row.shape for row in girder.holes.rows} == {"slot"}
    assert girder.wall_steps
    assert case.passes


def test_bare_leg_bends_before_it_folds() -> None:
    """140 × 2 mm, 0.9 m: plastic moment 1.5 s_y C² t = 1.5 · 295e6 · 0.138² · 0.002 = 16.9 kN·m."""
    case = checked("dunlin-bare-leg.toml")
    assert case.margins[case.governs].check == "bending"
    assert margin(case, "bending", "nominal") < 0.0
    assert not case.passes


def test_dunlin_on_a_slope_touches_on_leg_1_and_4_ms_later_on_leg_2() -> None:
    """Attitude 0.5° ahead and slope 2°, 20° left: together 2.476°, 16.0° left of the travel.

    Legs 1 and 2 stand at -10° and 50°: gap 3.4 m · sin 2.476° · (cos 26.0° - cos 34.0°) = 10.2 mm,
    closed at 2.5 cos 2° + 0.4 sin 2° cos 20° = 2.512 m/s: 4.06 ms.
    """
    case = checked("dunlin-slope.toml")
    assert case.passes
    slope, attitude, uphill = (math.radians(x) for x in (2.0, 0.5, 20.0))
    ahead, left = attitude + slope * math.cos(uphill), slope * math.sin(uphill)
    way = math.atan2(left, ahead)
    lower = [math.cos(math.radians(place) - way) for place in (-10.0, 50.0)]
    gap = 3.4 * math.sin(math.hypot(ahead, left)) * (lower[0] - lower[1])
    closing = 2.5 * math.cos(slope) + 0.4 * math.sin(slope) * math.cos(uphill)
    ended = moved(case, 1)
    assert ended.word == ("stands",)
    assert np.argmin(ended.contact[0]) == 0
    assert ended.contact[0, 1] == pytest.approx(gap / closing, rel=0.05)


def test_godwit_on_soft_ground_sinks_until_the_bearing_carries_the_pad() -> None:
    """N = A (p + k w): w = (N/0.09 m² - 60 kPa) / (4 MPa/m)."""
    case = checked("godwit-soft-ground.toml")
    assert case.passes
    ended = moved(case, 0)
    sinkage = (ended.pad / 0.09 - 60e3) / 4e6
    assert ended.word == ("stands",)
    assert sinkage.min() > 0.01
    assert ended.sunk == pytest.approx(sinkage, rel=0.02)


def test_scattered_dunlin_draws_the_mass_of_its_triangle_and_is_judged() -> None:
    """Mean of a triangle: (38.5 + 40 + 43)/3 = 40.5 t."""
    case = crushleg.read_case(EXAMPLES / "dunlin-scatter.toml")
    assert draws(case, 0, 4096).values["vehicle.mass"].mean() == pytest.approx(40.5e3, rel=2e-4)
    small = crushleg.read_case(EXAMPLES / "dunlin-scatter.toml", ["scatter.samples=32"])
    found = study(small, evaluate)
    assert found.complete
    assert found.counts.any()
    assert not checked("dunlin-scatter.toml").passes


def test_sobol_points_converge_faster_than_random_numbers(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The script that draws the convergence, at 256 landings: σ/√n is what random numbers leave."""
    monkeypatch.syspath_prepend(str(EXAMPLES))
    script = importlib.import_module("scatter_convergence")
    case = crushleg.read_case(script.CASE, script.SCATTERED)
    at, found = script.errors(case, landings=256, reference=8192)
    margin = script.margins(case, "random", 99, 8192)
    expected = np.array([margin.std(), (margin < script.BELOW).std()]) / np.sqrt(at[-1])
    assert (np.abs(np.log(found["random"][:, -1] / expected)) < np.log(2.0)).all()
    assert (found["sobol"][:, -1] < [0.2, 0.5] * expected).all()
    assert len(script.figure(case, at, found).axes) == 2


def test_script_of_the_python_api_runs() -> None:
    done = subprocess.run(
        [sys.executable, str(EXAMPLES / "compare_walls.py")],
        capture_output=True,
        text=True,
        check=True,
    )
    assert len(done.stdout.splitlines()) == 6
