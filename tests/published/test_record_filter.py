"""Channel frequency classes: SAE J211-1 and ISO 6487, algorithm published.

Coefficients of class 60 and 180 at 20 kHz are that algorithm's, worked by hand (derived): with
ωd = 2π·2.0775·class and ωa = tan(ωd T/2), b0 = ωa²/(1 + √2 ωa + ωa²), feedback
-2(ωa² - 1)/(...) and (-1 + √2 ωa - ωa²)/(...). Two passes lose 2·10·log10(1 + (f/fc)⁴): at 5/3 of
the class (f/fc = 0.8022) 3.01 dB, at the class itself (0.4813) 0.454 dB.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.signal import freqz

from crushleg.trial.filters import CLASSES, PASS_BAND, coefficients, filtered, least_rate

RATE = 20e3


@pytest.mark.parametrize(
    ("channel_class", "b0", "feedback"),
    [
        (60.0, 0.000373001, (1.944633046, -0.946125048)),
        (180.0, 0.003182636, (1.834196422, -0.846926967)),
    ],
)
def test_coefficients_are_those_of_the_standard(
    channel_class: float, b0: float, feedback: tuple[float, float]
) -> None:
    b, a = coefficients(channel_class, RATE)
    assert b.tolist() == pytest.approx([b0, 2.0 * b0, b0], abs=2e-9)
    assert (-a[1:]).tolist() == pytest.approx(feedback, abs=2e-9)


@pytest.mark.parametrize("channel_class", [*CLASSES, 20.0, 300.0])
@pytest.mark.parametrize(("part", "decibel"), [(1.0, -0.454), (PASS_BAND, -3.01)])
def test_two_passes_lose_what_the_standard_says(
    channel_class: float, part: float, decibel: float
) -> None:
    rate = 100.0 * least_rate(channel_class)
    response = freqz(*coefficients(channel_class, rate), worN=[part * channel_class], fs=rate)[1]
    assert 40.0 * math.log10(abs(response[0])) == pytest.approx(decibel, abs=0.005)


def test_a_sine_comes_out_with_that_loss_and_in_phase() -> None:
    t = np.arange(40_000) / RATE
    sine = np.sin(2.0 * np.pi * 300.0 * t)
    out = filtered(sine, 180.0, RATE)
    middle = slice(15_000, 25_000)
    assert np.ptp(out[middle]) / np.ptp(sine[middle]) == pytest.approx(10 ** (-3.01 / 20), rel=1e-3)
    assert np.correlate(out[middle], sine[middle])[0] > 0.999 * math.sqrt(
        float((out[middle] ** 2).sum() * (sine[middle] ** 2).sum())
    )
