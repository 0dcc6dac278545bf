"""Read one size of a stock list; gauge and drill numbers are refused with the reason."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from crushleg.case.fields import LENGTH, Spec
from crushleg.case.stock_records import INCH, METRIC, StockSize
from crushleg.case.values import Unfit, convert, describe

if TYPE_CHECKING:
    from collections.abc import Callable

GAUGE = re.compile(
    r"#?\s*[0-9]+(\s*-?\s*(ga|g|gauge|gage|swg|awg|bwg|b&s|msg|usg)\.?)?"
    r"|(ga|gauge|gage|no\.?|#)\s*[0-9]+",
    re.IGNORECASE,
)
NUMBERED = re.compile(r"(#|no\.?|number|letter)\s*[0-9a-z]+|[a-z]", re.IGNORECASE)
GAUGE_REASON = (
    "a gauge number is no thickness: 16 gauge is 1.52 mm in carbon steel, 1.52 or 1.59 mm in "
    "stainless, as the table may be, and 1.29 mm in aluminium"
)
NUMBER_REASON = "drill numbers and letters belong to a series each and are not read"


def tool_size(value: Any, spec: Spec) -> StockSize:
    """Size of a hole that a tool makes; drill numbers and letters are refused."""
    if isinstance(value, str) and NUMBERED.fullmatch(value.strip()):
        raise Unfit(describe(value), 'the size with its unit, such as "5.1 mm"', NUMBER_REASON)
    return _size(value, spec)


def thickness(value: Any, spec: Spec) -> StockSize:
    """Thickness of a sheet; gauge numbers are refused: they differ from metal to metal."""
    bare = isinstance(value, int) and not isinstance(value, bool)
    if bare or (isinstance(value, str) and GAUGE.fullmatch(value.strip())):
        raise Unfit(describe(value), 'the thickness with its unit, "1.5 mm"', GAUGE_REASON)
    return _size(value, spec)


def _size(value: Any, spec: Spec) -> StockSize:
    found = convert(value, Spec(kind="length", says=spec.says, **LENGTH))
    text = value.strip()
    return StockSize(text, INCH if text.endswith(("in", "ft")) else METRIC, found)


SIZES: dict[str, Callable[[Any, Spec], StockSize]] = {
    "tool sizes": tool_size,
    "thicknesses": thickness,
}
"""Kind of a list -> reader of one of its elements."""
