"""The printed report of a sizing: verdict first, then the design, what stops it, the others."""

from __future__ import annotations

from importlib.metadata import version
from typing import TYPE_CHECKING

from rich.console import Console

from crushleg.cautions import NOT_JUDGED, SCREENING
from crushleg.design.judge import LOAD, MASS, STROKE
from crushleg.report import landing_tables, tables
from crushleg.report.layout import (
    Column,
    Heading,
    Items,
    Pairs,
    Paragraph,
    Table,
    items,
    plain_text,
    print_blocks,
)
from crushleg.report.notes import shown_cautions
from crushleg.report.size_words import (
    conflict_items,
    left_out,
    sizes_text,
    stops_saving,
    tools_of,
)
from crushleg.report.text import BAD, GOOD, HASH_DIGITS
from crushleg.report.words import common_unit, drawn, fixed, small_length
from crushleg.units import express, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.design.choice import Choice, Space
    from crushleg.design.settled import Schedule, Sizing
    from crushleg.report.layout import Block

CANDIDATE = "Only the first is written and checked; all come from the same equations in batches."


def print_sizing(job: Sizing, console: Console | None = None, units: str = "si") -> None:
    """Print the report of a sizing on a console, standard output when left out."""
    print_blocks(render(job, units), Console() if console is None else console)


def sizing_text(job: Sizing, units: str = "si") -> str:
    """Return the report as plain text, as it goes into a pipe or a file."""
    return plain_text(render(job, units))


def render(job: Sizing, units: str = "si") -> list[Block]:
    """Blocks of the report in their order."""
    return [
        *header(job),
        *_verdict(job, units),
        *_searched(job, units),
        *design(job, job.sized.archive.space, job.choice, units),
        *_reasons(job, units),
        *_front(job, units),
        *_checked(job, units),
        Heading("Before you use this"),
        Paragraph(SCREENING, "bold"),
    ]


def header(job: Sizing | Schedule) -> Iterator[Block]:
    """Title, revision, input and version."""
    case = job.original.case
    about = {"revision": case.revision, "author": case.author}
    said = [f"{name} {value}" for name, value in about.items() if value]
    said += [f"input {case.input_sha256[:HASH_DIGITS]}", f"crushleg {version('crushleg')}"]
    yield Paragraph(case.title, "bold")
    yield Paragraph(", ".join([*said, f"seed {job.seed}"]))


def _verdict(job: Sizing, units: str) -> Iterator[Block]:
    sized = job.sized
    if sized.interrupted:
        yield Paragraph("INTERRUPTED: the best of what was looked at until then.", BAD)
    if job.written is None:
        text = (
            f"NO DESIGN: none of the {len(sized.archive)} girders looked at meets every margin. "
            "No case file was written."
        )
        yield Paragraph(text, BAD)
        return
    mass = float(job.written.checked.crush.mass[0])
    old = float(sized.before.crush.mass[0])
    legs = sized.case.vehicle.legs
    yield Paragraph(
        f"FOUND: {show(mass, 'mass', units)} a leg, {show(legs * mass, 'mass', units)} on {legs}; "
        f"every counted margin of the written case is zero or more in this screening check.",
        GOOD,
    )
    passed = "passes" if sized.before.passes else "fails"
    yield Paragraph(f"The girder that the case came with: {show(old, 'mass', units)}, {passed}.")
    yield Paragraph(f"Case file: {job.file}")


def _searched(job: Sizing, units: str) -> Iterator[Block]:
    sized, asked = job.sized, job.asked
    space = sized.archive.space
    unit = small_length(units)
    kinds = f"{len(space.sizes)} {'free sizes' if asked.free_holes else 'stock sizes'}"
    ends = [drawn(x, unit) for x in (space.sizes[0], space.sizes[-1])]
    lengths = [drawn(x, unit) for x in (space.lengths[0], space.lengths[-1])]
    yield Heading("Searched")
    yield Pairs(
        [
            ("walls", f"{', '.join(drawn(t, unit) for t in space.walls)} {unit}, from stock"),
            (
                "holes",
                f"{kinds}, {ends[0]} to {ends[1]} {unit}, {_arrangement(space)}",
            ),
            ("rows", f"{space.rows[0]} to {space.rows[1]}"),
            ("length", f"{' to '.join(dict.fromkeys(lengths))} {unit}"),
            ("looked at", f"{len(sized.archive)} girders, {int(sized.feasible.sum())} fit"),
        ]
    )
    weak = [t for t in sized.walls_asked if t not in space.walls]
    if weak:
        listed = ", ".join(drawn(t, unit) for t in weak)
        yield Paragraph(
            f"Too weak even without holes for energy or stroke, left out: {listed} {unit}."
        )


