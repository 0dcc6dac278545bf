"""What is compared: the schemes of a case, several cases, or the values of one input."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from crushleg.case.reader import read_case
from crushleg.case.scheme_reading import OWN
from crushleg.errors import InputError, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.case.records import Case, Scheme
    from crushleg.design.vary import Varied

CONDITIONS = ("vehicle", "leg", "touchdowns", "standings", "limits", "factors")
ALONE = "a single girder, with nothing to compare"
ADD = (
    '[[scheme]] with name = "even" and the keys of [girder] that differ, a second case, or '
    "--vary girder.wall=1.5mm:3mm:7"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One girder to compare under its conditions; ``value`` is that of the varied input, SI."""

    name: str
    case: Case
    value: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lineup:
    """Everything to compare: what it is, who takes part, and what was said on the way.

    ``kind`` is "schemes", "cases" or "vary".
    """

    kind: str
    entries: tuple[Entry, ...]
    notes: tuple[str, ...] = ()
    varied: Varied | None = None


def read_cases(paths: Sequence[str], overrides: Sequence[str]) -> list[Case]:
    """Read several case files with the same overrides.

    Raises
    ------
    InputError
        Every problem of every file.
    """
    cases: list[Case] = []
    problems: list[Problem] = []
    for path in paths:
        try:
            cases.append(read_case(path, overrides))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(dict.fromkeys(problems))
    return cases


def scheme_lineup(case: Case, name: str) -> Lineup:
    """Line up the case's own girder and its schemes.

    Parameters
    ----------
    case : Case
    name : str
        Its file, for the message.

    Returns
    -------
    Lineup

    Raises
    ------
    InputError
        There is no scheme.
    """
    if not case.schemes:
        raise InputError([Problem(file=name, read=ALONE, write=ADD)])
    entries = (
        Entry(name=OWN, case=case),
        *(Entry(name=scheme.name, case=scheme_case(case, scheme)) for scheme in case.schemes),
    )
    return Lineup(kind="schemes", entries=entries, notes=tuple(_notes(entries)))


def scheme_case(case: Case, scheme: Scheme) -> Case:
    """Case in which a scheme is the girder."""
    return replace(
        case,
        girder=scheme.girder,
        leg=replace(case.leg, free_length=scheme.free_length),
        assumed=scheme.assumed,
    )


def cases_lineup(cases: Sequence[Case], paths: Sequence[str]) -> Lineup:
    """Girders of several cases under the conditions of the first.

    Parameters
    ----------
    cases : sequence of Case
    paths : sequence of str
        Their files.

    Returns
    -------
    Lineup
        The notes say what the other cases have of their own and was left out.
    """
    first = cases[0]
    names = short_names(paths)
    entries = [Entry(name=names[0], case=first)]
    notes = []
    if len(cases) > 1:
        notes.append(
            f"Vehicle, leg, touchdowns, standing, limits and factors are those of {names[0]} "
            "for every girder."
        )
    for name, other in zip(names[1:], cases[1:], strict=True):
        held = max(first.leg.free_length or 0.0, other.girder.length)
        case = replace(
            first,
            girder=other.girder,
            leg=replace(first.leg, free_length=held),
            assumed=other.assumed,
            input_sha256=other.input_sha256,
            beside=other.beside,
        )
        entries.append(Entry(name=name, case=case))
        left_out = list(differences(first, other))
        if left_out:
            notes.append(f"Of {name} only the girder is used; it differs in {', '.join(left_out)}.")
        if held > (first.leg.free_length or held):
            notes.append(f"{name}: held at its own length, longer than the first's free_length.")
    ignored = [name for name, case in zip(names, cases, strict=True) if case.schemes]
    if ignored:
        notes.append(f"Schemes of {', '.join(ignored)} are left out: several cases are compared.")
    return Lineup(kind="cases", entries=tuple(entries), notes=(*notes, *_notes(entries)))


def vary_lineup(cases: Sequence[Case], varied: Varied) -> Lineup:
    """One case at every value of an input."""
    entries = tuple(
        Entry(name=text, case=case, value=value)
        for text, value, case in zip(varied.texts, varied.values, cases, strict=True)
    )
    notes = []
    if cases[0].schemes:
        notes.append("The schemes of the case are left out: its own girder is varied.")
    return Lineup(kind="vary", entries=entries, notes=tuple(notes), varied=varied)


def short_names(paths: Sequence[str]) -> list[str]:
    """Names of files without folder and ending; with both, or a number, where they clash.

    >>> short_names(["a/leg.toml", "b/leg.toml", "c.toml", "c.toml"])
    ['a/leg.toml', 'b/leg.toml', 'c.toml', 'c.toml (2)']
    """
    stems = [Path(path).stem or path for path in paths]
    if len(set(stems)) == len(stems):
        return stems
    return [
        path if path not in paths[:i] else f"{path} ({list(paths[: i + 1]).count(path)})"
        for i, path in enumerate(paths)
    ]


def differences(one: Case, other: Case) -> Iterator[str]:
    """Dotted names of the conditions in which two cases differ."""
    for table in CONDITIONS:
        ours, theirs = getattr(one, table), getattr(other, table)
        if isinstance(ours, tuple):
            if ours != theirs:
                yield table
        else:
            yield from (f"{table}.{key}" for key in _differing(ours, theirs))


def _differing(one: Any, other: Any) -> Iterator[str]:
    for field in fields(one):
        if field.name != "free_length" and getattr(one, field.name) != getattr(other, field.name):
            yield field.name


def _notes(entries: Sequence[Entry]) -> Iterator[str]:
    """Equal girders, and tests of one girder used for another."""
    for i, entry in enumerate(entries):
        same = next((e.name for e in entries[:i] if e.case.girder == entry.case.girder), None)
        if same is not None:
            yield f"{entry.name} is the same girder as {same}."
    tested = [e for e in entries if e.case.girder.correlation is not None]
    patterns = {e.case.girder.holes for e in tested}
    if len(patterns) > 1:
        yield (
            "Force factor and scatter of tests are used for more than one hole pattern: they hold "
            "for the pattern that was tested."
        )
