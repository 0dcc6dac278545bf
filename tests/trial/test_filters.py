"""The low-pass as a record meets it: ends, levels, energy."""

from __future__ import annotations

import numpy as np
import pytest

from crushleg.trial.filters import filtered, least_rate


def test_a_level_stays_what_it_is_up_to_both_ends() -> None:
    assert filtered(np.full(200, 7.0), 180.0, 20e3) == pytest.approx(np.full(200, 7.0), abs=1e-9)


def test_a_ramp_stays_straight_up_to_both_ends() -> None:
    ramp = np.linspace(0.0, 5.0, 400)
    assert filtered(ramp, 180.0, 20e3) == pytest.approx(ramp, abs=1e-3)


def test_a_filter_keeps_the_impulse_of_a_pulse() -> None:
    pulse = np.zeros(4000)
    pulse[1800:2000] = 20e3
    assert filtered(pulse, 180.0, 20e3).sum() == pytest.approx(pulse.sum(), rel=1e-6)


def test_a_record_shorter_than_the_reach_of_the_filter_is_filtered_still() -> None:
    assert np.isfinite(filtered(np.arange(8.0), 60.0, 20e3)).all()
    assert filtered(np.array([1.0, 2.0]), 60.0, 20e3).tolist() == [1.0, 2.0]


def test_ten_samples_per_class_are_needed() -> None:
    assert least_rate(600.0) == 6000.0
