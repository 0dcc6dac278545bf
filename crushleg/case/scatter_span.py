"""How far a distribution reaches, by the standard library alone: to refuse it before any draw."""

from __future__ import annotations

import math
from bisect import bisect_right
from statistics import NormalDist
from typing import TYPE_CHECKING

from crushleg.case.scatter_records import (
    LIMITS,
    LOGNORMAL,
    NORMAL,
    SAMPLES,
    TABLE,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.case.scatter_records import ScatterInput

TAIL = 1e-9
"""Draws lie between the quantiles TAIL and 1 − TAIL."""
SCORE = -NormalDist().inv_cdf(TAIL)
Z_95 = 1.96
"""Score of two-sided 95 % limits, as everywhere in the tool."""


def log_deviations(of: ScatterInput) -> tuple[float, float]:
    r"""Return the standard deviation of the logarithm below and above the median.

    .. math:: \sigma = \sqrt{\ln(1 + c^2)}; \qquad
              \sigma_- = \ln(m/low)/1.96, \; \sigma_+ = \ln(high/m)/1.96

    Returns
    -------
    tuple of float
        Equal for a lognormal input; those of its limits for "95 % limits".
    """
    if of.distribution == LIMITS:
        low, median, high = middle(of, "low"), middle(of, "median"), middle(of, "high")
        return math.log(median / low) / Z_95, math.log(high / median) / Z_95
    both = math.sqrt(math.log1p(middle(of, "cov") ** 2))
    return both, both


def middle(of: ScatterInput, name: str) -> float:
    """Parameter of an input that has been read; mean, median and mode left out are the case's."""
    value = getattr(of, name)
    value = of.centre if value is None and name in ("mean", "median", "mode") else value
    if value is None:
        message = f"{of.key}: {name} is not given"
        raise ValueError(message)
    return float(value)


def deviation(of: ScatterInput) -> float:
    """Return the standard deviation of a normal input, in SI."""
    if of.deviation is not None:
        return of.deviation
    return middle(of, "cov") * abs(middle(of, "mean"))


def span(of: ScatterInput) -> tuple[float, float]:
    """Least and most that can be drawn, in SI.

    Examples
    --------
    >>> from crushleg.case.scatter_records import ScatterInput
    >>> wall = ScatterInput(key="k", distribution="normal", mean=4.0, deviation=0.1)
    >>> [round(value, 3) for value in span(wall)]
    [3.4, 4.6]
    """
    if of.distribution == NORMAL:
        reach = SCORE * deviation(of)
        ends = middle(of, "mean") - reach, middle(of, "mean") + reach
    elif of.distribution in (LOGNORMAL, LIMITS):
        below, above = log_deviations(of)
        median = middle(of, "median")
        ends = median * math.exp(-SCORE * below), median * math.exp(SCORE * above)
        if of.distribution == LIMITS:
            return ends
    elif of.distribution in (TABLE, SAMPLES):
        values = of.drawn if of.distribution == SAMPLES else of.values or ()
        ends = min(values), max(values)
    else:
        ends = middle(of, "low"), middle(of, "high")
    low, high = (-math.inf if of.low is None else of.low), of.high
    return max(ends[0], low), min(ends[1], math.inf if high is None else high)


def share_kept(of: ScatterInput) -> float:
    """Probability that the cuts of an input leave, before the rest is scaled up.

    Examples
    --------
    >>> from crushleg.case.scatter_records import ScatterInput
    >>> share_kept(ScatterInput(key="k", distribution="normal", mean=4.0, deviation=1.0, low=4.0))
    0.5
    """
    if of.distribution in (TABLE, SAMPLES):
        return _listed_share(of)
    if of.distribution not in (NORMAL, LOGNORMAL):
        return 1.0
    if of.distribution == NORMAL:
        scores = [
            None if cut is None else (cut - middle(of, "mean")) / deviation(of)
            for cut in (of.low, of.high)
        ]
    else:
        median, (both, _) = middle(of, "median"), log_deviations(of)
        scores = [
            None if cut is None else math.log(max(cut, 1e-300) / median) / both
            for cut in (of.low, of.high)
        ]
    below, above = scores
    low = 0.0 if below is None else NormalDist().cdf(below)
    return (1.0 if above is None else NormalDist().cdf(above)) - low


def _listed_share(of: ScatterInput) -> float:
    """Probability between the cuts of a table or of samples, the cuts themselves among it."""
    low = -math.inf if of.low is None else of.low
    high = math.inf if of.high is None else of.high
    values = (of.drawn if of.distribution == SAMPLES else of.values) or ()
    if of.cumulative is not None:
        return _cumulative(values, of.cumulative, high) - _cumulative(values, of.cumulative, low)
    shares = of.probabilities or (1.0 / len(values),) * len(values)
    return sum(p for value, p in zip(values, shares, strict=True) if low <= value <= high)


def _cumulative(values: Sequence[float], shares: Sequence[float], at: float) -> float:
    """Probability of at most ``at``, straight between the points of a cumulative curve."""
    if at <= values[0] or at >= values[-1]:
        return float(at >= values[-1])
    i = bisect_right(values, at)
    part = (at - values[i - 1]) / (values[i] - values[i - 1])
    return shares[i - 1] + part * (shares[i] - shares[i - 1])
