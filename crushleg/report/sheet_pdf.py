"""The sheet of a prediction on paper, A4 or Letter, with a nomogram and room to sign."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from matplotlib.backends.backend_pdf import PdfPages

from crushleg.cautions import SCREENING
from crushleg.report.layout import Heading, Paragraph, items
from crushleg.report.paper import MARGIN, Column, Pages
from crushleg.report.plot_labels import fitted
from crushleg.report.plot_nomogram import LEFT, draw_nomogram
from crushleg.report.predict_tables import (
    faces_table,
    instrument_pairs,
    limits_table,
    readings_note,
    readings_table,
)
from crushleg.report.predict_text import (
    SIGN,
    case_cautions,
    event_blocks,
    faces_note,
    head,
    rig_blocks,
)
from crushleg.report.style import HEADING, styled
from crushleg.trial.predict import distinct

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.report.layout import Block
    from crushleg.trial.predict import Prediction

HALF, WIDE = 0.5, 0.62
NOMOGRAM, STRAIGHT_DOWN = 56.0, 8.0
SIGN_HEIGHT = 15.0
FILL_IN = 5.6
"""Height of a row that is filled in by hand [mm]."""
HASH_DIGITS = 12
ROOM_TO_WRITE = (15, 13, 9)
"""Dots in a cell to fill in, beside one, two or three predicted columns."""


def sheet_pages(prediction: Prediction, seal: str, units: str, paper: str = "a4") -> Pages:
    """Lay the sheet out.

    Parameters
    ----------
    prediction : Prediction
    seal : str
        Hash of the prediction.
    units : str
        "si" or "us".
    paper : str, optional
        "a4" or "letter".

    Returns
    -------
    Pages
    """
    with styled():
        pages = Pages(paper)
        _title(pages, prediction, seal)
        events = [list(event_blocks(event, units)) for event in prediction.events]
        rig = list(rig_blocks(prediction, units))
        if rig and len(events) % 2:
            events.append(rig)
        for i in range(0, len(events), 2):
            _beside(pages, HALF, *events[i : i + 2])
        limits: list[Block] = [Heading("Limits"), limits_table(prediction, units)]
        settings: list[Block] = [Heading("Instruments"), instrument_pairs(prediction, units)]
        _beside(pages, WIDE, limits, settings)
        if rig and rig not in events:
            _beside(pages, 0.4, rig[:2], rig[2:])
        _measured(pages, prediction, units)
        _cautions(pages, "Cautions of the test", prediction.cautions, units)
        _sign(pages)
        _cautions(pages, "Cautions of the case", case_cautions(prediction), units)
        pages.foot(f"{SCREENING} Prediction {seal[:HASH_DIGITS]}")
    return pages


def sheet_pdf(prediction: Prediction, seal: str, units: str, paper: str = "a4") -> bytes:
    """Bytes of the sheet as PDF, the same for the same prediction; as :func:`sheet_pages`."""
    pages = sheet_pages(prediction, seal, units, paper)
    buffer = io.BytesIO()
    about = {"Title": f"Test prediction: {prediction.checked.case.title}", "CreationDate": None}
    with styled(), PdfPages(buffer, metadata=about) as file:
        for figure in pages.figures:
            file.savefig(figure)
    return buffer.getvalue()


def _title(pages: Pages, prediction: Prediction, seal: str) -> None:
    title = f"Test prediction: {prediction.checked.case.title}"
    text = fitted(title, pages.room, size=HEADING, bold=True)
    pages.write(0.0, pages.y, text, size=HEADING, weight="bold")
    pages.y += 5.0 * (1 + text.count("\n"))
    about = Paragraph(f"{head(prediction, seal)}. Low, nominal, high: force of the girder.")
    pages.columns(Column(0.0, pages.room, [about]))


def _beside(pages: Pages, share: float, *blocks: list[Block]) -> None:
    """Two stacks of blocks beside each other, the first on its share of the width."""
    edge = share * pages.room
    places = [(0.0, edge - 4.0), (edge, pages.room - edge)]
    columns = [Column(x, wide, stack) for (x, wide), stack in zip(places, blocks, strict=False)]
    pages.columns(*columns, *([] if len(columns) > 1 else [Column(edge, 1.0, [Paragraph("")])]))


def _measured(pages: Pages, prediction: Prediction, units: str) -> None:
    """Write-in table beside the first table of readings, and a nomogram for each mass."""
    dots = ROOM_TO_WRITE[min(len(prediction.events), len(ROOM_TO_WRITE)) - 1]
    faces: list[Block] = [
        Heading("Faces, to measure before and after"),
        Paragraph(faces_note(units)),
        faces_table(prediction, units, dots * "."),
    ]
    for i, (event, names) in enumerate(distinct(prediction)):
        readings: list[Block] = [
            Heading("From measured crush to energy and speed"),
            Paragraph(readings_note(event, names, units)),
            readings_table(prediction, event, units),
        ]
        edge = HALF * pages.room
        columns = [Column(0.0, edge - 4.0, readings)]
        if i == 0:
            columns.append(Column(edge, pages.room - edge, faces, FILL_IN))
        pages.columns(*columns)
        pages.need(NOMOGRAM + STRAIGHT_DOWN)
        straight = f"{', '.join(names)}: from the measured crush read straight down."
        pages.columns(Column(0.0, pages.room, [Paragraph(straight)]))
        draw_nomogram(pages.axes(NOMOGRAM, LEFT - MARGIN + 8.0), prediction, event, units)
        pages.y += 2.0


def _cautions(pages: Pages, title: str, cautions: Sequence[str], units: str) -> None:
    if cautions:
        pages.columns(Column(0.0, pages.room, [Heading(title), items(cautions, units)]))


def _sign(pages: Pages) -> None:
    """Lines to sign on, each with a date."""
    pages.need(SIGN_HEIGHT)
    each = pages.room / len(SIGN)
    for i, who in enumerate(SIGN):
        pages.rule(i * each, pages.y + SIGN_HEIGHT - 5.0, each - 6.0)
        pages.write(i * each, pages.y + SIGN_HEIGHT - 4.0, f"{who}, date")
    pages.y += SIGN_HEIGHT + 1.0
