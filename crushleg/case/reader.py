"""Read a case file: every problem in one run, or a frozen :class:`Case`."""

from __future__ import annotations

import hashlib
from copy import deepcopy
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.case.assume import assumptions
from crushleg.case.drafting import homes, read_drafts, read_head
from crushleg.case.girder_drafting import other_files
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
    OwnStock,
    Rig,
    Scheme,
    Seam,
    Standing,
    Touchdown,
    Vehicle,
    WallStep,
)
from crushleg.case.rules import judge
from crushleg.case.scatter_reading import read_scatter
from crushleg.case.scheme_reading import read_schemes
from crushleg.case.sheet import Sheet
from crushleg.case.source import is_stream, load, parse
from crushleg.case.tables import build

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from crushleg.case.drafts import Drafts
    from crushleg.case.records import Scatter
    from crushleg.case.scheme_reading import SchemeDraft
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
    return case_reader(path)(overrides)


def case_reader(path: str | Path) -> Callable[[Sequence[str]], Case]:
    """Load a case file once; the result reads it with any overrides, see :func:`read_case`."""
    path = Path(path)
    source = load(path)
    base_dir = Path() if is_stream(path) else path.parent
    return lambda overrides: _read(source, base_dir, overrides)


def read_case_text(
    text: str, name: str = "case", overrides: Sequence[str] = (), base_dir: Path | None = None
) -> Case:
    """Read a case from its text; ``name`` goes into messages, see :func:`read_case`."""
    source = parse(text.encode("utf-8", "surrogatepass"), name)
    return _read(source, base_dir or Path(), overrides)


def _read(source: Source, base_dir: Path, overrides: Sequence[str]) -> Case:
    data = deepcopy(source.data)
    overridden, problems = apply_overrides(data, overrides)
    sheet = Sheet(
        file=source.name,
        lines=source.lines,
        overridden=overridden,
        problems=problems,
        homes=homes(),
    )
    head = read_head(data, sheet)
    drafts = read_drafts(data, base_dir, sheet)
    judge(drafts, sheet)
    schemes = read_schemes(data, drafts, base_dir, sheet)
    scatter = read_scatter(data, drafts, base_dir, sheet)
    sheet.finish()
    tables = [data["girder"], *(scheme.table for scheme in schemes)]
    beside = dict.fromkeys(name for table in tables for name in other_files(table, base_dir))
    files = [one.file for one in scatter.inputs if one.file] if scatter else []
    beside |= dict.fromkeys(str(base_dir / name) for name in files)
    digest = _sha256(source.raw, overrides)
    return _case(head, drafts, schemes, scatter, digest, tuple(beside))


def _case(
    head: Draft,
    drafts: Drafts,
    schemes: list[SchemeDraft],
    scatter: Scatter | None,
    digest: str,
    beside: tuple[str, ...],
) -> Case:
    """Build the records of drafts that hold no problem."""
    leg = build(Leg, drafts.leg)
    if leg.free_length is None:
        leg = replace(leg, free_length=drafts.girder["length"])
    return Case(
        **head,
        vehicle=build(Vehicle, drafts.vehicle),
        leg=leg,
        girder=_girder(drafts),
        touchdowns=tuple(build(Touchdown, draft) for draft in drafts.touchdowns),
        standings=tuple(build(Standing, draft) for draft in drafts.standings),
        limits=build(Limits, drafts.limits),
        factors=build(Factors, drafts.factors),
        ground=build(Ground, drafts.ground) if drafts.ground is not None else None,
        rig=build(Rig, drafts.rig) if drafts.rig is not None else None,
        stock=build(OwnStock, drafts.stock) if drafts.stock is not None else None,
        input_sha256=digest,
        assumed=assumptions(drafts),
        beside=beside,
        schemes=tuple(
            Scheme(
                name=scheme.name,
                girder=_girder(scheme.drafts),
                free_length=scheme.free_length,
                assumed=assumptions(scheme.drafts),
            )
            for scheme in schemes
        ),
        scatter=scatter,
    )


def _girder(drafts: Drafts) -> Girder:
    return build(
        Girder,
        drafts.girder,
        material=drafts.datasheet(),
        wall_steps=tuple(build(WallStep, draft) for draft in drafts.wall_steps),
        seam=drafts.seam and build(Seam, drafts.seam),
        measured=drafts.measured and build(Measured, drafts.measured),
        correlation=drafts.correlation,
        holes=Holes(law=drafts.law, rows=tuple(row for row, _ in drafts.drilled())),
    )


def _sha256(raw: bytes, overrides: Iterable[str]) -> str:
    """Hash of the file's bytes, then of each override after a zero byte."""
    digest = hashlib.sha256(raw)
    for override in overrides:
        digest.update(b"\0" + override.encode("utf-8", "surrogateescape"))
    return digest.hexdigest()
