"""A figure as SVG inside an HTML page: scaled by the page, its ids its own."""

from __future__ import annotations

import re
from html import escape
from typing import TYPE_CHECKING

from crushleg.report.plots import rendered

if TYPE_CHECKING:
    from crushleg.report.page_figures import Drawing

REMARK = re.compile(r"<!--.*?-->|<metadata>.*?</metadata>|<style.*?</style>", re.DOTALL)
BOX = re.compile(r'viewBox="([^"]+)"')
NAMED = re.compile(r' id="([^"]*)"')
REFERRED = re.compile(r"""(xlink:href="#|url\(#)([^")]+)""")
BLANK = re.compile(r"\s*\n\s*")
LINES = "stroke-linejoin:round;stroke-linecap:butt"
"""What matplotlib's style sheet says for everything; a sheet would reach the whole page."""


def inline_svg(drawing: Drawing, prefix: str) -> str:
    """SVG element of a figure.

    Parameters
    ----------
    drawing : Drawing
    prefix : str
        Begins every id, so that several figures live on one page.

    Returns
    -------
    str
    """
    text = REMARK.sub("", rendered(drawing.figure, "svg").decode())
    start = text.index("<svg")
    box = BOX.search(text, start)
    if box is None:
        message = "an SVG without viewBox"
        raise ValueError(message)
    body = text[text.index(">", start) + 1 : text.rindex("</svg>")]
    kept = {name for _, name in REFERRED.findall(body)}
    body = NAMED.sub(lambda m: f' id="{prefix}-{m[1]}"' if m[1] in kept else "", body)
    body = REFERRED.sub(lambda m: f"{m[1].removeprefix('xlink:')}{prefix}-{m[2]}", body)
    label = escape(f"{drawing.title}. {drawing.says}")
    return (
        f'<svg viewBox="{box[1]}" role="img" aria-label="{label}" style="{LINES}">'
        f"{BLANK.sub(' ', body)}</svg>"
    )
