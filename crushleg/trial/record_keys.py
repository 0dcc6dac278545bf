"""What a record says of itself: the TOML beside it, and changes to it by options."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from crushleg.case.fields import MASS, check_bounds, has
from crushleg.case.overrides import PAIR, apply_overrides
from crushleg.case.sheet import Sheet
from crushleg.case.source import load
from crushleg.case.tables import Unread, build, check_keys, read_record, subtable, subtables
from crushleg.case.values import describe
from crushleg.errors import InputError, Problem
from crushleg.unit_table import OTHER_SPELLINGS, UNITS
from crushleg.units import parse

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path as FilePath

    from crushleg.case.lines import Path

CHANNELS = {"time": "time", "stroke": "length", "force": "force", "acceleration": "acceleration"}
"""Channel -> dimension of its unit."""
LEG = "leg"
HOLDS = 'columns and units of a record, as [columns] force = { column = "F", unit = "kN" }'


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordKeys:
    """Keys of a record's TOML; SI."""

    test: str | None = has("text", "name of the test; left out: the name of the file", None)
    batch: str | None = has("text", "sheet, melt or lot the girder came from", None)
    mass: float | None = has(
        "mass", "whole mass that falls, what lies below the load cell included", None, **MASS
    )
    mass_below: float = has(
        "mass", "part of it between load cell and girder", 0.0, at_least=0.0, at_most=1e7
    )
    impact_speed: float | None = has(
        "speed", "speed at contact", None, at_least=1e-3, at_most=100.0
    )
    gravity: float = has("acceleration", "where the test was made", 9.80665, above=0.0, at_most=100)
    filter_class: float | None = has(
        "number", "SAE J211 class; 0: as it is", None, at_least=0.0, at_most=1e6
    )
    trigger: str | None = has(
        "text", 'force where contact begins, or its time: "2 kN", "12 ms"', None
    )
    sign: str = has(
        "choice", "sign of compression", "found", choices=("found", "positive", "negative")
    )
    decimal: str = has("choice", "decimal sign in the CSV", ".", choices=(".", ","))
    header_line: int | None = has(
        "count", "line of the column names", None, at_least=1, at_most=10_000
    )
    accept_saturated: bool = has("flag", "use the test although a channel is flat", default=False)

    def __post_init__(self) -> None:
        check_bounds(self)

    @property
    def trigger_force(self) -> float | None:
        """Force at which contact begins [N], if that was said."""
        return _quantity(self.trigger, "force")

    @property
    def trigger_time(self) -> float | None:
        """Time of contact by the record's clock [s], if that was said."""
        return _quantity(self.trigger, "time")


@dataclass(frozen=True, slots=True, kw_only=True)
class Channel:
    """A column, by name or by number from 1, and the unit of its numbers."""

    column: str | int
    unit: str
    line: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """Keys of a record, the column that names the leg, and the channels of each leg."""

    file: str
    keys: RecordKeys
    legs: tuple[tuple[str, dict[str, Channel]], ...]
    leg_column: str | int | None


def read_setup(path: FilePath, beside: FilePath | None, options: Sequence[str] = ()) -> Setup:
    """Read the TOML beside a record, changed by options.

    Parameters
    ----------
    path : path
        The CSV.
    beside : path or None
        Its TOML; None where there is none and options say everything.
    options : sequence of str
        ``key=value``, as ``columns.force.unit=kN``.

    Returns
    -------
    Setup

    Raises
    ------
    InputError
        Every problem, with file, line, field and what to write.
    """
    source = load(beside, holds=HOLDS) if beside is not None else None
    data: dict[str, Any] = {} if source is None else source.data
    overridden, problems = apply_overrides(data, options)
    problems = [replace(one, write='"batch=S1"') if one.write == PAIR else one for one in problems]
    sheet = Sheet(
        file=str(path) if source is None else source.name,
        lines={} if source is None else source.lines,
        overridden=overridden,
        problems=problems,
    )
    try:
        return _read(data, sheet)
    except InputError as error:
        raise InputError(map(_as_typed, error.problems)) from None


def _as_typed(problem: Problem) -> Problem:
    """Problem of an option, named as it was typed."""
    return replace(problem, file=problem.file.replace("--set ", "--record ", 1))


