"""The printed report of landings in motion: verdict first, then each landing, margins, sources."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Console

from crushleg.cautions import NOT_JUDGED, SCREENING
from crushleg.report import text
from crushleg.report.land_overview import governing_each, map_blocks, overview
from crushleg.report.land_sources import land_sources
from crushleg.report.land_tables import landing
from crushleg.report.land_words import judged
from crushleg.report.layout import Heading, Pairs, Paragraph, items, plain_text, print_blocks
from crushleg.report.notes import SYMBOLS, shown_cautions

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.land import Moving
    from crushleg.report.layout import Block
    from crushleg.stability import StabilityMap

READING = (
    "Landings in motion: a rigid body on its legs, run with low, nominal and high girders. "
    'Margins marked ", motion" come from here, the others from the energy balance of `check`, '
    "which prints girder, rows and folds."
)
OF_CHECK = ("least work", "alternative")
"""Symbols of the girder's section of a check, which is not printed here."""
MORE_SYMBOLS = (
    ("lean, tilt", "vehicle axis against the ground's normal, against the vertical"),
    ("tip-over angle", "left before the weight passes over the weakest line of two pads"),
    ("class 180", "reading of an accelerometer behind the filter of SAE J211, (F + T)/m"),
    ("grip", "spring that holds a pad which sticks"),
)


def print_landings(
    moving: Moving,
    stability: StabilityMap | None = None,
    console: Console | None = None,
    units: str = "si",
) -> None:
    """Print the report: aligned within the terminal's width, or plain and unwrapped elsewhere.

    Parameters
    ----------
    moving : Moving
        From :func:`crushleg.land.land_case`.
    stability : StabilityMap, optional
    console : Console, optional
        Standard output when left out.
    units : str
        "si" or "us".
    """
    blocks = render(moving, stability, units)
    print_blocks(blocks, Console() if console is None else console)


def landings_text(moving: Moving, stability: StabilityMap | None = None, units: str = "si") -> str:
    """Return the report as plain text, as it goes into a pipe or a file."""
    return plain_text(render(moving, stability, units))


def render(moving: Moving, stability: StabilityMap | None = None, units: str = "si") -> list[Block]:
    """Blocks of the report in their order."""
    checked = judged(moving)
    cautions = [said for said in shown_cautions(checked) if not said.startswith(NOT_JUDGED)]
    return [
        *text.header(checked),
        *text.verdict(checked),
        text.governing(checked, units),
        Paragraph(READING),
        *overview(moving.moves, units),
        *governing_each(checked, units),
        *_landings(moving, units),
        *(map_blocks(stability, units) if stability is not None else ()),
        *text.margins(checked, units),
        *text.verdict(checked),
        Heading("Cautions"),
        items(cautions, units),
        Heading("Sources of these numbers"),
        items(land_sources(moving), units),
        Heading("Symbols"),
        Pairs([pair for pair in SYMBOLS if pair[0] not in OF_CHECK] + list(MORE_SYMBOLS)),
        Heading("Before you use this"),
        Paragraph(SCREENING, "bold"),
    ]


def _landings(moving: Moving, units: str) -> Iterator[Block]:
    asked = len(moving.checked.case.touchdowns)
    for index, move in enumerate(moving.moves):
        kind = "Landing" if index < asked else "Standard landing"
        yield from landing(moving.checked, move, units, kind)
