"""Quantities with their unit <-> SI floats, used only at the border.

The units are those of :mod:`crushleg.unit_table`, written as there: capitals matter.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import NoReturn

from crushleg.errors import InputError, Problem
from crushleg.unit_table import DISPLAY, EXAMPLES, OTHER_SPELLINGS, UNITS, ZEROS

LONGEST = 80
NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
FRACTION = re.compile(r"([+-]?)(?:([0-9]+)\s+)?([0-9]+)\s*/\s*([0-9]+)(?![0-9])")
MINUS_SIGNS = "\u2212\u2013\u2014\u2010\u2011\ufe63\uff0d"


def fail(read: str, write: str, hint: str = "") -> NoReturn:
    """Raise the one problem of a text on its own."""
    raise InputError([Problem(read=read, write=write, hint=hint)])


def parse(text: str, dimension: str) -> float:
    """Read a quantity such as "4 mm", "3/16 in" or "1 3/16 in".

    Parameters
    ----------
    text : str
        One number and one unit of the table.
    dimension : str
        A key of :data:`UNITS`: the kind of quantity that is due.

    Returns
    -------
    float
        SI value; angles [rad], temperatures [K].

    Raises
    ------
    InputError
        Says what was read and what to write.

    Examples
    --------
    >>> parse("4 mm", "length"), parse("1 3/16 in", "length"), parse("20 degC", "temperature")
    (0.004, 0.0301625, 293.15)
    >>> parse("3,0 mm", "length")
    Traceback (most recent call last):
    crushleg.errors.InputError: read "3,0 mm", a decimal comma; write "3.0 mm", with a point
    """
    cleaned = text.strip()
    _check_characters(cleaned, dimension)
    number, unit = _split(cleaned, dimension)
    if unit not in UNITS[dimension]:
        _refuse_unit(cleaned, number, unit, dimension)
    return _si(cleaned, number, unit, dimension)


def _check_characters(text: str, dimension: str) -> None:
    """Refuse empty and over-long texts, decimal commas and minus signs of print."""
    if not text:
        fail("an empty text", _wanted(dimension))
    if len(text) > LONGEST:
        fail(f"a text of {len(text)} characters", _wanted(dimension))
    if any(sign in text for sign in MINUS_SIGNS):
        plain = text.translate(dict.fromkeys(map(ord, MINUS_SIGNS), "-"))
        fail(f"{quoted(text)}, with a minus sign of print", f'"{plain}", with a hyphen')
    if re.search(r"[0-9],[0-9]", text):
        if re.match(r"[+-]?[1-9][0-9]{0,2}(,[0-9]{3})+(?![0-9])", text):
            joined = text.replace(",", "")
            write = f'"{joined}" for thousands, or a decimal point'
            fail(f"{quoted(text)}, with a comma", write)
        pointed = text.replace(",", ".")
        fail(f"{quoted(text)}, a decimal comma", f'"{pointed}", with a point')


def _split(text: str, dimension: str) -> tuple[Fraction | str, str]:
    """Split into number and unit name of a text; a fraction is read already."""
    if fraction := FRACTION.match(text):
        sign, whole, over, under = fraction.groups()
        name = text[fraction.end() :].strip()
        if name != "in":
            inches = OTHER_SPELLINGS.get(name) == "in"
            write = f"{text[: fraction.end()]} in" if inches else "3/16 in"
            fail(f"{quoted(text)}, a fraction", f'fractions with inches only: "{write}"')
        if int(under) == 0:
            fail(f"{quoted(text)}, a fraction over zero", '"3/16 in"')
        value = int(whole or 0) + Fraction(int(over), int(under))
        return (-value if sign == "-" else value), name
    if found := NUMBER.match(text):
        return found.group(), text[found.end() :].strip()
    if re.match(r"[+-]?(nan|inf)", text, re.IGNORECASE):
        fail(f"{quoted(text)}, not a finite number", _wanted(dimension))
    fail(f"{quoted(text)}, which does not begin with a number", _wanted(dimension))


def _refuse_unit(text: str, number: Fraction | str, name: str, dimension: str) -> NoReturn:
    """Say what is wrong with a unit that the dimension does not have."""
    if not name:
        example = f"{number} {next(iter(UNITS[dimension]))}"
        fail(f"{quoted(text)}, a number without a unit", f'the unit too: "{example}"')
    other = next((kind for kind, units in UNITS.items() if name in units), None)
    if other is not None:
        fail(f"{quoted(text)}, {article(other)}", _wanted(dimension))
    if len(name.split()) > 1 and name.split(maxsplit=1)[0] in _all_names():
        read = f"{quoted(text)}, more than one number and one unit"
        fail(read, _wanted(dimension))
    guess = _guess(name, dimension)
    hint = f'did you mean "{number} {guess}"?' if guess else ""
    fail(f"{quoted(text)}: no unit is written {quoted(name)}", _wanted(dimension), hint)


def _si(text: str, number: Fraction | str, unit: str, dimension: str) -> float:
    """Scale to SI with one rounding; refuse what no float can hold."""
    if isinstance(number, str):
        rough = float(number)
        if math.isinf(rough):
            fail(f"{quoted(text)}, too large a number", _wanted(dimension))
        number = Fraction(number) if rough else Fraction(0)
    exact = (number + ZEROS.get(unit, 0)) * UNITS[dimension][unit]
    if dimension == "temperature" and exact < 0:
        fail(f"{quoted(text)}, below absolute zero", "a temperature above 0 K")
    try:
        return float(exact)
    except OverflowError:
        fail(f"{quoted(text)}, too large a number", _wanted(dimension))


def _guess(name: str, dimension: str) -> str:
    """Return the unit that was probably meant, empty if none comes to mind."""
    plain = name.replace("²", "2").replace("³", "3").replace("^", "").replace("**", "")
    plain = plain.replace("·", "-").replace("⋅", "-")
    plain = OTHER_SPELLINGS.get(plain, plain)
    if plain in UNITS[dimension]:
        return plain
    folded = {unit.lower(): unit for unit in UNITS[dimension]}
    return folded.get(plain.lower(), "")


def _all_names() -> set[str]:
    return {name for units in UNITS.values() for name in units}


def _wanted(dimension: str) -> str:
    names = [name for name in UNITS[dimension] if name]
    listed = ", ".join(names[:-1]) + (" or " if names[:-1] else "") + names[-1]
    return f'{article(dimension)} in {listed}, such as "{EXAMPLES[dimension]}"'


def article(noun: str) -> str:
    """Noun with its article.

    >>> article("length"), article("angle")
    ('a length', 'an angle')
    """
    return f"an {noun}" if noun[0] in "aeiou" else f"a {noun}"


def quoted(text: str, longest: int = 60) -> str:
    """Text in quotes, cut if long, with unprintable characters escaped.

    >>> print(quoted("4 mm"))
    "4 mm"
    """
    cut = text if len(text) <= longest else text[: longest - 1] + "…"
    return '"' + "".join(c if c.isprintable() else repr(c)[1:-1] for c in cut) + '"'


def display_unit(value: float, dimension: str, system: str = "si") -> str:
    """Return the unit in which :func:`show` writes a value of this size (headers, axes).

    >>> display_unit(0.197, "length"), display_unit(0.197, "length", "us")
    ('mm', 'in')
    """
    ladder = DISPLAY[system][dimension]
    return [name for start, name in ladder if abs(value) >= start or start == 0.0][-1]


def express(value: float, unit: str) -> float:
    """SI value as a number of the named unit.

    >>> express(0.197, "mm")
    197.0
    """
    scale = next(units[unit] for units in UNITS.values() if unit in units)
    return value / float(scale) - float(ZEROS.get(unit, 0))


def show(value: float, dimension: str, system: str = "si", digits: int = 3) -> str:
    """Write an SI value with a readable unit and so many significant digits.

    Zeros after the last digit that counts are dropped; :func:`parse` reads the text back.

    >>> show(0.004, "length"), show(584_600.0, "force"), show(0.0047625, "length", "us")
    ('4 mm', '585 kN', '0.188 in')
    """
    unit = display_unit(value, dimension, system)
    return f"{plain(express(value, unit), digits)} {unit}".strip()


def plain(number: float, digits: int = 3) -> str:
    """Write a number to so many significant digits, without exponent between 1e-6 and 1e15.

    >>> plain(39_995.0), plain(0.19712), plain(-0.0)
    ('40000', '0.197', '0')
    """
    if number == 0.0 or not math.isfinite(number):
        return "0" if number == 0.0 else str(number)
    rounded = f"{number:.{digits - 1}e}"
    exponent = int(rounded.partition("e")[2])
    if not -6 <= exponent < 15:
        return f"{number:.{digits}g}"
    text = f"{float(rounded):.{max(digits - 1 - exponent, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
