"""From a file to TOML tables: encoding, size, syntax, and the line of each key."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NoReturn

from crushleg.case.lines import key_lines
from crushleg.errors import InputError, Problem

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path as FilePath

    from crushleg.case.lines import Path

LARGEST = 1_000_000
"""Bytes; a case or a datasheet has a few thousand."""
DEEPEST = 50
"""Parts of a dotted key; a case has four."""
LONGEST_ROW = 120
"""Characters of a line that are looked at for what was meant."""
A_CASE = "a case; `begin` writes a commented one"

WIDE = (b"\xff\xfe", b"\xfe\xff")
"""Byte-order marks of UTF-16."""
BARE_QUANTITY = re.compile(r"""=\s*+(?P<value>[+-]?[0-9.,/ ]++[A-Za-z%][^"'#]*?)\s*(#.*)?$""")
PART = r"""(?:[A-Za-z0-9_-]++|"[^"\n]*+"|'[^'\n]*+')"""
DEEP_KEY = re.compile(rf"(?<![A-Za-z0-9_-]){PART}(?:[ \t]*+\.[ \t]*+{PART}){{{DEEPEST}}}")
PLACE = re.compile(r"^(?P<what>.*) \((?:at line (?P<line>\d+), column \d+|at end of document)\)$")
OPEN_TEXT = "a text without its closing quote"
SAID_PLAINLY = {
    "Cannot overwrite a value": "a key or table that is given twice",
    "Unescaped '\\' in a string": "a single backslash in a text",
    "Invalid value": "a value that is not TOML",
    "Invalid statement": "a line that is neither a key nor a table",
    "Expected '=' after a key in a key/value pair": "a key without =",
    "Unclosed array": "a list that is not closed",
    "Illegal character '\\n'": OPEN_TEXT,
    "Unterminated string": OPEN_TEXT,
    'Expected "\'"': OPEN_TEXT,
    "Expected \"'''\"": OPEN_TEXT,
    "Expected newline or end of document after a statement": "more than one value",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One file, parsed: its name, bytes, tables and the line of each key."""

    name: str
    raw: bytes
    data: dict[str, Any]
    lines: Mapping[Path, int]


def load(path: FilePath, holds: str = A_CASE) -> Source:
    """Read and parse a TOML file; ``holds`` goes into the message of an empty one.

    Raises
    ------
    InputError
        Missing, unreadable, too large, not UTF-8, empty, or not TOML.
    """
    name = str(path)
    try:
        if path.is_dir():
            fail(name, "a folder", "the path of a TOML file")
        raw = first_bytes(path)
    except FileNotFoundError:
        fail(name, "no such file", "the path of a TOML file that exists")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        fail(name, f"nothing ({reason.lower()})", "the path of a readable file")
    return parse(raw, name, holds)


def is_stream(path: FilePath) -> bool:
    """Whether the path is one of an open file of the process, beside which nothing lies."""
    return path.parts[:2] in (("/", "dev"), ("/", "proc"))


def first_bytes(path: FilePath, most: int = LARGEST) -> bytes:
    """Bytes of a file, one more than ``most`` at most: a file may be without end."""
    parts: list[bytes] = []
    left = most + 1
    with path.open("rb", buffering=0) as file:
        while left and (more := file.read(left)):
            parts.append(more)
            left -= len(more)
    return b"".join(parts)


def parse(raw: bytes, name: str, holds: str = A_CASE) -> Source:
    """Parse the bytes of a TOML file; ``name`` goes into messages."""
    text = decode(raw, name)
    if deep := DEEP_KEY.search(text):
        read = f"a key of more than {DEEPEST} parts: {deep.group()[:60]}"
        fail(name, read, "a key of a case", text.count("\n", 0, deep.start()) + 1)
    try:
        data = tomllib.loads(text)
        lines = key_lines(text)
    except RecursionError:
        fail(name, "lists or tables nested too deep", "the case with plain tables")
    except ValueError as error:
        raise syntax_error(str(error), text, name) from None
    if not data:
        fail(name, "a file without any key", holds)
    return Source(name=name, raw=raw, data=data, lines=lines)


def decode(raw: bytes, name: str) -> str:
    """UTF-8 text with or without byte-order mark, line ends made plain."""
    if len(raw) > LARGEST:
        fail(name, f"more than {LARGEST} bytes", "a case or datasheet of a few thousand")
    if b"\0" in raw and raw[:2] not in WIDE:
        line = raw.count(b"\n", 0, raw.index(b"\0")) + 1
        read = "a zero byte, as in a text in UTF-16 or in a file that is no text"
        fail(name, read, "the file saved as UTF-8", line)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        read = (
            "a text in UTF-16"
            if raw[:2] in WIDE
            else f"byte 0x{raw[error.start]:02x}, which is not UTF-8"
        )
        fail(name, read, "the file saved as UTF-8", line)
    text = text.replace("\r\n", "\n")
    if "\r" in text:
        line = text.count("\n", 0, text.index("\r")) + 1
        fail(name, "a carriage return alone as line end", "line ends LF or CR LF", line)
    return text


def syntax_error(message: str, text: str, name: str) -> InputError:
    """Say what is wrong with the TOML, on which line, and what to write."""
    found = PLACE.match(message)
    what = found["what"] if found else message
    rows = text.split("\n")
    line = int(found["line"]) if found and found["line"] else len(text.rstrip().split("\n"))
    row = rows[line - 1].strip()[:LONGEST_ROW] if line <= len(rows) else ""
    if "twice" in what:
        what = "Cannot overwrite a value"
    plainly = SAID_PLAINLY.get(what, what[:1].lower() + what[1:])
    read = f"{plainly}: {row[:60]}"
    write = "valid TOML: one key = value per line"
    if plainly == OPEN_TEXT:
        write = 'a quote at both ends: "4 mm"'
    elif quantity := BARE_QUANTITY.search(row):
        write = f'the quantity in quotes: "{quantity["value"]}"'
    elif "Unescaped" in what or "\\" in row:
        write = "paths with / or in single quotes"
    elif what == "Cannot overwrite a value":
        write = "each key and each table once; a list of tables has [[ ]]"
    return InputError([Problem(file=name, line=line, read=read, write=write)])


def fail(name: str, read: str, write: str, line: int | None = None) -> NoReturn:
    """Raise one problem of a whole file."""
    raise InputError([Problem(file=name, line=line, read=read, write=write)])
