"""Read [girder] and what belongs to it into drafts: steps, seam, holes, datasheet, tests."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeVar

from crushleg.case.assume import GIRDER_DEFAULTS, derive
from crushleg.case.fields import Spec
from crushleg.case.holes import read_holes
from crushleg.case.records import Correlation, Girder, Measured, Seam, WallStep
from crushleg.case.sheet import Sheet
from crushleg.case.shelf import datasheet_path, find_material
from crushleg.case.source import load
from crushleg.case.tables import Draft, Unread, build, read_record, subtable, subtables
from crushleg.case.values import Unfit, convert, describe
from crushleg.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from crushleg.case.holes import PlacedRow
    from crushleg.case.material import Material

T = TypeVar("T")
TEXT = Spec(kind="text", says="a text")
IN_GIRDER = ("material", "wall_steps", "seam", "measured", "correlation", "holes")


def girder_drafts(table: dict[str, Any] | None, base_dir: Path, sheet: Sheet) -> dict[str, Any]:
    """Drafts of the table of a girder, by their names in :class:`Drafts`."""
    inside = table or {}
    girder = read_record(Girder, table, ("girder",), sheet, IN_GIRDER, GIRDER_DEFAULTS)
    derive(girder)
    law, rows = _holes(inside, sheet)
    return {
        "girder": girder,
        "wall_steps": many(WallStep, inside, "wall_steps", ("girder",), sheet),
        "seam": _seam(inside, sheet),
        "measured": _measured(inside, sheet),
        "law": law,
        "rows": rows,
        "material": _datasheet(table, base_dir, sheet),
        "correlation": _correlation(inside, base_dir, sheet),
    }


def many(
    record: type, data: dict[str, Any], name: str, path: tuple[str, ...], sheet: Sheet
) -> list[Draft]:
    """Drafts of a list of tables."""
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


def other_files(girder: dict[str, Any], base_dir: Path) -> tuple[str, ...]:
    """Paths of datasheet and correlation file of a girder that was read without a problem."""
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
