"""Faces of several girders side by side to one scale, foot at the bottom."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from matplotlib.collections import PolyCollection
from matplotlib.patches import Rectangle

from crushleg.report.plot_compare_curves import chosen
from crushleg.report.plot_geometry import faces, outlines, wall_segments
from crushleg.report.plot_labels import LEADING, SMALL, fitted
from crushleg.report.plot_layout import standard_scale
from crushleg.report.style import EDGE, INK, PAGE, SOFT, number, place, sheet, styled
from crushleg.report.words import drawn, small_length
from crushleg.units import show

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.design.compare import Compared, Comparison
    from crushleg.report.plot_geometry import Face

ACROSS = 6
TALLEST = 101.0
ABOVE, BELOW, GAP = 10.5, 11.0, 3.0
THIN, THICK = 0.94, 0.78


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
        tall = ABOVE + scale * longest + BELOW
        few = f"; {len(shown)} of {len(comparison.compared)}"
        unit = small_length(system)
        what = f"Girder faces, foot down, {ratio} on paper {PAGE:g} mm wide, hole sizes ({unit})"
        what += few * (len(shown) < len(comparison.compared))
        figure = sheet(comparison.first, what, tall * len(rows))
        axes = place(figure, 0.0, 0.0, PAGE, tall * len(rows))
        axes.set(xlim=(0.0, PAGE), ylim=(0.0, tall * len(rows)))
        axes.set_axis_off()
        thickest = max(t for one in shown for _, _, t in wall_segments(one.checked.crush))
        for down, row in enumerate(rows):
            foot = tall * (len(rows) - 1 - down) + BELOW
            for k, one in enumerate(row):
                middle = EDGE + slot * (k + 0.5)
                _girder(axes, one, (middle, foot), (scale, slot), thickest)
                _texts(axes, one, (middle, foot), (scale, slot), system)
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
                    facecolor=str(THIN + (THICK - THIN) * t / thickest),
                )
            )
            if bottom > 0.0:
                axes.plot([x, x + width], [foot + scale * bottom] * 2, color=INK, linewidth=0.7)
        axes.add_patch(
            Rectangle((x, foot), width, length, fill=False, edgecolor=INK, linewidth=0.8)
        )
        holes = [
            [x + 0.5 * width, foot] + scale * hole for r in face.rows for hole in outlines(r.row)
        ]
        axes.add_collection(
            PolyCollection(
                holes, facecolor="white", edgecolor=INK, linewidth=0.6, gid=f"holes {one.name}"
            )
        )
        axes.plot([x - 1.0, x + width + 1.0], [foot, foot], color=INK, linewidth=1.5)
        if len(shown) > 1:
            side = face.name.partition(" ")[0]
            _write(axes, x + 0.5 * width, foot + length + 1.8, side, color=SOFT, gid="side")
        x += width + GAP


def _texts(
    axes: Axes, one: Compared, at: tuple[float, float], size: tuple[float, float], system: str
) -> None:
    """Name above; walls, law and mass below the foot."""
    (middle, foot), (scale, slot) = at, size
    girder = one.checked.case.girder
    above = foot + scale * girder.length + (4.0 if len(_faces(one)) > 1 else 1.8)
    name = fitted(one.name, slot - 2.0, size=SMALL, bold=True, lines=2)
    _write(axes, middle, above, name, weight="bold", va="bottom")
    unit = small_length(system)
    walls = " / ".join(number(t, unit) for _, _, t in wall_segments(one.checked.crush))
    lines = [
        f"wall {walls} {unit}",
        _pattern(one, unit),
        show(one.merit.mass, "mass", system),
    ]
    below = "\n".join(fitted(line, slot - 2.0, size=SMALL, lines=1) for line in lines)
    _write(axes, middle, foot - 1.4, below, va="top", color=SOFT)


def _pattern(one: Compared, unit: str) -> str:
    """Law of the holes with the sizes at foot and top."""
    holes = one.checked.case.girder.holes
    if not holes.rows:
        return "no holes"
    ends = dict.fromkeys(drawn(row.size, unit) for row in (holes.rows[0], holes.rows[-1]))
    return f"{holes.law} {' to '.join(ends)}"


def _write(axes: Axes, x: float, y: float, text: str, **how: Any) -> None:
    axes.text(x, y, text, **{"fontsize": SMALL, "ha": "center", "linespacing": LEADING, **how})
