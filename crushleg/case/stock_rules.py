"""Rules of [stock]: a list has a source, and is not empty where it replaces the built-in one."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from crushleg.case.drafts import Drafts
    from crushleg.case.sheet import Sheet

LISTS = {"hole_tools": 'hole_tools = ["60 mm", "2 3/8 in"]', "sheets": 'sheets = ["2.5 mm"]'}


def listed_stock_has_a_source(drafts: Drafts, sheet: Sheet) -> None:
    """Refuse a list that does not say where it comes from."""
    stock = drafts.stock
    if stock is None or stock["source"] is not None:
        return
    listed = [key for key in LISTS if stock[key]]
    if listed:
        read = f"{' and '.join(listed)} without source"
        sheet.report(("stock", listed[0]), read, 'source = "tool crib list of 3 May"')


def stock_is_not_empty(drafts: Drafts, sheet: Sheet) -> None:
    """``only`` leaves something to use: nothing listed, or an empty list, is no stock."""
    stock = drafts.stock
    if stock is None or not stock["only"]:
        return
    if not any(key in stock.given for key in LISTS):
        write = " or ".join(LISTS.values()) + ", or take only out"
        sheet.report(("stock", "only"), "only = true and nothing listed: an empty stock", write)
    for key, write in LISTS.items():
        if key in stock.given and not stock[key]:
            read = "an empty list and only = true: an empty stock"
            sheet.report(("stock", key), read, f"{write}, or take only out")
