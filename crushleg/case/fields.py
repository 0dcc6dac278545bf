"""What a field of a case file is: kind of quantity, bounds, meaning.

Said once per field; the file reader, the constructors and the help text use it.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

SPEC = "spec"

LENGTH: dict[str, Any] = {"at_least": 1e-6, "at_most": 1e3}
LENGTH_OR_ZERO: dict[str, Any] = {"at_least": 0.0, "at_most": 1e3}
SHIFT: dict[str, Any] = {"at_least": -1e3, "at_most": 1e3}
MASS: dict[str, Any] = {"at_least": 1e-3, "at_most": 1e7}
STRENGTH: dict[str, Any] = {"at_least": 1e6, "at_most": 1e10}
SAFETY: dict[str, Any] = {"at_least": 1.0, "at_most": 10.0}
FULL_TURN = 2 * math.pi
TURN: dict[str, Any] = {"at_least": -FULL_TURN, "at_most": FULL_TURN}
"""Bounds that several fields share, SI: wider than any girder or vehicle (judgement), so that a
slip of the unit or of the decimal point is told instead of computed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """Kind, bounds and meaning of one field.

    ``kind`` is a dimension of :mod:`crushleg.units` ("length", "speed", ...) or one of
    "number", "count", "text", "flag", "choice", "band". ``key`` is the name in the file where
    it differs from the field's; ``why`` explains the bounds where they are not plain.
    """

    kind: str
    says: str
    above: float = -math.inf
    below: float = math.inf
    at_least: float = -math.inf
    at_most: float = math.inf
    choices: tuple[str, ...] = ()
    key: str = ""
    why: str = ""

    def admits(self, value: float) -> bool:
        """Whether ``value`` (SI) lies inside the bounds and is finite."""
        return (
            math.isfinite(value)
            and self.above < value < self.below
            and self.at_least <= value <= self.at_most
        )


def has(kind: str, says: str, default: Any = dataclasses.MISSING, **bounds: Any) -> Any:
    """Dataclass field with its :class:`Spec`; ``default`` left out means required."""
    spec = Spec(kind=kind, says=says, **bounds)
    return dataclasses.field(default=default, metadata={SPEC: spec})


def specs(record: type) -> Iterator[tuple[str, Spec, bool]]:
    """File key, spec and "required" of every field of a record class that a file may give."""
    for item in dataclasses.fields(record):
        if SPEC in item.metadata:
            spec: Spec = item.metadata[SPEC]
            required = item.default is dataclasses.MISSING
            yield spec.key or item.name, spec, required


def check_bounds(record: object) -> None:
    """Refuse a record with a number outside its bounds.

    Raises
    ------
    ValueError
        Names the field, the value and the bound.
    """
    for item in dataclasses.fields(record):  # type: ignore[arg-type]  # any dataclass instance
        spec = item.metadata.get(SPEC)
        value = getattr(record, item.name)
        if spec is None or isinstance(value, bool) or not isinstance(value, int | float):
            continue
        if not spec.admits(value):
            message = f"{type(record).__name__}.{item.name} = {value!r} is outside its bounds"
            raise ValueError(message)
