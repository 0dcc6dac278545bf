"""Read [[scheme]]: the keys of a scheme put over those of [girder], read as a girder."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Any, NamedTuple

from crushleg.case.fields import specs
from crushleg.case.girder_drafting import girder_drafts
from crushleg.case.rules import judge_girder
from crushleg.case.scheme_records import Scheme
from crushleg.case.sheet import Sheet
from crushleg.case.tables import Unread, read_fields, subtables
from crushleg.units import show

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path as FilePath

    from crushleg.case.drafts import Drafts
    from crushleg.case.lines import Path

OWN = "girder"
"""Name of the case's own girder in a comparison; no scheme may have it."""


class SchemeDraft(NamedTuple):
    """A scheme while it is read: its table put over [girder], and drafts of the whole case."""

    name: str
    table: dict[str, Any]
    drafts: Drafts

    @property
    def free_length(self) -> float:
        """Length from pad to where the girder is held [m]; its own when the leg gives none."""
        given: float | None = self.drafts.leg["free_length"]
        own: float = self.drafts.girder["length"]
        return own if given is None else given


def read_schemes(
    data: dict[str, Any], drafts: Drafts, base_dir: FilePath, sheet: Sheet
) -> list[SchemeDraft]:
    """Read and judge every scheme of a case.

    Parameters
    ----------
    data : dict
        Tables of the case.
    drafts : Drafts
        Of the case, read and judged.
    base_dir : path
        Where files named by path lie.
    sheet : Sheet
        Receives the problems; those of a scheme stand at its own lines.

    Returns
    -------
    list of SchemeDraft
        In the order of the file.
    """
    base = data.get("girder")
    found: list[SchemeDraft] = []
    for i, table in enumerate(subtables(data, "scheme", (), sheet)):
        name = _name(table, i, {one.name for one in found}, sheet)
        own = {key: value for key, value in table.items() if key != "name"}
        if not isinstance(base, dict):
            continue
        inner = _scheme_sheet(sheet, i, frozenset(own))
        merged = base | own
        one = SchemeDraft(name, merged, replace(drafts, **girder_drafts(merged, base_dir, inner)))
        judge_girder(one.drafts, inner)
        with suppress(Unread):
            _fits_the_leg(one.drafts, inner)
            _measured_wall_is_its_own(one.drafts, frozenset(own), inner)
        found.append(one)
    return found


def _name(table: dict[str, Any], i: int, taken: set[str], sheet: Sheet) -> str:
    """Name of a scheme, its own; empty where it could not be read."""
    given = {key: table[key] for key in ("name",) if key in table}
    path: Path = ("scheme", i)
    items = [item for item in specs(Scheme) if item[0] == "name"]
    draft = read_fields(items, given, path, sheet)
    if "name" in draft.unread:
        return ""
    name: str = draft["name"]
    if name == OWN:
        read = f'"{OWN}", which stands for the girder of the case itself'
        sheet.report((*path, "name"), read, "another name")
    elif name in taken:
        sheet.report((*path, "name"), f'"{name}" twice', "a name of its own for every scheme")
    return name


def _scheme_sheet(sheet: Sheet, i: int, own: frozenset[str]) -> Sheet:
    """Sheet that places what is wrong with the merged girder in scheme ``i``.

    What was wrong with the case's own girder and is not replaced stays there, told once.
    """
    return Sheet(
        file=sheet.file,
        lines=sheet.lines,
        overridden=sheet.overridden,
        problems=sheet.problems,
        homes={key: home.replace("[girder", "[scheme") for key, home in sheet.homes.items()},
        moved=_mover(i, own, frozenset(sheet.wrong)),
    )


def _mover(i: int, own: frozenset[str], wrong: frozenset[Path]) -> Callable[[Path], Path]:
    def moved(path: Path) -> Path:
        inherited = path in wrong and not (len(path) > 1 and path[1] in own)
        return path if inherited else ("scheme", i, *path[1:])

    return moved


def _fits_the_leg(drafts: Drafts, sheet: Sheet) -> None:
    """Keep the girder at most as long as from pad to where the leg holds it."""
    free, top = drafts.leg["free_length"], drafts.girder["length"]
    if free is not None and top > free:
        read = f"{_mm(top)}, longer than leg.free_length, {_mm(free)}"
        sheet.report(("girder", "length"), read, f"at most {_mm(free)}, or a longer free_length")


def _measured_wall_is_its_own(drafts: Drafts, own: frozenset[str], sheet: Sheet) -> None:
    """Refuse a wall that the measured wall of [girder] would silently replace."""
    measured = drafts.measured
    if "wall" in own and "measured" not in own and measured and measured["wall"] is not None:
        read = f"a wall that girder.measured.wall, {_mm(measured['wall'])}, overrides"
        write = "measured = {} in the scheme as well, or [scheme.measured] of its own"
        sheet.report(("girder", "wall"), read, write)


def _mm(value: float) -> str:
    return show(value, "length", digits=5)
