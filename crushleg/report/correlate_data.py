"""A correlation as plain data and as tables: SI, keys end in their unit."""

from __future__ import annotations

import math
from importlib.metadata import version
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from crushleg.cautions import SCREENING
from crushleg.girder.pattern import LEVELS
from crushleg.report.correlate_words import cautions_of, verdicts
from crushleg.report.files import make_folder, write_text

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from crushleg.report.correlate_text import Findings
    from crushleg.trial.correlate import Batch, Compared
    from crushleg.trial.posterior import Posterior

SCHEMA = "crushleg-correlation-1"
POINTS = 1000
"""Strokes at which a measured curve is given."""


def correlation_data(about: Findings) -> dict[str, Any]:
    """Everything a correlation found.

    Parameters
    ----------
    about : Findings

    Returns
    -------
    dict
        Schema "crushleg-correlation-1", ready for JSON; ``None`` where a thing does not apply.
    """
    found, case, against = about.found, about.case, about.against
    return {
        "schema": SCHEMA,
        "title": case.title,
        "revision": case.revision,
        "version": version("crushleg"),
        "input_sha256": case.input_sha256,
        "against": {
            "name": against.name,
            "sha256": against.sha256 or None,
            "input_sha256": against.input_sha256 or None,
            "force_factor_in_it": against.factor,
        },
        "notes": list(about.notes),
        "verdict": list(verdicts(found)),
        "prior": {
            "mean": found.prior.mean,
            "between": found.prior.between,
            "within": found.prior.within,
            "within_known": found.prior.known,
        },
        "batches": [_batch(batch) for batch in found.batches],
        "pooled": _posterior(found.pooled),
        "scatter_between_batches": found.omega,
        "written": about.written or None,
        "tests": [_test(test) for test in found.tests],
        "cautions": [SCREENING],
    }


def _number(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None


def _levels(values: Iterable[float]) -> dict[str, float | None]:
    return dict(zip(LEVELS, map(_number, values), strict=True))


def _posterior(posterior: Posterior | None) -> dict[str, Any] | None:
    if posterior is None:
        return None
    return {
        "tests": posterior.tests,
        "force_factor": posterior.factor,
        "force_factor_limits": list(posterior.limits(of_next=False)),
        "next_test_limits": list(posterior.limits(of_next=True)),
        "mean_of_log": posterior.mean,
        "spread_of_mean": posterior.spread,
        "within": posterior.within,
        "degrees_of_freedom": _number(posterior.dof),
        "scatter": posterior.next_spread,
    }


def _batch(batch: Batch) -> dict[str, Any]:
    return {
        "batch": batch.name,
        "tests_used": len(batch.used),
        "tests": len(batch.tests),
        "biased": batch.biased,
        "scatters_more": batch.scatters_more,
        "sample_scatter": _number(batch.sample_scatter),
        "posterior": _posterior(batch.posterior),
    }


def _test(test: Compared) -> dict[str, Any]:
    record, read = test.record, test.metrics
    return {
        "test": record.test,
        "leg": record.leg or None,
        "batch": record.batch,
        "file": record.file,
        "sha256": record.sha256,
        "kind": record.kind,
        "sample_rate_Hz": record.sample_rate,
        "filter_class": record.filter_class,
        "peak_class": record.peak_class,
        "impact_speed_m_s": record.impact_speed,
        "stroke_m": read.stroke,
        "energy_J": read.energy,
        "mean_force_N": read.mean,
        "first_peak_N": read.first_peak,
        "largest_force_N": read.largest,
        "efficiency": read.efficiency,
        "usable_stroke_m": _number(read.usable),
        "folds": read.folds,
        "compared_stroke_m": test.stroke,
        "compared_energy_J": test.energy,
        "predicted_energy_J": _levels(test.predicted),
        "predicted_first_peak_N": _levels(test.against.first_peak),
        "predicted_largest_force_N": _levels(test.peak),
        "predicted_folds": test.folds,
        "measured_over_predicted": test.ratio,
        "log_over_uncorrected": test.y,
        "in_band": test.inside,
        "used": record.usable,
        "beyond_prior": test.beyond_prior,
        "apart_from_batch": test.apart,
        "done": list(record.done),
        "cautions": cautions_of(test),
    }


def write_tables(about: Findings, folder: Path) -> list[Path]:
    """Write the tests, their measured curves, and a text to read first.

    Parameters
    ----------
    about : Findings
    folder : path

    Returns
    -------
    list of Path
        correlation-tests.csv, correlation-curves.csv (at most 1000 strokes per test),
        CORRELATION-READ-FIRST.txt.

    Raises
    ------
    InputError
        A file cannot be written: which, why and what to do.
    """
    data = correlation_data(about)
    tests = pd.DataFrame([_row(test) for test in data["tests"]])
    curves = pd.concat([_curve(test) for test in about.found.tests])
    texts = {
        "correlation-tests.csv": tests.to_csv(index=False, lineterminator="\n"),
        "correlation-curves.csv": curves.to_csv(index=False, lineterminator="\n"),
        "CORRELATION-READ-FIRST.txt": _read_first(data),
    }
    place = make_folder(folder)
    for name, text in texts.items():
        write_text(place / name, text)
    return [place / name for name in texts]


def _row(test: dict[str, Any]) -> dict[str, Any]:
    row: dict[str, Any] = {}
    for key, value in test.items():
        if isinstance(value, dict):
            name, _, unit = key.rpartition("_")
            row |= {f"{name}_{level}_{unit}": value[level] for level in LEVELS}
        else:
            row[key] = "; ".join(value) if isinstance(value, list) else value
    return row


def _curve(test: Compared) -> pd.DataFrame:
    """Measured curve, thinned to even steps of the samples, its ends kept."""
    record = test.record
    count = min(POINTS, len(record.stroke))
    at = np.unique(np.linspace(0, len(record.stroke) - 1, count).round().astype(int))
    return pd.DataFrame(
        {
            "test": record.name,
            "batch": record.batch,
            "time_s": np.nan if record.time is None else record.time[at],
            "stroke_m": record.stroke[at],
            "force_N": record.force[at],
            "energy_J": record.energy[at],
        }
    )


def _read_first(data: dict[str, Any]) -> str:
    about = (
        f"{data['title']}, revision {data['revision']}, input {data['input_sha256']}, "
        f"crushleg {data['version']}"
    )
    tables = (
        "correlation-tests.csv and correlation-curves.csv are in SI units; the columns end in "
        f"their unit. Curves are thinned to {POINTS} samples."
    )
    return "\n".join([SCREENING, "", about, tables, "", *data["verdict"], ""])
