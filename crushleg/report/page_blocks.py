"""Blocks of a report as HTML elements; every text is escaped."""

from __future__ import annotations

import re
from html import escape
from itertools import pairwise
from typing import TYPE_CHECKING, TypeGuard

from crushleg.report.layout import Heading, Items, Pairs, Paragraph, Table

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.report.layout import Block
    from crushleg.report.page_links import Links

CLASSES = {"bold": "strong", "green": "good", "red": "bad"}
GOVERNS = "governs"
KEY = "◂ key row"
COMMAND = re.compile(r"`([^`]+)`")
MANY = 9
"""Columns from which a table is set smaller in print."""


def text(said: str) -> str:
    """Escape a text; characters that cannot be shown become blanks."""
    return escape("".join(c if c.isprintable() else " " for c in said))


def spoken_html(said: str) -> str:
    """Text whose words in backticks are those of a command."""
    return COMMAND.sub(r"<code>\1</code>", text(said))


def blocks_html(blocks: Sequence[Block], heading: str, links: Links | None = None) -> str:
    """Elements of blocks.

    Parameters
    ----------
    blocks : sequence of blocks
    heading : str
        Under which they stand: the caption of a table that has none of its own.
    links : Links, optional
        Labels of what is explained on the page become links.

    Returns
    -------
    str
    """
    return "\n".join(_elements(blocks, heading, links))


def _elements(blocks: Sequence[Block], heading: str, links: Links | None) -> Iterator[str]:
    caption = ""
    for block, after in pairwise([*blocks, None]):
        if block is None:
            continue
        if isinstance(after, Table) and _heads(block):
            caption = block.text
            continue
        yield _element(block, caption or heading, links, seen=bool(caption))
        caption = ""


def _heads(block: Block) -> TypeGuard[Paragraph]:
    """Whether a block is the caption of a table that follows."""
    if not isinstance(block, Paragraph):
        return False
    return "bold" in block.style or block.text.endswith(":")


def _element(block: Block, caption: str, links: Links | None, *, seen: bool) -> str:
    if isinstance(block, Heading):
        return f"<h3>{text(block.text)}</h3>"
    if isinstance(block, Paragraph):
        names = [found for word, found in CLASSES.items() if word in block.style]
        if len(names) > 1:
            names.append("verdict")
        said = f' class="{" ".join(names)}"' if names else ""
        return f"<p{said}>{spoken_html(block.text)}</p>"
    if isinstance(block, Items):
        return f"<ul>{''.join(f'<li>{spoken_html(item)}</li>' for item in block.items)}</ul>"
    if isinstance(block, Pairs):
        return _pairs(block, links)
    return _table(block, caption, links, seen=seen)


def linked(label: str, name: str, links: Links | None) -> str:
    """Label, as a link to its explanation where there is one."""
    if links is None or name not in links.known or not label:
        return text(label)
    return f'<a href="#explain-{name}">{text(label)}</a>'


def _pairs(block: Pairs, links: Links | None) -> str:
    """Labels and texts; a label that is left out goes on with the one before."""
    parts: list[str] = []
    names = links.pairs(block) if links else [""] * len(block.pairs)
    for (label, said), name in zip(block.pairs, names, strict=True):
        term = f"<dt>{linked(label, name, links)}</dt>" if label.strip() or not parts else ""
        parts.append(f"{term}<dd>{spoken_html(said)}</dd>")
    return f"<dl>{''.join(parts)}</dl>"


def _table(table: Table, caption: str, links: Links | None, *, seen: bool) -> str:
    """Table in a box that scrolls by itself; its first column heads the rows."""
    heads = []
    for k, column in enumerate(table.columns):
        name = links.head(column, first=k == 0) if links else ""
        shown = linked(" ".join(column.head), name, links) or '<span class="unseen">remarks</span>'
        heads.append(f'<th scope="col"{_kind(column.number, column.wraps)}>{shown}</th>')
    rows = [_row(table, index, links) for index in range(len(table.rows))]
    hidden = "" if seen else ' class="unseen"'
    many = ' class="many"' if len(table.columns) >= MANY else ""
    return (
        f'<div class="wide" role="region" tabindex="0" aria-label="{text(caption)}">'
        f"<table{many}><caption><span{hidden}>{text(caption)}</span></caption>"
        f"<thead><tr>{''.join(heads)}</tr></thead>\n<tbody>{''.join(rows)}</tbody></table></div>"
    )


def _row(table: Table, index: int, links: Links | None) -> str:
    """One row; the one that is set off says so in words."""
    cells, key = table.rows[index], index == table.strong
    parts = []
    for k, (column, cell) in enumerate(zip(table.columns, cells, strict=True)):
        kind = _kind(column.number, column.wraps)
        if k:
            parts.append(f"<td{kind}>{text(cell)}</td>")
            continue
        shown = linked(cell, links.row(table, index) if links else "", links)
        if key and not any(GOVERNS in one for one in cells):
            shown += f' <span class="mark">{KEY}</span>'
        parts.append(f'<th scope="row"{kind}>{shown}</th>')
    kind = ' class="key"' if key else ""
    return f"<tr{kind}>{''.join(parts)}</tr>\n"


def _kind(number: bool, wraps: bool) -> str:  # noqa: FBT001 - of a column
    names = [name for name, true in (("number", number), ("wraps", wraps)) if true]
    return f' class="{" ".join(names)}"' if names else ""
