"""The small file that a case names: force factor and scatter of tests."""

from __future__ import annotations

import json
from importlib.metadata import version
from typing import TYPE_CHECKING

from crushleg.case.girder_drafting import read_correlation
from crushleg.case.records import Correlation
from crushleg.cautions import SCREENING
from crushleg.errors import InputError, Problem
from crushleg.report.correlate_words import batch_name
from crushleg.report.files import write_text

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.report.correlate_text import Findings

LONGEST = 12
"""Tests named in the source; more are counted."""


def check_written(path: Path) -> None:
    """Refuse a file that is there and is no correlation file.

    Raises
    ------
    InputError
        Something else of that name would be lost.
    """
    if not path.exists() or path.is_dir():
        return
    try:
        read_correlation(path)
    except InputError:
        read = "a file that is no correlation file and would be lost (nothing was written)"
        raise InputError([Problem(file=str(path), read=read, write="another name")]) from None


def correlation(about: Findings, batch: str | None) -> tuple[str, Correlation]:
    """Which posterior is written, and the record of it.

    Parameters
    ----------
    about : Findings
    batch : str or None
        Name of a batch, "pooled", or None for the only one, else pooled.

    Returns
    -------
    str, Correlation

    Raises
    ------
    InputError
        No such batch, no test that can be used, a factor no case may have.
    """
    chosen, posterior = about.found.chosen(batch)
    try:
        return chosen, Correlation(
            force_factor=float(f"{posterior.factor:.6g}"),
            scatter=float(f"{posterior.next_spread:.6g}"),
            tests=posterior.tests,
            source=_source(about, chosen),
        )
    except ValueError as error:
        read = f"tests that no case may rest on ({error})"
        write = "records with the right columns and units"
        raise InputError([Problem(field="--write", read=read, write=write)]) from None


def write_correlation(about: Findings, record: Correlation, path: Path) -> None:
    """Write the file whole or not at all.

    Raises
    ------
    InputError
        As :func:`crushleg.report.files.write_bytes`.
    """
    write_text(path, correlation_text(about, record))


def correlation_text(about: Findings, record: Correlation) -> str:
    """Text of the file, its records with their hashes as comments."""
    tests = [
        f"# {_line(test.record.name)}, {_line(batch_name(test.record.batch))}: measured/predicted "
        f"{test.ratio:.4f}, record {test.record.sha256}"
        for test in about.found.tests
    ]
    head = [
        '# Written by `crushleg correlate`. A case names it: girder.correlation = "THIS FILE".',
        f"# {SCREENING}",
        f"# Case {_line(about.case.title)}, input {about.case.input_sha256}",
        f"# crushleg {version('crushleg')}",
    ]
    keys = [
        f"force_factor = {record.force_factor!r}",
        f"scatter = {record.scatter!r}",
        f"tests = {record.tests}",
        f"source = {json.dumps(record.source, ensure_ascii=False)}",
    ]
    return "\n".join([*head, *tests, *keys, ""])


def _source(about: Findings, chosen: str) -> str:
    """Which tests, of which batches, held against what."""
    batches = [b for b in about.found.batches if chosen in ("pooled", b.name)]
    names = [_line(test.record.name) for batch in batches for test in batch.used]
    more = f" and {len(names) - LONGEST} more" if len(names) > LONGEST else ""
    who = ", ".join(batch_name(_line(batch.name)) for batch in batches)
    held = f", against {about.against.name}" if about.against.sha256 else ""
    kind = "pooled over " if chosen == "pooled" else ""
    flagged = [_line(t.record.name) for b in batches for t in b.used if t.disagrees]
    warning = f"; DISAGREES: {', '.join(flagged)}" if flagged else ""
    return f"{kind}{who}: {', '.join(names[:LONGEST])}{more}{held}{warning}"


def _line(text: str) -> str:
    """Text without control characters, so that it stays in its line."""
    return "".join(c if c.isprintable() else " " for c in text)
