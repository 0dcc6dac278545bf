"""HTML of the evidence page: blocks of text, tables that stack on a narrow screen, figures.

Self-contained: no script, nothing fetched. Tables keep their roles when they are stacked.
"""

from __future__ import annotations

import re
from html import escape
from typing import TYPE_CHECKING, NamedTuple

from crushleg.report.plots import rendered
from crushleg.report.style import BAND, FAINT, INK, LIMIT, SKIN, SOFT, WHITE

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from matplotlib.figure import Figure

STYLE = f"""
*, *::before, *::after {{ box-sizing: border-box; }}
html {{ color: {INK}; background: {WHITE}; }}
body {{ margin: 0 auto; max-width: 62rem; padding: 1rem; overflow-wrap: anywhere;
  font: 1rem/1.5 "DejaVu Sans", Verdana, Arial, sans-serif; }}
h1 {{ font-size: 1.6rem; line-height: 1.2; margin: 0.5rem 0 1rem; }}
h2 {{ font-size: 1.25rem; margin: 2.5rem 0 0.5rem; border-bottom: 2px solid {INK}; }}
h3 {{ font-size: 1rem; margin: 1.5rem 0 0.25rem; }}
p, ul, ol {{ margin: 0.5rem 0; max-width: 46rem; }}
a {{ color: {INK}; }}
a:focus-visible {{ outline: 3px solid {LIMIT}; outline-offset: 2px; }}
figure {{ margin: 1rem 0; max-width: 46rem; }}
figure svg {{ display: block; width: 100%; height: auto; }}
figcaption, caption {{ font-size: 0.875rem; color: {SOFT}; text-align: left; }}
caption {{ padding: 0.25rem 0; }}
.quiet {{ position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%);
  white-space: nowrap; }}
table {{ border-collapse: collapse; width: 100%; margin: 0.75rem 0; font-size: 0.8125rem;
  line-height: 1.35; }}
th, td {{ padding: 0.2rem 0.75rem 0.2rem 0; border-bottom: 1px solid {FAINT}; text-align: left;
  vertical-align: top; }}
td, thead th {{ overflow-wrap: normal; }}
th {{ font-weight: normal; }}
thead th {{ font-weight: bold; border-bottom: 1px solid {INK}; vertical-align: bottom; }}
.number {{ text-align: right; font-variant-numeric: tabular-nums; }}
td.number {{ white-space: nowrap; }}
.head {{ background: {SKIN}; padding-left: 0.25rem; }}
.place {{ display: block; color: {SOFT}; }}
.key {{ background: {BAND}; padding: 0.75rem 1rem; max-width: none; border-left: 6px solid {INK}; }}
.fails th, .fails td {{ font-weight: bold; color: {LIMIT}; border-bottom: 2px solid {LIMIT}; }}
@media screen and (max-width: 44rem) {{
  table, caption, tbody, tr, th, td {{ display: block; }}
  thead {{ position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }}
  tr {{ border-bottom: 1px solid {SOFT}; padding: 0.35rem 0; }}
  th, td {{ border: 0; padding: 0.05rem 0; }}
  .fails th, .fails td {{ border: 0; }}
  td[data-label]::before {{ content: attr(data-label) ": "; color: {SOFT}; font-weight: normal; }}
  .number, td.number {{ text-align: left; white-space: normal; }}
  td {{ overflow-wrap: anywhere; }}
}}
@page {{ margin: 14mm 12mm; }}
@media print {{
  body {{ font-size: 9pt; max-width: none; padding: 0; }}
  table {{ font-size: 7.5pt; }}
  figcaption, caption {{ font-size: 8pt; }}
  thead {{ display: table-header-group; }}
  tr, figure, li, .key {{ break-inside: avoid; }}
  h1, h2, h3, caption, .head {{ break-after: avoid; }}
  figure {{ max-width: 150mm; }}
  nav {{ display: none; }}
}}
"""
KEEP = "\n"


class Column(NamedTuple):
    """Head of a column; numbers are right-aligned."""

    head: str
    number: bool = True


class Group(NamedTuple):
    """A line over the rows that follow it."""

    text: str


class Line(NamedTuple):
    """Cells of a row, plain text; ``small`` stands under the first; a row that fails is marked."""

    cells: tuple[str, ...]
    small: str = ""
    fails: bool = False


