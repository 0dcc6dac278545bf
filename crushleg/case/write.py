"""A case file with another girder: values are changed where they stand, comments are kept.

What cannot be changed in place (inline tables, dotted keys) makes the whole file be written anew,
without comments. Either way the text is parsed again and must hold exactly what is wanted.
"""

from __future__ import annotations

import copy
import json
import math
import os
import re
import tomllib
from fractions import Fraction
from typing import TYPE_CHECKING, Any, NamedTuple

from crushleg.case.lines import key_lines
from crushleg.case.overrides import apply_overrides
from crushleg.case.source import decode
from crushleg.units import parse

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from pathlib import Path as FilePath

    from crushleg.case.lines import Path
    from crushleg.case.source import Source

BARE = re.compile(r"[A-Za-z0-9_-]+")
PAIR = re.compile(
    r"""^(\s*[A-Za-z0-9_."'-]+\s*=\s*)("[^"\\]*"|'[^']*'|\[[^#]*\]|[^"'#\[{]+?)(\s*(?:#.*)?)$"""
)
FINEST = 64
GONE = object()


class Change(NamedTuple):
    """Lines ``start`` to ``stop`` (from 0, the last not included) become ``lines``."""

    start: int
    stop: int
    lines: tuple[str, ...]


def rewritten(source: Source, wanted: dict[str, Any], head: Sequence[str] = ()) -> str:
    """Text of a case file whose tables become ``wanted``.

    Parameters
    ----------
    source : Source
        The file as it was read.
    wanted : dict
        Tables, as TOML holds them.
    head : sequence of str
        Comment lines put before everything, without ``#``.

    Returns
    -------
    str
        TOML, with the comments of the file where its layout allows.
    """
    text = decode(source.raw, source.name)
    above = "".join(f"# {line}\n" for line in head)
    edited = _edited(text, tomllib.loads(text), wanted)
    try:
        same = tomllib.loads(edited) == wanted
    except tomllib.TOMLDecodeError:
        same = False
    return above + (edited if same else dumped(wanted))


def case_tables(source: Source, overrides: Sequence[str]) -> dict[str, Any]:
    """Tables of a case with its overrides applied; the source is left as it is."""
    wanted = copy.deepcopy(tomllib.loads(decode(source.raw, source.name)))
    apply_overrides(wanted, overrides)
    return wanted


def moved_path(text: str, base_dir: FilePath, folder: FilePath) -> str:
    """Path of a file beside the case, as a case in ``folder`` names it."""
    target = os.path.realpath(base_dir / text)
    try:
        return os.path.relpath(target, os.path.realpath(folder)).replace(os.sep, "/")
    except ValueError:
        return target.replace(os.sep, "/")


def length_text(value: float) -> str:
    """Write a length so that it reads back as exactly the same number.

    >>> length_text(0.0605), length_text(0.060325)
    ('60.5 mm', '2 3/8 in')
    """
    texts = [f"{value * 1e3:.4g} mm"]
    part = Fraction(round(value / 0.0254 * FINEST), FINEST)
    if part.denominator > 1:
        whole, rest = divmod(part.numerator, part.denominator)
        texts.append(f"{whole} {rest}/{part.denominator} in" if whole else f"{part} in")
    texts += [f"{float(part):g} in", f"{value * 1e3:.6g} mm", f"{value * 1e3:.9g} mm"]
    texts.append(f"{value!r} m")
    return next(text for text in texts if parse(text, "length") == value)


def dumped(tables: Mapping[str, Any]) -> str:
    """TOML text of tables, without comments."""
    return "\n".join(_table(tables, ())).strip("\n") + "\n"


def _table(table: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[str]:
    """Keys of a table, then the tables in it."""
    for key, value in table.items():
        if not isinstance(value, dict) and not _tables(value):
            yield f"{_key(key)} = {_value(value)}"
    for key, value in table.items():
        name = ".".join(map(_key, (*path, key)))
        if isinstance(value, dict):
            yield from ("", f"[{name}]", *_table(value, (*path, key)))
        elif _tables(value):
            for one in value:
                yield from ("", f"[[{name}]]", *_table(one, (*path, key)))


def _tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)


def _key(key: str) -> str:
    return key if BARE.fullmatch(key) else _value(key)


