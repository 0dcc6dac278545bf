"""The printed report of a correlation: verdict, measured beside predicted, factor, records."""

from __future__ import annotations

from dataclasses import dataclass
from importlib.metadata import version
from typing import TYPE_CHECKING

from rich.console import Console

from crushleg.cautions import SCREENING
from crushleg.report.correlate_tables import tables
from crushleg.report.correlate_words import (
    batch_name,
    between_text,
    cautions_of,
    factor_text,
    prior_text,
    verdicts,
)
from crushleg.report.layout import (
    Column,
    Heading,
    Items,
    Pairs,
    Paragraph,
    Table,
    items,
    print_blocks,
)
from crushleg.units import show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.case.records import Case
    from crushleg.report.layout import Block
    from crushleg.trial.correlate import Correlated
    from crushleg.trial.frozen import Predicted
    from crushleg.trial.posterior import Posterior

HASH_DIGITS = 12
COMPARED = (
    "Energies are compared at equal stroke: from contact to the measured largest stroke, or the "
    "end of the curve. The force is that along the axis of one girder."
)
WRITTEN = (
    "The file replaces the model's part of the band. Put its path into the case: "
    'girder.correlation = "..."; margins then say "your test".'
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Findings:
    """What a report of records is about."""

    case: Case
    against: Predicted
    found: Correlated
    notes: tuple[str, ...]
    written: str = ""
    chosen: str = ""


def print_correlation(about: Findings, units: str = "si", console: Console | None = None) -> None:
    """Print the report: aligned on a terminal, plain and unwrapped elsewhere.

    Parameters
    ----------
    about : Correlation
    units : str
        "si" or "us".
    console : Console, optional
        Standard output when left out.
    """
    print_blocks(render(about, units), Console() if console is None else console)


def render(about: Findings, units: str = "si") -> list[Block]:
    """Blocks of the report in their order."""
    found = about.found
    return [
        *_header(about),
        Items(list(verdicts(found))),
        Heading("Measured against predicted"),
        Paragraph(COMPARED),
        *(block for batch in found.batches for block in tables(batch, units)),
        *_factors(about),
        *_records(found, units),
        Heading("Before you use this"),
        Paragraph(SCREENING, "bold"),
    ]


def _header(about: Findings) -> Iterator[Block]:
    case, against = about.case, about.against
    count = len(about.found.tests)
    yield Paragraph(f"{case.title}: {count} measured crush{'es' if count > 1 else ''}", "bold")
    yield Paragraph(
        f"revision {case.revision}, input {case.input_sha256[:HASH_DIGITS]}, "
        f"crushleg {version('crushleg')}"
    )
    held = f"{against.name}, SHA-256 {against.sha256}" if against.sha256 else "this case"
    yield Paragraph(f"Compared with: {held}")
    if about.notes:
        yield Items(about.notes)


def _factors(about: Findings) -> Iterator[Block]:
    """Posterior of each batch and of all, then what was written."""
    found = about.found
    yield Heading("Force factor from the tests")
    yield Paragraph(prior_text(found.prior))
    rows = [
        (batch_name(b.name), *_row(b.posterior)) for b in found.batches if b.posterior is not None
    ]
    if found.pooled is not None and (len(rows) > 1 or about.chosen == "pooled"):
        rows.append(("pooled, for another batch", *_row(found.pooled)))
    if rows:
        yield Table(
            (
                Column(("for girders of",), number=False, wraps=True),
                Column(("tests",)),
                Column(("force factor", "95 % limits")),
                Column(("next test over", "prediction, 95 %")),
                Column(("scatter",)),
            ),
            rows,
        )
    if len(rows) > 2:
        yield Paragraph(between_text(found))
    before = found.prior.predictive
    yield Paragraph(
        "Scatter is the standard deviation of ln(next test / prediction); before any test "
        f"{before:.3f}."
    )
    if about.written:
        yield Paragraph(f"Written: {about.written}, {_whose(about.chosen)}. {WRITTEN}")
    elif rows:
        yield Paragraph("Nothing was written; --write FILE writes a file that a case can name.")


def _whose(chosen: str) -> str:
    if chosen == "pooled":
        return "all batches pooled, for a girder of any batch"
    return f"for girders of {batch_name(chosen)}; not for another one"


def _row(posterior: Posterior) -> tuple[str, ...]:
    return (
        str(posterior.tests),
        factor_text(posterior),
        factor_text(posterior, of_next=True).partition("(")[2].rstrip(")"),
        f"{posterior.next_spread:.3f}",
    )


def _records(found: Correlated, units: str) -> Iterator[Block]:
    """Every record: file, what was found and done, cautions."""
    yield Heading("Records: what was found and done")
    for test in found.tests:
        record = test.record
        speed = record.impact_speed
        impact = "" if speed is None else f", impact {show(speed, 'speed', units)}"
        yield Paragraph(
            f"{record.name} ({batch_name(record.batch)}), {record.kind}{impact}", "bold"
        )
        yield Pairs([("file", record.file), ("SHA-256", record.sha256)])
        cautions = ["CAUTION: " + text for text in cautions_of(test)]
        yield items([*record.done, *cautions], units)
