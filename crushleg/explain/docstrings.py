"""Docstrings as the source files have them, cut into what an explanation needs.

A docstring is in numpy style. In its Notes a line that begins with one of :data:`LABELS` and a
colon says that thing, down to the next such line or an empty one. A reference ends with its status
in brackets; a key in brackets stands for the reference that the module's docstring gives under it.
"""

from __future__ import annotations

import ast
import re
from dataclasses import dataclass
from functools import cache
from importlib import resources
from textwrap import dedent

LABELS = ("Means", "Formula", "Range", "Band", "Limits")
STATUSES = (
    "published",
    "published, second-hand",
    "from memory",
    "derived",
    "judgement",
    "common practice",
    "your test",
)
OWN = {"D": "[derived]"}
"""Keys of references that every module may use."""
ALONE = re.compile(r"^(?=\[derived\])")
SHAPE = re.compile(
    r",?;? (?:all )?(?:of )?shape (?:of ``\w+``|\([^)]*\))| \((?:\d, )*[A-Z](?:, ?[A-Z\d+]*)+\)"
)
"""What an array looks like: of use to who calls the function only."""
MARKUP = (
    (re.compile(r":\w+:`~?(?:crushleg\.)?([^`]+)`"), r"\1"),
    (re.compile(r"``([^`]+)``"), r"\1"),
    (re.compile(r"`([^`]+)`"), r"\1"),
)
HEADING = re.compile(r"^(\w+)\n-+$", re.MULTILINE)
QUANTITY = re.compile(r"\[[^\]]+\]")
"""A unit: what has none is a matter of the program."""
KEY = re.compile(r"\[([A-Z][A-Z]*\d*)\]")
DEFINED = re.compile(r"^\[([A-Z][A-Z]*\d*)\] ", re.MULTILINE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Doc:
    """A docstring: its first sentence, what else it says, arguments and results in words.

    Of arguments and results only those that have a unit. ``labelled`` has the texts of every
    label of :data:`LABELS`, ``notes`` the other paragraphs of its Notes, ``references`` each
    reference with its keys spelt out.
    """

    summary: str
    says: tuple[str, ...]
    arguments: tuple[str, ...]
    results: tuple[str, ...]
    labelled: dict[str, tuple[str, ...]]
    notes: tuple[str, ...]
    references: tuple[str, ...]

    @property
    def status(self) -> str:
        """How well the references are known; every status once, in their order."""
        found = re.findall(r"\[([a-z,\- ]+)\]", " ".join(self.references))
        return "; ".join(dict.fromkeys(status for status in found if status in STATUSES))


@cache
def doc_of(function: str) -> Doc:
    """Read the docstring of a function.

    Parameters
    ----------
    function : str
        Dotted name below the package, such as "girder.crush.Crush.first_peak".

    Returns
    -------
    Doc

    Raises
    ------
    LookupError
        There is no such function, or it says nothing.
    """
    for cut in range(function.count("."), 0, -1):
        parts = function.split(".")
        tree = _module("/".join(parts[:cut]))
        if tree is not None:
            return _cut(_text(tree, parts[cut:], function), ast.get_docstring(tree) or "")
    raise LookupError(function)


@cache
def _module(place: str) -> ast.Module | None:
    """Parse the module or package at a place below the package; None if there is none."""
    for path in (f"{place}.py", f"{place}/__init__.py"):
        file = resources.files("crushleg").joinpath(path)
        if file.is_file():
            return ast.parse(file.read_text(encoding="utf-8"))
    return None


def _text(tree: ast.Module, path: list[str], function: str) -> str:
    """Docstring of what lies at a path of names in a module."""
    here: ast.Module | ast.ClassDef | ast.FunctionDef = tree
    for name in path:
        inside = (n for n in here.body if isinstance(n, ast.ClassDef | ast.FunctionDef))
        found = next((node for node in inside if node.name == name), None)
        if found is None:
            raise LookupError(function)
        here = found
    text = ast.get_docstring(here)
    if text is None:
        raise LookupError(function)
    return text


def _cut(text: str, about: str) -> Doc:
    pieces = HEADING.split(text)
    sections = dict(zip(pieces[1::2], pieces[2::2], strict=True))
    summary, *more = _paragraphs(SHAPE.sub("", pieces[0]))
    labelled, notes = _labelled(sections.get("Notes", ""))
    known = _defined(about) | OWN
    references = (
        ALONE.sub("own derivation ", KEY.sub(lambda key: known.get(key[1], key[0]), paragraph))
        for paragraph in _paragraphs(sections.get("References", ""))
    )
    return Doc(
        summary=summary,
        says=tuple(more),
        arguments=_described(sections.get("Parameters", "")),
        results=_described(sections.get("Returns", "")),
        labelled=labelled,
        notes=notes,
        references=tuple(references),
    )


def _paragraphs(text: str) -> list[str]:
    """Paragraphs on one line each, without markup."""
    return [_plain(part) for part in re.split(r"\n\s*\n", text.strip()) if part.strip()]


def _plain(text: str) -> str:
    text = " ".join(text.split())
    for pattern, instead in MARKUP:
        text = pattern.sub(instead, text)
    return text


def _labelled(text: str) -> tuple[dict[str, tuple[str, ...]], tuple[str, ...]]:
    """Texts by label, and paragraphs without one."""
    found: dict[str, tuple[str, ...]] = dict.fromkeys(LABELS, ())
    notes: list[str] = []
    starts = re.compile(rf"^(?=(?:{'|'.join(LABELS)}): )", re.MULTILINE)
    for paragraph in re.split(r"\n\s*\n", text.strip()):
        for piece in starts.split(paragraph):
            label, colon, rest = piece.partition(": ")
            if colon and label in found:
                found[label] = (*found[label], _plain(rest))
            elif piece.strip():
                notes.append(_plain(piece))
    return found, tuple(notes)


def _defined(about: str) -> dict[str, str]:
    """Find the references that a module's docstring gives under a key at the start of a line."""
    pieces = DEFINED.split(about)
    return {
        key: _plain(re.split(r"\n\s*\n", text)[0])
        for key, text in zip(pieces[1::2], pieces[2::2], strict=True)
    }


def _described(text: str) -> tuple[str, ...]:
    """Descriptions of those arguments or results of a section that have a unit."""
    found: list[list[str]] = []
    for line in dedent(text).strip("\n").splitlines():
        if line.startswith(" ") and found:
            found[-1].append(line)
        elif line:
            found.append([])
    said = (_plain(SHAPE.sub("", " ".join(lines))).rstrip(".;") for lines in found)
    return tuple(one for one in said if QUANTITY.search(one))
