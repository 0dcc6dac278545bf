"""Read one material datasheet: values with low, nominal and high, each with its source."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, Any, NamedTuple

from crushleg.case.fields import STRENGTH, Spec
from crushleg.case.material import CRUSHING, STATUS, Material, Rate, Source, StrengthAtTemperature
from crushleg.case.records import Band
from crushleg.case.sheet import Sheet
from crushleg.case.tables import Draft, Unread, read_fields, read_list, subtable
from crushleg.case.values import describe

if TYPE_CHECKING:
    from crushleg.case.lines import Path
    from crushleg.case.source import Source as File

TEXT = "text"
HEAD = [
    ("name", Spec(kind=TEXT, says="name of the material"), True),
    ("designation", Spec(kind=TEXT, says="standard designations"), True),
    ("condition", Spec(kind=TEXT, says="temper or heat treatment, and form"), True),
    ("crushing", Spec(kind="choice", says="what a fold does to it", choices=CRUSHING), True),
    ("note", Spec(kind=TEXT, says="what a user should know"), False),
    ("heat_treated", Spec(kind="flag", says="a weld loses strength: T6 tempers"), False),
]
ORIGIN = [
    ("source", Spec(kind=TEXT, says="where the value comes from"), True),
    ("status", Spec(kind="choice", says="how well it is known", choices=STATUS), True),
]


class Value(NamedTuple):
    """One property of a datasheet."""

    spec: Spec
    banded: bool = False
    required: bool = True


VALUES = {
    "density": Value(Spec(kind="density", says="density", at_least=100.0, at_most=3e4)),
    "youngs_modulus": Value(
        Spec(kind="stress", says="Young's modulus", at_least=1e9, at_most=1e12)
    ),
    "poisson_ratio": Value(Spec(kind="number", says="Poisson's ratio", above=0.0, below=0.5)),
    "yield_strength": Value(Spec(kind="stress", says="yield strength", **STRENGTH), banded=True),
    "ultimate_strength": Value(
        Spec(kind="stress", says="ultimate tensile strength", **STRENGTH), banded=True
    ),
    "compressive_yield": Value(
        Spec(kind="stress", says="yield strength in compression", **STRENGTH),
        banded=True,
        required=False,
    ),
    "elongation": Value(
        Spec(kind="number", says="elongation at break", at_least=0.001, at_most=5.0), required=False
    ),
    "hardening_exponent": Value(
        Spec(kind="number", says="strain-hardening exponent", at_least=0.0, below=1.0),
        required=False,
    ),
    "bend_radius": Value(
        Spec(
            kind="number", says="least bend radius in wall thicknesses", at_least=0.0, at_most=100.0
        ),
        required=False,
    ),
}
RATE = [
    (
        "D",
        Spec(kind="strain rate", says="reference strain rate", at_least=1e-3, at_most=1e12),
        True,
    ),
    ("q", Spec(kind="number", says="exponent", at_least=0.5, at_most=100.0), True),
    ("fitted_at", Spec(kind="choice", says="strain", choices=("yield", "large strain")), True),
    (
        "test_rate",
        Spec(kind="strain rate", says="of the tensile test", at_least=1e-6, at_most=1e3),
        True,
    ),
    *ORIGIN,
]
TEMPERATURE = Spec(kind="temperature", says="of the strength ratios", at_least=1.0, at_most=3e3)
RATIO = Spec(
    kind="number", says="strength over its value at room temperature", at_least=0.01, at_most=10.0
)


def datasheet_of(file: File, key: str) -> Material:
    """Material of a parsed datasheet.

    Raises
    ------
    InputError
        Every problem of the datasheet.
    """
    sheet = Sheet(file=file.name, lines=file.lines)
    data = file.data
    tables = [*VALUES, "rate", "strength_with_temperature"]
    head = read_fields(HEAD, data, (), sheet, tables, {"note": "", "heat_treated": False})
    drafts = {name: _value(name, data, sheet) for name in VALUES}
    rate = _optional(RATE, "rate", data, sheet)
    hot = _strengths(data, sheet)
    _check_strengths(drafts, sheet)
    sheet.finish()
    return Material(
        key=key,
        **head,
        **{name: draft["value"] for name, draft in drafts.items() if draft is not None},
        rate=None if rate is None else Rate(**{f.name: rate[f.name] for f in fields(Rate)}),
        strength_with_temperature=hot,
        sources=_sources(data),
    )


def _optional(
    items: list[tuple[str, Spec, bool]], name: str, data: dict[str, Any], sheet: Sheet
) -> Draft | None:
    table = subtable(data, name, (), sheet)
    return None if table is None else read_fields(items, table, (name,), sheet)


def _value(name: str, data: dict[str, Any], sheet: Sheet) -> Draft | None:
    """Draft of one property, its number or band under "value"; None if left out."""
    spec, banded, required = VALUES[name]
    wanted = ("low", "nominal", "high") if banded else ("nominal",)
    items = [(word, spec, True) for word in wanted] + ORIGIN
    draft = _optional(items, name, data, sheet)
    if draft is None:
        if required and name not in data:
            keys = ", ".join([*wanted, "source", "status"])
            sheet.report((name,), f"nothing ({spec.says})", f"[{name}] with {keys}")
        return None
    if any(word in draft.unread for word in wanted):
        draft.unread.add("value")
    elif not banded:
        draft["value"] = draft["nominal"]
    elif draft["low"] <= draft["nominal"] <= draft["high"]:
        draft["value"] = Band(low=draft["low"], nominal=draft["nominal"], high=draft["high"])
    else:
        draft.unread.add("value")
        sheet.report((name,), "low, nominal and high out of order", "low ≤ nominal ≤ high")
    return draft


def _check_strengths(drafts: dict[str, Draft | None], sheet: Sheet) -> None:
    """Ultimate strength is at least the yield strength, level by level."""
    lower, upper = drafts["yield_strength"], drafts["ultimate_strength"]
    if lower is None or upper is None:
        return
    for word in ("low", "nominal", "high"):
        if word in lower and word in upper and upper[word] < lower[word]:
            path = ("ultimate_strength", word)
            sheet.report(path, f"less than the {word} yield strength", "at least the yield")


def _strengths(data: dict[str, Any], sheet: Sheet) -> tuple[StrengthAtTemperature, ...]:
    """Rows of [strength_with_temperature]; empty if left out or reported."""
    name = "strength_with_temperature"
    here: Path = (name,)
    table = subtable(data, name, (), sheet)
    if table is None:
        return ()
    ratios = ["yield_ratio", "ultimate_ratio"]
    read_fields(ORIGIN, table, here, sheet, also=["temperature", *ratios])
    try:
        temperatures = _series(table, "temperature", TEMPERATURE, here, None, sheet)
        low_to_high = [
            _ratio_bands(
                subtable(table, name, here, sheet), (*here, name), len(temperatures), sheet
            )
            for name in ratios
        ]
    except Unread:
        return ()
    if list(temperatures) != sorted(set(temperatures)):
        sheet.report((*here, "temperature"), "temperatures out of order", "them ascending")
    return tuple(
        StrengthAtTemperature(temperature=t, yield_ratio=y, ultimate_ratio=u)
        for t, y, u in zip(temperatures, *low_to_high, strict=True)
    )


def _ratio_bands(table: dict[str, Any] | None, path: Path, count: int, sheet: Sheet) -> list[Band]:
    """One band per temperature."""
    rows = [_series(table or {}, word, RATIO, path, count, sheet) for word in Band.__slots__]
    bands = []
    for i, (low, nominal, high) in enumerate(zip(*rows, strict=True)):
        if not low <= nominal <= high:
            sheet.report((*path, "nominal", i), f"{nominal:g}", "low ≤ nominal ≤ high")
            raise Unread
        bands.append(Band(low=low, nominal=nominal, high=high))
    return bands


def _series(
    table: dict[str, Any], key: str, spec: Spec, path: Path, count: int | None, sheet: Sheet
) -> list[float]:
    """List of values of one kind; its length is given for all but the first."""
    values = table.get(key)
    if not isinstance(values, list) or not values or (count and len(values) != count):
        read = "nothing" if values is None else describe(values)
        length = f"a list of {count}" if count else "a list"
        sheet.report((*path, key), f"{read} ({spec.says})", f"{length}, one per temperature")
        raise Unread
    return read_list(values, spec, (*path, key), sheet)


def _sources(data: dict[str, Any]) -> tuple[Source, ...]:
    return tuple(
        Source(field=name, source=table["source"], status=table["status"])
        for name, table in data.items()
        if isinstance(table, dict)
    )
