"""The sheet of a figure: its head, its foot, and places on it.

Places and sizes are in millimetres of paper, y from the bottom edge.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from matplotlib.figure import Figure

from crushleg.cautions import SCREENING
from crushleg.report.plot_labels import fitted
from crushleg.report.style import INCH, LEADING, POINT, SIZE, SMALL, SOFT, TITLE

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from crushleg.check import Checked
    from crushleg.trial.inspect import Inspection

PAGE = 160.0
HEAD = 13.0
FOOT = 9.5
EDGE = 4.0


def paper_wide(system: str) -> str:
    """Width of the sheet in words: a scale holds on paper of that width.

    >>> paper_wide("si"), paper_wide("us")
    ('160 mm', '6.3 in')
    """
    return {"si": f"{PAGE:g} mm", "us": f"{PAGE / INCH:.1f} in"}[system]


def sheet(checked: Checked | Inspection, what: str, body: float, note: str = "") -> Figure:
    """Sheet with room of ``body`` mm between title and foot.

    Parameters
    ----------
    checked : Checked or Inspection
        Title, revision and input hash are its case's.
    what : str
        What the figure shows.
    body : float
        Height left for it [mm].
    note : str, optional
        What must be known to read it.

    Returns
    -------
    Figure
    """
    case = checked.case
    room = PAGE - 2.0 * EDGE
    title = fitted(case.title, room, size=TITLE, bold=True)
    revision = f" · revision {case.revision}" if case.revision else ""
    under = fitted(f"{what}{revision} · input {case.input_sha256[:8]}", room)
    if note:
        under = f"{under}\n{fitted(note, room)}"
    below = 8.0 + title.count("\n") * TITLE * POINT * LEADING
    height = body + FOOT + HEAD - 8.0 + below + under.count("\n") * SIZE * POINT * LEADING
    figure = Figure(figsize=(PAGE / INCH, height / INCH))
    put(figure, EDGE, height - 3.0, title, size=TITLE, weight="bold", va="top")
    put(figure, EDGE, height - below, under, va="top", color=SOFT)
    foot = fitted(SCREENING, room, size=SMALL, lines=2)
    put(figure, EDGE, 1.8, foot, size=SMALL, va="bottom", color=SOFT)
    return figure


def put(figure: Figure, x: float, y: float, text: str, **how: Any) -> None:
    """Write ``text`` at x, y [mm] of the sheet."""
    width, height = figure.get_size_inches() * INCH
    figure.text(x / width, y / height, text, linespacing=LEADING, **how)


def place(figure: Figure, left: float, bottom: float, width: float, height: float) -> Axes:
    """Axes at a place of the sheet [mm]; ``bottom`` counts from the top of the foot."""
    across, up = figure.get_size_inches() * INCH
    box = (left / across, (bottom + FOOT) / up, width / across, height / up)
    return figure.add_axes(box)
