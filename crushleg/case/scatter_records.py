"""What [scatter] says: how many landings, which inputs scatter and how, and which go together."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from crushleg.case.fields import check_bounds, has

if TYPE_CHECKING:
    from collections.abc import Mapping

    from crushleg.case.lines import Path

METHODS = ("sobol", "latin hypercube", "random")
PARTS = ("batch", "leg")
BATCH, LEG = PARTS
NORMAL, LOGNORMAL, LIMITS, UNIFORM, TRIANGULAR, TABLE, SAMPLES = DISTRIBUTIONS = (
    "normal",
    "lognormal",
    "95 % limits",
    "uniform",
    "triangular",
    "table",
    "samples",
)
ITS_KEYS = "as the key"
LIST = "list"
LIST_OF_ITS_KEYS = "list, as the key"
"""Kinds that follow from the key that scatters."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScatterInput:
    """One part of one scattered input; values in SI of its ``kind``.

    ``path`` is the place of the key in the case, ``kind`` its dimension, ``centre`` the case's own
    value (0 for ``girder.hole_size``, 1 for ``model``; None where the case gives none), and
    ``drawn`` the column of a distribution "samples".
    """

    key: str = has("text", "key of the case, dotted as for `--set`")
    part: str = has("choice", "common to all legs, or leg to leg", BATCH, choices=PARTS)
    distribution: str | None = has(
        "choice", "left out: what the key has by default", None, choices=DISTRIBUTIONS
    )
    mean: float | None = has(ITS_KEYS, "of normal; left out: the case's own value", None)
    median: float | None = has(ITS_KEYS, "of lognormal and 95 % limits; left out: as mean", None)
    mode: float | None = has(ITS_KEYS, "of triangular; left out: as mean", None)
    deviation: float | None = has(ITS_KEYS, "standard deviation, of normal", None)
    cov: float | None = has(
        "number",
        "standard deviation over mean, of normal and lognormal",
        None,
        above=0.0,
        at_most=2.0,
    )
    low: float | None = has(ITS_KEYS, "lower limit; of any other distribution a cut", None)
    high: float | None = has(ITS_KEYS, "upper limit; of any other distribution a cut", None)
    values: tuple[float, ...] | None = has(LIST_OF_ITS_KEYS, "of table, ascending", None)
    probabilities: tuple[float, ...] | None = has(LIST, "of the values of table, sum 1", None)
    cumulative: tuple[float, ...] | None = has(
        LIST, "from 0 to 1 at the values, straight between, in place of probabilities", None
    )
    file: str | None = has("text", "CSV beside the case, of samples", None)
    column: str | None = has("text", "head of its column", None)
    unit: str | None = has("text", "unit of the column; left out: none, a number", None)
    source: str = has("text", "where this comes from", "the case")
    path: Path = ()
    kind: str = "number"
    centre: float | None = None
    drawn: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScatterCorrelation:
    """Correlation of two inputs (Gaussian copula: of their normal scores)."""

    inputs: tuple[str, str] = has(LIST, "two keys that scatter")
    value: float = has("number", "correlation coefficient", above=-1.0, below=1.0)
    part: str = has("choice", "of which part of both", BATCH, choices=PARTS)

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scatter:
    """[scatter] of a case; ``pattern`` is [girder.holes] as the file gives it."""

    samples: int = has("count", "landings to draw", 4096, at_least=16, at_most=100_000_000)
    seed: int = has("count", "same seed, same landings", 1, at_least=0, at_most=2_000_000_000)
    method: str = has("choice", "how they are drawn", "sobol", choices=METHODS)
    defaults: bool = has("flag", "inputs not listed scatter by default", default=True)
    inputs: tuple[ScatterInput, ...] = ()
    correlations: tuple[ScatterCorrelation, ...] = ()
    pattern: Mapping[str, Any] = field(default_factory=dict)

    def __post_init__(self) -> None:
        check_bounds(self)