def _arrangement(space: Space) -> str:
    shared = space.pattern
    many = f"{shared.per_face} {shared.shape}s" if shared.per_face > 1 else f"one {shared.shape}"
    return f"{many} a row on {'all faces' if shared.faces == 'all' else shared.faces + ' faces'}"


def design(job: Sizing | Schedule, space: Space, choice: Choice, units: str) -> Iterator[Block]:
    """Girder of a choice and its rows with their tools."""
    unit = small_length(units)
    girder = space.girder(choice)
    wide, deep, wall, long = (
        drawn(x, unit) for x in (girder.width, girder.depth, girder.wall, girder.length)
    )
    found = job.written is not None
    yield Heading("The girder" if found else "The girder that lacks least")
    sheets = {sheet.thickness: sheet.name for sheet in job.stock.sheets}
    yield Pairs(
        [
            (
                "section",
                f"{wide} × {deep} {unit}, wall {wall} {unit}, length {long} {unit}",
            ),
            ("wall from", sheets.get(girder.wall, "the case")),
            ("material", girder.material.name),
        ]
    )
    yield Table(
        (
            Column(("row",)),
            Column(("height", unit)),
            Column(("size", unit)),
            Column(("tool",), number=False, wraps=True),
        ),
        [
            (str(i + 1), drawn(row.height, unit), drawn(row.size, unit), tool)
            for i, (row, tool) in enumerate(
                zip(girder.holes.rows, tools_of(job, space, choice), strict=True)
            )
        ],
    )


def _reasons(job: Sizing, units: str) -> Iterator[Block]:
    if job.written is None:
        yield Heading("Which limits conflict, and by how much")
        yield Items(conflict_items(job))
    else:
        yield Heading("What stops further saving")
        yield Items(list(stops_saving(job, units)))
    gone = left_out(job)
    if gone:
        yield Heading("Not kept from the case")
        yield Items(gone)


def _front(job: Sizing, units: str) -> Iterator[Block]:
    sized = job.sized
    if not sized.front:
        return
    values = sized.archive.values[list(sized.front)]
    kinds = ((MASS, "mass"), (LOAD, "force"), (STROKE, "length"))
    names = [common_unit(values[:, k], kind, units) for k, kind in kinds]
    columns = [
        fixed([express(float(x), unit) for x in values[:, k]])
        for (k, _), unit in zip(kinds, names, strict=True)
    ]
    space, unit = sized.archive.space, small_length(units)
    choices = [sized.archive.choices[place] for place in sized.front]
    yield Heading("Designs that no other betters in mass, leg load and stroke")
    yield Table(
        (
            Column(("no.",)),
            Column(("mass", names[0])),
            Column(("leg load", names[1])),
            Column(("stroke", names[2])),
            Column(("wall", unit)),
            Column(("length", unit)),
            Column(("sizes, foot first", unit), number=False, wraps=True),
        ),
        [
            (
                str(i + 1),
                *(column[i] for column in columns),
                drawn(space.walls[choice.wall], unit),
                drawn(space.lengths[choice.length], unit),
                sizes_text(space, choice, units),
            )
            for i, choice in enumerate(choices)
        ],
        strong=0,
    )
    yield Paragraph(
        "Leg load: largest axial load at any touchdown. Stroke: largest at low force. " + CANDIDATE
    )


def _checked(job: Sizing, units: str) -> Iterator[Block]:
    if job.written is not None:
        yield from checked_blocks(job, units)


def checked_blocks(job: Sizing | Schedule, units: str) -> Iterator[Block]:
    """Rows, margins and cautions of the written case."""
    assert job.written is not None
    checked = job.written.checked
    yield from tables.rows(checked, units)
    yield Heading("Margins of the written case, rounded down")
    yield from landing_tables.margins(checked, units)
    absent = landing_tables.not_judged(checked)
    if absent is not None:
        yield absent
    yield Heading("Cautions")
    told = (SCREENING, NOT_JUDGED)
    yield items((x for x in shown_cautions(checked) if not x.startswith(told)), units)
