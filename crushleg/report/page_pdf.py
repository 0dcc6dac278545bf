"""A page as PDF on A4 or Letter, with the same content as its HTML."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from matplotlib import rc_context
from matplotlib.backends.backend_pdf import PdfPages

from crushleg.cautions import SCREENING
from crushleg.report import page as parts
from crushleg.report.layout import Pairs, Paragraph
from crushleg.report.page_explain import explained_blocks, spoken
from crushleg.report.page_paper import Sheets
from crushleg.report.style import HEADING, PLACE, styled

if TYPE_CHECKING:
    from crushleg.report.page import Page

SEARCHABLE = 42
"""TrueType, whose text can be searched and copied."""
HASH_DIGITS = 12
SUB = 8.6
"""Type of a heading within a section [points]."""


def page_pdf(page: Page, paper: str = "a4") -> bytes:
    """PDF of a page, the same for the same page.

    Parameters
    ----------
    page : Page
    paper : str, optional
        "a4" or "letter".

    Returns
    -------
    bytes
    """
    buffer = io.BytesIO()
    about = {"Title": page.title, "Subject": f"crushleg {page.verb}", "CreationDate": None}
    with (
        styled(),
        rc_context({"pdf.fonttype": SEARCHABLE}),
        PdfPages(buffer, metadata=about) as file,
    ):
        for figure in laid_out(page, paper).figures:
            file.savefig(figure)
    return buffer.getvalue()


def laid_out(page: Page, paper: str) -> Sheets:
    """Sheets of a page; matplotlib must be styled."""
    sheets = Sheets(paper)
    sheets.lines([f"crushleg {page.verb}"], sheets.body)
    sheets.heading(page.title, PLACE)
    sheets.blocks(page.lead)
    if page.governing is not None:
        sheets.heading(parts.GOVERNING, HEADING, page.governing.blocks, ruled=True)
        sheets.blocks(page.governing.blocks)
    for section in page.results:
        sheets.heading(section.title, HEADING, section.blocks, ruled=True)
        sheets.blocks(section.blocks)
    _figures(sheets, page)
    for section in page.closing:
        sheets.heading(section.title, HEADING, section.blocks, ruled=True)
        sheets.blocks(section.blocks)
    sheets.heading(parts.MADE_WITH, HEADING, ruled=True)
    sheets.blocks([Pairs(page.made_with)])
    sheets.heading(parts.SIGNED, HEADING, ruled=True)
    sheets.sign(parts.SIGN, parts.SIGNED_BY)
    _inputs(sheets, page)
    _explained(sheets, page)
    digest = dict(page.made_with).get("input", "")[:HASH_DIGITS]
    sheets.foot(f"{SCREENING} crushleg {page.verb}{f', input {digest}' if digest else ''}")
    return sheets


def _figures(sheets: Sheets, page: Page) -> None:
    for i, one in enumerate(page.drawings, 1):
        title = parts.FIGURES if i == 1 else ""
        sheets.drawing(f"Figure {i}. {one.title}.", one.says, one.figure, title)


def _inputs(sheets: Sheets, page: Page) -> None:
    if page.inputs:
        sheets.heading(parts.INPUTS, HEADING, ruled=True)
    for one in page.inputs:
        sheets.heading(one.name, SUB)
        if one.note:
            sheets.blocks([Paragraph(one.note)])
        sheets.preformatted(one.text)
        if one.sha256:
            sheets.blocks([Pairs([("SHA-256", one.sha256)])])


def _explained(sheets: Sheets, page: Page) -> None:
    """Every name that occurs; what stands behind several is told once."""
    told: dict[str, str] = {}
    if page.explained:
        sheets.heading(parts.EXPLAINED, HEADING, ruled=True)
    for name in page.explained:
        sheets.heading(spoken(name), SUB)
        sheets.blocks(list(explained_blocks(name, told)))
