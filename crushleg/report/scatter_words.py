"""Inputs, probabilities and quantities of a study in words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.case.scatter_records import (
    LEG,
    LIMITS,
    LOGNORMAL,
    NORMAL,
    SAMPLES,
    TABLE,
    TRIANGULAR,
)
from crushleg.case.scatter_span import deviation, middle
from crushleg.report.words import common_unit
from crushleg.units import plain, show

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.arrays import FloatArray
    from crushleg.case.records import ScatterInput
    from crushleg.scatter.outcome import Outcome
    from crushleg.scatter.statistics import Failure

SUFFIXES = {
    "_m_s2": "acceleration",
    "_m_s": "speed",
    "_m": "length",
    "_N": "force",
    "_J": "energy",
    "_s": "time",
}
"""Ending of the name of a quantity -> what it is."""
LISTED = 6
"""Values of a table that are written out."""
ALONE = "girder"


class Quantity(NamedTuple):
    """A result that is no margin: its name in the study, what it is, where, and its dimension."""

    name: str
    what: str
    touchdown: str
    dimension: str


def quantity(name: str) -> Quantity:
    """Read the name of a quantity.

    >>> quantity("leg_load_N nominal")
    Quantity(name='leg_load_N nominal', what='leg load', touchdown='nominal', dimension='force')
    """
    key, _, touchdown = name.partition(" ")
    ending = next((end for end in SUFFIXES if key.endswith(end)), "")
    what = key.removesuffix(ending).replace("_", " ")
    return Quantity(name, what, touchdown, SUFFIXES.get(ending, "number"))


def named(name: tuple[str, str]) -> str:
    """Check and touchdown of a margin.

    >>> named(("leg_load", "nominal")), named(("any", ""))
    ('leg load, nominal', 'any')
    """
    return ", ".join(part for part in (name[0].replace("_", " "), name[1]) if part)


def percent(probability: float, digits: int = 2) -> str:
    """Probability in percent without its sign; what is not exactly 0 or 100 never reads so.

    >>> percent(0.0), percent(0.031738), percent(0.93), percent(0.99996), percent(9e-6)
    ('0', '3.2', '93', '99.996', '0.0009')
    """
    if probability <= 0.5:
        return plain(100.0 * probability, digits)
    near = 100.0 * (1.0 - probability)
    places = 0 if near == 0.0 else max(0, digits - 1 - math.floor(math.log10(near)))
    text = f"{100.0 * probability:.{min(places, 6)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def interval(found: Failure) -> str:
    """Interval of a probability in percent.

    Examples
    --------
    "2.7 to 3.8"
    """
    return f"{percent(found.low)} to {percent(found.high)}"


def value_text(value: float, kind: str, units: str, digits: int = 4) -> str:
    """Value of an input with its unit; temperatures and fractions of a mm keep their digits."""
    return show(value, kind, units, digits)


def distribution(one: ScatterInput, units: str = "si") -> str:
    """Distribution of an input with all its parameters."""

    def text(value: float) -> str:
        return value_text(value, one.kind, units)

    parts = [str(one.distribution), *_parameters(one, units)]
    if one.distribution in (NORMAL, LOGNORMAL, TABLE, SAMPLES):
        cuts = (("from", one.low), ("to", one.high))
        cut = " ".join(f"{word} {text(end)}" for word, end in cuts if end is not None)
        parts += [f"cut {cut}"] if cut else []
    return ", ".join(parts)


def _parameters(one: ScatterInput, units: str) -> Iterator[str]:
    """Yield what the distribution has beside its cuts."""

    def text(name: str) -> str:
        return value_text(middle(one, name), one.kind, units)

    if one.distribution == NORMAL:
        spread = f"deviation {_spread(deviation(one), one.kind, units)}"
        yield f"mean {text('mean')}"
        yield spread if one.cov is None else f"cov {plain(100.0 * one.cov)} %"
    elif one.distribution == LOGNORMAL:
        yield f"median {text('median')}"
        yield f"cov {plain(100.0 * middle(one, 'cov'))} %"
    elif one.distribution in (TABLE, SAMPLES):
        yield _table(one, units) if one.distribution == TABLE else _drawn(one)
    else:
        centre = {LIMITS: "median", TRIANGULAR: "mode"}.get(str(one.distribution))
        yield f"{text('low')} to {text('high')}"
        if centre is not None:
            yield f"{centre} {text(centre)}"


def _drawn(one: ScatterInput) -> str:
    return f"{len(one.drawn)} values of {one.column} in {one.file}"


def _spread(value: float, kind: str, units: str) -> str:
    """Difference of two values: of temperatures in K."""
    return f"{plain(value)} K" if kind == "temperature" else value_text(value, kind, units, 3)


def _table(one: ScatterInput, units: str) -> str:
    values = one.values or ()
    if len(values) > LISTED:
        ends = (value_text(x, one.kind, units) for x in (values[0], values[-1]))
        return f"{len(values)} values {' to '.join(ends)}"
    how = "at or below" if one.probabilities is None else "at"
    shares = one.cumulative if one.probabilities is None else one.probabilities
    return ", ".join(
        f"{percent(p)} % {how} {value_text(x, one.kind, units)}"
        for x, p in zip(values, shares or (), strict=True)
    )


def part_text(one: ScatterInput) -> str:
    """Whether an input is common to all legs."""
    return "leg to leg" if one.part == LEG else "all legs"


def input_name(one: ScatterInput) -> str:
    """Key of an input, its part behind it where that is leg to leg."""
    return one.key + (", leg to leg" if one.part == LEG else "")


def applying(outcome: Outcome, *, counted: bool = True) -> list[int]:
    """Margins that apply to some landing, the most often failed and lowest first."""
    study = outcome.study
    there = [
        m
        for m in range(len(study.names))
        if bool(study.counts[m]) is counted and not np.isnan(study.margin[m]).all()
    ]
    return sorted(there, key=lambda m: _rank(study.margin[m]))


def _rank(margin: FloatArray) -> tuple[float, float]:
    return -float((margin < 0.0).mean()), float(np.nanmin(margin))


def shown_margins(outcome: Outcome, most: int) -> list[int]:
    """First margins of :func:`applying`, one of each check."""
    found: dict[str, int] = {}
    for m in applying(outcome):
        found.setdefault(outcome.study.names[m][0], m)
    return list(found.values())[:most]


def shown_quantities(outcome: Outcome, whats: Sequence[str]) -> list[Quantity]:
    """Quantities of a study, by what they are, at the touchdowns as they come."""
    every = [quantity(name) for name in outcome.study.quantities]
    return [one for what in whats for one in every if one.what == what]


def unit_of(values: Sequence[float] | FloatArray, one: Quantity, units: str) -> str:
    """Choose the unit of a column of a quantity: that of its largest value, accelerations in g0."""
    return "g0" if one.dimension == "acceleration" else common_unit(values, one.dimension, units)


def limit_of(outcome: Outcome, one: Quantity) -> float | None:
    """Limit of a stroke or leg load at a touchdown: what the case as drawn can take, in SI."""
    for margin in outcome.checked.margins:
        same = (margin.check.replace("_", " "), margin.touchdown) == (one.what, one.touchdown)
        if same and margin.capability is not None:
            return float(margin.capability[0])
    return None
