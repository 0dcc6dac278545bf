"""What records say about a prediction, in sentences."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from crushleg.trial.filters import PASS_BAND
from crushleg.units import plain

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.trial.correlate import Batch, Compared, Correlated
    from crushleg.trial.posterior import Posterior, Prior

CLEAR = 3.0
"""End of the pass band over the rate of folds, at least, for crests to show (judgement)."""
UNNAMED = "without a name"
UNIT_SLIP = (0.2, 5.0)
"""Measured over predicted outside which a wrong unit or column is likely."""


def batch_name(name: str) -> str:
    """Name of a batch, or that it has none.

    >>> batch_name("S1"), batch_name("")
    ('batch S1', 'batch without a name')
    """
    return f"batch {name or UNNAMED}"


def headed(name: str) -> str:
    """Name of a batch at the head of a sentence."""
    return batch_name(name).replace("b", "B", 1)


def percent(ratio: float) -> str:
    """Ratio as a signed difference from one.

    >>> percent(1.0832), percent(0.9)
    ('+8.3 %', '-10 %')
    """
    return f"{'+' if ratio >= 1.0 else '-'}{plain(100.0 * abs(ratio - 1.0), 2)} %"


def factor_text(posterior: Posterior, *, of_next: bool = False) -> str:
    """Factor with its 95 % limits."""
    low, high = posterior.limits(of_next=of_next)
    return f"{posterior.factor:.3f} ({low:.3f} to {high:.3f})"


def prior_text(prior: Prior) -> str:
    """Say what was believed before any test."""
    known = "taken as known" if prior.known else "not known: Student's t, its guess worth 4 tests"
    return (
        f"Before any test: batch means scatter by {prior.between:g} about the prediction, tests of "
        f"one batch by {prior.within:g}, {known} (standard deviations of the log; judgement)."
    )


def verdicts(found: Correlated) -> Iterator[str]:
    """One sentence per batch on the bias, then who disagrees."""
    for batch in found.batches:
        yield _bias(batch)
        if batch.scatters_more:
            yield (
                f"{headed(batch.name)}: tests scatter by "
                f"{batch.sample_scatter:.3f}, more than the {found.prior.within:g} assumed: the "
                "band takes their own scatter (Student's t)."
            )
        if batch.without is not None:
            yield (
                f"{headed(batch.name)}: tests that disagree are left in; without "
                f"them the factor would be {batch.without.factor:.3f}, of {batch.without.tests} "
                "test(s)."
            )
    for test in found.tests:
        yield from disagreement(test)
    if not any(test.disagrees for test in found.tests):
        yield "No test disagrees with the prediction or with its batch."


def _bias(batch: Batch) -> str:
    who = headed(batch.name)
    posterior = batch.posterior
    if posterior is None:
        return f"{who}: no test that can be used."
    count = f"{posterior.tests} test{'s' if posterior.tests > 1 else ''}"
    mean = math.exp(sum(test.y for test in batch.used) / len(batch.used))
    said = (
        f"{who}, {count}: measured {percent(mean)} on average against the uncorrelated prediction"
    )
    if not batch.biased:
        return f"{said}; no bias is significant."
    side = "MORE" if mean > 1.0 else "LESS"
    return f"{said}: BIAS, significant at 95 %. These girders take {side} energy than predicted."


def disagreement(test: Compared) -> Iterator[str]:
    """Say why a test is flagged."""
    name = f"{test.record.name} ({batch_name(test.record.batch)})"
    if test.beyond_prior:
        yield (
            f"{name} DISAGREES with the prediction: {percent(math.exp(test.y))}, beyond 2 standard "
            "deviations of what was expected of a first test."
        )
    if test.apart:
        yield f"{name} DISAGREES with the other tests of its batch: {percent(math.exp(test.y))}."
    if not UNIT_SLIP[0] <= test.ratio <= UNIT_SLIP[1]:
        yield f"{name}: {plain(test.ratio)} × the predicted energy: a wrong unit or column?"


def cautions_of(test: Compared) -> list[str]:
    """Cautions of one test, those of its record first."""
    found = list(test.record.cautions)
    if test.record.saturated:
        used = "used, as accept_saturated says" if test.record.usable else "not used in any factor"
        found.append(f"saturated: {used}")
    if test.metrics.stroke > test.stroke:
        found.append("the stroke is longer than the predicted curve: compared at its end")
    if (frequency := _hidden(test)) is not None:
        found.append(
            f"folds come at about {plain(frequency, 2)} Hz: the class takes off their crests; "
            "peaks are low"
        )
    if test.folds is not None and test.folds < 2:
        found.append("less than two folds: the first peak rules, the mean force hardly shows")
    return found


def _hidden(test: Compared) -> float | None:
    """Rate at which folds come at impact [Hz], where the record's class hides their crests."""
    record, folds = test.record, test.against.folds
    if record.peak_class is None or record.impact_speed is None or folds is None:
        return None
    if len(folds) < 2:
        return None
    frequency = record.impact_speed / float(np.diff(folds).mean())
    return frequency if PASS_BAND * record.peak_class < CLEAR * frequency else None


def between_text(found: Correlated) -> str:
    """Say how far batches lie apart."""
    used = [batch for batch in found.batches if batch.posterior is not None]
    factors = [batch.posterior.factor for batch in used if batch.posterior is not None]
    apart = max(factors) / min(factors)
    return (
        f"Batches are kept apart: one factor each; the largest over the smallest is {apart:.3f}. "
        f"For a girder of another batch all are pooled, with a scatter of {found.omega:.3f} "
        "between batches (found by moments, at least 0.044)."
    )
