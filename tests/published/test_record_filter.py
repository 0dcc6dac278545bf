"""Channel frequency classes of crash records: SAE J211-1 and ISO 6487, algorithm published.

Coefficients of class 60 and 180 at 20 kHz are that algorithm's, worked by hand (derived): with
ωd = 2π·2.0775·class and ωa = tan(ωd T/2), b0 = ωa²/(1 + √2 ωa + ωa²), feedback
-2(ωa² - 1)/(...) and (-1 + √2 ωa - ωa²)/(...). Two passes lose 2·10·log10(1 + (f/fc)⁴): at 5/3 of
the class (f/fc = 0.8022) 3.01 dB, at the class itself (0.4813) 0.454 dB.
"""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
import pytest
from scipy.signal import freqz

from crushleg.trial.filters import CLASSES, coefficients, filtered, least_rate
from tests.outside import Outside, each

if TYPE_CHECKING:
    from collections.abc import Callable

RATE = 20e3
PLACES = ("b0", "b1", "b2", "feedback of one sample ago", "feedback of two samples ago")
standard = partial(Outside, source="SAE J211-1 and ISO 6487")


def coefficient(channel_class: float, index: int) -> Callable[[], float]:
    """One of :data:`PLACES`."""

    def found() -> float:
        b, a = coefficients(channel_class, RATE)
        return float([*b, *-a[1:]][index])

    return found


def lost(channel_class: float, part: float) -> Callable[[], float]:
    """Gain of both passes at ``part`` of the class [dB], sampled much faster than needed."""

    def found() -> float:
        rate = 100.0 * least_rate(channel_class)
        at = [part * channel_class]
        response = freqz(*coefficients(channel_class, rate), worN=at, fs=rate)[1]
        return 40.0 * math.log10(abs(response[0]))

    return found


COEFFICIENTS = tuple(
    standard(
        what=f"class {channel_class:g} at 20 kHz, {name}",
        theirs=theirs,
        ours=coefficient(channel_class, index),
        place="digital filter algorithm, worked by hand",
        status="derived",
        absolute=2e-9,
        why="nine decimals given, doubled for b1",
    )
    for channel_class, b0, feedback in (
        (60.0, 0.000373001, (1.944633046, -0.946125048)),
        (180.0, 0.003182636, (1.834196422, -0.846926967)),
    )
    for index, (name, theirs) in enumerate(zip(PLACES, (b0, 2.0 * b0, b0, *feedback), strict=True))
)
cut_off = partial(standard, absolute=0.005, why="half a unit of the last digit given", unit="dB")
LOSSES = tuple(
    value
    for channel_class in (60.0, 180.0, 600.0, 1000.0)
    for value in (
        cut_off(
            what=f"class {channel_class:g}, gain at the class",
            theirs=-0.454,
            ours=lost(channel_class, 1.0),
            place="two passes of two poles, worked by hand",
            status="derived",
        ),
        cut_off(
            what=f"class {channel_class:g}, gain at 5/3 of the class",
            theirs=-3.01,
            ours=lost(channel_class, 5.0 / 3.0),
            place="cut-off frequency of a class",
            status="published",
        ),
    )
)
VALUES = (
    *COEFFICIENTS,
    *LOSSES,
    standard(
        what="sample rate over the class, at least",
        theirs=10.0,
        ours=lambda: least_rate(180.0) / 180.0,
        place="sampling, SAE J211-1",
        status="from memory",
        relative=1e-9,
        why="the same number",
    ),
)


@each(VALUES)
def test_sae_j211_and_iso_6487_filter_classes(value: Outside) -> None:
    value.check()


def test_sae_j211_and_iso_6487_name_these_classes() -> None:
    assert CLASSES == (60, 180, 600, 1000)


@pytest.mark.parametrize("channel_class", [20.0, 300.0])
def test_sae_j211_and_iso_6487_a_class_they_do_not_name_loses_as_much(channel_class: float) -> None:
    assert lost(channel_class, 5.0 / 3.0)() == pytest.approx(-3.01, abs=0.005)


def test_sae_j211_and_iso_6487_a_sine_comes_out_with_that_loss_and_in_phase() -> None:
    t = np.arange(40_000) / RATE
    sine = np.sin(2.0 * np.pi * 300.0 * t)
    out = filtered(sine, 180.0, RATE)
    middle = slice(15_000, 25_000)
    kept = float(np.ptp(out[middle]) / np.ptp(sine[middle]))
    assert abs(20.0 * math.log10(kept) + 3.01) < 0.01
    assert np.correlate(out[middle], sine[middle])[0] > 0.999 * math.sqrt(
        float((out[middle] ** 2).sum() * (sine[middle] ** 2).sum())
    )
