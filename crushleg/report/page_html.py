"""A page as one HTML file that needs nothing else: no network, no script, no font."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.cautions import SCREENING
from crushleg.report import page as parts
from crushleg.report.layout import Pairs
from crushleg.report.page_blocks import blocks_html, spoken_html, text
from crushleg.report.page_explain import explained_blocks, spoken
from crushleg.report.page_links import Links
from crushleg.report.page_style import CSS
from crushleg.report.page_svg import inline_svg

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from crushleg.report.page import Page
    from crushleg.report.page_inputs import Input

POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
"""What the browser may fetch: nothing."""
ON_DEMAND = (
    "Open a name for its formula, source, status, band and limits. What is open is printed; the "
    "PDF holds all."
)


def page_html(page: Page) -> str:
    """HTML of a page, the same for the same page.

    Parameters
    ----------
    page : Page

    Returns
    -------
    str
    """
    return "\n".join(_document(page)) + "\n"


def _document(page: Page) -> Iterator[str]:
    links = Links(page.verb, page.explained)
    sections = list(_titled(page, links))
    yield f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n{_meta(page)}'
    yield f"<style>\n{CSS}</style>\n</head>\n<body>"
    yield f'<header><p class="verb">crushleg {text(page.verb)}</p>'
    yield f"<h1>{text(page.title)}</h1>"
    yield f"{blocks_html(page.lead, page.title, links)}</header>\n<main>"
    if page.governing is not None:
        name, blocks = page.governing
        how = f'<p><a href="#explain-{name}">How {spoken(name)} is computed</a></p>'
        body = f"{blocks_html(blocks, parts.GOVERNING, links)}\n{how}"
        yield _section("governing", parts.GOVERNING, body)
    yield _contents(title for title, _ in sections)
    for i, (title, body) in enumerate(sections, 1):
        yield _section(f"section-{i}", title, body)
    yield f"</main>\n<footer><p>{text(SCREENING)}</p></footer>\n</body>\n</html>"


def _meta(page: Page) -> str:
    return (
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n'
        f"<title>{text(page.title)} · crushleg {text(page.verb)}</title>"
    )


def _section(name: str, title: str, body: str) -> str:
    return f'<section id="{name}">\n<h2>{spoken_html(title)}</h2>\n{body}\n</section>'


def _titled(page: Page, links: Links) -> Iterator[tuple[str, str]]:
    """Title and body of every section behind the governing margin."""
    for title, blocks in page.results:
        yield title, blocks_html(blocks, title, links)
    if page.drawings:
        yield parts.FIGURES, _figures(page)
    for title, blocks in page.closing:
        yield title, blocks_html(blocks, title, links)
    yield parts.MADE_WITH, blocks_html([Pairs(page.made_with)], parts.MADE_WITH)
    yield parts.SIGNED, _sign()
    if page.inputs:
        yield parts.INPUTS, "\n".join(map(_input, page.inputs))
    if page.explained:
        yield parts.EXPLAINED, _explained(page)


def _contents(titles: Iterable[str]) -> str:
    lines = "".join(
        f'<li><a href="#section-{i}">{spoken_html(title)}</a></li>'
        for i, title in enumerate(titles, 1)
    )
    return f'<nav aria-label="Contents"><ul>{lines}</ul></nav>'


def _figures(page: Page) -> str:
    return "\n".join(
        f"<figure><figcaption><b>Figure {i}. {text(one.title)}.</b> "
        f'<span>{text(one.says)}</span></figcaption>\n<div class="wide" role="region" '
        f'tabindex="0" aria-label="Figure {i}">{inline_svg(one, f"figure{i}")}</div></figure>'
        for i, one in enumerate(page.drawings, 1)
    )


def _explained(page: Page) -> str:
    """One fold per name; its id lies within, so that a link to it opens the fold."""
    folds = [
        f'<details class="demand"><summary>'
        f"{text(spoken(name))}</summary>"
        f'<div id="explain-{name}">{blocks_html(list(explained_blocks(name)), name)}</div>'
        "</details>"
        for name in page.explained
    ]
    return f'<p class="note">{ON_DEMAND}</p>\n' + "\n".join(folds)


def _input(one: Input) -> str:
    note = f'<p class="note">{text(one.note)}</p>' if one.note else ""
    digest = f'<p class="note">SHA-256 {one.sha256}</p>' if one.sha256 else ""
    lines = "\n".join(text(line.expandtabs(4)) for line in one.text.split("\n"))
    held = f"<pre>{lines}</pre>" if one.text else ""
    return (
        f'<details class="input"><summary>{text(one.name)}</summary>'
        f"<div>{note}{held}{digest}</div></details>"
    )


def _sign() -> str:
    heads = "".join(f'<th scope="col">{head}</th>' for head in parts.SIGNED_BY)
    cells = "<td></td>" * len(parts.SIGNED_BY)
    rows = "".join(f'<tr><th scope="row">{who}</th>{cells}</tr>\n' for who in parts.SIGN)
    return (
        '<div class="wide" role="region" tabindex="0" aria-label="Room to sign">'
        f'<table class="sign"><caption><span class="unseen">Room to sign</span></caption>'
        f'<thead><tr><th scope="col"><span class="unseen">role</span></th>{heads}</tr></thead>\n'
        f"<tbody>{rows}</tbody></table></div>"
    )
