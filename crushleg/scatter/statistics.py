"""Probabilities and limits of what a study found, each with its confidence."""

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


class Limit(NamedTuple):
    """One-sided tolerance limit; the order statistic is None where there are too few values."""

    coverage: float
    confidence: float
    normal: float
    ordered: float | None
    least_landings: int


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


def tolerance_factor(landings: int, coverage: float, confidence: float) -> float:
    """One-sided tolerance factor of a normal sample: limit = mean ± k × deviation.

    Parameters
    ----------
    landings : int
        n, 2 or more.
    coverage, confidence : float
        p and γ [-].

    Returns
    -------
    float
        k [-].

    Notes
    -----
    Formula: k = t_(n−1, γ)(z_p √n)/√n, noncentral t
    Range: Normal quantity only.

    References
    ----------
    Exact; tables in ISO 16269-6 and MIL-HDBK-5 [from memory]

    Examples
    --------
    >>> round(tolerance_factor(10, 0.90, 0.95), 4), round(tolerance_factor(10, 0.99, 0.95), 4)
    (2.3546, 3.9811)
    """
    root = np.sqrt(landings)
    score = stats.norm.ppf(coverage)
    return float(stats.nct.ppf(confidence, landings - 1, score * root) / root)


def ordered_rank(landings: int, coverage: float, confidence: float) -> int | None:
    """Rank of the value that is an upper tolerance limit whatever the distribution.

    Parameters
    ----------
    landings : int
        n.
    coverage, confidence : float
        p and γ [-].

    Returns
    -------
    int or None
        r, from 1: the r-th smallest exceeds a share p of all with confidence γ. None where even
        the largest does not.

    Notes
    -----
    Formula: r = γ quantile of binomial(n, p), plus 1
    Range: Any distribution, independent landings.

    References
    ----------
    S. S. Wilks, Ann. Math. Stat. 12 (1941) 91 [from memory]

    Examples
    --------
    >>> ordered_rank(28, 0.90, 0.95), ordered_rank(29, 0.90, 0.95), ordered_rank(299, 0.99, 0.95)
    (None, 29, 299)
    """
    rank = int(stats.binom.ppf(confidence, landings, coverage)) + 1
    return rank if rank <= landings else None


def least_landings(coverage: float, confidence: float) -> int:
    """Landings from which on the largest is a tolerance limit.

    Notes
    -----
    Formula: 1 − p^n ≥ γ

    References
    ----------
    S. S. Wilks, Ann. Math. Stat. 12 (1941) 91 [from memory]

    Examples
    --------
    >>> least_landings(0.90, 0.95), least_landings(0.99, 0.95)
    (29, 299)
    """
    return int(np.ceil(np.log1p(-confidence) / np.log(coverage)))


def upper_limit(values: ArrayLike, coverage: float, confidence: float = CONFIDENCE) -> Limit:
    """Upper one-sided tolerance limit of values, normal and by order statistic.

    Parameters
    ----------
    values : array_like
        Shape (N,), any unit; not a number is left out.
    coverage, confidence : float
        Share of all landings below the limit, and how surely [-].

    Returns
    -------
    Limit
        ``normal`` is mean + k × deviation, right for a normal quantity only.

    Notes
    -----
    Means: Value that so large a share of all landings stays below, with so much confidence.
    Formula: by rank: the r-th smallest value
    Formula: if normal: mean + k × deviation
    Range: By rank for any distribution, from so many landings on; the normal one for a normal
    quantity only.
    Band: The scatter of the inputs, nothing else: each landing is one girder without a band.
    Limits: [scatter]: inputs and number of landings

    References
    ----------
    Order statistics of S. S. Wilks (1941); normal factor of ISO 16269-6 [from memory]
    """
    (all_values,) = floats(values)
    kept = np.sort(all_values[~np.isnan(all_values)])
    rank = ordered_rank(len(kept), coverage, confidence)
    normal = np.nan
    if len(kept) > 1:
        factor = tolerance_factor(len(kept), coverage, confidence)
        normal = float(kept.mean() + factor * kept.std(ddof=1))
    return Limit(
        coverage,
        confidence,
        normal,
        None if rank is None else float(kept[rank - 1]),
        least_landings(coverage, confidence),
    )


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
