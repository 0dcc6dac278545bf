"""Every value from outside that the tests hold, with ours computed now.

Of :mod:`evidence`. A module of values that cannot be imported here, for want of a package, is
named with the reason; a value of ours that cannot be computed fails.
"""

from __future__ import annotations

import importlib
import math
import sys
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, NamedTuple

import pytest

from tests import outside

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from tests.outside import Outside

TESTS = Path(outside.__file__).parent
FOLDERS = ("published", "derived")
STATUSES = ("published", "from memory", "derived", "simulation")
TABLES = "typed in from tables: alloys, sheet, tools, units"
ELEMENTS = "finite elements of the tests, beside no number of the tool"
OTHER = "other"
AREAS = {
    "crush of the girder": (
        "crush_modes circular_tube folding_element flow_stress simulated_tubes strain_rate "
        "element_energies hole_law wave"
    ),
    "force that starts a fold, section": (
        "effective_width girder_by_hand hardening_squash hollow_sections perforated_sheet "
        "start_force"
    ),
    "landing, rig, reading back": (
        "at_rest back_calculation drop_rules first_leg inspection landing_by_hand "
        "motion_by_hand motion_closed_forms rig safety_factors tip_over touchdown"
    ),
    "records and statistics": "ishigami record_filter tolerance_factors",
    ELEMENTS: "perforated_sheet_elements plate_buckling",
    TABLES: (
        "making_distances material_datasheets material_scatter material_temperature ranges "
        "sheet_tolerances standard_units stock_sizes"
    ),
    OTHER: "",
}
"""Modules of values by what they are about; one that is not here is counted as other."""
DIGITS = 7
"""Digits of ours that are shown, drawn and divided; finite elements repeat to ten."""
UNCOMPUTED = (ArithmeticError, AssertionError, LookupError, TypeError, ValueError)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A value from outside and ours; ours is NaN where it cannot be computed, with the reason.

    ``absent``: a package is missing here, so that it is neither held nor failed.
    """

    value: Outside
    ours: float
    reason: str = ""
    absent: bool = False

    @property
    def fails(self) -> bool:
        """Whether ours is not theirs within the tolerance, as the test of the value has it."""
        allowed = self.value.allowed
        near = allowed > 0.0 and abs(self.ours - self.value.theirs) <= allowed
        return not near and not self.absent

    @property
    def rounded(self) -> float:
        """Ours in the digits that are shown; whether it holds is judged on all of them."""
        return float(f"{self.ours:.{DIGITS}g}")

    @property
    def ratio(self) -> float | None:
        """Ours over theirs; None where one is zero, their signs differ, or ours is not there."""
        product = self.rounded * self.value.theirs
        return self.rounded / self.value.theirs if product > 0.0 else None

    @property
    def off(self) -> float:
        """How far the ratio is from one, in logs, either way; zero without a ratio."""
        return 0.0 if self.ratio is None else abs(math.log(self.ratio))


class File(NamedTuple):
    """A module of values: its name, first line, values; why it is missing, if it is."""

    name: str
    title: str
    shown: tuple[Shown, ...]
    missing: str = ""

    @property
    def area(self) -> str:
        """What its values are about."""
        stem = Path(self.name).stem.removeprefix("test_")
        return next((area for area, stems in AREAS.items() if stem in stems.split()), OTHER)


def gathered() -> list[File]:
    """Collect what the tests hold, and compute ours."""
    with _placeholders() as missing:
        return [
            File(name, _title(name), tuple(map(shown, values)), missing.get(_module(name), ""))
            for name, values in outside.collected()
        ]


def shown(value: Outside) -> Shown:
    """Compute ours beside a value from outside."""
    try:
        return Shown(value=value, ours=float(value.ours()))
    except pytest.skip.Exception as absent:
        return Shown(value=value, ours=math.nan, reason=str(absent), absent=True)
    except UNCOMPUTED as error:
        first = next(iter(str(error).strip().splitlines()), "")
        return Shown(value=value, ours=math.nan, reason=f"{type(error).__name__}: {first}")


def largest(of: Iterable[Shown]) -> Shown | None:
    """Value whose ratio is farthest from one; None of none that has a ratio."""
    found = [one for one in of if one.ratio is not None]
    return max(found, key=lambda one: one.off, default=None)


def counted(of: Sequence[Shown]) -> dict[str, int]:
    """How many there are of each status."""
    return {status: sum(one.value.status == status for one in of) for status in STATUSES}


def _module(name: str) -> str:
    return "tests." + name.removesuffix(".py").replace("/", ".")


def _title(name: str) -> str:
    """First sentence of a module's docstring."""
    return (sys.modules[_module(name)].__doc__ or "").strip().split("\n")[0]


@contextmanager
def _placeholders() -> Iterator[dict[str, str]]:
    """Stand in for modules that cannot be imported for want of a package: name and reason."""
    missing: dict[str, str] = {}
    for folder in FOLDERS:
        for file in sorted((TESTS / folder).glob("test_*.py")):
            name = f"tests.{folder}.{file.stem}"
            try:
                importlib.import_module(name)
            except pytest.skip.Exception as absent:
                missing[name] = str(absent)
                module = ModuleType(name, _docstring(file))
                module.__dict__["VALUES"] = ()
                sys.modules[name] = module
    try:
        yield missing
    finally:
        for name in missing:
            del sys.modules[name]


def _docstring(file: Path) -> str:
    return file.read_text(encoding="utf-8").partition('"""')[2].partition('"""')[0]
