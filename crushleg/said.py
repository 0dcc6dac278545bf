"""Sentences that know their quantities, so that they can be shown in other units."""

from __future__ import annotations

from typing import NamedTuple

from crushleg.units import show


class Quantity(NamedTuple):
    """SI value, its dimension, and the significant digits it is shown with."""

    value: float
    dimension: str
    digits: int = 3

    def shown(self, units: str) -> str:
        """Value in the units of display."""
        return show(self.value, self.dimension, units, self.digits)


class Said(str):
    """A sentence of words and quantities; as a string it is in SI units.

    It stays one when plain text is added before or after it, but not within an f-string.

    Examples
    --------
    >>> sentence = "foot: " + Said("a row at ", Quantity(0.0254, "length"), ".")
    >>> print(sentence)
    foot: a row at 25.4 mm.
    >>> print(shown(sentence, "us"))
    foot: a row at 1 in.
    """

    pieces: tuple[str | Quantity, ...]
    __slots__ = ("pieces",)

    def __new__(cls, *pieces: str | Quantity) -> Said:
        """Join the pieces in SI units."""
        self = super().__new__(cls, _joined(pieces, "si"))
        self.pieces = pieces
        return self

    def __getnewargs__(self) -> tuple[str | Quantity, ...]:  # type: ignore[override]  # own arguments
        return self.pieces

    def __add__(self, other: str) -> Said:
        return Said(*self.pieces, *_pieces(other))

    def __radd__(self, other: str) -> Said:
        return Said(*_pieces(other), *self.pieces)


def shown(text: str, units: str) -> str:
    """Text in the units of display, as it is where it holds no quantities."""
    return _joined(text.pieces, units) if isinstance(text, Said) else text


def without(text: str, start: str) -> str:
    """Text without its start, its quantities kept; the start ends within the first words.

    Examples
    --------
    >>> without("soft: " + Said("at ", Quantity(0.1, "length")), "soft: ")
    'at 100 mm'
    """
    first, *rest = _pieces(text)
    return Said(str(first).removeprefix(start), *rest)


def _joined(pieces: tuple[str | Quantity, ...], units: str) -> str:
    return "".join(p.shown(units) if isinstance(p, Quantity) else p for p in pieces)


def _pieces(text: str) -> tuple[str | Quantity, ...]:
    return text.pieces if isinstance(text, Said) else (text,)
