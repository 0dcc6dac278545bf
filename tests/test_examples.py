"""Every example runs, and one number of each is checked by hand."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import crushleg

EXAMPLES = Path(__file__).parents[1] / "examples"


def checked(name: str) -> crushleg.Checked:
    return crushleg.check_case(crushleg.read_case(EXAMPLES / name))


def margin(case: crushleg.Checked, check: str, touchdown: str) -> float:
    found = next(m for m in case.margins if (m.check, m.touchdown) == (check, touchdown))
    assert found.margin is not None
    return float(found.margin[0])


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


def test_script_of_the_python_api_runs() -> None:
    done = subprocess.run(
        [sys.executable, str(EXAMPLES / "compare_walls.py")],
        capture_output=True,
        text=True,
        check=True,
    )
    assert len(done.stdout.splitlines()) == 6
