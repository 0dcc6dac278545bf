"""What a dotted key of a case stands for: the :class:`Spec` of the field it names."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from crushleg.case.fields import specs
from crushleg.case.holes import ALONG, COMMON, FIRST, LAWS, PITCH, SIZE
from crushleg.case.records import (
    Factors,
    Girder,
    Ground,
    Leg,
    Limits,
    Measured,
    Row,
    Seam,
    Standing,
    Touchdown,
    Vehicle,
    WallStep,
)

if TYPE_CHECKING:
    from crushleg.case.fields import Spec

TABLES: dict[str, type] = {
    "vehicle": Vehicle,
    "leg": Leg,
    "girder": Girder,
    "girder.seam": Seam,
    "girder.measured": Measured,
    "limits": Limits,
    "factors": Factors,
    "ground": Ground,
}
LISTS: dict[str, type] = {
    "girder.wall_steps": WallStep,
    "girder.holes.row": Row,
    "touchdown": Touchdown,
    "standing": Standing,
}
PATTERN: dict[str, Spec] = {
    "first": FIRST,
    "row_pitch": PITCH,
    "size_along": ALONG,
    **{key: spec for keys in LAWS.values() for key, spec in keys.items()},
    **{key: spec for key, (spec, _) in COMMON.items()},
}
ELEMENTS = {"band": "number", "angles": "angle"}
"""Kind of a list -> kind of its elements."""


def spec_of(key: str) -> Spec | None:
    """Spec of the field that a dotted key of a case names; None where it names none.

    >>> spec_of("girder.wall").kind, spec_of("touchdown.reserve.slope").kind
    ('length', 'angle')
    >>> spec_of("girder.holes.sizes.0").kind, spec_of("girder.crest_ratio.1").kind
    ('length', 'number')
    >>> spec_of("girder") is None
    True
    """
    *parents, last = key.split(".")
    table = ".".join(parents)
    if table in TABLES:
        return _field(TABLES[table], last)
    if table == "girder.holes":
        return PATTERN.get(last)
    if table in ("girder.holes.sizes", "girder.holes.size_along"):
        return SIZE if last.isdigit() else None
    if (rows := ".".join(parents[:-1])) in LISTS:
        return _field(LISTS[rows], last)
    whole = spec_of(table) if parents and last.isdigit() else None
    return replace(whole, kind=ELEMENTS[whole.kind]) if whole and whole.kind in ELEMENTS else None


def _field(record: type, key: str) -> Spec | None:
    return next((spec for name, spec, _ in specs(record) if name == key), None)


def numeric_keys() -> list[str]:
    """Dotted keys of the tables that a case has once, to guess what was meant."""
    keys = [f"{table}.{key}" for table, record in TABLES.items() for key, _, _ in specs(record)]
    return keys + [f"girder.holes.{key}" for key in PATTERN]
