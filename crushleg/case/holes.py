"""Read [girder.holes]: a grading law, or rows one by one, into rows with their places."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from crushleg.case import grading
from crushleg.case.fields import LENGTH, LENGTH_OR_ZERO, SHIFT, Spec, specs
from crushleg.case.records import FACES, SHAPES, Row
from crushleg.case.tables import (
    Draft,
    Unread,
    build,
    check_keys,
    did_you_mean,
    read_fields,
    read_list,
    read_record,
    subtables,
)
from crushleg.case.values import Unfit, convert, describe

if TYPE_CHECKING:
    from crushleg.case.lines import Path
    from crushleg.case.sheet import Sheet

HERE: Path = ("girder", "holes")
SIZE = Spec(kind="length", says="hole size across the face", **LENGTH)
ALONG = Spec(kind="length", says="the other dimension of a slot or rectangle", **LENGTH)
ROWS = Spec(kind="count", says="number of rows", at_least=1, at_most=500)
FIRST = Spec(kind="length", says="centre of the foot row above the FOOT end", **LENGTH)
PITCH = Spec(kind="length", says="between row centres", **LENGTH)
EXPONENT = Spec(kind="number", says="of the power law", at_least=0.1, at_most=20.0)

COMMON: dict[str, tuple[Spec, Any]] = {
    "shape": (Spec(kind="choice", says="hole shape", choices=SHAPES), "circle"),
    "per_face": (Spec(kind="count", says="holes side by side", at_least=1, at_most=40), 1),
    "spacing": (Spec(kind="length", says="between hole centres of a row", **LENGTH_OR_ZERO), 0.0),
    "stagger": (Spec(kind="length", says="sideways shift of every second row", **SHIFT), 0.0),
    "faces": (Spec(kind="choice", says="which faces are drilled", choices=FACES), "all"),
}
"""Keys of every law, with the value they have when left out."""

LAWS: dict[str, dict[str, Spec]] = {
    "even": {"rows": ROWS, "size": SIZE},
    "linear": {"rows": ROWS, "foot_size": SIZE, "top_size": SIZE},
    "power": {"rows": ROWS, "foot_size": SIZE, "top_size": SIZE, "exponent": EXPONENT},
    "stepped": {},
}
"""Law -> its own required keys; ``stepped`` has the list ``sizes``."""

LAW_NAMES = ("none", *LAWS, "listed")
PATTERN_KEYS = {"first", "row_pitch", "sizes", "size_along", *COMMON}.union(*LAWS.values())


class PlacedRow(NamedTuple):
    """A row and the path of the field it came from."""

    row: Row
    path: Path


def read_holes(table: dict[str, Any] | None, sheet: Sheet) -> tuple[str, list[PlacedRow]]:
    """Return the law and its rows, foot first.

    Under the law "none" the keys of a pattern may stay where they are and are not used: a plain
    girder is one change away.

    Raises
    ------
    Unread
        A row could not be read; its problem is in the sheet.
    """
    if table is None:
        return "none", []
    law = _law(table, sheet)
    if law == "none":
        check_keys(table, ["law", "row", *PATTERN_KEYS], HERE, sheet)
        return law, []
    rows = _listed(table, sheet) if law == "listed" else _graded(law, table, sheet)
    return law, sorted(rows, key=lambda placed: placed.row.height)


def _law(table: dict[str, Any], sheet: Sheet) -> str:
    law = table.get("law", "listed" if "row" in table else None)
    if law in LAW_NAMES and isinstance(law, str):
        return law
    names = ", ".join(f'"{name}"' for name in LAW_NAMES)
    read = "nothing (the grading law)" if law is None else describe(law)
    hint = did_you_mean(law, LAW_NAMES) if isinstance(law, str) else ""
    sheet.report((*HERE, "law"), read, f"law = one of {names}", hint)
    raise Unread


def _listed(table: dict[str, Any], sheet: Sheet) -> list[PlacedRow]:
    """Rows given one by one."""
    homes = {key: "[[girder.holes.row]]" for key, _, _ in specs(Row)}
    check_keys(table, ["law", "row"], HERE, sheet, homes)
    tables = subtables(table, "row", HERE, sheet)
    if not 1 <= len(tables) <= ROWS.at_most:
        sheet.report((*HERE, "row"), f"{len(tables)} rows", "[[girder.holes.row]], 1 to 500 times")
    drafts = [read_record(Row, one, (*HERE, "row", i), sheet) for i, one in enumerate(tables)]
    if not 1 <= len(drafts) <= ROWS.at_most or any(draft.unread for draft in drafts):
        raise Unread
    return [PlacedRow(build(Row, draft), draft.path) for draft in drafts]


def _graded(law: str, table: dict[str, Any], sheet: Sheet) -> list[PlacedRow]:
    """Rows of a grading law."""
    sizes_are_listed = law == "stepped"
    count = _rows(table, sizes_are_listed=sizes_are_listed)
    items = [(key, spec, True) for key, spec in LAWS[law].items()]
    items += [("first", FIRST, True), ("row_pitch", PITCH, count != 1)]
    items += [(key, spec, False) for key, (spec, _) in COMMON.items()]
    defaults = {key: value for key, (_, value) in COMMON.items()} | (
        {"row_pitch": 0.0} if count == 1 else {}
    )
    also = ["law", "size_along"] + ["sizes"] * sizes_are_listed
    draft = read_fields(items, table, HERE, sheet, also, defaults)
    sizes = _stepped_sizes(table, sheet) if sizes_are_listed else _law_sizes(law, draft)
    along = _along(table, len(sizes), sheet)
    return _rows_of(draft, sizes, along, sizes_are_listed=sizes_are_listed)


def _rows(table: dict[str, Any], *, sizes_are_listed: bool) -> int:
    """Return the number of rows as far as it can be told before reading."""
    sizes = table.get("sizes")
    if sizes_are_listed:
        return len(sizes) if isinstance(sizes, list) else 0
    return 1 if table.get("rows") == 1 else 0


def _law_sizes(law: str, draft: Draft) -> tuple[float, ...]:
    if law == "even":
        return grading.even_sizes(draft["rows"], draft["size"])
    exponent = draft["exponent"] if law == "power" else 1.0
    return grading.power_sizes(draft["rows"], draft["foot_size"], draft["top_size"], exponent)


def _stepped_sizes(table: dict[str, Any], sheet: Sheet) -> tuple[float, ...]:
    sizes = table.get("sizes")
    if not isinstance(sizes, list) or not 1 <= len(sizes) <= 500:
        read = "nothing (hole sizes, foot first)" if sizes is None else describe(sizes)
        sheet.report((*HERE, "sizes"), read, 'sizes = ["82 mm", "74 mm"], one per row')
        raise Unread
    return tuple(read_list(sizes, SIZE, (*HERE, "sizes"), sheet))


def _along(table: dict[str, Any], rows: int, sheet: Sheet) -> tuple[float | None, ...]:
    """``size_along`` of every row: one length for all, or a list with one per row."""
    value = table.get("size_along")
    path = (*HERE, "size_along")
    if value is None:
        return (None,) * rows
    if not isinstance(value, list):
        try:
            return (convert(value, ALONG),) * rows
        except Unfit as unfit:
            sheet.problems.append(sheet.placed(unfit.problem, path))
            raise Unread from None
    if len(value) != rows:
        read = f"{len(value)} sizes for {rows} rows"
        sheet.report(path, read, "one length for all rows, or a list with one per row")
        raise Unread
    return tuple(read_list(value, ALONG, path, sheet))


def _rows_of(
    draft: Draft,
    sizes: tuple[float, ...],
    along: tuple[float | None, ...],
    *,
    sizes_are_listed: bool,
) -> list[PlacedRow]:
    if draft.unread:
        raise Unread
    count = len(sizes)
    heights = grading.row_heights(count, draft["first"], draft["row_pitch"])
    shifts = grading.sideways(count, draft["stagger"])
    shared = {key: draft[key] for key in ("shape", "per_face", "spacing", "faces")}
    return [
        PlacedRow(
            Row(height=heights[i], size=sizes[i], size_along=along[i], offset=shifts[i], **shared),
            (*HERE, "sizes", i) if sizes_are_listed else HERE,
        )
        for i in range(count)
    ]
