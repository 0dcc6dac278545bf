"""One input varied: "girder.wall=1.5mm:3mm:7" into values, and values into cases."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, NoReturn

import numpy as np

from crushleg.case.keys import numeric_keys, spec_of
from crushleg.case.tables import did_you_mean
from crushleg.case.values import KIND_EXAMPLES
from crushleg.errors import InputError, Problem
from crushleg.unit_table import UNITS
from crushleg.units import express, parse

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from crushleg.case.fields import Spec
    from crushleg.case.records import Case

FEWEST, MOST = 2, 101
FORM = "KEY=FROM:TO:POINTS, such as girder.wall=1.5mm:3mm:7"
DIGITS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Varied:
    """An input and its values: SI, and as they are written in a case."""

    key: str
    dimension: str
    values: tuple[float, ...]
    texts: tuple[str, ...]


def one_varied(texts: Sequence[str], cases: int) -> Varied | None:
    """Read the one input that ``--vary`` names; None without it.

    Raises
    ------
    InputError
        More than one input, or more than one case.
    """
    if not texts:
        return None
    if len(texts) > 1:
        _fail(f"{len(texts)} inputs to vary", "one; the others with --set")
    if cases > 1:
        _fail(f"{cases} cases", "one case to vary")
    return read_varied(texts[0])


def read_varied(text: str) -> Varied:
    """Read what ``--vary`` takes.

    Parameters
    ----------
    text : str
        "key=from:to:points"; quantities with their units, counts and numbers plain.

    Returns
    -------
    Varied
        Evenly spaced values, both ends in.

    Raises
    ------
    InputError
        What was read and what to write.
    """
    key, equals, rest = text.partition("=")
    key, parts = key.strip(), [part.strip() for part in rest.split(":")]
    if not equals or not key or len(parts) != 3 or not all(parts):
        _fail(f'"{text}"', FORM)
    spec = spec_of(key)
    if spec is None:
        hint = did_you_mean(key, numeric_keys())
        _fail(f"{key}, which is no number or quantity of a case", FORM, hint=hint)
    if spec.kind not in UNITS and spec.kind not in ("count", "number"):
        what = "a list" if spec.kind in KIND_EXAMPLES and spec.kind != "flag" else f"a {spec.kind}"
        _fail(f"{key}, {what}", "a key with a number or a quantity")
    points = _points(parts[2], key)
    if spec.kind == "count":
        return _counts(key, parts, points)
    return _quantities(key, spec, parts, points)


def _points(text: str, key: str) -> int:
    if not text.isascii() or not text.isdigit() or not FEWEST <= int(text[:9]) <= MOST:
        _fail(f"{text} points", f"a whole number from {FEWEST} to {MOST}", key)
    return int(text)


def _counts(key: str, parts: Sequence[str], points: int) -> Varied:
    """Whole numbers; the number of points must hit them."""
    for part in parts[:2]:
        if not part.removeprefix("-").isdigit() or len(part) > 9:
            _fail(f'"{part}"', "a whole number without a unit", key)
    low, high = (int(part) for part in parts[:2])
    _differ(low, high, key)
    span = Fraction(high - low, points - 1)
    if span.denominator != 1:
        good = [n for n in range(FEWEST, MOST + 1) if abs(high - low) % (n - 1) == 0]
        write = f"a number of points that gives whole numbers: {', '.join(map(str, good[:8]))}"
        _fail(f"{points} points from {low} to {high}", write, key)
    values = [low + i * int(span) for i in range(points)]
    return Varied(
        key=key,
        dimension="number",
        values=tuple(map(float, values)),
        texts=tuple(map(str, values)),
    )


def _quantities(key: str, spec: Spec, parts: Sequence[str], points: int) -> Varied:
    """Quantities in the unit of the first, or plain numbers."""
    low, high = (_si(part, spec.kind, key) for part in parts[:2])
    _differ(low, high, key)
    values = np.linspace(low, high, points).tolist()
    unit = _unit(parts[0], spec.kind)
    shown = [f"{express(value, unit) if unit else value:.{DIGITS}g}" for value in values]
    texts = tuple(f"{number}{'' if unit == '%' else ' '}{unit}".strip() for number in shown)
    return Varied(key=key, dimension=spec.kind, values=tuple(values), texts=texts)


def _si(text: str, kind: str, key: str) -> float:
    try:
        return parse(text, kind)
    except InputError as error:
        problem = error.problems[0]
        raise InputError([replace(problem, file="--vary", field=key)]) from None


def _unit(text: str, kind: str) -> str:
    """Name of the unit at the end of a quantity that was read; the longest that fits."""
    names = [name for name in UNITS[kind] if name and text.endswith(name)]
    return max(names, key=len, default="")


def _differ(low: float, high: float, key: str) -> None:
    if low == high:
        _fail("the same value at both ends", "two different values", key)


def _fail(read: str, write: str, key: str = "", hint: str = "") -> NoReturn:
    raise InputError([Problem(file="--vary", field=key, read=read, write=write, hint=hint)])


def varied_cases(
    read: Callable[[Sequence[str]], Case], overrides: Sequence[str], varied: Varied
) -> list[Case]:
    """Read the case once for every value.

    Parameters
    ----------
    read : callable
        From overrides to a case, see :func:`crushleg.case.reader.case_reader`.
    overrides : sequence of str
        Those for every value.
    varied : Varied

    Returns
    -------
    list of Case

    Raises
    ------
    InputError
        A value that makes no case: which, and why; or a key without effect.
    """
    cases: list[Case] = []
    problems: list[Problem] = []
    for text in varied.texts:
        try:
            cases.append(read([*overrides, f"{varied.key}={text}"]))
        except InputError as error:
            problems += [_at(problem, varied.key, text) for problem in error.problems]
    if problems:
        raise InputError(dict.fromkeys(problems))
    measured = cases[0].girder.measured
    if varied.key == "girder.wall" and measured is not None and measured.wall is not None:
        read_ = "a wall that girder.measured.wall overrides"
        _fail(read_, "girder.measured.wall in its place", varied.key)
    return cases


def _at(problem: Problem, key: str, text: str) -> Problem:
    """Say at which value a problem comes up."""
    where = f"--vary {key} at {text}"
    if problem.file == f"--set {key}":
        return replace(problem, file=where)
    return replace(problem, read=f"{problem.read} ({where})")
