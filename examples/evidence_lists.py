"""Lists of the evidence page: what the values are about, and every one beside ours."""

from __future__ import annotations

from typing import TYPE_CHECKING

from evidence_page import Column, Group, Line, heading, listed, paragraph, table
from evidence_values import AREAS, DIGITS, STATUSES, counted, largest

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from evidence_values import File, Shown

VALUES = (
    Column("value", number=False),
    Column("ours"),
    Column("theirs"),
    Column("ours/theirs"),
    Column("allowed"),
    Column("status", number=False),
    Column("result", number=False),
)


def areas(files: Sequence[File]) -> Iterator[str]:
    """Count the values by what they are about."""
    lines = []
    for area in AREAS:
        of = [one for file in files if file.area == area for one in file.shown]
        if not of:
            continue
        counts = (str(count) if count else "–" for count in counted(of).values())
        fails, worst = sum(one.fails for one in of), largest(of)
        off = "–" if worst is None else f"{worst.ratio:.3f}"
        cells = (area, *counts, off, str(fails) if fails else "none")
        what = "" if worst is None else f"farthest off: {worst.value.what}"
        lines.append(Line(cells, what, fails=fails > 0))
    heads = (*STATUSES, "farthest ours/theirs", "fail")
    yield table(
        "Values by what they are about and how well they are known",
        [Column("about", number=False), *map(Column, heads)],
        lines,
    )
    yield listed(
        (
            "Published: read in a public copy, an abstract or a quotation, some second-hand.",
            "From memory: recalled; a slip of memory would be shared by ours and theirs.",
            "Derived: by hand, or a second computation. Formulas are coded as derived, no more.",
            "Simulation: of others, of plain tubes; a trend, not a test.",
        )
    )


def values(files: Sequence[File]) -> Iterator[str]:
    """Every value beside ours, a table for each file."""
    yield paragraph(
        "By the file under tests/ that checks them; allowed is the tolerance of the test, absolute "
        "in the unit of the value or relative, and why."
    )
    for file in files:
        yield heading(3, file.name)
        yield paragraph(file.title)
        if file.missing:
            yield paragraph(f"Not computed here: {file.missing}. Its values are not counted.")
        else:
            yield table(f"Values of {file.name}", VALUES, _lines(file), quiet=True)


def _lines(file: File) -> Iterator[Line | Group]:
    """Rows of a file under their sources."""
    source = None
    for one in file.shown:
        if one.value.source != source:
            source = one.value.source
            yield Group(source)
        yield line(one)


def line(one: Shown) -> Line:
    """Cells of a value: ours, theirs, ratio, tolerance, status, whether it holds."""
    value = one.value
    result = "FAILS" if one.fails else "not computed" if one.absent else "holds"
    return Line(
        (
            f"{value.what} ({value.unit})" if value.unit else value.what,
            "–" if one.reason else f"{one.rounded:.{DIGITS}g}",
            f"{value.theirs:.{DIGITS}g}",
            "–" if one.ratio is None else f"{one.ratio:.4f}",
            _allowed(one),
            value.status,
            result,
        ),
        " · ".join(filter(None, (value.place, value.why, one.reason))),
        fails=one.fails,
    )


def _allowed(one: Shown) -> str:
    value = one.value
    if value.relative * abs(value.theirs) >= value.absolute:
        return f"± {100.0 * value.relative:.3g} %"
    return f"± {value.absolute:.2g}"
