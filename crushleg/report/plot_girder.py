"""Faces of the girder to scale, with rows, webs, wall, and the folds in their order."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from matplotlib.collections import PolyCollection
from matplotlib.patches import Rectangle

from crushleg.report.plot_geometry import faces, fold_bands, outlines, wall_segments
from crushleg.report.plot_labels import SMALL, height_of, spread, width_of
from crushleg.report.style import EDGE, FAINT, INK, PAGE, RED, SOFT, number, place, sheet, styled

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.check import Checked
    from crushleg.report.plot_geometry import DrilledRow, Face

TALLEST = 195.0
ABOVE, BELOW = 15.0, 11.0
LEAD, PAD, FOLDS = 3.5, 2.0, 9.0
WALL = "#eceff1"
THICKER = "#d3dae0"
LEAST_BAND = 1.9
EARLY, LATE = 0.62, 0.97


class Paper(NamedTuple):
    """Axes in mm of paper, millimetres of paper per metre of girder, and the unit of lengths."""

    axes: Axes
    scale: float
    unit: str

    def length(self, value: float) -> str:
        """Length [m] as a number in the unit."""
        return number(value, self.unit, 4)


def girder_figure(checked: Checked, system: str = "si") -> Figure:
    """Faces side by side when they differ, one face when not, foot at the bottom.

    Parameters
    ----------
    checked : Checked
    system : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    Figure
        Its axes are in millimetres of paper, alike in both directions.
    """
    with styled():
        unit = {"si": "mm", "us": "in"}[system]
        shown = faces(checked.case.girder, checked.crush)
        beside = [_columns(face, unit) for face in shown]
        walls = [f"{number(t, unit)}" for _, _, t in wall_segments(checked.crush)]
        right = 4.0 + FOLDS + 3.5 + max(width_of(f"wall {t} {unit}", size=SMALL) for t in walls)
        left = 7.0
        used = left + sum(map(sum, beside)) + right
        length = checked.case.girder.length
        scale = min(
            (PAGE - 2.0 * EDGE - used) / sum(face.width for face in shown), TALLEST / length
        )
        body = BELOW + scale * length + ABOVE
        what = f"Girder faces, 1 : {1e3 / scale:.3g} on paper {PAGE:g} mm wide, in {unit}"
        figure = sheet(checked, what, body)
        axes = place(figure, 0.0, 0.0, PAGE, body)
        axes.set(xlim=(0.0, PAGE), ylim=(-BELOW, body - BELOW))
        axes.set_axis_off()
        paper = Paper(axes, scale, unit)
        x = 0.5 * (PAGE - used - scale * sum(face.width for face in shown)) + left
        _length_dimension(paper, x, length)
        for face, (before, after) in zip(shown, beside, strict=True):
            _face(paper, face, x + before, checked)
            x += before + scale * face.width + after
        _folds(paper, x + 4.0, checked)
        _walls(paper, x + 4.0 + FOLDS, checked)
    return figure


def _columns(face: Face, unit: str) -> tuple[float, float]:
    """Widths [mm] that the texts left and right of a face take."""
    heights = [number(one.row.height, unit, 4) for one in face.rows]
    before = max([8.0, *(width_of(text, size=SMALL) for text in heights)]) + LEAD + 1.0
    after = [_sizes(one, unit) for one in face.rows]
    widest = max([14.0, *(width_of(text, size=SMALL, bold=True) for text in after)])
    return before, widest + LEAD + PAD


def _sizes(one: DrilledRow, unit: str) -> str:
    """Holes of a row and its least web: "2 × Ø30, web 12"."""
    row = one.row
    across = number(row.size, unit, 4)
    one_hole = f"Ø{across}"
    if row.shape != "circle" or row.along != row.size:
        one_hole = f"{across} × {number(row.along, unit, 4)}"
    many = f"{row.per_face} × " if row.per_face > 1 else ""
    many = f"{row.per_face} of " if many and row.shape != "circle" else many
    return f"{many}{one_hole}, web {number(one.web, unit)}"


def _face(paper: Paper, face: Face, x: float, checked: Checked) -> None:
    """One face from x [mm] on: wall, holes, texts of the rows, width, foot."""
    axes, k = paper.axes, paper.scale
    length, width = k * checked.case.girder.length, k * face.width
    _plates(paper, x, width, checked)
    middle = x + 0.5 * width
    holes = [[middle, 0.0] + k * one for row in face.rows for one in outlines(row.row)]
    axes.add_collection(
        PolyCollection(
            holes,
            facecolor="white",
            edgecolor=INK,
            linewidth=0.7,
            zorder=3,
            gid=f"holes {face.name}",
        )
    )
    _row_texts(paper, face, x, width, length)
    _write(axes, middle, length + 9.5, face.name, weight="bold", ha="center")
    _arrow(axes, (x, length + 3.0), (x + width, length + 3.0))
    _write(axes, middle, length + 5.6, paper.length(face.width), ha="center")
    axes.plot([x - 2.5, x + width + 2.5], [0.0, 0.0], color=INK, linewidth=1.6, zorder=4)
    _write(axes, middle, -3.2, "FOOT", weight="bold", ha="center")
    if not face.rows:
        _write(axes, x + width + PAD, 0.5 * length, "no holes", color=SOFT)


def _plates(paper: Paper, x: float, width: float, checked: Checked) -> None:
    """Face, darker where the wall is thicker, its outline, and the ends of the corner radii."""
    axes, k = paper.axes, paper.scale
    segments = wall_segments(checked.crush)
    thinnest = min(t for _, _, t in segments)
    for bottom, top, t in segments:
        axes.add_patch(
            Rectangle(
                (x, k * bottom),
                width,
                k * (top - bottom),
                linewidth=0.0,
                zorder=1,
                facecolor=WALL if t <= thinnest else THICKER,
            )
        )
        if bottom > 0.0:
            axes.plot([x, x + width], [k * bottom] * 2, color=INK, linewidth=0.7, zorder=2)
    length, radius = k * checked.case.girder.length, k * checked.case.girder.corner_radius
    for at in (x + radius, x + width - radius):
        axes.plot([at, at], [0.0, length], color=FAINT, linewidth=0.4, zorder=2)
    axes.add_patch(
        Rectangle((x, 0.0), width, length, fill=False, edgecolor=INK, linewidth=0.9, zorder=2.5)
    )


def _row_texts(paper: Paper, face: Face, x: float, width: float, length: float) -> None:
    """Heights left, holes and webs right; every so many rows when they stand too close."""
    axes, tall = paper.axes, height_of("0", SMALL)
    if not face.rows:
        return
    every = max(1, int(np.ceil(len(face.rows) * tall / (length + 2.0))))
    least = min(face.rows, key=lambda one: one.web)
    kept = [one for i, one in enumerate(face.rows) if i % every == 0 or one is least]
    wanted = [paper.scale * one.row.height for one in kept]
    at = spread(wanted, [tall] * len(kept), -1.0, max(length, tall * len(kept) - 1.0) + 1.0)
    for one, z, y in zip(kept, wanted, at, strict=True):
        lead: dict[str, Any] = {"color": SOFT, "linewidth": 0.4, "zorder": 2}
        axes.plot([x - LEAD, x - 0.6, x], [y, z, z], **lead)
        axes.plot([x + width, x + width + 0.6, x + width + LEAD], [z, z, y], **lead)
        _write(axes, x - LEAD - 0.6, y, paper.length(one.row.height), ha="right")
        how = {"color": RED, "weight": "bold"} if one is least else {}
        _write(axes, x + width + LEAD + 0.6, y, _sizes(one, paper.unit), **how)
    _write(axes, x - LEAD - 0.6, length + 3.0, "height", ha="right", color=SOFT)
    rows = "row" if every == 1 else f"one row in {every}"
    _write(axes, x + width + LEAD + 0.6, length + 3.0, f"{rows}, least web", color=SOFT)


def _folds(paper: Paper, x: float, checked: Checked) -> None:
    """Numbered bands of the folds, the first the darkest."""
    axes, k = paper.axes, paper.scale
    bands = fold_bands(checked.crush)
    last = max(band.order for band in bands)
    for band in bands:
        share = (band.order - 1.0) / max(last - 1.0, 1.0)
        tall = k * (band.top - band.bottom)
        axes.add_patch(
            Rectangle(
                (x, k * band.bottom),
                FOLDS,
                tall,
                edgecolor="white",
                linewidth=0.5,
                facecolor=str(EARLY + (LATE - EARLY) * share),
                gid=f"fold {band.order}",
            )
        )
        if tall >= LEAST_BAND:
            middle = 0.5 * k * (band.top + band.bottom)
            _write(axes, x + 0.5 * FOLDS, middle, f"{band.order}", ha="center", zorder=3)
    length = k * checked.case.girder.length
    axes.add_patch(Rectangle((x, 0.0), FOLDS, length, fill=False, edgecolor=SOFT, linewidth=0.5))
    _write(axes, x + 0.5 * FOLDS, length + 3.0, "folds", ha="center", color=SOFT)
    foot = bool(checked.crush.sequence.from_foot[0])
    order = "order of collapse" if foot else "least work, not from the foot"
    _write(axes, x + 0.5 * FOLDS, -3.2, order, ha="center", color=SOFT if foot else RED)


def _walls(paper: Paper, x: float, checked: Checked) -> None:
    """Thickness of every wall segment, and the height where the next begins."""
    for bottom, top, t in wall_segments(checked.crush):
        low, high = paper.scale * bottom, paper.scale * top
        _arrow(paper.axes, (x + 1.8, low), (x + 1.8, high))
        text = f"wall {number(t, paper.unit)} {paper.unit}"
        _write(paper.axes, x + 3.2, 0.5 * (low + high), text)
        if bottom > 0.0:
            _write(paper.axes, x + 3.2, low, f"from {paper.length(bottom)}", color=SOFT)


def _length_dimension(paper: Paper, x: float, length: float) -> None:
    """Overall length, left of everything else."""
    top = paper.scale * length
    at = x - 3.0
    _arrow(paper.axes, (at, 0.0), (at, top))
    _write(
        paper.axes,
        at - 1.8,
        0.5 * top,
        paper.length(length),
        rotation=90.0,
        ha="center",
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.4},
    )


def _arrow(axes: Axes, start: tuple[float, float], end: tuple[float, float]) -> None:
    how = {"arrowstyle": "<|-|>,head_width=0.12,head_length=0.3", "shrinkA": 0.0, "shrinkB": 0.0}
    axes.annotate(
        "", end, start, arrowprops={**how, "color": SOFT, "linewidth": 0.5}, annotation_clip=False
    )


def _write(axes: Axes, x: float, y: float, text: str, **how: Any) -> None:
    axes.text(x, y, text, **{"fontsize": SMALL, "va": "center_baseline", **how})
