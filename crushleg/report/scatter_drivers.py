"""What drives the margins of a study: one input at a time, and shares of the variance."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.report.layout import Column, Heading, Paragraph, Table
from crushleg.report.scatter_words import input_name, named, shown_margins, value_text
from crushleg.report.words import margin_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.report.layout import Block
    from crushleg.scatter.outcome import Outcome

DRIVEN = 3
"""Margins whose drivers are tabled."""
SMALL_SHARE = 0.01
"""Inputs that move a margin by less than so much of what the first one does are only named."""


def drivers(outcome: Outcome, units: str) -> Iterator[Block]:
    """Say what drives the margins that come nearest to failing."""
    if outcome.tornado is None or not outcome.plan.inputs:
        return
    yield Heading("What drives the margins")
    margins = shown_margins(outcome, DRIVEN)
    for m in margins:
        yield from _tornado(outcome, outcome.study.names[m], units)
    yield Paragraph(
        "One input at its 5 % and 95 % value, the others at their medians; inputs that are "
        "correlated with it follow. Of an input that differs from leg to leg, leg 1 alone moves."
    )
    if outcome.indices is not None:
        for m in margins:
            yield from _indices(outcome, outcome.study.names[m])
        yield Paragraph(
            f"Shares of the variance (Sobol indices), from {outcome.indices_landings} landings, "
            "± half of their 95 % interval: alone, and with all its interactions. Correlated "
            "inputs are one group."
        )


def _tornado(outcome: Outcome, name: tuple[str, str], units: str) -> Iterator[Block]:
    tornado = outcome.tornado
    assert tornado is not None
    q = tornado.results.index(" ".join(name).strip())
    ends, centre = tornado.ends[:, q], float(tornado.centre[q])
    swing = np.nan_to_num(np.abs(ends - centre).max(axis=0))
    order = [int(k) for k in np.argsort(-swing, kind="stable")]
    kinds = {input_name(one): one.kind for one in outcome.plan.inputs}
    some = [k for k in order if swing[k] > SMALL_SHARE * swing.max()]
    yield Paragraph(f"{named(name)}: {margin_text(centre)} with every input at its median", "bold")
    rows = []
    for k in some:
        key = tornado.inputs[k]
        at = " to ".join(value_text(float(x), kinds[key], units, 3) for x in tornado.at[:, k])
        rows.append((key, at, *(margin_text(float(x)) for x in ends[:, k])))
    heads = (
        Column(("input",), number=False, wraps=True),
        Column(("5 to 95 %",), number=False, wraps=True),
        Column(("margin at 5 %",)),
        Column(("at 95 %",)),
    )
    if rows:
        yield Table(heads, rows)
    rest = [tornado.inputs[k] for k in order if k not in some]
    if rest:
        yield Paragraph(f"Next to nothing: {', '.join(rest)}.")


def _indices(outcome: Outcome, name: tuple[str, str]) -> Iterator[Block]:
    found = outcome.indices
    assert found is not None
    q = found.results.index(" ".join(name).strip())
    if np.isnan(found.total[q]).all():
        yield Paragraph(f"{named(name)}: does not vary.")
        return
    order = np.argsort(-found.total[q], kind="stable")
    yield Paragraph(f"{named(name)}: shares of the variance", "bold")
    yield Table(
        (
            Column(("input or group",), number=False, wraps=True),
            Column(("alone",)),
            Column(("with interactions",)),
        ),
        [
            (
                found.groups[g],
                f"{found.first[q, g]:z.2f} ± {found.first_spread[q, g]:.2f}",
                f"{found.total[q, g]:.2f} ± {found.total_spread[q, g]:.2f}",
            )
            for g in order
        ],
    )
