"""From probability to value: the inverse distribution of every input, elementwise."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy import stats
from scipy.special import ndtr, ndtri

from crushleg.arrays import FloatArray, floats
from crushleg.case.scatter_records import (
    LIMITS,
    LOGNORMAL,
    NORMAL,
    SAMPLES,
    TABLE,
    TRIANGULAR,
    UNIFORM,
)
from crushleg.case.scatter_span import TAIL, deviation, log_deviations, middle, span

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import ArrayLike

    from crushleg.case.scatter_records import ScatterInput


def quantile(of: ScatterInput, probability: ArrayLike) -> FloatArray:
    r"""Value of an input that is not exceeded with a probability.

    .. math:: x = F^{-1}\left[F(low) + (F(high) - F(low))\,u\right]

    Parameters
    ----------
    of : ScatterInput
        As read from a case.
    probability : array_like
        u [-], 0 to 1; outside 1e-9 to 1 − 1e-9 the value there is taken.

    Returns
    -------
    ndarray
        SI values, shape of ``probability``.

    Examples
    --------
    >>> from crushleg.case.scatter_records import ScatterInput
    >>> mass = ScatterInput(key="vehicle.mass", distribution="normal", mean=100.0, deviation=5.0)
    >>> quantile(mass, [0.5, 0.975]).round(2).tolist()
    [100.0, 109.8]
    """
    (u,) = floats(probability)
    low, high = cut_shares(of)
    inverse = INVERSE[of.distribution or NORMAL]
    found = inverse(of, low + (high - low) * np.clip(u, TAIL, 1.0 - TAIL))
    return np.clip(found, *span(of))


def cut_shares(of: ScatterInput) -> tuple[float, float]:
    """Probability below the lower cut of an input, and up to its upper cut [-]."""
    if of.distribution in (UNIFORM, TRIANGULAR, LIMITS):
        return 0.0, 1.0
    low = 0.0 if of.low is None else _below(of, of.low, closed=False)
    return low, 1.0 if of.high is None else _below(of, of.high, closed=True)


def _below(of: ScatterInput, value: float, *, closed: bool) -> float:
    """Probability of less than ``value``; of at most that, where closed."""
    if of.distribution == NORMAL:
        return float(ndtr((value - middle(of, "mean")) / deviation(of)))
    if of.distribution == LOGNORMAL:
        ratio = max(value, np.finfo(float).tiny) / middle(of, "median")
        return float(ndtr(np.log(ratio) / log_deviations(of)[0]))
    if of.cumulative is not None:
        return float(np.interp(value, of.values or (), of.cumulative))
    values, shares = _steps(of)
    within = values <= value if closed else values < value
    return float(np.append(0.0, shares)[int(within.sum())])


def _normal(of: ScatterInput, p: FloatArray) -> FloatArray:
    return middle(of, "mean") + deviation(of) * ndtri(p)


def _lognormal(of: ScatterInput, p: FloatArray) -> FloatArray:
    """Median times the exponential of a score; each side of the median with its own deviation."""
    below, above = log_deviations(of)
    score = ndtri(p)
    return middle(of, "median") * np.exp(np.where(score < 0.0, below, above) * score)


def _uniform(of: ScatterInput, p: FloatArray) -> FloatArray:
    low, high = middle(of, "low"), middle(of, "high")
    return stats.uniform.ppf(p, low, high - low)


def _triangular(of: ScatterInput, p: FloatArray) -> FloatArray:
    low, mode, high = (middle(of, name) for name in ("low", "mode", "high"))
    return stats.triang.ppf(p, (mode - low) / (high - low), low, high - low)


def _listed(of: ScatterInput, p: FloatArray) -> FloatArray:
    """Straight lines between the points of a cumulative curve; else the values themselves."""
    if of.cumulative is not None:
        return np.interp(p, of.cumulative, of.values or ())
    values, shares = _steps(of)
    return values[np.minimum(np.searchsorted(shares, p), len(values) - 1)]


def _steps(of: ScatterInput) -> tuple[FloatArray, FloatArray]:
    """Ascending values, and the probability of at most each."""
    if of.distribution == SAMPLES:
        (values,) = floats(np.sort(of.drawn))
        return values, np.arange(1, len(values) + 1) / len(values)
    values, shares = floats(of.values or (), of.probabilities or ())
    return values, np.cumsum(shares) / np.sum(shares)


INVERSE: dict[str, Callable[[ScatterInput, FloatArray], FloatArray]] = {
    NORMAL: _normal,
    LOGNORMAL: _lognormal,
    LIMITS: _lognormal,
    UNIFORM: _uniform,
    TRIANGULAR: _triangular,
    TABLE: _listed,
    SAMPLES: _listed,
}
