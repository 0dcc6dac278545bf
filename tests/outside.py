"""Values from outside the project beside ours: checked by the tests, shown by the evidence page.

A test module that holds such values names them in ``VALUES``, and checks each in one parametrised
test, ``@each(VALUES)``; ``examples/evidence.py`` collects the same tuples, so that the page cannot
show what the tests do not check.
"""

from __future__ import annotations

import importlib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal, TypeAlias

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

Status: TypeAlias = Literal["published", "from memory", "derived", "simulation"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outside:
    """A value from outside, and how ours is computed.

    ``theirs`` is typed from the source or the derivation, never computed by the project. The
    larger of the two tolerances counts; ``why`` says where it comes from.
    """

    what: str
    theirs: float
    ours: Callable[[], float]
    source: str
    place: str
    status: Status
    why: str
    relative: float = 0.0
    absolute: float = 0.0
    unit: str = ""

    @property
    def allowed(self) -> float:
        """Largest difference allowed, in the unit of the value."""
        return max(self.relative * abs(self.theirs), self.absolute)

    def check(self) -> None:
        """Fail unless ours is theirs within the tolerance."""
        assert self.allowed > 0.0, f"{self.what}: no tolerance"
        ours = float(self.ours())
        assert abs(ours - self.theirs) <= self.allowed, (
            f"{self.what}: ours {ours:.7g} {self.unit}, theirs {self.theirs:.7g} "
            f"± {self.allowed:.2g} ({self.source}, {self.place}, {self.status})"
        )


def each(values: Sequence[Outside]) -> pytest.MarkDecorator:
    """Parametrise a test with the argument ``value`` over values; their names are the ids."""
    return pytest.mark.parametrize("value", values, ids=lambda value: value.what)


def collected() -> Iterator[tuple[str, tuple[Outside, ...]]]:
    """Name and values of every test module under published/ and derived/ that holds some."""
    here = Path(__file__).parent
    for folder in ("published", "derived"):
        for file in sorted((here / folder).glob("test_*.py")):
            module = importlib.import_module(f"tests.{folder}.{file.stem}")
            if hasattr(module, "VALUES"):
                yield f"{folder}/{file.name}", module.VALUES
