"""Read all tables of a case field by field into drafts; rules and records come after."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeVar

from crushleg.case.assume import GIRDER_DEFAULTS, derive
from crushleg.case.drafts import Drafts
from crushleg.case.fields import Spec, specs
from crushleg.case.holes import PATTERN_KEYS, read_holes
from crushleg.case.records import (
    Correlation,
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
from crushleg.case.sheet import Sheet
from crushleg.case.shelf import datasheet_path, find_material
from crushleg.case.source import load
from crushleg.case.tables import (
    Draft,
    Unread,
    build,
    read_fields,
    read_record,
    subtable,
    subtables,
)
from crushleg.case.values import Unfit, convert, describe
from crushleg.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from crushleg.case.holes import PlacedRow
    from crushleg.case.material import Material

T = TypeVar("T")
TEXT = Spec(kind="text", says="a text")
HEAD = [
    ("title", Spec(kind="text", says="title of the case"), True),
    ("revision", TEXT, False),
    ("author", TEXT, False),
]
TABLES = ("vehicle", "leg", "girder", "touchdown", "standing", "limits", "factors", "ground")
LATER = ("scatter", "rig", "scheme", "stock")
IN_GIRDER = ("material", "wall_steps", "seam", "measured", "correlation", "holes")


def homes() -> dict[str, str]:
    """Table in which each field belongs, for keys that stand in a wrong one."""
    places = {
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
    """Texts at the top of the file; tables of later versions are refused by name."""
    for name in LATER:
        if name in data:
            hint = f"this version does not read [{name}]; take it out"
            sheet.report((name,), f"[{name}]", hint=hint)
    known = {key: value for key, value in data.items() if key not in LATER}
    return read_fields(
        HEAD, known, (), sheet, also=TABLES, defaults={"revision": "-", "author": ""}
    )


def read_drafts(data: dict[str, Any], base_dir: Path, sheet: Sheet) -> Drafts:
    """All tables, read field by field."""
    girder_table = _required("girder", data, sheet)
    inside = girder_table or {}
    girder = read_record(Girder, girder_table, ("girder",), sheet, IN_GIRDER, GIRDER_DEFAULTS)
    derive(girder)
    law, rows = _holes(inside, sheet)
    _need_touchdown(data, sheet)
    return Drafts(
        vehicle=read_record(Vehicle, _required("vehicle", data, sheet), ("vehicle",), sheet),
        leg=read_record(Leg, _required("leg", data, sheet), ("leg",), sheet),
        girder=girder,
        wall_steps=_many(WallStep, inside, "wall_steps", ("girder",), sheet),
        seam=_seam(inside, sheet),
        measured=_measured(inside, sheet),
        law=law,
        rows=rows,
        material=_datasheet(girder_table, base_dir, sheet),
        correlation=_correlation(inside, base_dir, sheet),
        touchdowns=_many(Touchdown, data, "touchdown", (), sheet),
        standings=_many(Standing, data, "standing", (), sheet),
        limits=_optional(Limits, "limits", data, sheet),
        factors=_optional(Factors, "factors", data, sheet),
        ground=_optional(Ground, "ground", data, sheet) if "ground" in data else None,
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


def _many(
    record: type, data: dict[str, Any], name: str, path: tuple[str, ...], sheet: Sheet
) -> list[Draft]:
    tables = subtables(data, name, path, sheet)
    return [read_record(record, one, (*path, name, i), sheet) for i, one in enumerate(tables)]


def _holes(girder: dict[str, Any], sheet: Sheet) -> tuple[str, list[PlacedRow] | None]:
    """Law and rows; None for rows that could not be read."""
    before = len(sheet.problems)
    table = subtable(girder, "holes", ("girder",), sheet)
    with suppress(Unread):
        law, rows = read_holes(table, sheet)
        return law, rows if len(sheet.problems) == before else None
    return "none", None


def _seam(girder: dict[str, Any], sheet: Sheet) -> Draft | None:
    """[girder.seam], or ``seam = "none"``."""
    if girder.get("seam") == "none":
        return None
    if "seam" in girder and not isinstance(girder["seam"], dict):
        write = 'seam = "none", or [girder.seam] with strength_factor = 0.8'
        sheet.report(("girder", "seam"), describe(girder["seam"]), write)
        return None
    table = subtable(girder, "seam", ("girder",), sheet)
    return None if table is None else read_record(Seam, table, ("girder", "seam"), sheet)


def _measured(girder: dict[str, Any], sheet: Sheet) -> Draft | None:
    table = subtable(girder, "measured", ("girder",), sheet)
    return None if table is None else read_record(Measured, table, ("girder", "measured"), sheet)


def _datasheet(girder: dict[str, Any] | None, base_dir: Path, sheet: Sheet) -> Material | None:
    """Material of the girder; its own problems are kept with the place in the datasheet."""
    if girder is None:
        return None
    if "material" not in girder:
        write = 'material = "stainless-304l-annealed"; `materials` lists the datasheets'
        sheet.report(("girder", "material"), "nothing (a datasheet, or the path of one)", write)
        return None
    return _other_file(girder, "material", lambda text: find_material(text, base_dir), sheet)


def _correlation(girder: dict[str, Any], base_dir: Path, sheet: Sheet) -> Correlation | None:
    if "correlation" not in girder:
        return None
    return _other_file(girder, "correlation", lambda text: read_correlation(base_dir / text), sheet)


def read_correlation(path: Path) -> Correlation:
    """Read a file of test results, the keys of :class:`Correlation`.

    Raises
    ------
    InputError
        Every problem of the file.
    """
    source = load(path, holds="force_factor, scatter, tests and source, the results of your tests")
    sheet = Sheet(file=source.name, lines=source.lines)
    draft = read_record(Correlation, source.data, (), sheet)
    sheet.finish()
    return build(Correlation, draft)


def other_files(data: dict[str, Any], base_dir: Path) -> tuple[str, ...]:
    """Paths of datasheet and correlation file of a case that was read without a problem."""
    girder = data["girder"]
    paths = [datasheet_path(girder["material"].strip(), base_dir)]
    if "correlation" in girder:
        paths.append(base_dir / girder["correlation"].strip())
    return tuple(str(path) for path in paths)


def _other_file(
    girder: dict[str, Any], key: str, read: Callable[[str], T], sheet: Sheet
) -> T | None:
    """Read what another file holds; problems without a line in it are placed in the case."""
    path = ("girder", key)
    try:
        return read(convert(girder[key], TEXT))
    except Unfit as unfit:
        sheet.problems.append(sheet.placed(unfit.problem, path))
    except InputError as error:
        for problem in error.problems:
            if problem.line is None and not problem.field:
                where = f"{problem.file}: " if problem.file else ""
                here = replace(problem, read=where + problem.read)
                sheet.problems.append(sheet.placed(here, path))
            else:
                sheet.problems.append(problem)
    return None
