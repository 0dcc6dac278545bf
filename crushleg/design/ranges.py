"""Ranges of a search as they are typed: ``2mm:4mm``, ``3:8``, or one value for both ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NoReturn

from crushleg.errors import InputError, Problem
from crushleg.units import parse

Range = tuple[float, float]
MOST_ROWS = 40
LARGEST_SEED = 2**32
EXAMPLES = {"--walls": "2mm:4mm", "--pitch": "60mm:140mm", "--length": "0.8m:1.2m"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Ranges asked for, None where the default holds; holes of any size where ``free_holes``."""

    walls: Range | None = None
    rows: tuple[int, int] | None = None
    length: Range | None = None
    pitch: Range | None = None
    free_holes: bool = False


def read_asked(
    *,
    walls: str | None = None,
    rows: str | None = None,
    pitch: str | None = None,
    length: str | None = None,
    free_holes: bool = False,
    fixed: bool = False,
) -> Asked:
    """Read the ranges of a search; on a ``fixed`` section wall and length are not chosen.

    Raises
    ------
    InputError
        What was read and what to write.
    """
    for option, text in (("--walls", walls), ("--length", length)):
        if fixed and text is not None:
            write = f"--set girder.{'wall' if option == '--walls' else 'length'}=... with --follow"
            _fail(option, f"{text} with --follow, which keeps the section", write)
    return Asked(
        walls=_lengths("--walls", walls),
        rows=_rows(rows),
        length=_lengths("--length", length),
        pitch=_lengths("--pitch", pitch),
        free_holes=free_holes,
    )


def read_seed(text: str) -> int:
    """Seed of a search: a whole number.

    Raises
    ------
    InputError
        Anything else.
    """
    if not (text.isascii() and text.isdigit() and int(text[:12]) < LARGEST_SEED and len(text) < 12):
        _fail("--seed", f'"{text}"', "a whole number from 0 to 4294967295")
    return int(text)


def _lengths(option: str, text: str | None) -> Range | None:
    if text is None:
        return None
    example = EXAMPLES[option]
    try:
        low, high = (parse(part, "length") for part in _ends(text))
    except InputError as error:
        one = error.problems[0]
        _fail(option, one.read, f"{one.write or 'a length'}; a range such as {example}", one.hint)
    except ValueError:
        _fail(option, f'"{text}"', f"a range such as {example}")
    if not 0.0 < low <= high:
        _fail(
            option, f'"{text}", which does not rise from above zero', f"a range such as {example}"
        )
    return low, high


def _rows(text: str | None) -> tuple[int, int] | None:
    if text is None:
        return None
    parts = [part.strip() for part in text.split(":")]
    if len(parts) > 2 or not all(p.isascii() and p.isdigit() and len(p) < 4 for p in parts):
        _fail("--rows", f'"{text}"', "a range of whole numbers, such as 3:8")
    low, high = int(parts[0]), int(parts[-1])
    if not 0 <= low <= high <= MOST_ROWS or high == 0:
        _fail("--rows", f'"{text}"', f"a range that rises, up to {MOST_ROWS}, such as 3:8")
    return low, high


def _ends(text: str) -> tuple[str, str]:
    parts = text.split(":")
    if len(parts) > 2:
        raise ValueError
    return parts[0], parts[-1]


def _fail(field: str, read: str, write: str, hint: str = "") -> NoReturn:
    raise InputError([Problem(field=field, read=read, write=write, hint=hint)])
