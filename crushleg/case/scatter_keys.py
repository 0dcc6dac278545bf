"""What a key of [[scatter.input]] stands for: its field, its place and the case's own value."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING, Any, NamedTuple, NoReturn

from crushleg.case.fields import SHIFT, STRENGTH, Spec
from crushleg.case.holes import COMMON
from crushleg.case.keys import numeric_keys, spec_of
from crushleg.case.tables import Unread, did_you_mean
from crushleg.case.values import Unfit, convert
from crushleg.unit_table import UNITS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from crushleg.case.drafts import Drafts
    from crushleg.case.lines import Path
    from crushleg.case.material import Material

MODEL = "model"
HOLE_SIZE = "girder.hole_size"
YIELD = "girder.material.yield_strength"
ULTIMATE = "girder.material.ultimate_strength"
OWN: dict[str, Spec] = {
    MODEL: Spec(kind="number", says="factor on the force", at_least=0.05, at_most=20.0),
    HOLE_SIZE: Spec(kind="length", says="added to every hole", **SHIFT),
    YIELD: Spec(kind="stress", says="yield strength", **STRENGTH),
    ULTIMATE: Spec(kind="stress", says="ultimate strength", **STRENGTH),
    "girder.material.youngs_modulus": Spec(
        kind="stress", says="Young's modulus", at_least=1e9, at_most=1e12
    ),
    "girder.material.density": Spec(kind="density", says="density", at_least=100.0, at_most=3e4),
}
"""Keys that only [scatter] knows."""


class Known(NamedTuple):
    """A key that may scatter: as it is shown, its field and place, the case's own value."""

    key: str
    spec: Spec
    path: Path
    centre: float | None


class Unknown(Exception):  # noqa: N818  # carries what is wrong with a key to its place
    """A key that cannot scatter."""

    def __init__(self, read: str, write: str, hint: str = "") -> None:
        self.read, self.write, self.hint = read, write, hint
        super().__init__(read)


def known_key(key: str, data: dict[str, Any], drafts: Drafts) -> Known:
    """Find what a key stands for.

    Parameters
    ----------
    key : str
        As written in the file.
    data : dict
        Tables of the case.
    drafts : Drafts
        Of the case, read.

    Returns
    -------
    Known

    Raises
    ------
    Unknown
        The key names no number of this case.
    """
    if key in OWN:
        _strength_is_used(key, drafts)
        return Known(key, OWN[key], tuple(key.split(".")), _own_centre(key, drafts))
    spec = spec_of(key)
    if spec is None:
        hint = did_you_mean(key, [*OWN, *numeric_keys()])
        _refuse(f'"{key}", which is no input of a case', "a key as for --set", hint)
    if spec.kind not in UNITS:
        _refuse(f'"{key}", a {spec.kind}, which cannot scatter', "a key that holds a number")
    path = _path(key, data)
    shown = _shown(path, data)
    _is_used(shown, path, data, drafts)
    return Known(shown, spec, path, _centre(path, spec, data, drafts))


def si_text(value: float, kind: str) -> Any:
    """Value as a case file holds it: a number, or a text that reads back exactly.

    >>> si_text(0.1, "length"), si_text(0.1, "number"), si_text(0.1, "angle")
    ('0.1 m', 0.1, '0.1 rad')
    """
    unit = next(name for name, scale in reversed(UNITS[kind].items()) if scale == 1)
    unit = "K" if kind == "temperature" else unit
    return f"{value!r} {unit}" if unit else value


def _refuse(read: str, write: str, hint: str = "") -> NoReturn:
    raise Unknown(read, write, hint)


def _own_centre(key: str, drafts: Drafts) -> float | None:
    if key == HOLE_SIZE:
        return 0.0
    if key == MODEL:
        return 1.0 if drafts.correlation is None else drafts.correlation.force_factor
    if drafts.material is None:
        return None
    return datasheet_value(drafts.material, key)


