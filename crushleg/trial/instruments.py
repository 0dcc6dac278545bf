"""Ranges, filter class and sample rate of the instruments of a test."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.trial.filters import CLASSES, PASS_BAND, least_rate

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

INTEGRATE = 180
"""Least class for forces that are integrated."""
HARMONICS, INTEGRAL_HARMONICS = 10.0, 1.5
"""Corner over fold frequency that keeps a fold's crest, and its energy (judgement)."""
PER_FOLD = 100.0
"""Samples per fold (judgement)."""
RANGE = 1.5
"""Range of an instrument over the highest prediction (judgement)."""
ROUND = np.array([1.0, 2.0, 5.0, 10.0])


class Instruments(NamedTuple):
    """What to set: ranges in SI; ``cell`` None without a rig.

    ``peak_class`` for peaks and ``mean_class`` for what is integrated; ``passes`` says whether
    the highest class still shows the crests; ``shown`` is the share of the highest predicted
    crest that each class leaves, empty where it is not known.
    """

    leg: float
    cell: float | None
    accelerometer: float
    displacement: float
    fold_frequency: float
    peak_class: int
    mean_class: int
    passes: bool
    sample_rate: float
    shown: dict[int, float]


def fold_frequency(speed: float, fold_stroke: float, travel: float = 1.0) -> float:
    """Frequency at which folds pass at first.

    Parameters
    ----------
    speed : float
        Vertical speed at contact v [m/s].
    fold_stroke : float
        Stroke of the shortest whole fold η·2H [m].
    travel : float
        Vertical travel per stroke z/s [-].

    Returns
    -------
    float
        Frequency f [Hz].

    Notes
    -----
    Means: How fast folds pass: it sets filter class and sample rate.
    Formula: f = v/(η 2H × z/s)
    Range: At contact; it falls as the leg slows.
    Band: None: speed and geometry.
    Limits: speed of the drop or touchdown

    References
    ----------
    [D]

    Examples
    --------
    >>> fold_frequency(3.0, 0.03)
    100.0
    """
    return speed / (fold_stroke * travel)


def filter_class(frequency: float, harmonics: float, least: int = CLASSES[0]) -> int:
    """Lowest class whose −3 dB point lies at so many times a frequency; the highest if none.

    Notes
    -----
    Formula: class × 5/3 ≥ harmonics × f
    Range: Ten harmonics show a crest, one and a half keep the energy.

    References
    ----------
    Channel classes of SAE J211 and ISO 6487 [from memory]; harmonics [judgement]

    Examples
    --------
    >>> filter_class(60.0, HARMONICS), filter_class(60.0, INTEGRAL_HARMONICS, INTEGRATE)
    (600, 180)
    """
    fit = (c for c in CLASSES if c >= least and c * PASS_BAND >= harmonics * frequency)
    return next(fit, CLASSES[-1])


def rounded_up(value: float) -> float:
    """Next 1, 2 or 5 times a power of ten.

    >>> rounded_up(6100.0), rounded_up(0.02), rounded_up(1.2)
    (10000.0, 0.02, 2.0)
    """
    power = 10.0 ** np.floor(np.log10(value))
    steps: FloatArray = ROUND * power
    return float(steps[np.argmax(steps >= value * (1.0 - 1e-9))])


def instruments(
    *,
    leg: float,
    cell: float | None,
    accelerometer: float,
    displacement: float,
    frequency: float,
    shown: dict[int, float],
) -> Instruments:
    """Ranges from the highest predictions, filter class and sample rate from the fold frequency.

    Parameters
    ----------
    leg, cell, accelerometer, displacement : float
        Highest predicted force of one leg and of the load cell [N], reading [m/s2], travel [m].
    frequency : float
        At which folds pass [Hz].
    shown : dict
        From :func:`crushleg.trial.crests_shown.crests_shown`.

    Returns
    -------
    Instruments
    """
    peak = filter_class(frequency, HARMONICS)
    return Instruments(
        leg=RANGE * leg,
        cell=None if cell is None else RANGE * cell,
        accelerometer=RANGE * accelerometer,
        displacement=RANGE * displacement,
        fold_frequency=frequency,
        peak_class=peak,
        mean_class=filter_class(frequency, INTEGRAL_HARMONICS, INTEGRATE),
        passes=peak * PASS_BAND >= HARMONICS * frequency,
        sample_rate=rounded_up(max(least_rate(peak), PER_FOLD * frequency)),
        shown=shown,
    )
