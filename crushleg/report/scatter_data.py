"""The result of a study as plain data: SI, keys end in their unit."""

from __future__ import annotations

import math
from importlib.metadata import version
from typing import TYPE_CHECKING, Any

import numpy as np

from crushleg.cautions import SCREENING
from crushleg.report.data import result
from crushleg.report.scatter_tables import COVERAGES, LIMITED, PERCENTILES
from crushleg.report.scatter_text import cautions, study_sources
from crushleg.report.scatter_words import (
    distribution,
    input_name,
    limit_of,
    quantity,
    shown_quantities,
)
from crushleg.scatter.statistics import CONFIDENCE, failures, percentiles
from crushleg.scatter.tolerance import upper_limit

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.arrays import FloatArray
    from crushleg.case.records import ScatterInput
    from crushleg.scatter.outcome import Outcome

SCHEMA = "crushleg-scatter-1"
ENDINGS = {
    "length": "_m",
    "mass": "_kg",
    "force": "_N",
    "stress": "_Pa",
    "energy": "_J",
    "speed": "_m_s",
    "acceleration": "_m_s2",
    "angle": "_rad",
    "angular rate": "_rad_s",
    "temperature": "_K",
    "time": "_s",
    "area": "_m2",
    "density": "_kg_m3",
    "bearing gradient": "_Pa_m",
    "strain rate": "_1_s",
    "number": "",
}
"""Dimension -> ending of a key."""
PARAMETERS = ("mean", "median", "mode", "deviation", "low", "high")


def scatter_result(outcome: Outcome) -> dict[str, Any]:
    """Everything a study found, ready for JSON.

    Parameters
    ----------
    outcome : Outcome

    Returns
    -------
    dict
        Schema "crushleg-scatter-1"; the landings themselves are in scatter-samples.csv. Limits and
        percentiles of a quantity are in the unit that its ``key`` ends in, margins have none.
        ``check`` is the result of the case itself, with its whole band.
    """
    case, study, scatter = outcome.case, outcome.study, outcome.plan.scatter
    any_one = failures(study)[-1]
    return {
        "schema": SCHEMA,
        "title": case.title,
        "revision": case.revision,
        "version": version("crushleg"),
        "input_sha256": case.input_sha256,
        "passes": outcome.passes,
        "interrupted": not study.complete,
        "landings": len(study.number),
        "landings_asked": study.total,
        "method": scatter.method,
        "seed": scatter.seed,
        "digest": study.digest,
        "confidence": CONFIDENCE,
        "inputs": [_input(one) for one in outcome.plan.inputs],
        "correlations": [
            {"inputs": list(pair.inputs), "value": pair.value, "part": pair.part}
            for pair in outcome.plan.correlations
        ],
        "any": _failure(any_one),
        "margins": list(_margins(outcome)),
        "quantities": list(_quantities(outcome)),
        "tolerance_limits": list(_limits(outcome)),
        "tornado": _tornado(outcome),
        "indices": _indices(outcome),
        "worst": _worst(outcome),
        "notes": [*outcome.plan.notes, *study.notes],
        "cautions": [SCREENING, *cautions(outcome)],
        "sources": study_sources(outcome),
        "check": result(outcome.checked),
    }


def _input(one: ScatterInput) -> dict[str, Any]:
    ending = ENDINGS[one.kind]
    numbers = {f"{name}{ending}": getattr(one, name) for name in PARAMETERS}
    lists = {
        f"values{ending}": one.values,
        "probabilities": one.probabilities,
        "cumulative": one.cumulative,
    }
    given = {key: x for key, x in (numbers | lists).items() if x is not None}
    return {
        "key": one.key,
        "part": one.part,
        "distribution": one.distribution,
        "said": distribution(one),
        f"of_the_case{ending}": one.centre,
        **given,
        "cov": one.cov,
        "source": one.source,
    }


def _failure(found: Any) -> dict[str, Any]:
    return {
        "failed": found.failed,
        "probability": found.probability,
        "probability_low": found.low,
        "probability_high": found.high,
    }


def _margins(outcome: Outcome) -> Iterator[dict[str, Any]]:
    study = outcome.study
    for found, margin in zip(failures(study), study.margin, strict=False):
        applies = ~np.isnan(margin)
        yield {
            "check": found.name[0],
            "touchdown": found.name[1],
            "counts": found.counts,
            "applies": int(applies.sum()),
            **_failure(found),
            "least": number(np.nanmin(margin)) if applies.any() else None,
            **_percentiles(margin),
        }


def _percentiles(values: FloatArray) -> dict[str, float | None]:
    found = percentiles(values, PERCENTILES)
    return {f"percentile_{p}": number(x) for p, x in zip(PERCENTILES, found, strict=True)}


def _quantities(outcome: Outcome) -> Iterator[dict[str, Any]]:
    for name, values in outcome.study.quantities.items():
        yield {"key": name.partition(" ")[0], "touchdown": quantity(name).touchdown} | _percentiles(
            values
        )


def _limits(outcome: Outcome) -> Iterator[dict[str, Any]]:
    for one in shown_quantities(outcome, LIMITED):
        for coverage in COVERAGES:
            found = upper_limit(outcome.study.quantities[one.name], coverage)
            yield {
                "key": one.name.partition(" ")[0],
                "touchdown": one.touchdown,
                "coverage": coverage,
                "confidence": found.confidence,
                "by_rank": found.ordered,
                "by_rank_from_landings": found.least_landings,
                "if_normal": number(found.normal),
                "limit": limit_of(outcome, one),
            }


def _tornado(outcome: Outcome) -> list[dict[str, Any]] | None:
    found = outcome.tornado
    if found is None:
        return None
    kinds = {input_name(one): one.kind for one in outcome.plan.inputs}
    return [
        {
            "input": key,
            **{
                f"{name}{ENDINGS[kinds[key]]}": number(found.at[end, k])
                for end, name in enumerate(("at_5_percent", "at_95_percent"))
            },
            "results": [
                {
                    "result": name,
                    "at_medians": number(found.centre[q]),
                    "at_5_percent": number(found.ends[0, q, k]),
                    "at_95_percent": number(found.ends[1, q, k]),
                }
                for q, name in enumerate(found.results)
            ],
        }
        for k, key in enumerate(found.inputs)
    ]


def _indices(outcome: Outcome) -> dict[str, Any] | None:
    found = outcome.indices
    if found is None:
        return None
    rows = [
        {
            "result": name,
            "group": group,
            "first": number(found.first[q, g]),
            "first_half_width": number(found.first_spread[q, g]),
            "total": number(found.total[q, g]),
            "total_half_width": number(found.total_spread[q, g]),
        }
        for q, name in enumerate(found.results)
        for g, group in enumerate(found.groups)
    ]
    return {"landings": outcome.indices_landings, "shares": rows}


def _worst(outcome: Outcome) -> dict[str, Any] | None:
    found = outcome.worst
    if found is None:
        return None
    kinds = {one.key: one.kind for one in outcome.plan.inputs}
    return {
        "landing": found.worst.number,
        "check": found.worst.name[0],
        "touchdown": found.worst.name[1],
        "margin": found.worst.margin,
        "leg": None if found.leg is None else found.leg + 1,
        "values": {f"{key}{ENDINGS[kinds[key]]}": value for key, value in found.values.items()},
        "case_file": str(found.file),
        "margin_of_case_file": None if found.again is None else number(found.again),
    }


def number(value: float) -> float | None:
    """Finite value, else None."""
    return float(value) if math.isfinite(value) else None
