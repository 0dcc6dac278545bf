"""The card of an inspection: one page to sign, A4 or Letter, legible in grey."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from matplotlib.backends.backend_pdf import PdfPages

from crushleg.cautions import SCREENING
from crushleg.report.inspect_flags import flags
from crushleg.report.inspect_tables import (
    TRIPLE,
    face_cells,
    fold_cells,
    ledger_table,
    leg_names,
    numbers,
    places_of,
)
from crushleg.report.inspect_text import at_rest_pairs, head
from crushleg.report.inspect_words import NO_RELEASE, dominant, speed_words, to_check, why_bound
from crushleg.report.layout import Column as Col
from crushleg.report.layout import Heading, Items, Pairs, Paragraph, Table
from crushleg.report.paper import FOOT, LINE, MARGIN, Column, Pages
from crushleg.report.plot_inspect import GAP, NOTE, Panels, draw_panels, strip_height
from crushleg.report.plot_labels import fitted
from crushleg.report.style import HEADING, styled
from crushleg.report.words import common_unit, packed, small_length

if TYPE_CHECKING:
    from crushleg.report.layout import Block
    from crushleg.trial.inspect import Inspection

SIGN = ("heights read by, date", "worked out by, date", "responsible engineer, date")
ROOM_TO_SIGN = 15.0
MOST_FLAGS, FEWEST_FLAGS = 8, 2
LEAST_CURVE, MOST_CURVE = 26.0, 66.0
LABELS, PLAN, BELOW, ABOVE = 16.0, 44.0, 14.0, 3.0
AROUND = BELOW + GAP + ABOVE + ROOM_TO_SIGN
"""Height that the figure needs beside its panels, and the lines to sign on [mm]."""
LEAST_ROW = 1.3
"""Of the strip of legs, before flags give way [mm]."""
RULED = 7.0
"""Between lines for notes [mm]."""
BOX = "\u25a1"


def inspection_card(found: Inspection, units: str = "si", paper: str = "a4") -> bytes:
    """Bytes of the card as PDF, the same for the same inspection.

    Parameters
    ----------
    found : Inspection
    units : str
        "si" or "us".
    paper : str
        "a4" or "letter".

    Returns
    -------
    bytes
    """
    pages = card_pages(found, units, paper)
    buffer = io.BytesIO()
    about = {"Title": f"Inspection after landing: {found.case.title}", "CreationDate": None}
    with styled(), PdfPages(buffer, metadata=about) as file:
        for figure in pages.figures:
            file.savefig(figure)
    return buffer.getvalue()


def card_pages(found: Inspection, units: str, paper: str) -> Pages:
    """Lay the card out on one page: flags give way first, then the figure.

    Parameters
    ----------
    found : Inspection
    units : str
        "si" or "us".
    paper : str
        "a4" or "letter".

    Returns
    -------
    Pages
    """
    with styled():
        for shown in range(MOST_FLAGS, FEWEST_FLAGS - 1, -1):
            pages = Pages(paper)
            _words(pages, found, units, shown)
            room = pages.height - FOOT - pages.y - AROUND
            strip = strip_height(found.faces.crush.size)
            if room - LEAST_ROW * found.faces.crush.size >= LEAST_CURVE or shown == FEWEST_FLAGS:
                break
        strip = min(strip, room - LEAST_CURVE)
        _figure(pages, found, units, min(room - strip, MOST_CURVE), strip)
        _notes(pages)
        _sign(pages)
        pages.foot(SCREENING)
    return pages


def _words(pages: Pages, found: Inspection, units: str, shown: int) -> None:
    """Everything above the figure."""
    title = fitted(
        f"Inspection after landing: {found.case.title}",
        pages.room,
        size=HEADING,
        bold=True,
        lines=1,
    )
    pages.write(0.0, pages.y, title, size=HEADING, weight="bold")
    pages.y += 5.5
    found_speed = [
        Paragraph(head(found)),
        Paragraph(speed_words(found, units), "bold"),
        Paragraph(f"Band: {dominant(found)}. {' '.join(why_bound(found, units))}".strip()),
        Paragraph(NO_RELEASE, "bold"),
    ]
    pages.columns(Column(0.0, pages.room, found_speed))
    pages.columns(Column(0.0, pages.room, [_leg_table(found, units)]))
    half = 0.53 * pages.room
    left: list[Block] = [ledger_table(found, units), Pairs(list(at_rest_pairs(found, units)))]
    checks = Pairs([(BOX, text) for text in to_check(found)])
    right: list[Block] = [Heading("Checked on the vehicle"), checks]
    pages.columns(Column(0.0, half - 4.0, left), Column(half, pages.room - half, right))
    pages.columns(Column(0.0, pages.room, _flagged(found, units, shown)))


def _flagged(found: Inspection, units: str, shown: int) -> list[Block]:
    texts = flags(found, units)
    more = [f"and {len(texts) - shown} more: see the report"] if len(texts) > shown else []
    if not texts:
        return [Paragraph("Nothing flagged in the readings; the checks remain.")]
    return [Heading("Flagged"), Items([*texts[:shown], *more])]


def _leg_table(found: Inspection, units: str) -> Table:
    """One row per leg: heights, crush, folds, energy, what is left."""
    length = small_length(units)
    legs, left, faces = found.band.legs, found.left, found.faces
    used = common_unit(legs.energy.ravel().tolist(), "energy", units)
    rest = common_unit(left.energy.ravel().tolist(), "energy", units)
    places = places_of(length)
    crush, error = (numbers(x, length, places) for x in (faces.crush, faces.error))
    return Table(
        (
            Col(("leg",)),
            Col((f"heights, {length}", "front right back left")),
            Col(("crush", length)),
            Col(("tilt", "deg")),
            Col(("folds: crush", "/ counted")),
            Col((f"energy taken, {used}", TRIPLE)),
            Col(("stroke", f"left, {length}")),
            Col((f"energy left, {rest}", TRIPLE)),
        ),
        list(
            zip(
                leg_names(found),
                face_cells(found, length),
                [f"{c} ± {e}" for c, e in zip(crush, error, strict=True)],
                numbers(faces.tilt, "deg", 1),
                fold_cells(found),
                packed(legs.energy.T.tolist(), used),
                numbers(left.stroke, length, places),
                packed(left.energy.T.tolist(), rest),
                strict=True,
            )
        ),
    )


def _figure(pages: Pages, found: Inspection, units: str, curve: float, strip: float) -> None:
    """Curve over its strip of legs, and the plan beside them."""
    top = pages.y + ABOVE
    width = pages.room - LABELS - PLAN

    def axes(x: float, y: float, across: float, down: float):  # type: ignore[no-untyped-def] # Axes
        box = (
            (MARGIN + x) / pages.width,
            1.0 - (y + down) / pages.height,
            across / pages.width,
            down / pages.height,
        )
        return pages.figures[-1].add_axes(box)

    panels = Panels(
        axes(LABELS, top, width, curve),
        axes(LABELS, top + curve + GAP, width, strip),
        axes(LABELS + width + 3.0, top + 3.0 * LINE, PLAN - 3.0, PLAN - 3.0),
    )
    draw_panels(panels, found, units)
    pages.write(0.0, top + curve + GAP + strip + BELOW - 4.0, NOTE)
    pages.y = top + curve + GAP + strip + BELOW


def _notes(pages: Pages) -> None:
    """Lines for notes in the room that is left."""
    lines = int((pages.height - FOOT - ROOM_TO_SIGN - pages.y) / RULED) - 1
    if lines < 1:
        return
    pages.write(0.0, pages.y + 2.0, "What was seen on the vehicle, and what was decided:")
    for i in range(lines):
        pages.rule(0.0, pages.y + 2.0 + (i + 1.6) * RULED, pages.room)
    pages.y = pages.height - FOOT - ROOM_TO_SIGN


def _sign(pages: Pages) -> None:
    """Lines to sign on."""
    each = pages.room / len(SIGN)
    for i, who in enumerate(SIGN):
        pages.rule(i * each, pages.y + ROOM_TO_SIGN - 5.0, each - 6.0)
        pages.write(i * each, pages.y + ROOM_TO_SIGN - 4.0, who)
    pages.y += ROOM_TO_SIGN
