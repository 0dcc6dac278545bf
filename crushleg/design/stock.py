"""Stock hole tools and sheets: the built-in lists, and what [stock] of a case changes in them."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, Any

from crushleg.case.stock_records import BOTH
from crushleg.units import parse

if TYPE_CHECKING:
    from crushleg.case.material import Material
    from crushleg.case.records import Case, OwnStock

ROUNDING = 1e-6
"""Sizes that differ by less are one [m]: a drawing has hundredths of a millimetre."""
OWN, GIVEN = "own tool", "given in the case"
MILLI = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """A tool that makes a round hole of one size [m].

    ``over`` is how much wider the hole may come out [m], None where nobody said.
    """

    name: str
    size: float
    system: str
    makes: str
    source: str
    status: str
    over: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStock:
    """A sheet, plate or tube wall of one thickness [m]."""

    name: str
    thickness: float
    system: str
    source: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """Tools in the order of preference, sheets thinnest first, no thickness twice."""

    tools: tuple[Tool, ...]
    sheets: tuple[SheetStock, ...]


def stock_of(case: Case) -> Stock:
    """Built-in lists for the girder's metal, and what [stock] adds or puts in their place.

    Parameters
    ----------
    case : Case

    Returns
    -------
    Stock
        Own tools first. No sheets where the metal is neither steel nor aluminium and none are
        given.
    """
    own = case.stock
    tools, sheets = _own_tools(own), _own_sheets(own)
    system = own.system if own else BOTH
    if not (own and own.only and own.hole_tools is not None):
        tools += tuple(tool for tool in hole_tools() if system in (BOTH, tool.system))
    if not (own and own.only and own.sheets is not None):
        metal = metal_of(case.girder.material)
        sheets += tuple(sheet for sheet in sheet_list(metal) if system in (BOTH, sheet.system))
    return Stock(tools=tools, sheets=_sorted(sheets))


def tool_for(stock: Stock, size: float, tolerance: float = 0.0) -> Tool | None:
    """Tool for a round hole: that of its size, else the nearest within the tolerance.

    Of several the first that :func:`holds` the tolerance is taken, else the first.

    Parameters
    ----------
    stock : Stock
    size : float
        Diameter of the hole [m].
    tolerance : float, optional
        ± on it [m].

    Returns
    -------
    Tool or None
        None: no tool within the larger of ``tolerance`` and :data:`ROUNDING`.
    """
    apart = [abs(tool.size - size) for tool in stock.tools]
    near = max(tolerance, ROUNDING) + 1e-9
    found = [
        (d > ROUNDING, not holds(tool, size, tolerance), d if d > ROUNDING else 0.0, i)
        for i, (tool, d) in enumerate(zip(stock.tools, apart, strict=True))
        if d <= near
    ]
    return stock.tools[min(found)[3]] if found else None


def holds(tool: Tool, size: float, tolerance: float) -> bool:
    """Whether holes of the tool usually lie within size ± tolerance; not if nobody said [m]."""
    if tool.over is None:
        return False
    low, high = size - tolerance - ROUNDING, size + tolerance + ROUNDING
    return low <= tool.size and tool.size + tool.over <= high


def sheets_in(stock: Stock) -> tuple[float, ...]:
    """Thicknesses of the sheets, thinnest first [m]."""
    return tuple(sheet.thickness for sheet in stock.sheets)


def metal_of(material: Material) -> str:
    """Which list of sheets a material has: "stainless", "steel", "aluminium", or "" for none.

    By density, 2500-2950 or 7500-8300 kg/m3, and by the word stainless in its name (judgement).
    """
    if 2500.0 <= material.density <= 2950.0:
        return "aluminium"
    if 7500.0 <= material.density <= 8300.0:
        return "stainless" if "stainless" in material.name.lower() else "steel"
    return ""


@cache
def hole_tools() -> tuple[Tool, ...]:
    """Every built-in hole tool, in the order of preference, one of each kind and size."""
    data = _data("hole_tools.toml")
    grades = {grade["name"]: grade for grade in data["grade"]}
    found = [
        Tool(
            name=f"{text} {entry['unit']} {entry['makes']}",
            size=size,
            system=entry["system"],
            makes=entry["makes"],
            source=entry["source"],
            status=entry["status"],
            over=_over(entry, size, grades),
        )
        for entry in data["tool"]
        for text, size in _sizes(entry)
    ]
    return tuple({tool.name: tool for tool in reversed(found)}.values())[::-1]


@cache
def sheet_list(metal: str) -> tuple[SheetStock, ...]:
    """Built-in sheets of a metal: "stainless", "steel" or "aluminium"."""
    return tuple(
        SheetStock(
            name=f"{text} {entry['unit']} {entry['name']}",
            thickness=size,
            system=entry["system"],
            source=entry["source"],
            status=entry["status"],
        )
        for entry in _data("sheets.toml")["sheet"]
        if entry["metal"] == metal
        for text, size in _sizes(entry)
    )


def _data(name: str) -> dict[str, Any]:
    folder = resources.files("crushleg.design") / "stock_lists"
    return tomllib.loads((folder / name).read_text(encoding="utf-8"))


def _sizes(entry: dict[str, Any]) -> list[tuple[str, float]]:
    """Sizes as text and in metres."""
    texts = [str(size) for size in entry["sizes"]]
    return [(text, parse(f"{text} {entry['unit']}", "length")) for text in texts]


def _over(entry: dict[str, Any], size: float, grades: dict[str, Any]) -> float:
    if "over" in entry:
        return parse(entry["over"], "length")
    grade = grades[entry["grade"]]
    ranges = zip(grade["up_to"], grade["over"], strict=True)
    return next(MILLI * over for up_to, over in ranges if size <= MILLI * up_to + ROUNDING)


def _own_tools(own: OwnStock | None) -> tuple[Tool, ...]:
    if own is None:
        return ()
    return tuple(
        Tool(
            name=f"{one.text} {OWN}",
            size=one.value,
            system=one.system,
            makes=OWN,
            source=own.source or "",
            status=GIVEN,
        )
        for one in own.hole_tools or ()
    )


def _own_sheets(own: OwnStock | None) -> tuple[SheetStock, ...]:
    if own is None:
        return ()
    return tuple(
        SheetStock(
            name=f"{one.text} own sheet",
            thickness=one.value,
            system=one.system,
            source=own.source or "",
            status=GIVEN,
        )
        for one in own.sheets or ()
    )


def _sorted(sheets: tuple[SheetStock, ...]) -> tuple[SheetStock, ...]:
    """Thinnest first; of one thickness the first listed."""
    first: dict[int, SheetStock] = {}
    for sheet in sheets:
        first.setdefault(round(sheet.thickness / ROUNDING), sheet)
    return tuple(first[key] for key in sorted(first))
