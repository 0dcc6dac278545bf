"""Faces of a girder at true scale, as lines, holes and texts on a sheet: for SVG, PDF and DXF.

Places are millimetres of the sheet, x to the right and y up from its lower left corner.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.cautions import SCREENING
from crushleg.report.drill_words import exact, failing_rows, row_label, section_text
from crushleg.report.plot_labels import fitted, height_of, spread, width_of
from crushleg.report.style import HEADING, POINT, SIZE

if TYPE_CHECKING:
    from crushleg.design.drill import DrilledHole, Face
    from crushleg.report.drill_words import Drilling

MM = 1e3
EDGE, GAP, LEAD = 8.0, 16.0, 3.0
LEAST_WIDTH = 190.0
TYPE = SIZE
LINE = TYPE * POINT * 1.3
BARS = {"si": (100.0, 10.0, "100 mm"), "us": (101.6, 25.4, "4 in")}
"""Length, division and name of the scale bar [mm]."""
FOOT_ROOM, HEAD_ROOM = 12.0, 18.0
TEXT_ROOM = 165.0
"""Width of running text [mm]: it stays whole on the first page of the narrowest paper."""
VIEW = (
    "Faces seen from outside, FOOT end at the bottom, from outside corner to outside corner: no "
    "development of the bends. Sizes: across × along. Offsets: + to the right on front and right; "
    "back and left are their mirror images: drill opposite walls in one setting. Deburr both sides."
)
CROSS, LEAST_CROSS = 0.15, 1.5


class Line(NamedTuple):
    """Straight line; ``kind`` says what it is: edge, foot, bend, centre, step, leader, bar."""

    kind: str
    x1: float
    y1: float
    x2: float
    y2: float


class Outline(NamedTuple):
    """One hole with its middle on the sheet."""

    hole: DrilledHole
    x: float
    y: float


class Words(NamedTuple):
    """One line of text; ``anchor`` start, middle or end lies at x, the baseline at y."""

    x: float
    y: float
    text: str
    anchor: str = "start"
    size: float = TYPE
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Layout:
    """A drawing: size of the sheet [mm] and what is on it."""

    width: float
    height: float
    lines: tuple[Line, ...]
    holes: tuple[Outline, ...]
    words: tuple[Words, ...]


class _Board:
    """A drawing under work."""

    def __init__(self) -> None:
        self.lines: list[Line] = []
        self.holes: list[Outline] = []
        self.words: list[Words] = []


def layout_of(drilling: Drilling, system: str = "si") -> Layout:
    """Draw the faces side by side, seen from outside, foot at the bottom.

    Parameters
    ----------
    drilling : Drilling
    system : str, optional
        Units of the texts and of the scale bar, "si" or "us".

    Returns
    -------
    Layout
    """
    board, unit = _Board(), {"si": "mm", "us": "in"}[system]
    schedule = drilling.schedule
    labels = [row_label(plan, unit) for plan in schedule.rows]
    column = max((width_of(text, size=TYPE) for text in labels), default=0.0)
    left = EDGE + column + (GAP if labels else 0.0)
    widths = [MM * face.width for face in schedule.faces]
    steps = max((width_of(text, size=TYPE) for _, text in _steps(drilling, unit)), default=0.0)
    across = left + sum(widths) + GAP * (len(widths) - 1) + EDGE + (steps and steps + LEAD)
    width = max(across, LEAST_WIDTH)
    foot = _foot(board, system)
    length = MM * schedule.girder.length
    kept, at = _label_places(drilling, foot, length)
    x = left
    for face, wide in zip(schedule.faces, widths, strict=True):
        _face(board, face, x, foot, drilling, unit)
        _numbers(board, drilling, face, (x, foot), list(zip(kept, at, strict=True)))
        x += wide + GAP
    for index, y in zip(kept, at, strict=True):
        board.words.append(Words(EDGE, y - 0.35 * TYPE * POINT, labels[index]))
    for height, text in _steps(drilling, unit):
        board.words.append(Words(x - GAP + LEAD, foot + MM * height + 1.0, text))
    height = _head(board, drilling, foot + length + HEAD_ROOM, unit)
    return Layout(width, height, tuple(board.lines), tuple(board.holes), tuple(board.words))


def bar(x: float, y: float, system: str) -> tuple[list[Line], Words]:
    """Scale bar from x, y on, with a tick at every division, and its text [mm]."""
    long, division, name = BARS[system]
    lines = [Line("bar", x, y, x + long, y)]
    for k in range(round(long / division) + 1):
        tall = 3.0 if k in (0, round(long / division)) else 1.5
        lines.append(Line("bar", x + k * division, y, x + k * division, y + tall))
    return lines, Words(x + long + 2.0, y, f"{name}: measure it on the print")


def _foot(board: _Board, system: str) -> float:
    """Caution and scale bar at the bottom; where the FOOT end lies [mm]."""
    caution = fitted(SCREENING, TEXT_ROOM, size=TYPE, lines=4).split("\n")
    y = EDGE + LINE * (len(caution) - 1)
    for i, line in enumerate(caution):
        board.words.append(Words(EDGE, y - i * LINE, line))
    lines, text = bar(EDGE, y + 6.0, system)
    board.lines += lines
    board.words.append(text)
    return y + 6.0 + 4.0 + FOOT_ROOM


def _head(board: _Board, drilling: Drilling, y: float, unit: str) -> float:
    """Title and what must be known to drill from the sheet; the height of the sheet [mm]."""
    title = fitted(drilling.title, TEXT_ROOM, size=HEADING, bold=True).split("\n")
    texts = [
        f"Drilling layout 1:1, revision {drilling.revision} · input {drilling.digest[:8]}",
        section_text(drilling.schedule, drilling.material, unit),
        VIEW,
    ]
    if not drilling.schedule.rows:
        texts.append("No holes: a plain column.")
    if failing := failing_rows(drilling.judged):
        texts.append(f"FABRICATION RULES FAIL in {failing}: see the schedule.")
    lines = [
        line for text in texts for line in fitted(text, TEXT_ROOM, size=TYPE, lines=6).split("\n")
    ]
    y += LINE * (len(lines) - 1)
    for i, line in enumerate(lines):
        board.words.append(Words(EDGE, y - i * LINE, line))
    y += 1.6 * LINE
    for line in reversed(title):
        board.words.append(Words(EDGE, y, line, size=HEADING, bold=True))
        y += HEADING * POINT * 1.3
    return y + EDGE - HEADING * POINT * 0.4


def _face(board: _Board, face: Face, x: float, foot: float, drilling: Drilling, unit: str) -> None:
    """One face from x on: outline, corner lines, middle line, holes with their centres."""
    girder = drilling.schedule.girder
    width, length, radius = (MM * v for v in (face.width, girder.length, girder.corner_radius))
    top, middle = foot + length, x + 0.5 * width
    for kind, x1, y1, x2, y2 in (
        ("foot", x - 2.0, foot, x + width + 2.0, foot),
        ("edge", x, foot, x, top),
        ("edge", x + width, foot, x + width, top),
        ("edge", x, top, x + width, top),
        ("centre", middle, foot - 2.0, middle, top + 2.0),
    ):
        board.lines.append(Line(kind, x1, y1, x2, y2))
    for at in (x + radius, x + width - radius) if radius else ():
        board.lines.append(Line("bend", at, foot, at, top))
    for height, _ in _steps(drilling, unit):
        board.lines.append(Line("step", x, foot + MM * height, x + width, foot + MM * height))
    for hole in face.holes:
        across, up = middle + MM * hole.offset, foot + MM * hole.height
        board.holes.append(Outline(hole, across, up))
        arm = max(CROSS * MM * min(hole.size, hole.along), LEAST_CROSS)
        board.lines.append(Line("centre", across - arm, up, across + arm, up))
        board.lines.append(Line("centre", across, up - arm, across, up + arm))
    board.words.append(Words(middle, foot - 6.0, "FOOT", "middle", TYPE, bold=True))
    board.words.append(Words(middle, top + 7.5, face.name, "middle", TYPE, bold=True))
    size = f"{exact(face.width, unit)} {unit}"
    board.words.append(Words(middle, top + 3.5, size, "middle"))


def _label_places(drilling: Drilling, foot: float, length: float) -> tuple[list[int], list[float]]:
    """Rows that have a label, as many as there is room for, and the heights of the labels."""
    rows = drilling.schedule.rows
    if not rows:
        return [], []
    tall = height_of("row", TYPE)
    every = max(1, int(np.ceil(len(rows) * tall / (length + 2.0))))
    kept = list(range(0, len(rows), every))
    wanted = [foot + MM * rows[i].row.height for i in kept]
    high = foot + max(length, tall * len(kept))
    return kept, spread(wanted, [tall] * len(kept), foot, high)


def _numbers(
    board: _Board,
    drilling: Drilling,
    face: Face,
    corner: tuple[float, float],
    labels: list[tuple[int, float]],
) -> None:
    """Row numbers left of a face, led to the height of the row."""
    x, foot = corner
    for index, y in labels:
        plan = drilling.schedule.rows[index]
        if face.name not in plan.faces:
            continue
        board.lines.append(Line("leader", x - LEAD, y, x, foot + MM * plan.row.height))
        middle = y - 0.35 * TYPE * POINT
        board.words.append(Words(x - LEAD - 0.8, middle, f"{plan.number}", "end"))


def _steps(drilling: Drilling, unit: str) -> list[tuple[float, str]]:
    """Height [m] of every wall step and what begins there."""
    steps = drilling.schedule.girder.wall_steps
    return [(s.start, f"wall {exact(s.wall, unit)} {unit} above") for s in steps]