def _value(value: Any) -> str:
    if isinstance(value, list):
        return f"[{', '.join(map(_value, value))}]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(k)} = {_value(v)}" for k, v in value.items()) + " }"
    if isinstance(value, float) and not math.isfinite(value):
        return str(value)
    if isinstance(value, bool | int | float | str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    return str(value)


def _edited(text: str, had: dict[str, Any], wanted: dict[str, Any]) -> str:
    """Text with every difference changed in its place, from the last line up."""
    lines = text.split("\n")
    editor = _Editor(lines, key_lines(text))
    changes = sorted(editor.changes(had, wanted, ()), key=lambda change: change[:2])
    for change in reversed(changes):
        lines[change.start : change.stop] = change.lines
    return "\n".join([*lines, *editor.behind])


class _Editor:
    """Lines of a file, where its keys stand, and the tables to put behind them."""

    def __init__(self, lines: list[str], places: Mapping[Path, int]) -> None:
        self.lines = lines
        self.places = places
        self.heads = {
            path: line - 1
            for path, line in places.items()
            if lines[line - 1].lstrip().startswith("[") and not self._is_element(path)
        }
        self.behind: list[str] = []

    def _is_element(self, path: Path) -> bool:
        """Whether an element of a list of values begins a line; a table's number does too."""
        return isinstance(path[-1], int) and not self.lines[
            self.places[path] - 1
        ].lstrip().startswith("[[")

    def changes(self, had: Any, wanted: Any, path: Path) -> Iterator[Change]:
        """Find what turns one table, or list of as many tables, into another."""
        if isinstance(had, list):
            for i, pair in enumerate(zip(had, wanted, strict=True)):
                yield from self.changes(*pair, (*path, i))
            return
        for key in dict.fromkeys((*had, *wanted)):
            old, new, here = had.get(key, GONE), wanted.get(key, GONE), (*path, key)
            if old == new and type(old) is type(new):
                continue
            if _alike(old, new):
                yield from self.changes(old, new, here)
            elif new is GONE:
                yield from self.removed(here)
            elif old is GONE:
                yield from self.added(here, new)
            else:
                yield from self.replaced(here, new)

    def removed(self, path: Path) -> Iterator[Change]:
        """Take out a key, or every section of a table."""
        sections = {at for p, at in self.heads.items() if p[: len(path)] == path}
        for at in sections:
            yield Change(at, self.end_of_section(at), ())
        if not sections and path in self.places:
            at = self.places[path] - 1
            yield Change(at, self.end_of_value(at), ())

    def added(self, path: Path, value: Any) -> Iterator[Change]:
        """Put a key behind the last one of its table, a table behind everything."""
        if isinstance(value, dict) or _tables(value):
            name = ".".join(_key(str(key)) for key in path)
            title = f"[{name}]" if isinstance(value, dict) else f"[[{name}]]"
            for one in [value] if isinstance(value, dict) else value:
                self.behind += ["", title, *_table(one, tuple(map(str, path))), ""]
            return
        head = self.heads.get(path[:-1])
        at = 0 if head is None else self.end_of_section(head)
        yield Change(at, at, (f"{_key(str(path[-1]))} = {_value(value)}",))

    def replaced(self, path: Path, value: Any) -> Iterator[Change]:
        """Give a key another value; the comment on its line stays."""
        at = self.places.get(path, 1) - 1
        found = PAIR.match(self.lines[at])
        start, comment = (found[1], found[3]) if found else (f"{path[-1]} = ", "")
        yield Change(at, self.end_of_value(at), (f"{start}{_value(value)}{comment}",))

    def end_of_section(self, at: int) -> int:
        """Line behind the last key of the section whose head is on line ``at``."""
        later = [head for head in self.heads.values() if head > at]
        stop = min(later, default=len(self.lines))
        while stop > at + 1 and (self.lines[stop - 1].strip() + "#").startswith("#"):
            stop -= 1
        return stop

    def end_of_value(self, at: int) -> int:
        """Line behind a value that begins on line ``at`` and may go over several."""
        for stop in range(at + 1, len(self.lines) + 1):
            try:
                tomllib.loads("\n".join(self.lines[at:stop]))
            except tomllib.TOMLDecodeError:
                continue
            return stop
        return at + 1


def _alike(old: Any, new: Any) -> bool:
    """Whether both are tables, or lists of as many tables."""
    if isinstance(old, dict) and isinstance(new, dict):
        return True
    return _tables(old) and _tables(new) and len(old) == len(new)