def heading(level: int, text: str, name: str = "") -> str:
    """Heading; with a name, links lead to it."""
    anchor = f' id="{name}"' if name else ""
    return f"<h{level}{anchor}>{escape(text)}</h{level}>"


def paragraph(text: str, kind: str = "") -> str:
    """Paragraph of plain text."""
    return f'<p class="{kind}">{escape(text)}</p>' if kind else f"<p>{escape(text)}</p>"


def listed(texts: Iterable[str]) -> str:
    """List of plain texts."""
    return "<ul>\n" + KEEP.join(f"<li>{escape(text)}</li>" for text in texts) + "\n</ul>"


def linked(targets: Iterable[tuple[str, str]]) -> str:
    """Links to headings, by name and text."""
    lines = (f'<li><a href="#{name}">{escape(text)}</a></li>' for name, text in targets)
    return '<nav aria-label="Contents">\n<ul>\n' + KEEP.join(lines) + "\n</ul>\n</nav>"


def table(
    caption: str, columns: Sequence[Column], lines: Iterable[Line | Group], *, quiet: bool = False
) -> str:
    """Table whose first column heads its rows; a quiet caption only repeats what is over it."""
    kind = ' class="quiet"' if quiet else ""
    heads = "".join(
        f'<th scope="col" role="columnheader"{_kind(column)}>{escape(column.head)}</th>'
        for column in columns
    )
    body = KEEP.join(
        _group(line, len(columns)) if isinstance(line, Group) else _line(line, columns)
        for line in lines
    )
    return (
        f'<table role="table">\n<caption{kind}>{escape(caption)}</caption>\n<thead role="rowgroup">'
        f'<tr role="row">{heads}</tr></thead>\n<tbody role="rowgroup">\n{body}\n</tbody>\n</table>'
    )


def _kind(column: Column) -> str:
    return ' class="number"' if column.number else ""


def _group(group: Group, count: int) -> str:
    return (
        f'<tr role="row"><th class="head" scope="rowgroup" role="rowheader" colspan="{count}">'
        f"{escape(group.text)}</th></tr>"
    )


def _line(line: Line, columns: Sequence[Column]) -> str:
    first, *rest = line.cells
    small = f'<span class="place">{escape(line.small)}</span>' if line.small else ""
    cells = "".join(
        f'<td role="cell"{_kind(column)} data-label="{escape(column.head)}">{escape(cell)}</td>'
        for cell, column in zip(rest, columns[1:], strict=True)
    )
    fails = ' class="fails"' if line.fails else ""
    return (
        f'<tr role="row"{fails}><th scope="row" role="rowheader">{escape(first)}{small}</th>'
        f"{cells}</tr>"
    )


def drawing(figure: Figure, name: str, alt: str, caption: str) -> str:
    """Figure as inline SVG with a text in its place; its ids are made its own.

    Parameters
    ----------
    figure : Figure
    name : str
        Of this figure alone.
    alt : str
        What it shows, for who does not see it.
    caption : str
    """
    svg = rendered(figure, "svg").decode()
    svg = svg[svg.index("<svg") :]
    svg = re.sub(r"<metadata>.*?</metadata>", "", svg, flags=re.DOTALL)
    svg = re.sub(r"\bid=\"([^\"]*)\"", lambda found: f'id="{name}-{_token(found[1])}"', svg)
    svg = re.sub(r"(href=\"#|url\(#)", rf"\g<1>{name}-", svg)
    svg = re.sub(r"\s(width|height)=\"[\d.]+pt\"", "", svg, count=2)
    start = svg.index(">")
    head = f'{svg[:start]} role="img" aria-labelledby="{name}-alt">'
    svg = f'{head}<title id="{name}-alt">{escape(alt)}</title>{svg[start + 1 :].strip()}'
    return f'<figure id="{name}">\n{svg}\n<figcaption>{escape(caption)}</figcaption>\n</figure>'


def _token(text: str) -> str:
    """Make a name of which an id may be part: no spaces."""
    return re.sub(r"\s+", "-", text)


def page(title: str, blocks: Iterable[str]) -> str:
    """Page of blocks."""
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<title>{escape(title)}</title>\n<link rel="icon" href="data:,">\n'
        f"<style>{STYLE}</style>\n</head>\n<body>\n<main>\n"
        + KEEP.join(blocks)
        + "\n</main>\n</body>\n</html>\n"
    )
