"""How every figure looks: the sheet with its head and foot, type, lines, markers, labels.

Places and sizes on the sheet are in millimetres of paper, y from the bottom edge. Colours are
safe for colour-blind eyes; lines differ by dash and weight too, markers by shape.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib import style as mpl_style
from matplotlib.figure import Figure
from matplotlib.patheffects import withStroke
from matplotlib.ticker import FuncFormatter, MaxNLocator

from crushleg.cautions import SCREENING
from crushleg.report.plot_labels import INCH, LEADING, POINT, SIZE, SMALL, fitted
from crushleg.units import display_unit, express, plain

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from matplotlib.axes import Axes
    from matplotlib.patheffects import AbstractPathEffect

    from crushleg.arrays import FloatArray
    from crushleg.check import Checked
    from crushleg.trial.inspect import Inspection

PAGE = 160.0
HEAD = 13.0
FOOT = 9.5
EDGE = 4.0
TITLE = 8.5

INK = "#1a1a1a"
SOFT = "#666666"
FAINT = "#c9c9c9"
BAND = "#d9e5ee"
BLUE = "#0b4f7d"
RED = "#b5400f"
LIMIT = "#7a1f5c"

HALVES = ("left", "full", "right")
"""Part of a marker that is filled at low, nominal, high force."""
LEVELS = ("low", "nominal", "high")
THOUSAND, MOST = "10³ ", 1e5
"""Before the name of a unit, from so many of it on."""
LINES: tuple[dict[str, Any], ...] = (
    {"color": BLUE, "linestyle": (0, (5.0, 2.0)), "linewidth": 0.8},
    {"color": INK, "linestyle": "-", "linewidth": 1.4},
    {"color": RED, "linestyle": (0, (4.0, 1.2, 1.0, 1.2)), "linewidth": 0.8},
)
"""Low, nominal, high."""
MARKERS = ("o", "s", "^", "D", "v", "P", "X", "<", ">", "p", "h", "*")
"""One shape per touchdown, in the order of the case."""

RC: dict[str, Any] = {
    "font.family": ["DejaVu Sans"],
    "font.size": SIZE,
    "text.color": INK,
    "text.parse_math": False,
    "axes.edgecolor": SOFT,
    "axes.labelcolor": INK,
    "axes.linewidth": 0.5,
    "axes.labelsize": SIZE,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.formatter.useoffset": False,
    "xtick.labelsize": SIZE,
    "ytick.labelsize": SIZE,
    "xtick.color": SOFT,
    "ytick.color": SOFT,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
    "xtick.major.width": 0.5,
    "ytick.major.width": 0.5,
    "xtick.major.size": 2.5,
    "ytick.major.size": 2.5,
    "lines.markersize": 4.2,
    "lines.markeredgewidth": 0.8,
    "figure.dpi": 200,
    "savefig.dpi": "figure",
    "text.hinting": "none",
    "svg.hashsalt": "crushleg",
    "svg.fonttype": "path",
}


def styled() -> AbstractContextManager[None]:
    """Matplotlib as this module wants it, whatever the user's own settings."""
    return mpl_style.context(["default", RC])


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


def halo() -> list[AbstractPathEffect]:
    """White rim that keeps text legible over lines."""
    return [withStroke(linewidth=1.8, foreground="white")]


def marker_face(level: int) -> dict[str, Any]:
    """Nominal markers are filled whole, those of low and high force on their half."""
    colour = LINES[level]["color"]
    return {"color": colour, "fillstyle": HALVES[level], "markerfacecoloralt": "white"}


def unit_for(values: FloatArray, dimension: str, system: str) -> str:
    """Return the unit in which the largest of the values is shown, in thousands if many."""
    most = float(np.max(np.abs(values)))
    unit = display_unit(most, dimension, system)
    return unit if express(most, unit) < MOST else THOUSAND + unit


def scaled(values: FloatArray | float, unit: str) -> FloatArray:
    """SI values as numbers of the unit."""
    each = express(1.0, unit.removeprefix(THOUSAND)) / (1e3 if unit.startswith(THOUSAND) else 1.0)
    return np.asarray(values, dtype=np.float64) * each


def number(value: float, unit: str, digits: int = 3) -> str:
    """SI value as a text in the unit, without its name."""
    return grouped(plain(float(scaled(value, unit)), digits))


def quantity(value: float, unit: str) -> str:
    """SI value as a text with the name of the unit.

    >>> quantity(12.5e3, "kN"), quantity(25e3 * 1.3558179483314004, "10³ ft-lbf")
    ('12.5 kN', '25 × 10³ ft-lbf')
    """
    return f"{number(value, unit)} {'× ' if unit.startswith(THOUSAND) else ''}{unit}"


def grouped(text: str) -> str:
    """Digits before the point in groups of three, from 10 000 on.

    >>> grouped("1234"), grouped("12345.5") == "12\u202f345.5"
    ('1234', True)
    """
    whole, point, rest = text.partition(".")
    return (f"{int(whole):,}".replace(",", "\u202f") if len(whole) > 4 else whole) + point + rest


def plain_ticks(axes: Axes, *, x: bool = True) -> None:
    """Few round ticks with numbers written out."""
    formatter = FuncFormatter(lambda value, _: grouped(plain(value, 6)))
    for axis in (axes.xaxis, axes.yaxis) if x else (axes.yaxis,):
        axis.set_major_locator(MaxNLocator(8, steps=[1, 2, 2.5, 5, 10]))
        axis.set_major_formatter(formatter)
