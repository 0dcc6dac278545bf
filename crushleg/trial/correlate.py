"""Records held against a prediction, at equal stroke, and what they make of its band."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from crushleg.errors import InputError, Problem
from crushleg.trial.agreement import apart, beyond_prior, biased, scatters_more
from crushleg.trial.batches import pooled
from crushleg.trial.metrics import metrics
from crushleg.trial.posterior import Posterior, of_batch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.arrays import FloatArray
    from crushleg.trial.frozen import Predicted
    from crushleg.trial.metrics import Metrics
    from crushleg.trial.posterior import Prior
    from crushleg.trial.record import Record

POOLED = "pooled"
LONGER = 1.6
"""Stroke over that of the whole curve from which a record cannot be of this girder: it is longer
than the girder itself, of which at least 0.63 is crushed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """One girder: measured beside predicted, at the stroke they are compared at.

    ``energy`` measured [J] up to ``stroke`` [m], the measured one or the end of the curve;
    ``predicted`` energy low nominal high [J] there; ``peak`` largest force up to it, likewise.
    ``y`` is ln(measured / uncorrected nominal).
    """

    record: Record
    against: Predicted
    metrics: Metrics
    stroke: float
    energy: float
    predicted: FloatArray
    peak: FloatArray
    folds: int | None
    y: float
    beyond_prior: bool = False
    apart: bool = False

    @property
    def ratio(self) -> float:
        """Measured over predicted nominal energy, as it was issued."""
        return self.energy / float(self.predicted[1])

    @property
    def inside(self) -> bool:
        """Whether the measured energy lies in the predicted band."""
        return bool(self.predicted[0] <= self.energy <= self.predicted[2])

    @property
    def disagrees(self) -> bool:
        """Whether it is flagged."""
        return self.beyond_prior or self.apart


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """Tests of one batch; ``used`` are those that enter the posterior.

    Where they scatter more than σw the posterior is that of an unknown σw. ``without`` leaves the
    flagged tests out, None where there are none or nothing is left.
    """

    name: str
    tests: tuple[Compared, ...]
    posterior: Posterior | None
    without: Posterior | None
    biased: bool
    scatters_more: bool
    sample_scatter: float

    @property
    def used(self) -> tuple[Compared, ...]:
        """Tests that enter the posterior."""
        return tuple(test for test in self.tests if test.record.usable)


@dataclass(frozen=True, slots=True, kw_only=True)
class Correlated:
    """All batches; ``pooled`` is for a girder of another batch, with ``omega`` between batches."""

    prior: Prior
    batches: tuple[Batch, ...]
    pooled: Posterior | None
    omega: float

    @property
    def tests(self) -> tuple[Compared, ...]:
        """Tests of all batches."""
        return tuple(test for batch in self.batches for test in batch.tests)

    def chosen(self, batch: str | None) -> tuple[str, Posterior]:
        """Name and posterior that is written: of a batch, or pooled; by itself if only one.

        Raises
        ------
        InputError
            No such batch, or none of its tests can be used.
        """
        there = [one for one in self.batches if one.posterior is not None]
        if batch is None:
            batch = there[0].name if len(there) == 1 else POOLED
        if batch == POOLED and self.pooled is not None:
            return POOLED, self.pooled
        for one in there:
            if one.name == batch and one.posterior is not None:
                return one.name, one.posterior
        names = ", ".join(f'"{one.name}"' for one in there)
        write = f'"{POOLED}"' + (f" or one of {names}" if names else "")
        raise InputError([Problem(field="--batch", read=f'"{batch}"', write=write)])


def compared(record: Record, against: Predicted) -> Compared:
    """Hold one record against a prediction.

    Parameters
    ----------
    record : Record
    against : Predicted

    Returns
    -------
    Compared

    Raises
    ------
    InputError
        A stroke that this girder does not have.
    """
    measured = metrics(record)
    if measured.stroke > LONGER * against.end:
        read = f"a stroke of {measured.stroke:.4g} m on a girder that ends at {against.end:.4g} m"
        raise InputError([Problem(file=record.file, read=read, write="the right unit or case")])
    stroke = min(measured.stroke, against.end)
    reached = np.maximum.accumulate(record.stroke)
    energy = float(np.interp(stroke, reached, record.energy))
    predicted = against.energy_at(stroke)
    folds = None if against.folds is None else int((against.folds < stroke).sum())
    return Compared(
        record=record,
        against=against,
        metrics=measured,
        stroke=stroke,
        energy=energy,
        predicted=predicted,
        peak=against.peak_to(stroke),
        folds=folds,
        y=math.log(energy / float(predicted[1]) * against.factor),
    )


def correlate(tests: Sequence[Compared], prior: Prior) -> Correlated:
    """Posterior of every batch, tests that disagree, and all batches together.

    Parameters
    ----------
    tests : sequence of Compared
    prior : Prior

    Returns
    -------
    Correlated

    Raises
    ------
    InputError
        Two tests of one name.
    """
    names = [(test.record.batch, test.record.name) for test in tests]
    for test, name in zip(tests, names, strict=True):
        if names.count(name) > 1:
            read = f'test "{test.record.name}" twice'
            write = "test, a name of its own for each, in the record's TOML"
            raise InputError([Problem(file=test.record.file, read=read, write=write)])
    groups: dict[str, list[Compared]] = {}
    for test in tests:
        groups.setdefault(test.record.batch, []).append(test)
    batches = tuple(_batch(name, group, prior) for name, group in groups.items())
    ys = [np.array([test.y for test in batch.used]) for batch in batches if batch.used]
    wide = any(batch.scatters_more for batch in batches)
    together, omega = pooled(ys, _wider(prior, wide=wide)) if ys else (None, 0.0)
    return Correlated(prior=prior, batches=batches, pooled=together, omega=omega)


def _batch(name: str, tests: Sequence[Compared], prior: Prior) -> Batch:
    used = [test for test in tests if test.record.usable]
    y = np.array([test.y for test in used])
    flags = dict(zip((test.record.name for test in used), apart(y, prior), strict=True))
    marked = tuple(
        replace(
            test,
            beyond_prior=bool(beyond_prior(np.array([test.y]), prior)[0]),
            apart=bool(flags.get(test.record.name, False)),
        )
        for test in tests
    )
    wider = scatters_more(y, prior)
    posterior = of_batch(y, _wider(prior, wide=wider)) if used else None
    agreeing = np.array([t.y for t in marked if t.record.usable and not t.disagrees])
    return Batch(
        name=name,
        tests=marked,
        posterior=posterior,
        without=of_batch(agreeing, prior) if 0 < len(agreeing) < len(used) else None,
        biased=posterior is not None and biased(y, posterior),
        scatters_more=wider,
        sample_scatter=float(y.std(ddof=1)) if len(y) > 1 else math.nan,
    )


def _wider(prior: Prior, *, wide: bool) -> Prior:
    """Prior that lets tests say how they scatter, where they scatter more than it."""
    return replace(prior, known=prior.known and not wide)
