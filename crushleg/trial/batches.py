"""Tests of several batches: the scatter between them, and the posterior for a girder of another."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from crushleg.trial.posterior import WEIGHT, Posterior, Prior

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.arrays import FloatArray

BATCHES = 0.044
"""Least scatter between batches: that of measured over certified yield (published, second-hand)."""


def between_batches(batches: Sequence[FloatArray], within: float) -> float:
    """Scatter of batch means beyond that of their tests, by moments.

    Parameters
    ----------
    batches : sequence of ndarray
        y of each batch, two batches or more.
    within : float
        σw.

    Returns
    -------
    float
        ω, zero where the means differ no more than their tests explain.

    Notes
    -----
    Formula: ω² = [Q − (B − 1)]/(Σ w − Σ w²/Σ w), not below zero
    Formula: w_b = n_b/σw², Q = Σ w_b (ȳ_b − ȳ)²

    References
    ----------
    Method of moments for random effects, R. DerSimonian, N. Laird (1986) [from memory]
    """
    weight = np.array([len(y) for y in batches]) / within**2
    means = np.array([y.mean() for y in batches])
    middle = float((weight * means).sum() / weight.sum())
    excess = float((weight * (means - middle) ** 2).sum()) - (len(batches) - 1)
    room = float(weight.sum() - (weight**2).sum() / weight.sum())
    return math.sqrt(max(excess, 0.0) / room) if room > 0.0 else 0.0


def pooled(batches: Sequence[FloatArray], prior: Prior) -> tuple[Posterior, float]:
    """Posterior for a girder of another batch, and the scatter ω between batches taken.

    Parameters
    ----------
    batches : sequence of ndarray
        y of each batch.
    prior : Prior

    Returns
    -------
    Posterior, float
        ω is that found, at least 0.044: a few batches cannot show less.

    Notes
    -----
    Formula: w_b = 1/(σw²/n_b + ω²)
    Formula: 1/V = 1/τ² + Σ w_b
    Formula: s² = V + ω² + σw²

    Where σw is unknown it is pooled over the batches, on ν0 + Σ(n_b - 1) degrees of freedom.

    References
    ----------
    Normal random effects, textbook [from memory]; ω at least 0.044 [judgement]
    """
    within, dof = prior.within, math.inf
    if not prior.known:
        dof = WEIGHT + sum(len(y) - 1 for y in batches)
        squares = sum(float(((y - y.mean()) ** 2).sum()) for y in batches)
        within = math.sqrt((WEIGHT * within**2 + squares) / dof)
    omega = BATCHES
    if len(batches) > 1:
        omega = max(omega, between_batches(batches, within))
    weight = np.array([1.0 / (within**2 / len(y) + omega**2) for y in batches])
    means = np.array([y.mean() for y in batches])
    precision = 1.0 / prior.between**2 + float(weight.sum())
    mean = (prior.mean / prior.between**2 + float((weight * means).sum())) / precision
    return Posterior(
        tests=sum(len(y) for y in batches),
        mean=mean,
        spread=precision**-0.5,
        within=within,
        dof=dof,
        scale=math.sqrt(1.0 / precision + omega**2 + within**2),
    ), omega
