"""Probability of failing a margin with its confidence, and percentiles, of what a study found."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from scipy import stats

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from crushleg.scatter.records import StudyResult

CONFIDENCE = 0.95
ANY = ("any", "")
"""Name of "any counted margin" among the margins."""


class Failure(NamedTuple):
    """How often a margin was negative, and the two-sided interval of its probability [-]."""

    name: tuple[str, str]
    counts: bool
    failed: int
    landings: int
    probability: float
    low: float
    high: float


def failures(result: StudyResult, confidence: float = CONFIDENCE) -> tuple[Failure, ...]:
    """Probability of failing each margin, then any of those that count.

    Parameters
    ----------
    result : StudyResult
    confidence : float
        Of the interval [-].

    Returns
    -------
    tuple of Failure
        A margin that does not apply to a landing does not fail in it.

    Notes
    -----
    Means: How often a margin is negative among many landings, and how sure that is.
    Formula: probability = landings with margin < 0/landings
    Formula: any: some counted margin negative
    Range: Landings that were drawn; a margin that does not apply does not fail. What is not drawn
    is not in it.
    Band: The scatter of the inputs, nothing else: each landing is one girder without a band.
    Limits: [scatter]: inputs, correlations, method and seed

    References
    ----------
    Relative frequency [common practice]
    """
    landings = len(result.number)
    found = []
    some = np.zeros(landings, dtype=bool)
    for name, margin, counts in zip(result.names, result.margin, result.counts, strict=True):
        failed = margin < 0.0
        some |= failed & bool(counts)
        found.append(_failure(name, int(failed.sum()), landings, confidence, counts=bool(counts)))
    return (*found, _failure(ANY, int(some.sum()), landings, confidence, counts=True))


def _failure(
    name: tuple[str, str], failed: int, landings: int, confidence: float, *, counts: bool
) -> Failure:
    low, high = binomial_interval(failed, landings, confidence)
    return Failure(name, counts, failed, landings, failed / landings, low, high)


def binomial_interval(failed: int, landings: int, confidence: float) -> tuple[float, float]:
    """Two-sided interval of a probability from a count.

    Parameters
    ----------
    failed, landings : int
        k of n.
    confidence : float
        1 − α [-].

    Returns
    -------
    tuple of float
        Low and high [-].

    Notes
    -----
    Formula: low = α/2 quantile of Beta(k, n − k + 1)
    Formula: high = 1 − α/2 quantile of Beta(k + 1, n − k)

    For independent landings. Sobol points and Latin hypercubes spread more evenly than that, so
    that the interval is usually wider than need be.

    References
    ----------
    C. J. Clopper, E. S. Pearson, Biometrika 26 (1934) 404 [from memory]

    Examples
    --------
    >>> [round(p, 4) for p in binomial_interval(0, 100, 0.95)]
    [0.0, 0.0362]
    """
    tail = 0.5 * (1.0 - confidence)
    low = 0.0 if failed == 0 else float(stats.beta.ppf(tail, failed, landings - failed + 1))
    full = failed == landings
    high = 1.0 if full else float(stats.beta.isf(tail, failed + 1, landings - failed))
    return low, high


def percentiles(values: ArrayLike, at: ArrayLike) -> FloatArray:
    """Percentiles over landings, the last axis but for the first: curves (N, ...) -> (P, ...).

    Parameters
    ----------
    values : array_like
        Landings first; not a number is left out, and where there is nothing else the result.
    at : array_like
        Percentiles, 0 to 100, shape (P,).

    Returns
    -------
    ndarray
        Percentiles first.

    Notes
    -----
    Means: Value that so many per cent of the landings do not exceed.
    Formula: value that so many per cent of the landings do not exceed
    Range: Values of the sample, without confidence.
    Band: The scatter of the inputs, nothing else: each landing is one girder without a band.

    References
    ----------
    Linear between ranks, as numpy.percentile [common practice]
    """
    found, where = floats(values, at)
    nowhere = np.isnan(found).all(axis=0)
    known = np.where(nowhere, 0.0, found)
    with np.errstate(invalid="ignore"):
        some = np.nanpercentile(known, where, axis=0)
    if np.isnan(some).any():
        some = np.where(
            np.isnan(some), np.nanpercentile(known, where, axis=0, method="higher"), some
        )
    return np.where(nowhere, np.nan, some)
