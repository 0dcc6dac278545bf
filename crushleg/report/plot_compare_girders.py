"""Faces of several girders side by side to one scale, foot at the bottom."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from matplotlib.collections import PolyCollection
from matplotlib.patches import Rectangle

from crushleg.report.plot_compare_curves import chosen, name_in
from crushleg.report.plot_geometry import faces, outlines, wall_segments
from crushleg.report.plot_labels import fitted, height_of
from crushleg.report.plot_layout import standard_scale
from crushleg.report.plot_sheet import EDGE, PAGE, paper_wide, place, sheet
from crushleg.report.style import (
    BOLD,
    EDGE_LINE,
    FINE,
    INK,
    LEADING,
    SMALL,
    SOFT,
    WALL,
    WHITE,
    grey,
    number,
    styled,
)
from crushleg.report.words import drawn, small_length
from crushleg.units import show

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.design.compare import Compared, Comparison
    from crushleg.report.plot_geometry import Face

ACROSS = 6
TALLEST = 101.0
ABOVE, BELOW, GAP = 10.5, 2.0, 3.0


def faces_figure(comparison: Comparison, system: str = "si") -> Figure:
    """Faces of every girder to one scale, its holes, wall and mass.

    Parameters
    ----------
    comparison : Comparison
    system : str, optional
        Units of display, "si" or "us".

    Returns
    -------
    Figure
        Its axes are in millimetres of paper, alike in both directions.
    """
    with styled():
        shown = chosen(comparison)
        rows = [shown[i : i + ACROSS] for i in range(0, len(shown), ACROSS)]
        longest = max(one.checked.case.girder.length for one in shown)
        every = [_faces(one) for one in shown]
        slot = (PAGE - 2.0 * EDGE) / max(map(len, rows))
        wide = max(sum(face.width for face in both) for both in every)
        both = max(map(len, every))
        room = min((slot - 3.0 - GAP * (both - 1)) / wide, TALLEST / longest)
        scale, ratio = standard_scale(room)
        names = [_fitted(name_in(comparison, one, system), slot, bold=True) for one in shown]
        below = [_below(one, slot, system) for one in shown]
        under = BELOW + max(height_of(text, SMALL) for text in below)
        tall = ABOVE + scale * longest + under
        few = f"; {len(shown)} of {len(comparison.compared)}"
        unit = small_length(system)
        what = f"Girder faces, foot down, {ratio} on paper {paper_wide(system)} wide"
        what += f", hole sizes ({unit})"
        what += few * (len(shown) < len(comparison.compared))
        figure = sheet(comparison.first, what, tall * len(rows))
        axes = place(figure, 0.0, 0.0, PAGE, tall * len(rows))
        axes.set(xlim=(0.0, PAGE), ylim=(0.0, tall * len(rows)))
        axes.set_axis_off()
        thickest = max(t for one in shown for _, _, t in wall_segments(one.checked.crush))
        for down, row in enumerate(rows):
            foot = tall * (len(rows) - 1 - down) + under
            for k, one in enumerate(row):
                middle = EDGE + slot * (k + 0.5)
                _girder(axes, one, (middle, foot), (scale, slot), thickest)
                texts = names[down * ACROSS + k], below[down * ACROSS + k]
                _texts(axes, one, (middle, foot), scale, texts)
    return figure


def _faces(one: Compared) -> list[Face]:
    return faces(one.checked.case.girder, one.checked.crush)


def _girder(
    axes: Axes,
    one: Compared,
    at: tuple[float, float],
    size: tuple[float, float],
    thickest: float,
) -> None:
    """Faces of one girder around a middle; darker where the wall is thicker."""
    (middle, foot), scale = at, size[0]
    shown, length = _faces(one), scale * one.checked.case.girder.length
    whole = scale * sum(face.width for face in shown) + GAP * (len(shown) - 1)
    x = middle - 0.5 * whole
    for face in shown:
        width = scale * face.width
        for bottom, top, t in wall_segments(one.checked.crush):
            axes.add_patch(
                Rectangle(
                    (x, foot + scale * bottom),
                    width,
                    scale * (top - bottom),
                    linewidth=0.0,
                    facecolor=grey(t / thickest, WALL),
                )
            )
            if bottom > 0.0:
                axes.plot([x, x + width], [foot + scale * bottom] * 2, color=INK, linewidth=FINE)
        axes.add_patch(Rectangle((x, foot), width, length, fill=False, **EDGE_LINE))
        holes = [
            [x + 0.5 * width, foot] + scale * hole for r in face.rows for hole in outlines(r.row)
        ]
        axes.add_collection(
            PolyCollection(holes, facecolor=WHITE, gid=f"holes {one.name}", **EDGE_LINE)
        )
        axes.plot([x - 1.0, x + width + 1.0], [foot, foot], color=INK, linewidth=BOLD)
        if len(shown) > 1:
            side = face.name.partition(" ")[0]
            _write(axes, x + 0.5 * width, foot + length + 1.8, side, color=SOFT, gid="side")
        x += width + GAP


def _texts(
    axes: Axes, one: Compared, at: tuple[float, float], scale: float, texts: tuple[str, str]
) -> None:
    """Name above; walls, law and mass below the foot."""
    middle, foot = at
    length = scale * one.checked.case.girder.length
    above = foot + length + (4.0 if len(_faces(one)) > 1 else 1.8)
    _write(axes, middle, above, texts[0], weight="bold", va="bottom")
    _write(axes, middle, foot - 1.4, texts[1], va="top", color=SOFT)


def _below(one: Compared, slot: float, system: str) -> str:
    """Walls, law with sizes, and mass, in lines as wide as the slot [mm]."""
    unit = small_length(system)
    walls = " / ".join(number(t, unit) for _, _, t in wall_segments(one.checked.crush))
    mass = show(one.merit.mass, "mass", system)
    lines = f"wall {walls} {unit}", *_pattern(one, unit), mass
    return "\n".join(_fitted(line, slot) for line in lines)


def _fitted(text: str, slot: float, *, bold: bool = False) -> str:
    return fitted(text, slot - 2.0, size=SMALL, bold=bold, lines=2)


def _pattern(one: Compared, unit: str) -> list[str]:
    """Law of the holes with the sizes at foot and top."""
    holes = one.checked.case.girder.holes
    if not holes.rows:
        return ["no holes"]
    ends = dict.fromkeys(drawn(row.size, unit) for row in (holes.rows[0], holes.rows[-1]))
    return [holes.law, " to ".join(ends)]


def _write(axes: Axes, x: float, y: float, text: str, **how: Any) -> None:
    axes.text(x, y, text, **{"fontsize": SMALL, "ha": "center", "linespacing": LEADING, **how})
