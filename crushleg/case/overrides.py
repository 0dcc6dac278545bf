"""Apply ``--set key=value`` to the tables of a case before they are read."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING, Any

from crushleg.case.source import DEEPEST
from crushleg.errors import Problem

if TYPE_CHECKING:
    from collections.abc import Iterable

    from crushleg.case.lines import Path

PAIR = '"girder.wall=5 mm"'


def apply_overrides(
    data: dict[str, Any], overrides: Iterable[str]
) -> tuple[dict[Path, str], list[Problem]]:
    """Change ``data`` in place; return the paths that were set, as typed, and what names no place.

    A key is dotted; an element of a list of tables is named by its number (from 0) or by its
    ``name``: ``touchdown.0.slope`` or ``touchdown.nominal.slope``.
    """
    done: dict[Path, str] = {}
    problems = []
    for override in overrides:
        key, _, text = override.partition("=")
        try:
            path = _set(data, [part.strip() for part in key.split(".")], text)
            done[path] = key.strip()
        except _NoPlaceError as error:
            place = f"--set {key.strip()}".strip()
            problems.append(Problem(file=place, read=error.read, write=error.write))
    return done, problems


def toml_value(text: str) -> Any:
    """Value of a text: TOML if it parses as one value, else the text itself.

    >>> toml_value("true"), toml_value("5 mm"), toml_value("[1, 2]")
    (True, '5 mm', [1, 2])
    """
    try:
        parsed = tomllib.loads(f"value = {text}")
    except (ValueError, RecursionError):
        return text.strip()
    return parsed["value"] if list(parsed) == ["value"] else text.strip()


class _NoPlaceError(Exception):
    """A key that leads nowhere in the case."""

    def __init__(self, read: str, write: str) -> None:
        self.read, self.write = read, write
        super().__init__(read)


def _set(data: dict[str, Any], parts: list[str], text: str) -> Path:
    """Set the value under the dotted key; tables on the way are made."""
    if not text or not all(parts):
        raise _NoPlaceError(_no_pair(parts, text), PAIR)
    if len(parts) > DEEPEST:
        read = f"a key of {len(parts)} parts"
        raise _NoPlaceError(read, PAIR)
    path: Path = ()
    place: Any = data
    for part in parts[:-1]:
        key = _key(place, part, path)
        path = (*path, key)
        place = place.setdefault(key, {}) if isinstance(place, dict) else place[key]
    last = _key(place, parts[-1], path)
    place[last] = toml_value(text)
    return (*path, last)


def _no_pair(parts: list[str], text: str) -> str:
    """Say what a key with its value lacks."""
    if not any(parts):
        return "no key"
    return "a key with nothing between its points" if text else "a key without a value"


def _key(place: Any, part: str, path: Path) -> str | int:
    """Key of a table, or number of the element of a list that ``part`` names."""
    where = ".".join(map(str, path))
    if isinstance(place, dict):
        return part
    if not isinstance(place, list):
        read = f"a key below {where}, which is no table"
        raise _NoPlaceError(read, where)
    names = [item.get("name") if isinstance(item, dict) else None for item in place]
    if part in names:
        return names.index(part)
    if part.isascii() and part.isdigit() and len(part) < 6 and int(part) < len(place):
        return int(part)
    known = ", ".join(f'"{name}"' for name in names if name) or "none has a name"
    write = f"a number from 0 to {len(place) - 1}, or a name: {known}"
    read = f"{part!r}, which is not in the list {where}"
    raise _NoPlaceError(read, write)
