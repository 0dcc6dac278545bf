"""Read a case file: every problem in one run, or a frozen :class:`Case`."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.case.assume import assumptions
from crushleg.case.drafting import homes, other_files, read_drafts, read_head
from crushleg.case.overrides import apply_overrides
from crushleg.case.records import (
    Case,
    Factors,
    Girder,
    Ground,
    Holes,
    Leg,
    Limits,
    Measured,
    Seam,
    Standing,
    Touchdown,
    Vehicle,
    WallStep,
)
from crushleg.case.rules import judge
from crushleg.case.sheet import Sheet
from crushleg.case.source import is_stream, load, parse
from crushleg.case.tables import build

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from crushleg.case.drafts import Drafts
    from crushleg.case.source import Source
    from crushleg.case.tables import Draft


def read_case(path: str | Path, overrides: Sequence[str] = ()) -> Case:
    """Read a case file.

    Parameters
    ----------
    path : path
        TOML file; materials and correlations named by path are looked up beside it,
        those of a case from a pipe in the working folder.
    overrides : sequence of str
        ``key=value`` as given to ``--set``.

    Returns
    -------
    Case
        SI units, angles in radians, rows foot first.

    Raises
    ------
    InputError
        Every problem, with file, line, field and what to write.
    """
    path = Path(path)
    return _read(load(path), Path() if is_stream(path) else path.parent, overrides)


def read_case_text(
    text: str, name: str = "case", overrides: Sequence[str] = (), base_dir: Path | None = None
) -> Case:
    """Read a case from its text; ``name`` goes into messages, see :func:`read_case`."""
    source = parse(text.encode("utf-8", "surrogatepass"), name)
    return _read(source, base_dir or Path(), overrides)


def _read(source: Source, base_dir: Path, overrides: Sequence[str]) -> Case:
    overridden, problems = apply_overrides(source.data, overrides)
    sheet = Sheet(
        file=source.name,
        lines=source.lines,
        overridden=overridden,
        problems=problems,
        homes=homes(),
    )
    head = read_head(source.data, sheet)
    drafts = read_drafts(source.data, base_dir, sheet)
    judge(drafts, sheet)
    sheet.finish()
    beside = other_files(source.data, base_dir)
    return _case(head, drafts, _sha256(source.raw, overrides), beside)


def _case(head: Draft, drafts: Drafts, digest: str, beside: tuple[str, ...]) -> Case:
    """Build the records of drafts that hold no problem."""
    leg = build(Leg, drafts.leg)
    if leg.free_length is None:
        leg = replace(leg, free_length=drafts.girder["length"])
    girder = build(
        Girder,
        drafts.girder,
        material=drafts.datasheet(),
        wall_steps=tuple(build(WallStep, draft) for draft in drafts.wall_steps),
        seam=drafts.seam and build(Seam, drafts.seam),
        measured=drafts.measured and build(Measured, drafts.measured),
        correlation=drafts.correlation,
        holes=Holes(law=drafts.law, rows=tuple(row for row, _ in drafts.drilled())),
    )
    return Case(
        **head,
        vehicle=build(Vehicle, drafts.vehicle),
        leg=leg,
        girder=girder,
        touchdowns=tuple(build(Touchdown, draft) for draft in drafts.touchdowns),
        standings=tuple(build(Standing, draft) for draft in drafts.standings),
        limits=build(Limits, drafts.limits),
        factors=build(Factors, drafts.factors),
        ground=build(Ground, drafts.ground) if drafts.ground is not None else None,
        input_sha256=digest,
        assumed=assumptions(drafts),
        beside=beside,
    )


def _sha256(raw: bytes, overrides: Iterable[str]) -> str:
    """Hash of the file's bytes, then of each override after a zero byte."""
    digest = hashlib.sha256(raw)
    for override in overrides:
        digest.update(b"\0" + override.encode("utf-8", "surrogateescape"))
    return digest.hexdigest()
