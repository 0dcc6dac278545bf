"""The page of each verb: which blocks and figures, what governs, what is hashed.

Those of the test team are in :mod:`crushleg.report.page_trial`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from crushleg.report import (
    compare_text,
    datasheets,
    drill_text,
    follow_text,
    land_text,
    scatter_text,
    size_text,
)
from crushleg.report import text as check_text
from crushleg.report.land_words import judged
from crushleg.report.layout import Heading, Items, Paragraph
from crushleg.report.page import Governing, page_of
from crushleg.report.page_figures import drawings
from crushleg.report.page_inputs import Input
from crushleg.report.sources import sources

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from matplotlib.figure import Figure

    from crushleg.case.material import Material
    from crushleg.case.records import Case
    from crushleg.check import Checked
    from crushleg.design.compare import Comparison
    from crushleg.design.settled import Schedule, Sizing
    from crushleg.land import Moving
    from crushleg.report.drill_words import Drilling
    from crushleg.report.layout import Block
    from crushleg.report.page import Page
    from crushleg.scatter.outcome import Outcome
    from crushleg.stability import StabilityMap

MARGINS = "Margins"
WRITTEN = "The case file that was written."


class Kept(NamedTuple):
    """What goes beside the words of a report: inputs as read, figures by name, units."""

    inputs: tuple[Input, ...] = ()
    figures: Mapping[str, Figure] = {}
    units: str = "si"


def check_page(checked: Checked, kept: Kept) -> Page:
    """Page of ``check``: a checked case."""
    return page_of(
        "check",
        check_text.render(checked, kept.units),
        inputs=kept.inputs,
        drawings=drawings(kept.figures),
        governing=governing_of(checked, kept.units),
        first=MARGINS,
        hashes=input_of(checked.case),
    )


def land_page(moving: Moving, stability: StabilityMap | None, kept: Kept) -> Page:
    """Page of ``land``: landings in motion."""
    return page_of(
        "land",
        land_text.render(moving, stability, kept.units),
        inputs=kept.inputs,
        drawings=drawings(kept.figures),
        governing=governing_of(judged(moving), kept.units),
        first=MARGINS,
        hashes=input_of(moving.checked.case),
    )


def compare_page(comparison: Comparison, kept: Kept) -> Page:
    """Page of ``compare``: girders side by side; the lowest of their governing margins first."""
    worst = min(comparison.compared, key=lambda one: _lowest(one.checked))
    digests: dict[str, list[str]] = {}
    for one in comparison.compared:
        digests.setdefault(one.checked.case.input_sha256, []).append(one.name)
    return page_of(
        "compare",
        compare_text.render(comparison, kept.units),
        inputs=kept.inputs,
        drawings=drawings(kept.figures),
        governing=governing_of(
            worst.checked,
            kept.units,
            [Paragraph(f"Of the girders compared the lowest: {worst.name}.")],
        ),
        hashes=[(f"input, {', '.join(names)}", digest) for digest, names in digests.items()],
    )


def _lowest(checked: Checked) -> float:
    margin = checked.margins[checked.governs].margin
    return float("nan") if margin is None else float(margin[0])


def size_page(job: Sizing, kept: Kept) -> Page:
    """Page of ``size``: the lightest girder; no margin governs where none was found."""
    found = job.written
    return page_of(
        "size",
        [*size_text.render(job, kept.units), *(sources_of(found.checked) if found else ())],
        inputs=(*kept.inputs, *_written(job)),
        drawings=drawings(kept.figures),
        governing=None if found is None else governing_of(found.checked, kept.units),
        hashes=input_of(job.original.case),
    )


def follow_page(job: Schedule, kept: Kept) -> Page:
    """Page of ``size --follow``: a schedule for a force line."""
    return page_of(
        "size",
        [*follow_text.render(job, kept.units), *sources_of(job.written.checked)],
        inputs=(*kept.inputs, *_written(job)),
        drawings=drawings(kept.figures),
        governing=governing_of(job.written.checked, kept.units),
        hashes=input_of(job.original.case),
    )


def _written(job: Sizing | Schedule) -> Iterator[Input]:
    if job.written is not None:
        yield Input(str(job.file), job.written.text, WRITTEN)


def scatter_page(outcome: Outcome, kept: Kept) -> Page:
    """Page of ``scatter``: a study, with the margin that governs its case."""
    return page_of(
        "scatter",
        scatter_text.render(outcome, kept.units),
        inputs=kept.inputs,
        drawings=drawings(kept.figures),
        governing=governing_of(outcome.checked, kept.units),
        first="Probability",
        hashes=input_of(outcome.case),
    )


def drill_page(drilling: Drilling, kept: Kept) -> Page:
    """Page of ``drill``: schedule and fabrication rules."""
    return page_of(
        "drill",
        drill_text.render(drilling, kept.units),
        inputs=kept.inputs,
        drawings=drawings(kept.figures),
        hashes=[("input", drilling.digest)],
    )


def materials_page(listed: Sequence[Material], kept: Kept, *, whole: bool) -> Page:
    """Page of ``materials``: the list of datasheets, or one whole."""
    blocks: list[Block] = (
        datasheets.datasheet_blocks(listed[0], kept.units)
        if whole
        else datasheets.list_blocks(listed, kept.units)
    )
    return page_of("materials", blocks)


def sources_of(checked: Checked) -> list[Block]:
    """List the references behind a check, where the printed report leaves them to ``check``."""
    return [Heading("Sources of these numbers"), Items(sources(checked))]


def governing_of(checked: Checked, units: str, before: Iterable[Block] = ()) -> Governing:
    """Work the governing margin of a check through, behind other blocks."""
    name = checked.margins[checked.governs].check
    return Governing(name, (*before, *check_text.worked(checked, units)))


def input_of(case: Case) -> list[tuple[str, str]]:
    """Input hash of a case, as a page lists it."""
    return [("input", case.input_sha256)]
