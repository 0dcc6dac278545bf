"""Figures read off a crush, against closed forms."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from crushleg.trial.metrics import crests, metrics, usable_stroke
from crushleg.trial.record import Record

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray


def record(stroke: FloatArray, force: FloatArray) -> Record:
    """Record of a crush as it would come from the reader."""
    work = 0.5 * (force[1:] + force[:-1]) * np.diff(stroke)
    return Record(
        file="",
        sha256="",
        test="x",
        batch="",
        leg="",
        kind="force-stroke",
        sample_rate=None,
        filter_class=None,
        peak_class=None,
        impact_speed=None,
        time=None,
        stroke=stroke,
        force=force,
        sharp=force,
        energy=np.concatenate([[0.0], np.cumsum(work)]),
        saturated=False,
        accepted=False,
        done=(),
        cautions=(),
    )


def test_a_ramp_has_the_efficiency_of_its_closed_form() -> None:
    """10 kN + 200 kN/m to 0.211167 m: 6570.846 J, 52 233.5 N, efficiency 0.59572 (derived)."""
    s = np.linspace(0.0, 0.211167, 1001)
    found = metrics(record(s, 10e3 + 200e3 * s))
    assert found.energy == pytest.approx(6570.846, abs=0.05)
    assert found.largest == pytest.approx(52_233.5, abs=0.2)
    assert found.efficiency == pytest.approx(0.59572, abs=2e-5)
    assert found.mean == pytest.approx(6570.846 / 0.211167, rel=1e-5)


@pytest.mark.parametrize("cycles", [2, 5, 9])
def test_folds_are_the_crests_of_a_wave_that_begins_at_one(cycles: int) -> None:
    s = np.linspace(0.0, 0.02 * (cycles - 0.3), 4000)
    force = 20e3 * (1.0 + 0.25 * np.cos(2.0 * np.pi * s / 0.02))
    found = metrics(record(s, force))
    assert found.folds == cycles
    assert found.first_peak == pytest.approx(25e3, rel=1e-6)


def test_noise_makes_no_folds() -> None:
    s = np.linspace(0.0, 0.1, 5000)
    force = 20e3 * (1.0 + 0.25 * np.cos(2.0 * np.pi * s / 0.02))
    noise = 300.0 * np.random.default_rng(5).standard_normal(len(s))
    assert len(crests(s, force + noise, 20e3)) == 5


def test_the_force_at_the_stop_is_no_fold() -> None:
    s = np.linspace(0.0, 0.0595, 4000)
    force = 20e3 * (1.0 + 0.25 * np.cos(2.0 * np.pi * s / 0.02))
    assert len(crests(s, force, 20e3)) == 3


@pytest.mark.parametrize("slope", [2e6, 1e7])
def test_usable_stroke_is_where_the_tangent_of_bottoming_meets_the_mean(slope: float) -> None:
    s = np.linspace(0.0, 0.15 + 40e3 / slope, 20_001)
    force = 20e3 + slope * np.maximum(s - 0.15, 0.0)
    assert usable_stroke(s, force) == pytest.approx(0.15, abs=1e-4)


def test_usable_stroke_of_a_wave_lies_where_the_branch_would_leave_its_mean() -> None:
    """Wave about 20 kN, then 2 MN/m from its mean at 150 mm on: the tangent meets 20 kN there."""
    s = np.linspace(0.0, 0.18, 20_001)
    wave = 20e3 * (1.0 + 0.2 * np.sin(2.0 * np.pi * np.minimum(s, 0.15) / 0.03))
    force = wave + 2e6 * np.maximum(s - 0.15, 0.0)
    found = metrics(record(s, force))
    assert found.usable == pytest.approx(0.15, abs=5e-4)
    assert found.folds == 5


@pytest.mark.parametrize(
    "force",
    [
        lambda s: np.full_like(s, 20e3),
        lambda s: 10e3 + 200e3 * s,
        lambda s: 1e6 * s,
        lambda s: np.where(s < 0.1, 15e3, 30e3),
        lambda s: 20e3 * (1.0 + 0.3 * np.cos(2.0 * np.pi * s / 0.02)),
    ],
    ids=["level", "ramp", "ramp from zero", "step", "wave"],
)
def test_a_girder_that_does_not_bottom_has_no_usable_stroke(force: object) -> None:
    s = np.linspace(0.0, 0.2, 4001)
    assert callable(force)
    assert np.isnan(usable_stroke(s, force(s)))