def datasheet_value(material: Material, key: str) -> float:
    """Nominal value of ``girder.material.<value>``."""
    value = getattr(material, key.rpartition(".")[2])
    return float(getattr(value, "nominal", value))


def _path(key: str, data: dict[str, Any]) -> Path:
    """Place of a key; elements of lists by number, as ``--set`` finds them."""
    place: Any = data
    path: Path = ()
    for part in key.split("."):
        if not isinstance(place, dict | list | None):
            where = ".".join(map(str, path))
            _refuse(f'"{key}", where {where} is no table', f"[{where}] as a table")
        if isinstance(place, list):
            names = [item.get("name") if isinstance(item, dict) else None for item in place]
            at = names.index(part) if part in names else int(part) if part.isdecimal() else -1
            if not 0 <= at < len(place):
                where = ".".join(map(str, path))
                known = ", ".join(f'"{name}"' for name in names if name)
                write = f"a number from 0 to {len(place) - 1}" + (f", or {known}" if known else "")
                _refuse(f'"{part}", which is not in the list {where}', write)
            path, place = (*path, at), place[at]
        else:
            path = (*path, part)
            place = place.get(part) if isinstance(place, dict) else None
    return path


def _shown(path: Path, data: dict[str, Any]) -> str:
    """Key with elements of lists by name where they have one."""
    place: Any = data
    parts = []
    for part in path:
        place = place[part] if isinstance(part, int) or part in (place or ()) else None
        name = place.get("name") if isinstance(part, int) and isinstance(place, dict) else None
        parts.append(str(part if name is None else name))
    return ".".join(parts)


def _is_used(key: str, path: Path, data: dict[str, Any], drafts: Drafts) -> None:
    """Refuse a key of a table that the case has not, or that another one overrides."""
    place: Any = data
    for i, part in enumerate(path[:-1]):
        place = place[part] if isinstance(part, int) else (place or {}).get(part)
        if place is None and path[i] not in ("limits", "factors"):
            _refuse(f'"{key}" without [{".".join(map(str, path[: i + 1]))}]', "that table")
    measured = drafts.measured
    if key == "girder.wall" and measured and measured["wall"] is not None:
        _refuse('"girder.wall", which girder.measured.wall overrides', '"girder.measured.wall"')
    law = path[:2] == ("girder", "holes") and path[2] != "row"
    if law and path[2] not in (*COMMON, *data["girder"]["holes"]):
        _refuse(f'"{key}", which the grading law does not have', "a key of [girder.holes]")


def _strength_is_used(key: str, drafts: Drafts) -> None:
    """Refuse a strength of the datasheet that a certificate overrides, and holes without rows."""
    measured, name = drafts.measured, key.rpartition(".")[2]
    if key in (YIELD, ULTIMATE) and measured and measured[name] is not None:
        own = f"girder.measured.{name}"
        _refuse(f'"{key}", which {own} overrides', f'"{own}"')
    if key == HOLE_SIZE and drafts.rows == []:
        _refuse(f'"{key}" of a girder without holes', "another key")


def _centre(path: Path, spec: Spec, data: dict[str, Any], drafts: Drafts) -> float | None:
    """Value of the case: as the file gives it, else the default that was read."""
    place: Any = data
    for part in path:
        inside = isinstance(place, list) and isinstance(part, int) and part < len(place)
        if isinstance(place, dict) or inside:
            place = place.get(part) if isinstance(place, dict) else place[int(part)]
        else:
            place = None
    with suppress(Unfit):
        if place is not None:
            return float(convert(place, spec))
    with suppress(Unread, KeyError):
        value = _draft(path, drafts)[str(path[-1])]
        return None if value is None else float(value)
    return None


def _draft(path: Path, drafts: Drafts) -> Mapping[str, Any]:
    """Draft of the table that the last part of a path is a key of."""
    table = str(path[0])
    lists = {"touchdown": drafts.touchdowns, "standing": drafts.standings}
    if table in lists:
        return lists[table][int(path[1])]
    found: Mapping[str, Any] = (getattr(drafts, table) or {}) if len(path) == 2 else {}
    return found
