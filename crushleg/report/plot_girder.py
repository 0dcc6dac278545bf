"""Faces of the girder to scale, with rows, ligaments, wall, and the folds in their order."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from matplotlib.collections import PolyCollection
from matplotlib.patches import Rectangle

from crushleg.report.plot_geometry import (
    faces,
    fold_bands,
    least_ligament,
    outlines,
    row_text,
    wall_segments,
)
from crushleg.report.plot_labels import height_of, spread
from crushleg.report.plot_layout import APART, BEFORE, FOLDS, HEADS, LEAD, PAD, fitted_layout
from crushleg.report.plot_sheet import PAGE, paper_wide, place, sheet
from crushleg.report.style import (
    BOLD,
    EDGE_LINE,
    FINE,
    GUIDE,
    HAIR,
    INK,
    LEADING,
    LIMIT,
    ORDER,
    SMALL,
    SOFT,
    THIN,
    WALL,
    WHITE,
    grey,
    number,
    styled,
)
from crushleg.report.words import drawn

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.check import Checked
    from crushleg.report.plot_geometry import Face

ABOVE, BELOW = 15.0, 14.5
LEAST_BAND = 2.4


class Paper(NamedTuple):
    """Axes in mm of paper, mm of paper per metre of girder, unit of lengths, text between."""

    axes: Axes
    scale: float
    unit: str
    joint: str


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
        shown, length = faces(checked.case.girder, checked.crush), checked.case.girder.length
        layout = fitted_layout(checked, shown, unit)
        scale = layout.scale
        body = BELOW + scale * length + ABOVE
        what = (
            f"Girder faces, {layout.ratio} on paper {paper_wide(system)} wide, dimensions ({unit})"
        )
        figure = sheet(checked, what, body)
        axes = place(figure, 0.0, 0.0, PAGE, body)
        axes.set(xlim=(0.0, PAGE), ylim=(-BELOW, body - BELOW))
        axes.set_axis_off()
        paper = Paper(axes, scale, unit, layout.joint)
        x = 0.5 * (PAGE - layout.used) + BEFORE
        _length_dimension(paper, x, length)
        for face, (before, after) in zip(shown, layout.beside, strict=True):
            _face(paper, face, x + before, checked)
            x += before + scale * face.width + after
        _folds(paper, x + APART, checked)
        _notes(paper, checked, bold=any(least_ligament(face) for face in shown))
        _walls(paper, x + APART + FOLDS, checked)
    return figure


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
            facecolor=WHITE,
            zorder=3,
            gid=f"holes {face.name}",
            **EDGE_LINE,
        )
    )
    _row_texts(paper, face, x, width, length)
    _write(axes, middle, length + 9.5, face.name, weight="bold", ha="center")
    _arrow(axes, (x, length + 3.0), (x + width, length + 3.0))
    _write(axes, middle, length + 5.6, drawn(face.width, paper.unit), ha="center")
    axes.plot([x - 2.5, x + width + 2.5], [0.0, 0.0], color=INK, linewidth=BOLD, zorder=4)
    _write(axes, middle, -3.2, "FOOT", weight="bold", ha="center")
    if not face.rows:
        _write(axes, x + width + PAD, 0.5 * length, "no holes", color=SOFT)


def _plates(paper: Paper, x: float, width: float, checked: Checked) -> None:
    """Face, darker where the wall is thicker, its outline, and the ends of the corner radii."""
    axes, k = paper.axes, paper.scale
    segments = wall_segments(checked.crush)
    thinnest = min(t for _, _, t in segments)
    range_ = max(t for _, _, t in segments) - thinnest or 1.0
    for bottom, top, t in segments:
        axes.add_patch(
            Rectangle(
                (x, k * bottom),
                width,
                k * (top - bottom),
                linewidth=0.0,
                zorder=1,
                facecolor=grey((t - thinnest) / range_, WALL),
            )
        )
        if bottom > 0.0:
            axes.plot([x, x + width], [k * bottom] * 2, color=INK, linewidth=FINE, zorder=2)
    length, radius = k * checked.case.girder.length, k * checked.case.girder.corner_radius
    for at in (x + radius, x + width - radius):
        axes.plot([at, at], [0.0, length], zorder=2, **GUIDE)
    axes.add_patch(Rectangle((x, 0.0), width, length, fill=False, zorder=2.5, **EDGE_LINE))


def _row_texts(paper: Paper, face: Face, x: float, width: float, length: float) -> None:
    """Heights left, holes and ligaments right; not every row when they stand too close."""
    if not face.rows:
        return
    axes, tall = paper.axes, height_of(f".{paper.joint}.", SMALL)
    every = max(1, int(np.ceil(len(face.rows) * tall / (length + 2.0))))
    least = least_ligament(face)
    kept = [one for i, one in enumerate(face.rows) if i % every == 0 or one is least]
    wanted = [paper.scale * one.row.height for one in kept]
    at = spread(wanted, [tall] * len(kept), -1.0, max(length, tall * len(kept) - 1.0) + 1.0)
    lead: dict[str, Any] = {"color": SOFT, "linewidth": HAIR, "zorder": 2}
    left, right = x - LEAD - 0.6, x + width + LEAD + 0.6
    for one, z, y in zip(kept, wanted, at, strict=True):
        axes.plot([x - LEAD, x - 0.6, x], [y, z, z], **lead)
        axes.plot([x + width, x + width + 0.6, x + width + LEAD], [z, z, y], **lead)
        _write(axes, left, y, drawn(one.row.height, paper.unit), ha="right")
        weight = "bold" if one is least else "normal"
        _write(axes, right, y, row_text(one, paper.unit, paper.joint), weight=weight)
    _write(axes, left, length + 3.0, HEADS[0], ha="right", color=SOFT)
    _write(axes, right, length + 3.0, HEADS[1], color=SOFT)
    if every > 1:
        _write(axes, right, length + 5.8, f"1 row in {every}:", color=SOFT)


def _folds(paper: Paper, x: float, checked: Checked) -> None:
    """Numbered bands of the folds, the first the darkest."""
    axes, k = paper.axes, paper.scale
    bands = fold_bands(checked.crush)
    last = max(band.order for band in bands)
    boxes, shades = [], []
    for band in bands:
        low, high = k * band.bottom, k * band.top
        boxes.append([(x, low), (x + FOLDS, low), (x + FOLDS, high), (x, high)])
        shades.append(grey((band.order - 1.0) / max(last - 1.0, 1.0), ORDER))
        if high - low >= LEAST_BAND:
            _write(
                axes, x + 0.5 * FOLDS, 0.5 * (low + high), f"{band.order}", ha="center", zorder=3
            )
    axes.add_collection(
        PolyCollection(boxes, facecolor=shades, edgecolor=WHITE, linewidth=THIN, gid="folds")
    )
    length = k * checked.case.girder.length
    axes.add_patch(Rectangle((x, 0.0), FOLDS, length, fill=False, edgecolor=SOFT, linewidth=THIN))
    _write(axes, x + 0.5 * FOLDS, length + 3.0, "folds", ha="center", color=SOFT)


def _notes(paper: Paper, checked: Checked, *, bold: bool) -> None:
    """Order of the folds, which have no number, and what bold means; one line each."""
    foot = bool(checked.crush.sequence.from_foot[0])
    order = "in the order of collapse" if foot else "by least work: NOT in order from the foot"
    thin = any(
        paper.scale * (band.top - band.bottom) < LEAST_BAND for band in fold_bands(checked.crush)
    )
    notes = [
        f"folds numbered {order}",
        *(["a piece too thin for its number has the shade of its fold"] if thin else []),
        *(["bold: least ligament of the face"] if bold else []),
    ]
    how = {"ha": "center", "va": "top", "color": SOFT if foot else LIMIT}
    _write(paper.axes, 0.5 * PAGE, -5.4, "\n".join(notes), **how)


def _walls(paper: Paper, x: float, checked: Checked) -> None:
    """Thickness of every wall segment, and the height where the next begins."""
    for bottom, top, t in wall_segments(checked.crush):
        low, high = paper.scale * bottom, paper.scale * top
        _arrow(paper.axes, (x + 1.8, low), (x + 1.8, high))
        text = f"wall {number(t, paper.unit)} {paper.unit}"
        _write(paper.axes, x + 3.2, 0.5 * (low + high), text)
        if bottom > 0.0:
            _write(paper.axes, x + 3.2, low, f"from {drawn(bottom, paper.unit)}", color=SOFT)


def _length_dimension(paper: Paper, x: float, length: float) -> None:
    """Overall length, left of everything else."""
    top = paper.scale * length
    at = x - 3.0
    _arrow(paper.axes, (at, 0.0), (at, top))
    _write(
        paper.axes,
        at - 1.8,
        0.5 * top,
        drawn(length, paper.unit),
        rotation=90.0,
        ha="center",
        bbox={"facecolor": WHITE, "edgecolor": "none", "pad": 0.4},
    )


def _arrow(axes: Axes, start: tuple[float, float], end: tuple[float, float]) -> None:
    how = {"arrowstyle": "<|-|>,head_width=0.12,head_length=0.3", "shrinkA": 0.0, "shrinkB": 0.0}
    axes.annotate(
        "", end, start, arrowprops={**how, "color": SOFT, "linewidth": THIN}, annotation_clip=False
    )


def _write(axes: Axes, x: float, y: float, text: str, **how: Any) -> None:
    axes.text(x, y, text, **{"fontsize": SMALL, "va": "center", "linespacing": LEADING, **how})
