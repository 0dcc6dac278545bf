"""Read all tables of a case field by field into drafts; rules and records come after."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from crushleg.case.drafts import Drafts
from crushleg.case.fields import Spec, specs
from crushleg.case.girder_drafting import IN_GIRDER, TEXT, girder_drafts, many
from crushleg.case.holes import PATTERN_KEYS
from crushleg.case.records import (
    Factors,
    Girder,
    Ground,
    Leg,
    Limits,
    OwnStock,
    Rig,
    Row,
    Standing,
    Touchdown,
    Vehicle,
)
from crushleg.case.tables import (
    Draft,
    read_fields,
    read_record,
    subtable,
)

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.case.sheet import Sheet

HEAD = [
    ("title", Spec(kind="text", says="title of the case"), True),
    ("revision", TEXT, False),
    ("author", TEXT, False),
]
TABLES = (
    "vehicle",
    "leg",
    "girder",
    "touchdown",
    "standing",
    "limits",
    "factors",
    "ground",
    "rig",
    "stock",
    "scheme",
    "scatter",
)


def homes() -> dict[str, str]:
    """Table in which each field belongs, for keys that stand in a wrong one."""
    places = {
        "[stock]": OwnStock,
        "[rig]": Rig,
        "[vehicle]": Vehicle,
        "[leg]": Leg,
        "[girder]": Girder,
        "[[girder.holes.row]]": Row,
        "[[touchdown]]": Touchdown,
        "[limits]": Limits,
        "[factors]": Factors,
        "[ground]": Ground,
    }
    found = {key: table for table, record in places.items() for key, _, _ in specs(record)}
    found |= dict.fromkeys(PATTERN_KEYS, "[girder.holes]")
    return found | dict.fromkeys(IN_GIRDER, "[girder]")


def read_head(data: dict[str, Any], sheet: Sheet) -> Draft:
    """Texts at the top of the file."""
    return read_fields(HEAD, data, (), sheet, also=TABLES, defaults={"revision": "-", "author": ""})


def read_drafts(data: dict[str, Any], base_dir: Path, sheet: Sheet) -> Drafts:
    """All tables, read field by field."""
    girder = girder_drafts(_required("girder", data, sheet), base_dir, sheet)
    _need_touchdown(data, sheet)
    return Drafts(
        vehicle=read_record(Vehicle, _required("vehicle", data, sheet), ("vehicle",), sheet),
        leg=read_record(Leg, _required("leg", data, sheet), ("leg",), sheet),
        touchdowns=many(Touchdown, data, "touchdown", (), sheet),
        standings=many(Standing, data, "standing", (), sheet),
        limits=_optional(Limits, "limits", data, sheet),
        factors=_optional(Factors, "factors", data, sheet),
        ground=_optional(Ground, "ground", data, sheet) if "ground" in data else None,
        rig=_optional(Rig, "rig", data, sheet) if "rig" in data else None,
        stock=_optional(OwnStock, "stock", data, sheet) if "stock" in data else None,
        **girder,
    )


def _need_touchdown(data: dict[str, Any], sheet: Sheet) -> None:
    if "touchdown" not in data or data["touchdown"] == []:
        write = '[[touchdown]] with name = "nominal" and vertical_speed = "3.5 m/s"'
        sheet.report(("touchdown",), "no touchdown", write)


def _required(name: str, data: dict[str, Any], sheet: Sheet) -> dict[str, Any] | None:
    if name not in data:
        sheet.report((name,), "no such table", f"[{name}] with its fields")
    return subtable(data, name, (), sheet)


def _optional(record: type, name: str, data: dict[str, Any], sheet: Sheet) -> Draft:
    """Draft of a table that may be left out."""
    table = subtable(data, name, (), sheet) if name in data else {}
    return read_record(record, table, (name,), sheet)
