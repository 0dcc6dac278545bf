r"""What tests say about the force: posterior of a normal mean, closed forms.

One test gives y = ln(measured/predicted energy) ~ N(θ, σw²); θ ~ N(θ0, τ²), one θ per batch. Where
σw is not known, σw² has a scaled inverse chi-square prior and the next test a Student t.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scipy.stats import t

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

WITHIN = 0.05
BETWEEN = 0.09
WEIGHT = 4.0
"""Tests that the prior of an unknown σw is worth."""
Z = 1.96
LIKELY = 0.95


@dataclass(frozen=True, slots=True, kw_only=True)
class Prior:
    """Before any test: mean θ0 and scatter τ of θ, scatter σw of tests in one batch (judgement).

    ``known``: whether σw is taken as it is.
    """

    mean: float = 0.0
    between: float = BETWEEN
    within: float = WITHIN
    known: bool = True

    @property
    def predictive(self) -> float:
        """Standard deviation of the first test's y."""
        return math.hypot(self.between, self.within)


@dataclass(frozen=True, slots=True, kw_only=True)
class Posterior:
    """After tests: θ with its spread, and the next test.

    ``within`` is σw as taken or found; ``dof`` the degrees of freedom, infinite where σw is
    known. ``next_spread`` is what 1.96 makes 95 % of the next test's y: its standard deviation
    where σw is known, the t quantile over 1.96 times its scale elsewhere.
    """

    tests: int
    mean: float
    spread: float
    within: float
    dof: float
    scale: float

    @property
    def quantile(self) -> float:
        """Two-sided 95 % quantile: 1.96, or that of Student's t."""
        return Z if math.isinf(self.dof) else float(t.ppf(0.5 + 0.5 * LIKELY, self.dof))

    @property
    def next_spread(self) -> float:
        """Scatter that goes into the band of the next girder."""
        return self.scale * self.quantile / Z

    @property
    def factor(self) -> float:
        """Force factor e^θ."""
        return math.exp(self.mean)

    def limits(self, *, of_next: bool) -> tuple[float, float]:
        """95 % limits of the factor, of the batch or of its next test."""
        half = self.quantile * (self.scale if of_next else self.spread)
        return math.exp(self.mean - half), math.exp(self.mean + half)


def known_scatter(y: FloatArray, prior: Prior) -> Posterior:
    """Force factor of one batch of tests, scatter within it known.

    y = ln(measured/predicted energy), at equal stroke, is normal about θ; the force factor is e^θ,
    one θ per batch.

    Parameters
    ----------
    y : ndarray
        ln(measured/predicted) of n tests, shape (n,).
    prior : Prior

    Returns
    -------
    Posterior

    Notes
    -----
    Means: What tests say about the force: factor on the curve, and scatter of the next girder.
    Formula: 1/τn² = 1/τ² + n/σw²
    Formula: θn = τn² (θ0/τ² + n ȳ/σw²), force factor = exp(θn)
    Formula: scatter of the next test: s² = τn² + σw²
    Range: Tests of one batch of girders like those that will fly; prior θ0 = 0, τ 0.09, σw 0.05.
    Band: s replaces the scatter of the model in the band; 95 % limits of the factor are θn ± 1.96
    τn.
    Limits: girder.correlation is the file that `correlate` writes

    References
    ----------
    Normal mean with a conjugate prior, textbook [from memory]; prior [judgement]

    Examples
    --------
    >>> import numpy as np
    >>> p = known_scatter(np.array([0.09, 0.09]), Prior(between=0.05, within=0.05))
    >>> round(p.mean, 3), round(p.spread**2, 6), round(p.scale**2, 6)
    (0.06, 0.000833, 0.003333)
    """
    n, s2 = len(y), prior.within**2
    precision = 1.0 / prior.between**2 + n / s2
    mean = (prior.mean / prior.between**2 + float(y.sum()) / s2) / precision
    return Posterior(
        tests=n,
        mean=mean,
        spread=precision**-0.5,
        within=prior.within,
        dof=math.inf,
        scale=math.sqrt(1.0 / precision + s2),
    )


def unknown_scatter(y: FloatArray, prior: Prior) -> Posterior:
    """Posterior of one batch, σw unknown: normal with scaled inverse chi-square.

    The next test is Student's t about θn with νn degrees of freedom.

    Parameters
    ----------
    y : ndarray
        Shape (n,).
    prior : Prior
        Its σw is the prior guess, worth ν0 = 4 tests (judgement).

    Returns
    -------
    Posterior

    Notes
    -----
    Formula: κn = σw²/τ² + n, νn = ν0 + n
    Formula: νn sn² = ν0 σw² + Σ (y − ȳ)² + κ0 n/κn (ȳ − θ0)², κ0 = σw²/τ²
    Formula: s² = sn² (1 + 1/κn)

    References
    ----------
    Conjugate analysis of a normal sample, textbook [from memory]; ν0 = 4 [judgement]
    """
    n, s2 = len(y), prior.within**2
    strength = s2 / prior.between**2
    total = strength + n
    middle = float(y.mean()) if n else prior.mean
    mean = (strength * prior.mean + n * middle) / total
    squares = float(((y - middle) ** 2).sum())
    squares += WEIGHT * s2 + strength * n / total * (middle - prior.mean) ** 2
    dof = WEIGHT + n
    variance = squares / dof
    return Posterior(
        tests=n,
        mean=mean,
        spread=math.sqrt(variance / total),
        within=math.sqrt(variance),
        dof=dof,
        scale=math.sqrt(variance * (1.0 + 1.0 / total)),
    )


def of_batch(y: FloatArray, prior: Prior) -> Posterior:
    """Posterior of one batch; with no test, the prior."""
    return known_scatter(y, prior) if prior.known else unknown_scatter(y, prior)
