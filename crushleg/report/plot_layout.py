"""Layout of the girder's figure: the largest scale at which faces and their texts fit."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from crushleg.report.plot_geometry import dimension, row_text, wall_segments
from crushleg.report.plot_labels import SMALL, height_of, width_of
from crushleg.report.style import EDGE, PAGE, number

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.check import Checked
    from crushleg.report.plot_geometry import Face

TALLEST = 195.0
LEAD, PAD, FOLDS = 3.5, 2.0, 9.0
BEFORE, APART = 7.0, 4.0


class Layout(NamedTuple):
    """Paper per metre of girder, text between size and web, widths [mm] beside each face."""

    scale: float
    joint: str
    beside: list[tuple[float, float]]
    used: float


def fitted_layout(checked: Checked, shown: Sequence[Face], unit: str) -> Layout:
    """Largest scale that fits; beside two faces the web stands under the size if rows allow."""
    length = checked.case.girder.length
    wide = sum(face.width for face in shown)
    walls = (f"wall {number(t, unit)} {unit}" for _, _, t in wall_segments(checked.crush))
    right = APART + FOLDS + 3.5 + max(width_of(text, size=SMALL) for text in walls)
    found = []
    for joint in ("\n", ", "):
        beside = [_columns(face, unit, joint) for face in shown]
        texts = BEFORE + sum(map(sum, beside)) + right
        scale = min((PAGE - 2.0 * EDGE - texts) / wide, TALLEST / length)
        found.append(Layout(scale, joint, beside, texts + scale * wide))
    tall = height_of(".\n.", SMALL) * max(len(face.rows) for face in shown)
    return found[0] if len(shown) > 1 and tall <= found[0].scale * length else found[1]


def _columns(face: Face, unit: str, joint: str) -> tuple[float, float]:
    """Widths [mm] that the texts left and right of a face take."""
    if not face.rows:
        return 3.0, width_of("no holes", size=SMALL) + PAD
    heights = [dimension(one.row.height, unit) for one in face.rows]
    before = max([8.0, *(width_of(text, size=SMALL) for text in heights)]) + LEAD + 1.0
    after = [part for one in face.rows for part in row_text(one, unit, joint).split("\n")]
    widest = max([14.0, *(width_of(text, size=SMALL, bold=True) for text in after)])
    return before, widest + LEAD + PAD
