"""One TOML value -> one checked SI value, by the kind its Spec names."""

from __future__ import annotations

import difflib
import math
from typing import TYPE_CHECKING, Any

from crushleg.case.records import Band
from crushleg.errors import InputError, Problem
from crushleg.unit_table import EXAMPLES, UNITS
from crushleg.units import article, parse, quoted, show

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.case.fields import Spec

KIND_EXAMPLES = {
    "number": "0.4",
    "count": "6",
    "text": '"..."',
    "flag": "true",
    "band": "[1.2, 1.35, 1.55]",
    "angles": '["0 deg", "120 deg", "240 deg"]',
}
KEY_EXAMPLES = {
    "width": '"140 mm"',
    "length": '"1000 mm"',
    "height": '"80 mm"',
    "size": '"60 mm"',
    "first": '"80 mm"',
    "row_pitch": '"130 mm"',
    "from": '"500 mm"',
    "legs": "4",
    "name": '"nominal"',
    "title": '"Dunlin test stage"',
}


class Unfit(Exception):  # noqa: N818  # carries one problem to the walker, which places it
    """A value that does not fit its Spec."""

    def __init__(self, read: str, write: str, hint: str = "") -> None:
        self.problem = Problem(read=read, write=write, hint=hint)
        super().__init__(read)


def example(key: str, spec: Spec) -> str:
    """Return a value to write for the field, as TOML."""
    if spec.kind == "choice":
        return " or ".join(f'"{choice}"' for choice in spec.choices)
    if key in KEY_EXAMPLES:
        return KEY_EXAMPLES[key]
    return KIND_EXAMPLES.get(spec.kind) or f'"{EXAMPLES[spec.kind]}"'


def convert(value: Any, spec: Spec) -> Any:
    """Check and convert a TOML value.

    Raises
    ------
    Unfit
        Says what was read and what to write.
    """
    reader: Callable[[Any, Spec], Any] = READERS.get(spec.kind, _quantity)
    return reader(value, spec)


def describe(value: Any) -> str:
    """TOML value as it is named in a message.

    >>> describe(True), describe("x"), describe([1])
    ('true', '"x"', 'a list')
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int):
        return f"{value}" if abs(value) < 10**20 else "a huge whole number"
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, str):
        return quoted(value)
    kinds: dict[type, str] = {list: "a list", dict: "a table"}
    return kinds.get(type(value), "a date or time")


def _text(value: Any, _: Spec) -> str:
    text = value.strip() if isinstance(value, str) else ""
    if not text:
        read = "an empty text" if isinstance(value, str) else describe(value)
        raise Unfit(read, "a text in quotes")
    if any("\ud800" <= c <= "\udfff" for c in text):
        read = f"{quoted(text)}, which is not UTF-8"
        raise Unfit(read, "the text in UTF-8")
    return text


def _flag(value: Any, _: Spec) -> bool:
    if isinstance(value, bool):
        return value
    raise Unfit(describe(value), "true or false, without quotes")


def _choice(value: Any, spec: Spec) -> str:
    if isinstance(value, str) and value in spec.choices:
        return value
    near = difflib.get_close_matches(str(value).lower(), spec.choices, n=1)
    write = " or ".join(f'"{choice}"' for choice in spec.choices)
    raise Unfit(describe(value), write, f'did you mean "{near[0]}"?' if near else "")


def _count(value: Any, spec: Spec) -> int:
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) < 10**15:
        return int(_bounded(value, spec))
    raise Unfit(describe(value), "a whole number without quotes, such as 6")


def _number(value: Any, spec: Spec) -> float:
    """TOML number, or a text in percent."""
    if isinstance(value, str):
        return _bounded(_percent(value), spec)
    plain = isinstance(value, int | float) and not isinstance(value, bool)
    if plain and (isinstance(value, float) or abs(value) < 10**20):
        return _bounded(float(value), spec)
    raise Unfit(describe(value), "a number, such as 0.4")


def _percent(text: str) -> float:
    try:
        number = parse(text, "number")
    except InputError as error:
        problem = error.problems[0]
        raise Unfit(problem.read, "a number without quotes, such as 0.4", problem.hint) from None
    if not text.strip().endswith("%"):
        read = f"{quoted(text)}, a number in quotes"
        write = f"it without quotes: {text.strip()}"
        raise Unfit(read, write)
    return number


def _quantity(value: Any, spec: Spec) -> float:
    """Text with a unit of the dimension that is due."""
    if isinstance(value, str):
        try:
            return _bounded(parse(value, spec.kind), spec)
        except InputError as error:
            problem = error.problems[0]
            raise Unfit(problem.read, problem.write, problem.hint) from None
    if isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value):
        unit = next(iter(UNITS[spec.kind]))
        read = f"{describe(value)}, a number without a unit"
        write = f'{article(spec.kind)} with its unit, such as "{describe(value)} {unit}"'
        raise Unfit(read, write)
    write = f'{article(spec.kind)} such as "{EXAMPLES[spec.kind]}"'
    raise Unfit(describe(value), write)


def _bounded(value: float, spec: Spec) -> float:
    if spec.admits(value):
        return value
    dimension = "number" if spec.kind in KIND_EXAMPLES else spec.kind
    read = describe(value) if isinstance(value, int) else show(value, dimension, digits=10)
    write = f"{bounds(spec)} ({spec.why})" if spec.why else bounds(spec)
    raise Unfit(read, write)


def bounds(spec: Spec) -> str:
    """Say the bounds of a field in words and units."""
    dimension = "number" if spec.kind in KIND_EXAMPLES else spec.kind
    parts = [
        f"{word} {show(bound, dimension)}"
        for word, bound in (
            ("more than", spec.above),
            ("at least", spec.at_least),
            ("less than", spec.below),
            ("at most", spec.at_most),
        )
        if math.isfinite(bound)
    ]
    return " and ".join(parts) or "a finite number"


def band(value: Any) -> Band:
    """Low, nominal and high of a list of numbers that were read."""
    if not isinstance(value, list) or len(value) != 3:
        raise Unfit(describe(value), "three numbers, low nominal high: [1.2, 1.35, 1.55]")
    low, nominal, high = value
    if not low <= nominal <= high:
        read = f"[{low:g}, {nominal:g}, {high:g}]"
        raise Unfit(read, "low ≤ nominal ≤ high")
    return Band(low=low, nominal=nominal, high=high)


READERS: dict[str, Callable[[Any, Spec], Any]] = {
    "text": _text,
    "flag": _flag,
    "choice": _choice,
    "count": _count,
    "number": _number,
}
"""Kind -> reader; every other kind but "band" is the dimension of a quantity."""