def _read(data: dict[str, Any], sheet: Sheet) -> Setup:
    draft = read_record(RecordKeys, data, (), sheet, also=("columns", LEG))
    leg_column, shared = _columns(data, sheet)
    legs = []
    for i, table in enumerate(subtables(data, LEG, (), sheet)):
        path = (LEG, i)
        check_keys(table, ["name", *CHANNELS], path, sheet)
        name = table.get("name")
        if not isinstance(name, str) or not name.strip():
            sheet.report((*path, "name"), "no name of the leg", 'name = "A"')
            continue
        legs.append((name.strip(), shared | dict(_channels(table, path, sheet))))
    names = [name for name, _ in legs]
    if len(set(names)) < len(names):
        sheet.report((LEG,), "two legs of one name", "a name of its own for each leg")
    if legs and leg_column is not None:
        sheet.report(("columns", LEG), "a column of legs beside [[leg]]", "one of the two")
    with suppress(Unread):
        _judge(draft, sheet)
    for _, channels in legs or [("", shared)]:
        _enough(channels, sheet)
    sheet.finish()
    keys = build(RecordKeys, draft)
    return Setup(
        file=sheet.file, keys=keys, legs=tuple(legs or [("", shared)]), leg_column=leg_column
    )


def _columns(data: dict[str, Any], sheet: Sheet) -> tuple[str | int | None, dict[str, Channel]]:
    """Column of the leg's name and the channels that all legs share."""
    table = subtable(data, "columns", (), sheet)
    if table is None:
        if "columns" not in data and LEG not in data:
            write = '[columns] with force = { column = "F", unit = "kN" } and time or stroke'
            sheet.report(("columns",), "no columns", write)
        return None, {}
    check_keys(table, [*CHANNELS, LEG], ("columns",), sheet)
    leg = table.get(LEG)
    if leg is not None and (isinstance(leg, bool) or not isinstance(leg, str | int)):
        sheet.report(("columns", LEG), describe(leg), 'the name of a column, such as "leg"')
        leg = None
    return leg, dict(_channels(table, ("columns",), sheet))


def _channels(table: dict[str, Any], path: Path, sheet: Sheet) -> Iterator[tuple[str, Channel]]:
    for name, dimension in CHANNELS.items():
        if name not in table:
            continue
        here, value = (*path, name), table[name]
        unit = next(iter(UNITS[dimension]))
        write = f'{name} = {{ column = "{name[0]}", unit = "{unit}" }}'
        if not isinstance(value, dict):
            sheet.report(here, describe(value), write)
            continue
        check_keys(value, ["column", "unit"], here, sheet)
        column, given = value.get("column"), value.get("unit")
        if isinstance(column, bool) or not isinstance(column, str | int) or column in ("", 0):
            read = "no column" if column is None else f"column {describe(column)}"
            sheet.report((*here, "column"), read, f"its name or its number from 1: {write}")
        elif not isinstance(given, str) or given not in UNITS[dimension]:
            units = ", ".join(f'"{one}"' for one in UNITS[dimension])
            guess = OTHER_SPELLINGS.get(str(given), "")
            hint = f'did you mean "{guess}"?' if guess in UNITS[dimension] else ""
            read = "no unit" if given is None else f"{describe(given)}, no unit of {dimension}"
            sheet.report((*here, "unit"), read, f"one of {units}", hint)
        else:
            yield name, Channel(column=column, unit=given, line=sheet.lines.get(here))


def _judge(draft: dict[str, Any], sheet: Sheet) -> None:
    """Rules between the keys."""
    trigger = draft["trigger"]
    if trigger and all(_quantity(trigger, kind) is None for kind in ("force", "time")):
        write = 'a force such as "2 kN", or a time such as "12 ms"'
        sheet.report(("trigger",), describe(trigger), write)
    if 0.0 < (draft["filter_class"] or 0.0) < 1.0:
        sheet.report(("filter_class",), f"{draft['filter_class']:g}", "at least 1, or 0 for none")
    mass, below = draft["mass"], draft["mass_below"]
    if mass is None and below > 0.0:
        sheet.report(("mass_below",), "a mass below the cell alone", "mass too, the whole of it")
    elif mass is not None and below >= mass:
        write = "less than mass, which is the whole of it"
        sheet.report(("mass_below",), f"{below:g} kg of {mass:g} kg", write)


def _enough(channels: dict[str, Channel], sheet: Sheet) -> None:
    """Whether the channels give force against stroke; what more is needed is asked for later."""
    if any(problem.field.startswith(("columns", LEG)) for problem in sheet.problems):
        return
    force = {"force", "acceleration"} & set(channels)
    along = {"stroke", "time"} & set(channels)
    if not force or not along or ("acceleration" in channels and "time" not in channels):
        write = "force with stroke, force with time, or acceleration with time"
        read = " and ".join(channels) or "no channel"
        sheet.report(("columns",), f"{read} alone", write)


def _quantity(text: str | None, dimension: str) -> float | None:
    if not text:
        return None
    try:
        return parse(text, dimension)
    except InputError:
        return None
