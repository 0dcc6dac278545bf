"""Walk the tables of a file field by field; keep every problem, with its place."""

from __future__ import annotations

import difflib
from dataclasses import MISSING, dataclass, field, fields, replace
from typing import TYPE_CHECKING, Any, TypeVar

from crushleg.case.fields import SPEC, specs
from crushleg.case.values import Unfit, convert, example
from crushleg.errors import InputError, Problem

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from dataclasses import Field

    from crushleg.case.fields import Spec
    from crushleg.case.lines import Path

T = TypeVar("T")


class Unread(Exception):  # noqa: N818  # signal that a rule is to be skipped, not an error
    """A rule asked for a field that could not be read; the field is reported already."""


class Draft(dict[str, Any]):
    """Values of one table: read, or default; fields that could not be read raise ``Unread``."""

    def __init__(self, path: Path = (), unread: Iterable[str] = ()) -> None:
        super().__init__()
        self.path = path
        self.unread = set(unread)
        self.given: set[str] = set()

    def __missing__(self, key: str) -> Any:
        if key in self.unread:
            raise Unread
        raise KeyError(key)


@dataclass(slots=True, kw_only=True)
class Sheet:
    """A file under reading: where its keys stand, and the problems found so far."""

    file: str
    lines: Mapping[Path, int] = field(default_factory=dict)
    overridden: set[Path] = field(default_factory=set)
    problems: list[Problem] = field(default_factory=list)
    homes: Mapping[str, str] = field(default_factory=dict)

    def report(self, path: Path, read: str, write: str = "", hint: str = "") -> None:
        """Keep a problem of the field at ``path``."""
        self.problems.append(self.placed(Problem(read=read, write=write, hint=hint), path))

    def placed(self, problem: Problem, path: Path) -> Problem:
        """Return the problem with file, line and field; an override is named as it was typed."""
        for stop in range(len(path), 0, -1):
            if path[:stop] in self.overridden:
                rest = dotted(path[stop:])
                return replace(problem, file=f"--set {dotted(path[:stop])}", field=rest)
            if path[:stop] in self.lines:
                line = self.lines[path[:stop]]
                return replace(problem, file=self.file, line=line, field=dotted(path))
        within = (place for place in sorted(self.overridden, key=str) if place[: len(path)] == path)
        file = next((f"--set {dotted(place)}" for place in within), self.file)
        return replace(problem, file=file, field=dotted(path))

    def finish(self) -> None:
        """Raise all problems, in the order of the file, if there are any."""
        if self.problems:
            unique = dict.fromkeys(self.problems)
            raise InputError(sorted(unique, key=lambda p: (p.file != self.file, p.line or 0)))


def dotted(path: Path) -> str:
    """Path as it is typed after ``--set``.

    >>> dotted(("touchdown", 0, "slope"))
    'touchdown.0.slope'
    """
    return ".".join(str(part) for part in path)


def subtable(data: Mapping[str, Any], key: str, path: Path, sheet: Sheet) -> dict[str, Any] | None:
    """Return the table under ``key``; None where it is left out or no table (reported)."""
    value = data.get(key)
    if value is None or isinstance(value, dict):
        return value
    here = (*path, key)
    sheet.report(here, f"{dotted(here)} that is no table", f"[{dotted(here)}]")
    return None


def subtables(data: Mapping[str, Any], key: str, path: Path, sheet: Sheet) -> list[dict[str, Any]]:
    """Tables of the list under ``key``; anything else is reported."""
    value = data.get(key, [])
    here = (*path, key)
    if isinstance(value, list) and all(isinstance(item, dict) for item in value):
        return value
    read = "one table" if isinstance(value, dict) else "no list of tables"
    sheet.report(here, f"{dotted(here)}, {read}", f"[[{dotted(here)}]], with double brackets")
    return []


def read_record(
    record: type,
    table: dict[str, Any] | None,
    path: Path,
    sheet: Sheet,
    also: Iterable[str] = (),
    defaults: Mapping[str, Any] | None = None,
) -> Draft:
    """Read the fields of a record class; ``defaults`` are added to those of the class."""
    own = {key: item.default for key, item in keyed_fields(record) if item.default is not MISSING}
    return read_fields(specs(record), table, path, sheet, also, own | dict(defaults or {}))


def build(record: type[T], draft: Draft, **more: Any) -> T:
    """Return the record of a draft whose fields could all be read, else raise ``Unread``."""
    values = {item.name: draft[key] for key, item in keyed_fields(record)}
    return record(**values | more)


def keyed_fields(record: type) -> Iterator[tuple[str, Field[Any]]]:
    """File key and dataclass field of everything a file may give."""
    for item in fields(record):
        if SPEC in item.metadata:
            yield item.metadata[SPEC].key or item.name, item


def read_fields(
    items: Iterable[tuple[str, Spec, bool]],
    table: dict[str, Any] | None,
    path: Path,
    sheet: Sheet,
    also: Iterable[str] = (),
    defaults: Mapping[str, Any] | None = None,
) -> Draft:
    """Read every field of ``items``; report unknown, missing and unfit ones.

    Parameters
    ----------
    items : iterable of (key, Spec, required)
        What the table may hold.
    table : dict or None
        None: the whole table is missing and has been reported.
    path : tuple
        Path of the table.
    sheet : Sheet
        Receives the problems.
    also : iterable of str
        Keys that are read elsewhere.
    defaults : mapping, optional
        Values of fields that are left out; a field that has one is not required.

    Returns
    -------
    Draft
        SI values by file key.
    """
    items = list(items)
    draft = Draft(path)
    if table is None:
        draft.unread = {key for key, _, _ in items}
        return draft
    draft.given = set(table)
    check_keys(table, [key for key, _, _ in items] + list(also), path, sheet)
    for key, spec, required in items:
        if key in table:
            _read_one(table[key], key, spec, draft, sheet)
        elif defaults and key in defaults:
            draft[key] = defaults[key]
        elif required:
            draft.unread.add(key)
            sheet.report((*path, key), f"nothing ({spec.says})", f"{key} = {example(key, spec)}")
    return draft


def _read_one(value: Any, key: str, spec: Spec, draft: Draft, sheet: Sheet) -> None:
    try:
        draft[key] = convert(value, spec)
    except Unfit as unfit:
        draft.unread.add(key)
        sheet.problems.append(sheet.placed(unfit.problem, (*draft.path, key)))


def check_keys(table: Mapping[str, Any], known: list[str], path: Path, sheet: Sheet) -> None:
    """Report every key of ``table`` that is not known, with the likely one."""
    for key in table:
        if key not in known:
            write = "one of: " + ", ".join(sorted(known))
            home = f"it belongs in [{sheet.homes[key]}]" if key in sheet.homes else ""
            hint = home or did_you_mean(key, known)
            sheet.report((*path, key), f"the unknown key {key!r}", write, hint)


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Hint with the most similar known word; empty if none is near.

    >>> did_you_mean("widht", ["width", "wall"])
    'did you mean "width"?'
    """
    near = difflib.get_close_matches(word.lower(), list(known), n=1, cutoff=0.6)
    return f'did you mean "{near[0]}"?' if near else ""
