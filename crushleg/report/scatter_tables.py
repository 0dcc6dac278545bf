"""Tables of a study: what was drawn, how often margins fail, limits, and what drives them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.report.layout import Column, Heading, Items, Paragraph, Table
from crushleg.report.scatter_words import (
    applying,
    distribution,
    input_name,
    interval,
    limit_of,
    named,
    part_text,
    percent,
    quantity,
    shown_quantities,
    unit_of,
    value_text,
)
from crushleg.report.words import fixed, margin_text
from crushleg.scatter.distributions import quantile
from crushleg.scatter.statistics import failures, percentiles
from crushleg.scatter.tolerance import upper_limit
from crushleg.units import express

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.case.records import ScatterInput
    from crushleg.report.layout import Block
    from crushleg.report.scatter_words import Quantity
    from crushleg.scatter.outcome import Outcome

AT = (0.05, 0.5, 0.95)
LIMITED = ("stroke", "leg load")
"""Quantities with tolerance limits."""
COVERAGES = (0.90, 0.99)
PERCENTILES = (5, 50, 95, 99)


def inputs(outcome: Outcome, units: str) -> Iterator[Block]:
    """Say what was drawn: three values of each input, then its distribution and source."""
    plan = outcome.plan
    yield Heading("Drawn in every landing")
    if not plan.inputs:
        yield Paragraph("Nothing scatters: every landing is the case itself.")
        return
    yield Table(
        (
            Column(("input",), number=False),
            *(Column((f"{100.0 * p:g} %",)) for p in AT),
            Column(("common to",), number=False),
        ),
        [
            (one.key, *(value_text(x, one.kind, units, 3) for x in _at(one)), part_text(one))
            for one in plan.inputs
        ],
    )

    def said(one: ScatterInput) -> str:
        return f"{input_name(one)}: {distribution(one, units)}; {one.source}"

    yield Items(
        [
            *map(said, plan.inputs),
            *(
                f"{' with '.join(pair.inputs)}: correlation {pair.value:g} of the normal scores"
                f"{', leg to leg' if pair.part == 'leg' else ''}"
                for pair in plan.correlations
            ),
            *plan.notes,
        ]
    )


def _at(one: ScatterInput) -> list[float]:
    return [float(x) for x in quantile(one, np.array(AT))]


def probabilities(outcome: Outcome) -> Iterator[Block]:
    """How often each margin fails, those that count first."""
    found = failures(outcome.study)
    study = outcome.study
    yield Heading("Probability of failing, % of landings")
    last = found[-1]
    rows = [("any counted", "", percent(last.probability), interval(last), _least(outcome))]
    for m in applying(outcome):
        one = found[m]
        check, touchdown = one.name[0].replace("_", " "), one.name[1]
        least = margin_text(float(np.nanmin(study.margin[m])))
        rows.append((check, touchdown, percent(one.probability), interval(one), least))
    yield Table(
        (
            Column(("check",), number=False),
            Column(("touchdown",), number=False, wraps=True),
            Column(("fails, %",)),
            Column(("95 % interval, %",)),
            Column(("least margin",)),
        ),
        rows,
        strong=0,
    )
    yield Paragraph(
        "Fails: a margin below zero. Interval: Clopper-Pearson, two-sided, for independent "
        "landings. Any: at least one counted margin of any touchdown, each flown once."
    )
    shown = [found[m] for m in applying(outcome, counted=False)]
    if shown:
        texts = [f"{named(x.name)} {percent(x.probability)} % ({interval(x)})" for x in shown]
        yield Paragraph(f"Shown, not counted: {'; '.join(texts)}.")


def _least(outcome: Outcome) -> str:
    lowest = outcome.lowest
    return margin_text(float("nan") if np.isnan(lowest).all() else float(np.nanmin(lowest)))


def tolerances(outcome: Outcome, units: str) -> Iterator[Block]:
    """One-sided tolerance limits of stroke and leg load beside their limits."""
    there = shown_quantities(outcome, LIMITED)
    if not there:
        return
    yield Heading("Stroke and leg load: one-sided upper tolerance limits")
    yield Table(
        (
            Column(("quantity",), number=False, wraps=True),
            Column(("how",), number=False),
            Column(("90/95",)),
            Column(("99/95",)),
            Column(("limit",)),
        ),
        [row for one in there for row in _tolerance_rows(outcome, one, units)],
    )
    least = upper_limit(np.zeros(2), COVERAGES[1]).least_landings
    yield Paragraph(
        "90/95: at least 90 % of landings lie below, with 95 % confidence; 99/95: 99 %. By rank: "
        f"an order statistic, right for any distribution, 99/95 from {least} landings on. If "
        "normal: mean + k × deviation, right for a normal quantity alone. Limit: of the case as "
        "drawn, factors included."
    )


def _tolerance_rows(outcome: Outcome, one: Quantity, units: str) -> list[tuple[str, ...]]:
    values = outcome.study.quantities[one.name]
    found = [upper_limit(values, coverage) for coverage in COVERAGES]
    limit = limit_of(outcome, one)
    ordered = [np.nan if each.ordered is None else each.ordered for each in found]
    normal = [each.normal for each in found]
    every = [*ordered, *normal, np.nan if limit is None else limit]
    unit = unit_of(every, one, units)
    texts = fixed([express(x, unit) for x in every])
    label = f"{one.what}, {one.touchdown}, {unit}"
    return [(label, "by rank", *texts[:2], texts[4]), ("", "if normal", *texts[2:4], "")]


def quantities(outcome: Outcome, units: str) -> Iterator[Block]:
    """Percentiles of every quantity."""
    study = outcome.study
    there = shown_quantities(outcome, _whats(outcome))
    if not there:
        return
    rows = []
    for one in there:
        values = percentiles(study.quantities[one.name], PERCENTILES)
        unit = unit_of(values, one, units)
        texts = fixed([express(float(x), unit) for x in values])
        label = ", ".join(part for part in (one.what, one.touchdown, unit) if part)
        rows.append((label, *texts))
    yield Heading("Percentiles over the landings")
    heads = (Column(("quantity",), number=False, wraps=True),)
    yield Table((*heads, *(Column((f"{p} %",)) for p in PERCENTILES)), rows)


def _whats(outcome: Outcome) -> Sequence[str]:
    return list(dict.fromkeys(quantity(name).what for name in outcome.study.quantities))


def worst(outcome: Outcome, units: str) -> Iterator[Block]:
    """Tell the worst landing, its values, and the case file it was written to."""
    landing = outcome.worst
    if landing is None:
        return
    margin = margin_text(landing.worst.margin)
    yield Heading("The worst landing")
    one = "" if landing.leg is None else f", leg {landing.leg + 1}; the file holds its girder alone"
    yield Paragraph(
        f"Landing {landing.worst.number} of {outcome.study.total}, counted from 0: "
        f"{named(landing.worst.name)} {margin}{one}."
    )
    kinds = {one.key: one.kind for one in outcome.plan.inputs}
    medians = {one.key: _at(one)[1] for one in outcome.plan.inputs}
    yield Table(
        (Column(("input",), number=False), Column(("there",)), Column(("median",))),
        [
            (key, *(value_text(x, kinds[key], units, 4) for x in (value, medians[key])))
            for key, value in landing.values.items()
        ],
    )
    again = "" if landing.again is None else f"; a check of it gives {margin_text(landing.again)}"
    yield Paragraph(f"Case file: {landing.file}{again}.")
