"""The printed report of a schedule that follows a force line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from rich.console import Console

from crushleg.cautions import SCREENING
from crushleg.report.layout import (
    Column,
    Heading,
    Items,
    Pairs,
    Paragraph,
    Table,
    plain_text,
    print_blocks,
)
from crushleg.report.size_text import checked_blocks, design, header
from crushleg.report.size_words import left_out, reach_items
from crushleg.report.text import BAD, GOOD
from crushleg.report.words import common_unit, fixed
from crushleg.units import express, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.design.settled import Schedule
    from crushleg.report.layout import Block

POINTS = 9


def print_schedule(job: Schedule, console: Console | None = None, units: str = "si") -> None:
    """Print the report of a schedule on a console, standard output when left out."""
    print_blocks(render(job, units), Console() if console is None else console)


def schedule_text(job: Schedule, units: str = "si") -> str:
    """Return the report as plain text, as it goes into a pipe or a file."""
    return plain_text(render(job, units))


def render(job: Schedule, units: str = "si") -> list[Block]:
    """Blocks of the report in their order."""
    return [
        *header(job),
        *_verdict(job, units),
        *_compared(job, units),
        Heading("What the line asks for and this section cannot do"),
        Items(reach_items(job, units)),
        *design(job, job.followed.archive.space, job.choice, units),
        *_gone(job),
        *checked_blocks(job, units),
        Heading("Before you use this"),
        Paragraph(SCREENING, "bold"),
    ]


def _gone(job: Schedule) -> Iterator[Block]:
    gone = left_out(job)
    if gone:
        yield Heading("Not kept from the case")
        yield Items(gone)


def _verdict(job: Schedule, units: str) -> Iterator[Block]:
    found = job.followed
    if found.interrupted:
        yield Paragraph("INTERRUPTED: the best of what was looked at until then.", BAD)
    share = 100.0 * found.rms / float(np.mean(found.wanted))
    side = "over" if found.largest > 0.0 else "under"
    yield Paragraph(
        f"Follows {found.line.text} within {show(found.rms, 'force', units)} rms "
        f"({share:.1f} % of its mean); at most {show(abs(found.largest), 'force', units)} {side} "
        f"it, at {show(found.where, 'length', units)} of crush stroke.",
        "bold",
    )
    passes = job.written.checked.passes
    verdict = "passes this screening check" if passes else "FAILS its check, see its margins"
    yield Paragraph(f"The written case {verdict}.", GOOD if passes else BAD)
    yield Paragraph(f"Case file: {job.file}")


def _compared(job: Schedule, units: str) -> Iterator[Block]:
    """Wanted and found along the stroke, and the section's reach."""
    found = job.followed
    curve, reach = found.curve, found.reach
    ends = np.linspace(0.0, 1.0, POINTS) * curve.stroke[0, -1]
    at = np.clip(np.searchsorted(curve.stroke[0], ends) - 1, 0, len(found.wanted) - 1)
    stroke = common_unit(ends, "length", units)
    force = common_unit(reach.most, "force", units)
    columns = [
        fixed([express(float(x), force) for x in values[at]])
        for values in (reach.least, found.wanted, curve.force[1, 0], reach.most)
    ]
    yield Heading("Nominal mean force against crush stroke, one girder")
    yield Table(
        (
            Column(("stroke", stroke)),
            Column(("least in reach", force)),
            Column(("wanted", force)),
            Column(("found", force)),
            Column(("most in reach", force)),
        ),
        [
            (text, *(column[i] for column in columns))
            for i, text in enumerate(fixed([express(float(x), stroke) for x in ends]))
        ],
    )
    yield Pairs(
        [
            ("least", "largest holes up to d/C 0.6 in rows as close as their webs allow"),
            ("most", "the plain girder"),
            ("looked at", f"{len(found.archive)} girders of this section"),
        ]
    )
