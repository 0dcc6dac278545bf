"""On which line each key of a TOML text stands.

The text has been parsed already, so it is well formed; only keys, tables and elements of arrays
are followed, values are skipped.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

Path = tuple[str | int, ...]

BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
BARE_VALUE = re.compile(r"[^,\]}\n#]*")
STRINGS = (
    re.compile(r'"""(?:[^\\]|\\.)*?"{3,5}', re.DOTALL),
    re.compile(r"'''.*?'{3,5}", re.DOTALL),
    re.compile(r'"(?:[^"\\\n]|\\.)*"'),
    re.compile(r"'[^'\n]*'"),
)


def key_lines(text: str) -> Mapping[Path, int]:
    r"""Line (from 1) of every table, key and array element; array tables carry their number.

    >>> lines = key_lines('a = "x"\n[[b]]\n[[b]]\nc.d = [\n  1,\n  2]')
    >>> lines["a",], lines["b", 1], lines["b", 1, "c", "d", 1]
    (1, 3, 6)
    """
    return _Scanner(text).scan()


class _Scanner:
    """A place in the text and the lines found before it."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.ends = [found.start() for found in re.finditer("\n", text)]
        self.lines: dict[Path, int] = {}
        self.last: dict[Path, int] = {}

    def scan(self) -> dict[Path, int]:
        table: Path = ()
        while self.skip_blank():
            if self.text.startswith("[", self.at):
                table = self.header()
            else:
                self.pair(table)
        return self.lines

    def skip_blank(self) -> bool:
        """Move over white space and comments; whether anything is left."""
        self.at = self._match(BLANK)
        return self.at < len(self.text)

    def header(self) -> Path:
        """Read ``[table]`` or ``[[table]]``."""
        start = self.at
        many = self.text.startswith("[[", self.at)
        self.at += 2 if many else 1
        *parents, name = self.key()
        self.at += 2 if many else 1
        path: Path = (*self.numbered(tuple(parents)), name)
        if many:
            self.last[path] = self.last.get(path, -1) + 1
            path = (*path, self.last[path])
        self.note(path, start)
        return path

    def numbered(self, parents: tuple[str, ...]) -> Path:
        """Path of parent tables, with the number of the last one where they are arrays."""
        path: Path = ()
        for name in parents:
            path = (*path, name)
            if path in self.last:
                path = (*path, self.last[path])
        return path

    def pair(self, table: Path) -> None:
        """Read ``key = value``."""
        start = self.at
        path = table + self.key()
        self.at += 1
        self.note(path, start)
        self.value(path)

    def key(self) -> tuple[str, ...]:
        """Read a bare, quoted or dotted key up to ``=`` or ``]``."""
        names = []
        while True:
            self.skip_blank()
            start = self.at
            quoted = self.text[start] in "\"'"
            self.at = self._string() if quoted else self._match(BARE_KEY)
            names.append(self.text[start : self.at].strip("\"'"))
            self.skip_blank()
            if not self.text.startswith(".", self.at):
                return tuple(names)
            self.at += 1

    def value(self, path: Path) -> None:
        """Skip a value; note the elements of arrays and the keys of inline tables."""
        self.skip_blank()
        first = self.text[self.at : self.at + 1]
        if first in ("[", "{"):
            self.at += 1
            self.elements(path, closing="]" if first == "[" else "}")
        elif first in ('"', "'"):
            self.at = self._string()
        else:
            self.at = self._match(BARE_VALUE)

    def elements(self, path: Path, closing: str) -> None:
        """Read the inside of an array or inline table and its closing bracket."""
        number = 0
        while self.skip_blank() and self.text[self.at] != closing:
            if closing == "}":
                self.pair(path)
            else:
                self.note((*path, number), self.at)
                self.value((*path, number))
                number += 1
            self.skip_blank()
            self.at += self.text.startswith(",", self.at)
        self.at += 1

    def note(self, path: Path, start: int) -> None:
        """Keep the line of a path and, for dotted keys, of the tables on the way."""
        line = bisect_left(self.ends, start) + 1
        for stop in range(1, len(path) + 1):
            self.lines.setdefault(path[:stop], line)

    def _string(self) -> int:
        return next(found.end() for s in STRINGS if (found := s.match(self.text, self.at)))

    def _match(self, pattern: re.Pattern[str]) -> int:
        found = pattern.match(self.text, self.at)
        return found.end() if found else self.at
