"""One landing of a study as a case of its own: what its margins are, said without any batch.

One landing has one girder, not a band of girders: the nominal of what was drawn, and of what does
not scatter (``girder.band`` is off). Walls that were drawn have no tolerance left. That of
holes stays: what is drawn is common to all holes, the collapse sequence asks how rows differ.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import TYPE_CHECKING, Any

from crushleg.case.fields import SPEC
from crushleg.case.holes import read_holes
from crushleg.case.records import Band, Correlation, Holes, Measured
from crushleg.case.scatter_keys import HOLE_SIZE, MODEL, si_text
from crushleg.case.sheet import Sheet
from crushleg.scatter.plan import plan_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from crushleg.case.lines import Path
    from crushleg.case.material import Material
    from crushleg.case.records import Case, Girder
    from crushleg.scatter.records import Draws

LEAST_SCATTER = 0.001
"""Scatter of a drawn factor of the model: the least a correlation file may hold."""
STRENGTHS = ("yield_strength", "ultimate_strength")
DRAWN = "one landing of crushleg scatter, no test"


def values_of(draws: Draws, index: int, leg: int = 0) -> dict[str, float]:
    """Values of landing ``index`` of the draws, those of one leg where legs differ."""
    return {
        key: float(value[index] if value.ndim == 1 else value[index, leg])
        for key, value in draws.values.items()
    }


def sampled_case(case: Case, values: Mapping[str, float]) -> Case:
    """Case of one landing.

    Parameters
    ----------
    case : Case
    values : mapping
        Key -> value in SI, as in :class:`crushleg.scatter.records.Draws`.

    Returns
    -------
    Case
        What `check` is to be asked to get the margins of this landing.
    """
    paths = {one.key: one.path for one in plan_of(case).inputs}
    pattern = {key: v for key, v in values.items() if _of_law(paths[key])}
    if pattern:
        case = replace(case, girder=_laid_anew(case, {paths[k]: v for k, v in pattern.items()}))
    for key, value in values.items():
        if key not in pattern and key not in (HOLE_SIZE, MODEL) and not is_strength(key):
            case = put(case, paths[key], value)
    return replace(case, girder=replace(_girder(case.girder, values), band=False))


def _of_law(path: Path) -> bool:
    return path[:2] == ("girder", "holes") and path[2] != "row"


def is_strength(key: str) -> bool:
    """Whether a key is a value of the datasheet or of a certificate."""
    return key.startswith(("girder.material.", "girder.measured.")) and not key.endswith("wall")


def _laid_anew(case: Case, values: Mapping[Path, float]) -> Girder:
    """Girder whose rows follow from other values of the grading law."""
    if case.scatter is None:
        message = "no [scatter], no key of the grading law scatters"
        raise ValueError(message)
    table: dict[str, Any] = dict(case.scatter.pattern)
    for path, value in values.items():
        kind = "number" if path[2] == "exponent" else "length"
        if len(path) == 3:
            table[str(path[2])] = si_text(value, kind)
        else:
            items = list(table[str(path[2])])
            items[int(path[3])] = si_text(value, kind)
            table[str(path[2])] = items
    sheet = Sheet(file="scatter")
    law, placed = read_holes(table, sheet)
    sheet.finish()
    return replace(case.girder, holes=Holes(law=law, rows=tuple(row for row, _ in placed)))


def put(record: Any, path: Path, value: Any) -> Any:
    """Put one number, or an array of them, into a record, list or band."""
    key, rest = path[0], path[1:]
    if isinstance(record, Band):
        return replace(record, **{("low", "nominal", "high")[int(key)]: value})
    if isinstance(record, tuple):
        inner = value if not rest else put(record[int(key)], rest, value)
        return (*record[: int(key)], inner, *record[int(key) + 1 :])
    name = _field(record, str(key))
    inner = value if not rest else put(getattr(record, name), rest, value)
    return replace(record, **{name: inner})


def _field(record: Any, key: str) -> str:
    """Name of the field that a key of the file fills."""
    plural = {"touchdown": "touchdowns", "standing": "standings", "row": "rows"}
    if not is_dataclass(record):
        raise TypeError(key)
    named = (f.name for f in fields(record) if SPEC in f.metadata and f.metadata[SPEC].key == key)
    return next(named, plural.get(key, key))


def _girder(girder: Girder, values: Mapping[str, float]) -> Girder:
    """Girder with drawn strengths, holes and model, and no tolerance left of walls drawn."""
    girder = _strengths(girder, values)
    if HOLE_SIZE in values:
        girder = _bored(girder, values[HOLE_SIZE])
    if MODEL in values:
        known = girder.correlation
        girder = replace(
            girder,
            correlation=Correlation(
                force_factor=values[MODEL],
                scatter=LEAST_SCATTER,
                tests=1 if known is None else known.tests,
                source=DRAWN,
            ),
        )
    if walls_drawn(girder, values):
        girder = replace(girder, wall_tolerance=0.0)
    return girder


def walls_drawn(girder: Girder, values: Iterable[str]) -> bool:
    """Whether every wall of the girder was drawn."""
    measured = girder.measured is not None and girder.measured.wall is not None
    first = "girder.measured.wall" if measured else "girder.wall"
    steps = (f"girder.wall_steps.{i}.wall" for i in range(len(girder.wall_steps)))
    return {first, *steps} <= set(values)


def _strengths(girder: Girder, values: Mapping[str, float]) -> Girder:
    material, measured = girder.material, girder.measured or Measured()
    for name in STRENGTHS:
        drawn = values.get(f"girder.measured.{name}", values.get(f"girder.material.{name}"))
        if drawn is None:
            continue
        nominal = getattr(material, name).nominal
        squeeze = material.compressive_yield
        if name == STRENGTHS[0] and squeeze is not None:
            material = replace(material, compressive_yield=_one(squeeze.nominal * drawn / nominal))
        changes: dict[str, Any] = {name: _one(drawn)}
        material = replace(material, **changes)
        material = replace(material, ultimate_strength=_at_least_yield(material))
        changes = {name: None}
        measured = replace(measured, **changes)
    changes = {
        name: values[f"girder.material.{name}"]
        for name in ("youngs_modulus", "density")
        if f"girder.material.{name}" in values
    }
    material = replace(material, **changes)
    return replace(girder, material=material, measured=measured if girder.measured else None)


def _at_least_yield(material: Material) -> Band:
    """Ultimate strength, nowhere below the yield strength."""
    lower, upper = material.yield_strength, material.ultimate_strength
    return Band(
        low=max(upper.low, lower.low),
        nominal=max(upper.nominal, lower.nominal),
        high=max(upper.high, lower.high),
    )


def _one(value: float) -> Band:
    return Band(low=value, nominal=value, high=value)


def _bored(girder: Girder, larger: float) -> Girder:
    """Girder whose holes are all that much larger [m]; from row to row their tolerance stays."""
    rows = tuple(
        replace(
            row,
            size=row.size + larger,
            size_along=None if row.size_along is None else row.size_along + larger,
        )
        for row in girder.holes.rows
    )
    return replace(girder, holes=replace(girder.holes, rows=rows))
