"""What the shop has, as [stock] says it: hole tools and sheets beside the built-in lists."""

from __future__ import annotations

from dataclasses import dataclass

from crushleg.case.fields import check_bounds, has

SYSTEMS = ("metric", "inch", "both")
METRIC, INCH, BOTH = SYSTEMS


@dataclass(frozen=True, slots=True)
class StockSize:
    """One listed size: as it was written, metric or inch by its unit, value [m]."""

    text: str
    system: str
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnStock:
    """Sizes the shop has, added to the built-in lists or in their place."""

    system: str = has("choice", "which built-in lists to use", BOTH, choices=SYSTEMS)
    hole_tools: tuple[StockSize, ...] | None = has("tool sizes", "holes your tools make", None)
    sheets: tuple[StockSize, ...] | None = has("thicknesses", "sheets you can get", None)
    only: bool = has("flag", "what you list replaces the built-in list", default=False)
    source: str | None = has("text", "where your list comes from", None)

    def __post_init__(self) -> None:
        check_bounds(self)
