"""One-sided tolerance limits: value that a share of all landings stays below, with confidence."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from scipy import stats

from crushleg.arrays import floats
from crushleg.scatter.statistics import CONFIDENCE

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


class Limit(NamedTuple):
    """One-sided tolerance limit; the order statistic is None where there are too few values."""

    coverage: float
    confidence: float
    normal: float
    ordered: float | None
    least_landings: int


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
