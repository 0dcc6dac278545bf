"""The drilling layout as SVG: a user unit is a millimetre, one element per hole with its data."""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.sax.saxutils import escape, quoteattr

from crushleg.report.style import BAR, FAMILY, FINE, FIRM, HAIR, INK, POINT, SOFT, WHITE

if TYPE_CHECKING:
    from crushleg.report.drill_layout import Layout, Line, Outline, Words

SPACE = "http://www.w3.org/2000/svg"
STYLE = f"""\
line, circle, path {{ fill: none; stroke: {INK}; stroke-width: {FINE * POINT:.2f} }}
.foot {{ stroke-width: {BAR * POINT:.2f} }}
.bend, .step {{ stroke: {SOFT}; stroke-dasharray: 4 2 }}
.step {{ stroke-dasharray: 8 2 }}
.centre {{ stroke: {SOFT}; stroke-width: {HAIR * POINT:.2f}; stroke-dasharray: none }}
.leader {{ stroke: {SOFT}; stroke-width: {HAIR * POINT:.2f} }}
.hole {{ stroke-width: {FIRM * POINT:.2f} }}
text {{ font-family: "{FAMILY}", sans-serif; fill: {INK} }}
"""


def svg(layout: Layout, title: str) -> bytes:
    """SVG of a layout.

    Parameters
    ----------
    layout : Layout
    title : str

    Returns
    -------
    bytes
        UTF-8. Holes are ``circle`` or ``path`` elements of class "hole" in a group per face, with
        data-face, data-row, data-shape, data-height-mm (above FOOT), data-offset-mm (right of the
        middle of the face, seen from outside), data-size-mm and data-size-along-mm.
    """
    wide, tall = _number(layout.width), _number(layout.height)
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="{SPACE}" width="{wide}mm" height="{tall}mm" viewBox="0 0 {wide} {tall}">',
        f"<title>{escape(title)}</title>",
        f"<style>\n{STYLE}</style>",
        f'<rect width="{wide}" height="{tall}" fill="{WHITE}"/>',
        *(_line(line, layout.height) for line in layout.lines),
    ]
    for face in dict.fromkeys(one.hole.face for one in layout.holes):
        parts.append(f'<g id="holes-{face}">')
        parts += [_hole(one, layout.height) for one in layout.holes if one.hole.face == face]
        parts.append("</g>")
    parts += [_text(words, layout.height) for words in layout.words]
    return "\n".join([*parts, "</svg>", ""]).encode()


def _number(value: float) -> str:
    """Millimetres to a nanometre, without needless zeros."""
    return f"{value:.6f}".rstrip("0").rstrip(".")


def _line(line: Line, height: float) -> str:
    x1, y1, x2, y2 = map(_number, (line.x1, height - line.y1, line.x2, height - line.y2))
    return f'<line class="{line.kind}" x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"/>'


def _hole(one: Outline, height: float) -> str:
    hole, x, y = one.hole, one.x, height - one.y
    size, along = 1e3 * hole.size, 1e3 * hole.along
    data = (
        f'class="hole" data-face="{hole.face}" data-row="{hole.row}" data-shape="{hole.shape}" '
        f'data-height-mm="{_number(1e3 * hole.height)}" '
        f'data-offset-mm="{_number(1e3 * hole.offset)}" '
        f'data-size-mm="{_number(size)}" data-size-along-mm="{_number(along)}"'
    )
    if hole.round:
        return f'<circle {data} cx="{_number(x)}" cy="{_number(y)}" r="{_number(0.5 * size)}"/>'
    return f"<path {data} d={quoteattr(outline(x, y, size, along, 1e3 * hole.radius))}/>"


def outline(x: float, y: float, size: float, along: float, radius: float) -> str:
    """Path of a slot or rectangle round x, y: sizes across and along, corner radius.

    >>> outline(5.0, 5.0, 4.0, 6.0, 0.0)
    'M3 2 h4 v6 h-4 z'
    >>> outline(5.0, 5.0, 4.0, 6.0, 2.0)
    'M3 4 a2 2 0 0 1 4 0 v2 a2 2 0 0 1 -4 0 z'
    """
    w, h, r = (_number(v) for v in (size, along, radius))
    if not radius:
        return f"M{_number(x - 0.5 * size)} {_number(y - 0.5 * along)} h{w} v{h} h-{w} z"
    if along >= size:
        straight = _number(along - size)
        start = f"M{_number(x - 0.5 * size)} {_number(y - 0.5 * (along - size))}"
        return f"{start} a{r} {r} 0 0 1 {w} 0 v{straight} a{r} {r} 0 0 1 -{w} 0 z"
    straight = _number(size - along)
    start = f"M{_number(x - 0.5 * (size - along))} {_number(y - 0.5 * along)}"
    return f"{start} h{straight} a{r} {r} 0 0 1 0 {h} h-{straight} a{r} {r} 0 0 1 0 -{h} z"


def _text(words: Words, height: float) -> str:
    bold = ' font-weight="bold"' if words.bold else ""
    return (
        f'<text x="{_number(words.x)}" y="{_number(height - words.y)}" '
        f'font-size="{_number(words.size * POINT)}" text-anchor="{words.anchor}"{bold}>'
        f"{escape(words.text)}</text>"
    )
