"""What the figures draw: the curve of one leg and where each touchdown stops on it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.curve import POINTS
from crushleg.report.style import BAND, DOTS, LEVELS, LIMIT, LINES, LONG, MARKERS, RED

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes

    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.check import Checked
    from crushleg.landing.arrival import LegCurve
    from crushleg.landing.touchdown import Landed

STOPS_SHOWN = (
    "Stroke of the leg, elastic shortening included ({unit})\n"
    "marker: stop at nominal force (filled), low (left half filled), high (right half filled)"
)
BOTTOM_SHOWN = "\na leg that bottoms: marker at the end of its curve"
LOW, LINE = 13.0, 3.4
FIRST = {"one": "one leg first", "two": "two legs first"}


class Mark(NamedTuple):
    """A load to compare with [N], and how its line is drawn."""

    load: float
    text: str
    colour: str
    dash: tuple[float, tuple[float, ...]]


class LegLines(NamedTuple):
    """One leg, low nominal high (3, n): stroke with its elastic shortening [m], load, work.

    ``load`` is axial at the attachment [N], ``work`` vertical with pad friction [J].
    """

    stroke: FloatArray
    load: FloatArray
    work: FloatArray


class Stops(NamedTuple):
    """Low, nominal, high (3,): stroke, load there, largest load, whether it bottoms."""

    stroke: FloatArray
    load: FloatArray
    peak: FloatArray
    bottomed: BoolArray


def leg_lines(curve: LegCurve) -> LegLines:
    """Curve of one leg on its stroke, first girder."""
    forces = curve.forces
    per_reaction = forces.axial / forces.reaction
    return LegLines(
        curve.travel[:, 0] / forces.travel, curve.reaction[:, 0] * per_reaction, curve.work[:, 0]
    )


def stops(landed: Landed) -> Stops:
    """Where the most crushed legs of a touchdown stop, first girder."""
    load = landed.at_stop[:, 0] * landed.curve.forces.axial
    return Stops(landed.stroke[:, 0], load, landed.peak[:, 0], landed.bottomed[:, 0])


def stroke_label(landings: Sequence[Landed], unit: str) -> tuple[str, float]:
    """Label of the axis of stroke, which says what markers mean, and room for it [mm]."""
    hard = any(landed.bottomed[:, 0].any() for landed in landings)
    return STOPS_SHOWN.format(unit=unit) + BOTTOM_SHOWN * hard, LOW + LINE * hard


def fold_bounds(checked: Checked, lines: LegLines) -> FloatArray:
    """Strokes [m] on the nominal curve where its folds begin, and the end of the last."""
    real = int((checked.crush.folds.length[0] > 0.0).sum())
    begins = lines.stroke[1, 1 + POINTS * np.arange(real)]
    begins = np.concatenate([[0.0], begins[1:]])
    return np.concatenate([begins, [lines.stroke[1, POINTS * real]]])


def full_name(landed: Landed) -> str:
    """Name of a touchdown, with what sets it apart."""
    asides = [FIRST.get(landed.touchdown.first_contact, ""), "reserve" if landed.reserve else ""]
    said = landed.name.lower()
    new = ", ".join(aside for aside in asides if aside and aside not in said)
    return f"{landed.name} ({new})" if new else landed.name


def marked(landings: Sequence[Landed]) -> list[tuple[Landed, str]]:
    """Touchdowns, each with its marker."""
    return [(landed, MARKERS[i % len(MARKERS)]) for i, landed in enumerate(landings)]


def draw_curves(axes: Axes, x: FloatArray, y: FloatArray) -> None:
    """Band between low and high, and the three curves; x and y (3, n) in units of display."""
    around = np.concatenate([x[0], x[2][::-1]]), np.concatenate([y[0], y[2][::-1]])
    axes.fill(*around, color=BAND, linewidth=0.0, gid="band")
    for level in (0, 2, 1):
        axes.plot(x[level], y[level], gid=LEVELS[level], **LINES[level])


def loads_to_compare(checked: Checked) -> list[Mark]:
    """Limit load, ultimate when there is a reserve case, and start force of a zone out of order."""
    limit, factor = checked.case.limits.leg_limit_load, checked.case.factors.ultimate
    found = []
    if limit is not None:
        found.append(Mark(limit, "limit load", LIMIT, LONG))
        if any(landed.reserve for landed in checked.landings):
            text = f"{factor:g} × limit load, for reserve cases"
            found.append(Mark(factor * limit, text, LIMIT, LONG))
    if not checked.crush.sequence.from_foot[0]:
        axial = checked.landings[0].curve.forces.axial
        start = float(checked.crush.largest_start[2, 0] * axial)
        found.append(Mark(start, "largest start force, high", RED, DOTS))
    return found
