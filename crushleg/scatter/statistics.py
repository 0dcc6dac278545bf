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
    r"""Two-sided interval of a probability from a count.

    .. math:: B^{-1}(\alpha/2;\, k,\, n-k+1), \quad B^{-1}(1-\alpha/2;\, k+1,\, n-k)

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
    For independent landings. Sobol points and Latin hypercubes spread more evenly than that, so
    that the interval is usually wider than need be.

    References
    ----------
    Clopper & Pearson, Biometrika 26 (1934) 404, from memory.

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
    r"""One-sided tolerance factor of a normal sample: limit = mean ± k × deviation.

    .. math:: k = t_{n-1,\,\gamma}(z_p \sqrt n)/\sqrt n, \quad \text{noncentral } t

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

    References
    ----------
    Exact; tables in ISO 16269-6 and MIL-HDBK-5, from memory.

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

    References
    ----------
    Wilks, Ann. Math. Stat. 12 (1941) 91, from memory: binomial(n, p) ≤ r − 1 with probability γ.

    Examples
    --------
    >>> ordered_rank(28, 0.90, 0.95), ordered_rank(29, 0.90, 0.95), ordered_rank(299, 0.99, 0.95)
    (None, 29, 299)
    """
    rank = int(stats.binom.ppf(confidence, landings, coverage)) + 1
    return rank if rank <= landings else None


def least_landings(coverage: float, confidence: float) -> int:
    """Landings from which on the largest is a tolerance limit: 1 − pⁿ ≥ γ.

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


def lower_limit(values: ArrayLike, coverage: float, confidence: float = CONFIDENCE) -> Limit:
    """Lower one-sided tolerance limit, see :func:`upper_limit`."""
    (all_values,) = floats(values)
    found = upper_limit(-all_values, coverage, confidence)
    ordered = None if found.ordered is None else -found.ordered
    return found._replace(normal=-found.normal, ordered=ordered)


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
    """
    found, where = floats(values, at)
    nowhere = np.isnan(found).all(axis=0)
    some = np.nanpercentile(np.where(nowhere, 0.0, found), where, axis=0)
    return np.where(nowhere, np.nan, some)
