"""How every figure looks: type, colours, line weights, dashes, markers, and its numbers.

A hue has one meaning wherever it stands: blue is low force, orange-red high force, plum a limit or
what breaks one, green what is measured or wanted, or one more of several like things; ink is
nominal. Lines differ by dash and weight too, markers by shape, areas by shade or hatch: nothing is
said by colour alone.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from matplotlib import style as mpl_style
from matplotlib.patheffects import withStroke
from matplotlib.ticker import FuncFormatter, MaxNLocator

from crushleg.units import display_unit, express, plain

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from matplotlib.axes import Axes
    from matplotlib.patheffects import AbstractPathEffect

    from crushleg.arrays import FloatArray

INCH = 25.4
POINT = INCH / 72.0

FAMILY = "DejaVu Sans"
PLACE, HEADING, TITLE, SIZE, SMALL = 14.0, 10.0, 8.5, 7.0, 6.2
"""Type sizes [points]: place of a page; title of a page, of a figure; axes; labels and notes."""
LEADING = 1.25

WHITE = "#ffffff"
INK = "#1a1a1a"
SOFT = "#666666"
MUTED = "#8c8c8c"
"""Data in the background."""
FAINT = "#c9c9c9"
"""Guides: grid, bounds of folds, construction lines. No data."""
BAND, CORE = "#d9e5ee", "#a9c4d8"
"""Low to high; the middle half of landings."""
NEGATIVE = "#f1f1f1"
"""Where a margin is below zero."""
BLUE = "#0b4f7d"
RED = "#b5400f"
LIMIT = "#7a1f5c"
GREEN = "#108048"
SOIL, BANK, SKIN = "#ececec", "#dedede", "#f4f7fa"
"""Ground, its rise before and behind the vehicle, and the body of the vehicle."""

HAIR, THIN, FINE, FIRM, BOLD, THICK, BAR = (
    width / POINT for width in (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0)
)
"""Line weights [points], of 0.13 to 1 mm: the series of ISO 128-2 (from memory)."""

SOLID = "-"
BROKEN, CHAIN = (0.0, (4.0, 1.6)), (0.0, (3.4, 1.1, 0.9, 1.1))
LONG, DOTS = (0.0, (8.0, 2.6)), (0.0, (0.9, 1.4))
"""Dashes and gaps [points], the same at any weight."""

HALVES = ("left", "full", "right")
"""Part of a marker that is filled at low, nominal, high force."""
LEVELS = ("low", "nominal", "high")
THOUSAND, MOST = "10³ ", 1e5
"""Before the name of a unit, from so many of it on."""
LINES: tuple[dict[str, Any], ...] = (
    {"color": BLUE, "linestyle": BROKEN, "linewidth": FINE},
    {"color": INK, "linestyle": SOLID, "linewidth": BOLD},
    {"color": RED, "linestyle": CHAIN, "linewidth": FINE},
)
"""Low, nominal, high."""
LIMITED: dict[str, Any] = {"color": LIMIT, "linestyle": LONG, "linewidth": FIRM}
"""What must not be passed."""
HELD: dict[str, Any] = {"color": GREEN, "linestyle": SOLID, "linewidth": FIRM}
"""What was measured or is wanted."""
USABLE: dict[str, Any] = {"color": SOFT, "linestyle": SOLID, "linewidth": FIRM}
ALLOWED: dict[str, Any] = USABLE | {"linestyle": DOTS}
"""End of the usable stroke, and the share of it that may be used."""
GUIDE: dict[str, Any] = {"color": FAINT, "linewidth": HAIR}
EDGE_LINE: dict[str, Any] = {"edgecolor": INK, "linewidth": FINE}
"""Edges of what is drawn to scale: faces and holes."""

MARKERS = ("o", "s", "^", "D", "v", "P", "X", "<", ">", "p", "h", "*")
"""One shape per touchdown, leg, margin or test, in their order."""
MARK, SPOT, DOT, STROKE = 4.2, 3.2, 1.8, 7.0
"""Sizes of markers [points]: of a stop; along a line; one of hundreds; an upright stroke."""
WAYS: tuple[dict[str, Any], ...] = (
    {"color": INK, "linestyle": SOLID},
    {"color": GREEN, "linestyle": BROKEN},
    {"color": SOFT, "linestyle": CHAIN},
    {"color": INK, "linestyle": DOTS},
)
"""Several like things that have no level: legs, margins, shares."""
WALL, ORDER = (0.94, 0.79), (0.62, 0.97)
"""Grey of the thinnest and thickest wall, and of the first and last fold."""


class Area(NamedTuple):
    """Look of an outcome: shade, darker as it gets worse; hatch and its colour."""

    face: str
    hatch: str
    ink: str


OUTCOMES = {
    "stands": Area(WHITE, "", INK),
    "slides": Area(BAND, "..", "#5b88a8"),
    "bottoms": Area("#f3cfa2", "---", "#a5701f"),
    "strikes": Area("#d98b6a", "xx", "#8c3a17"),
    "tips": Area("#8d6a86", "///", "#4a2a45"),
}
"""How a landing ends, mildest first."""

RC: dict[str, Any] = {
    "font.family": [FAMILY],
    "font.size": SIZE,
    "text.color": INK,
    "text.parse_math": False,
    "axes.edgecolor": SOFT,
    "axes.labelcolor": INK,
    "axes.linewidth": THIN,
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
    "xtick.major.width": THIN,
    "ytick.major.width": THIN,
    "xtick.major.size": 2.5,
    "ytick.major.size": 2.5,
    "lines.linewidth": FIRM,
    "lines.scale_dashes": False,
    "lines.markersize": MARK,
    "lines.markeredgewidth": FINE,
    "patch.linewidth": FINE,
    "hatch.linewidth": FIRM,
    "errorbar.capsize": 1.6,
    "grid.color": FAINT,
    "grid.linewidth": HAIR,
    "axes.titlesize": SIZE,
    "axes.titleweight": "bold",
    "axes.titlelocation": "left",
    "axes.titlepad": 3.0,
    "legend.frameon": False,
    "legend.fontsize": SMALL,
    "legend.borderpad": 0.0,
    "legend.borderaxespad": 0.0,
    "legend.labelcolor": INK,
    "figure.dpi": 200,
    "savefig.dpi": "figure",
    "text.hinting": "none",
    "svg.hashsalt": "crushleg",
    "svg.fonttype": "path",
}


def styled() -> AbstractContextManager[None]:
    """Matplotlib as this module wants it, whatever the user's own settings."""
    return mpl_style.context(["default", RC])


def halo() -> list[AbstractPathEffect]:
    """White rim that keeps text legible over lines."""
    return [withStroke(linewidth=1.8, foreground=WHITE)]


def marker_face(level: int) -> dict[str, Any]:
    """Nominal markers are filled whole, those of low and high force on their half."""
    colour = LINES[level]["color"]
    return {"color": colour, "fillstyle": HALVES[level], "markerfacecoloralt": WHITE}


def way(k: int) -> dict[str, Any]:
    """Colour and dash of the k-th of several like things; with its marker no two are alike."""
    return WAYS[(k + k // len(MARKERS)) % len(WAYS)]


def grey(share: float, ends: tuple[float, float]) -> str:
    """Shade between two, 0 the first."""
    return str(ends[0] + (ends[1] - ends[0]) * share)


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
