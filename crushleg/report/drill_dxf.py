"""The drilling layout as DXF in millimetres; needs the extra ``dxf`` (ezdxf)."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from crushleg.errors import InputError, Problem
from crushleg.report.style import POINT

if TYPE_CHECKING:
    from crushleg.report.drill_layout import Layout, Outline

VERSION, MILLIMETRES, METRIC = "R2010", 4, 1
LAYERS = {
    "edge": ("OUTLINE", 7, "CONTINUOUS"),
    "foot": ("FOOT", 7, "CONTINUOUS"),
    "bend": ("BEND", 5, "DASHED"),
    "step": ("WALL_STEP", 5, "DASHED"),
    "centre": ("CENTRE", 8, "CONTINUOUS"),
    "leader": ("TEXT", 8, "CONTINUOUS"),
    "bar": ("SCALE", 7, "CONTINUOUS"),
}
"""Kind of line -> layer, colour index, line type."""
HOLES, TEXT = "HOLES", "TEXT"
CAP = 0.73
"""Height of a capital letter over the type size, DejaVu Sans."""
CORNERS = ((-1, -1), (1, -1), (1, 1), (-1, 1))
HALF_TURN = 1.0
"""Bulge of a half circle: tan(180°/4)."""


def need_ezdxf() -> None:
    """Refuse, before anything is computed, when the package is missing.

    Raises
    ------
    InputError
        What to install.
    """
    try:
        import ezdxf  # noqa: F401, PLC0415 - an optional extra, asked for only here
    except ImportError:
        read = "--dxf without the package ezdxf"
        raise InputError([Problem(read=read, write='pip install "crushleg[dxf]"')]) from None


def dxf(layout: Layout) -> bytes:
    """DXF of a layout: holes as CIRCLE or closed LWPOLYLINE on the layer HOLES.

    Parameters
    ----------
    layout : Layout

    Returns
    -------
    bytes
        UTF-8, drawing units millimetres.
    """
    from ezdxf.enums import TextEntityAlignment  # noqa: PLC0415 - an optional extra
    from ezdxf.filemanagement import new  # noqa: PLC0415 - an optional extra

    document = new(VERSION, setup=["linetypes"])
    document.units = MILLIMETRES
    document.header["$MEASUREMENT"] = METRIC
    for layer, colour, dashes in dict.fromkeys(LAYERS.values()):
        if layer not in document.layers:
            document.layers.add(layer, color=colour, linetype=dashes)
    document.layers.add(HOLES, color=1)
    space = document.modelspace()
    for line in layout.lines:
        ends = (line.x1, line.y1), (line.x2, line.y2)
        space.add_line(*ends, dxfattribs={"layer": LAYERS[line.kind][0]})
    for one in layout.holes:
        _hole(space, one)
    align = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }
    for words in layout.words:
        height = CAP * words.size * POINT
        text = space.add_text(words.text, height=height, dxfattribs={"layer": TEXT})
        text.set_placement((words.x, words.y), align=align[words.anchor])
    document.header["$EXTMIN"] = (0.0, 0.0, 0.0)
    document.header["$EXTMAX"] = (layout.width, layout.height, 0.0)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode(document.output_encoding)


def _hole(space: Any, one: Outline) -> None:
    hole, layer = one.hole, {"layer": HOLES}
    if hole.round:
        space.add_circle((one.x, one.y), 1e3 * hole.radius, dxfattribs=layer)
        return
    points = corners(one)
    space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=layer)


def corners(one: Outline) -> list[tuple[float, float, float]]:
    """Corners x, y [mm] and bulge of a slot or rectangle, counter-clockwise."""
    hole = one.hole
    w, h = 5e2 * hole.size, 5e2 * hole.along
    if not hole.radius:
        return [(one.x + i * w, one.y + j * h, 0.0) for i, j in CORNERS]
    if h >= w:
        h -= w
        bulges = (HALF_TURN, 0.0, HALF_TURN, 0.0)
    else:
        w -= h
        bulges = (0.0, HALF_TURN, 0.0, HALF_TURN)
    places = zip(CORNERS, bulges, strict=True)
    return [(one.x + i * w, one.y + j * h, bulge) for (i, j), bulge in places]
