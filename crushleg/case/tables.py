"""Walk the tables of a file field by field; keep every problem, with its place."""

from __future__ import annotations

import difflib
from dataclasses import MISSING, fields, replace
from typing import TYPE_CHECKING, Any, TypeVar

from crushleg.case.fields import SPEC, specs
from crushleg.case.sheet import dotted
from crushleg.case.stock_sizes import SIZES
from crushleg.case.values import Unfit, band, convert, describe, example

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping
    from dataclasses import Field

    from crushleg.case.fields import Spec
    from crushleg.case.lines import Path
    from crushleg.case.records import Band
    from crushleg.case.sheet import Sheet
    from crushleg.case.stock_records import StockSize

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
    write = f"[[{dotted(here)}]], with double brackets"
    if isinstance(value, list):
        for i, item in enumerate(value):
            if not isinstance(item, dict):
                sheet.report((*here, i), f"{describe(item)}, which is no table", write)
        return value if all(isinstance(item, dict) for item in value) else []
    read = "one table" if isinstance(value, dict) else "no list of tables"
    sheet.report(here, f"{dotted(here)}, {read}", write)
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
    path = (*draft.path, key)
    reader = LISTS.get(spec.kind)
    try:
        draft[key] = reader(value, spec, path, sheet) if reader else convert(value, spec)
    except Unread:
        draft.unread.add(key)
    except Unfit as unfit:
        draft.unread.add(key)
        sheet.problems.append(sheet.placed(unfit.problem, path))


def _band(value: Any, spec: Spec, path: Path, sheet: Sheet) -> Band:
    if isinstance(value, list) and len(value) == 3:
        value = read_list(value, replace(spec, kind="number"), path, sheet)
    return band(value)


def _angles(value: Any, spec: Spec, path: Path, sheet: Sheet) -> tuple[float, ...]:
    if not isinstance(value, list):
        raise Unfit(describe(value), 'a list of angles, such as ["0 deg", "120 deg", "240 deg"]')
    return tuple(read_list(value, replace(spec, kind="angle"), path, sheet))


def _sizes(value: Any, spec: Spec, path: Path, sheet: Sheet) -> tuple[StockSize, ...]:
    if not isinstance(value, list):
        raise Unfit(describe(value), 'a list of lengths, such as ["2.5 mm", "3/16 in"]')
    return tuple(read_list(value, spec, path, sheet, SIZES[spec.kind]))


LISTS: dict[str, Callable[[Any, Spec, Path, Sheet], Any]] = {
    "band": _band,
    "angles": _angles,
    **dict.fromkeys(SIZES, _sizes),
}
"""Kind -> reader of what is written as a list."""


def read_list(
    values: list[Any],
    spec: Spec,
    path: Path,
    sheet: Sheet,
    read: Callable[[Any, Spec], Any] = convert,
) -> list[Any]:
    """Convert every element of a list; each unfit one is reported at its place.

    Raises
    ------
    Unread
        At least one is unfit.
    """
    found = []
    for i, value in enumerate(values):
        try:
            found.append(read(value, spec))
        except Unfit as unfit:
            sheet.problems.append(sheet.placed(unfit.problem, (*path, i)))
    if len(found) < len(values):
        raise Unread
    return found


def check_keys(
    table: Mapping[str, Any],
    known: list[str],
    path: Path,
    sheet: Sheet,
    homes: Mapping[str, str] | None = None,
) -> None:
    """Report every key of ``table`` that is not known, with the likely one or its own table."""
    homes = sheet.homes if homes is None else homes
    here = dotted(tuple(part for part in path if isinstance(part, str)))
    for key, value in table.items():
        if key in known:
            continue
        home = homes.get(key, "")
        if isinstance(value, dict) and path and isinstance(path[-1], int):
            hint = f'for one more of them: [[{here}]], with double brackets, and name = "{key}"'
        elif home and home.strip("[]") != here:
            hint = f"it belongs in {home}"
        else:
            hint = did_you_mean(key, known)
        write = "one of: " + ", ".join(sorted(known))
        sheet.report((*path, key), f"the unknown key {key!r}", write, hint)


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Hint with the most similar known word; empty if none is near.

    >>> did_you_mean("widht", ["width", "wall"])
    'did you mean "width"?'
    """
    near = difflib.get_close_matches(word.lower(), list(known), n=1, cutoff=0.6)
    return f'did you mean "{near[0]}"?' if near else ""
