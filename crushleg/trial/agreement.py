"""Whether tests agree: with the prediction, with each other, with the scatter that was assumed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from scipy.stats import chi2, norm, t

from crushleg.trial.posterior import LIKELY, of_batch

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.trial.posterior import Posterior, Prior

FLAG = 2.0
"""Standard deviations of the first test from which it is flagged."""


def beyond_prior(y: FloatArray, prior: Prior) -> BoolArray:
    """Flag tests beyond 2 σ of what the prior expects of a first test, shape (n,)."""
    return np.abs(y - prior.mean) > FLAG * prior.predictive


def apart(y: FloatArray, prior: Prior) -> BoolArray:
    """Flag tests that disagree with the rest of their batch, shape (n,).

    Each is held against the posterior of the others, at 95 % for all together; the farthest is
    flagged and left out, then the rest is looked at again. A batch of two cannot say which of
    them is off.
    """
    flagged = np.zeros(len(y), dtype=bool)
    while (~flagged).sum() > 2:
        left = np.flatnonzero(~flagged)
        level = 1.0 - 0.5 * (1.0 - LIKELY) / len(left)
        excess = [_excess(y[left], i, level, prior) for i in range(len(left))]
        worst = int(np.argmax(excess))
        if excess[worst] <= 1.0:
            break
        flagged[left[worst]] = True
    return flagged


def _excess(y: FloatArray, index: int, level: float, prior: Prior) -> float:
    """Distance of a test from the others, over what is allowed at a level."""
    rest = of_batch(np.delete(y, index), prior)
    quantile = norm.ppf(level) if math.isinf(rest.dof) else t.ppf(level, rest.dof)
    return abs(float(y[index]) - rest.mean) / (float(quantile) * rest.scale)


def scatters_more(y: FloatArray, prior: Prior) -> bool:
    """Whether tests of one batch scatter more than σw, one-sided 95 %.

    Notes
    -----
    Formula: Σ (y − ȳ)²/σw² > 95 % quantile of χ² with n − 1 degrees

    References
    ----------
    Chi-square test [common practice]
    """
    if len(y) < 2:
        return False
    squares = float(((y - y.mean()) ** 2).sum()) / prior.within**2
    return squares > float(chi2.ppf(LIKELY, len(y) - 1))


def biased(y: FloatArray, posterior: Posterior) -> bool:
    """Whether a bias is significant: 95 % limits of θ, or of the mean of the tests, exclude 0.

    Notes
    -----
    Means: Whether tests lie off the prediction by more than their scatter explains.
    Formula: |ȳ| > q σw/√n, or |θn| > q τn
    Range: q is 1.96, or Student's t where the scatter is unknown.
    Band: 95 % limits.
    Limits: girder.correlation carries the factor once it is written

    References
    ----------
    Two-sided test at 95 % [common practice]
    """
    by_tests = abs(float(y.mean())) > posterior.quantile * posterior.within / math.sqrt(len(y))
    return by_tests or abs(posterior.mean) > posterior.quantile * posterior.spread
