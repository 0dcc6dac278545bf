"""Layout of the girder's figure: the largest standard scale at which faces and texts fit."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from crushleg.report.plot_geometry import row_text, wall_segments
from crushleg.report.plot_labels import height_of, width_of
from crushleg.report.plot_sheet import EDGE, PAGE
from crushleg.report.style import SMALL, number
from crushleg.report.words import drawn

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.check import Checked
    from crushleg.report.plot_geometry import Face

TALLEST = 195.0
LEAD, PAD, FOLDS = 3.5, 2.0, 9.0
BEFORE, APART = 7.0, 4.0
HEADS = ("height", "row, ligament")
REDUCED, ENLARGED = (1.0, 2.0, 2.5, 5.0), (1.0, 2.0, 5.0)
"""Standard scales 1 : n and n : 1, times powers of ten (ISO 5455; 1 : 2.5 common practice)."""


class Layout(NamedTuple):
    """Scale, text between size and ligament, widths [mm] beside each face.

    ``scale`` is mm of paper per metre of girder, ``ratio`` its name, "1 : 5".
    """

    scale: float
    ratio: str
    joint: str
    beside: list[tuple[float, float]]
    used: float


def fitted_layout(checked: Checked, shown: Sequence[Face], unit: str) -> Layout:
    """Largest scale that fits; beside two faces the ligament stands under the size if it can."""
    length = checked.case.girder.length
    wide = sum(face.width for face in shown)
    walls = (f"wall {number(t, unit)} {unit}" for _, _, t in wall_segments(checked.crush))
    right = APART + FOLDS + 3.5 + max(width_of(text, size=SMALL) for text in walls)
    found = []
    for joint in ("\n", ", "):
        beside = [_columns(face, unit, joint) for face in shown]
        texts = BEFORE + sum(map(sum, beside)) + right
        room = min((PAGE - 2.0 * EDGE - texts) / wide, TALLEST / length)
        scale, ratio = standard_scale(room)
        found.append(Layout(scale, ratio, joint, beside, texts + scale * wide))
    tall = height_of(".\n.", SMALL) * max(len(face.rows) for face in shown)
    return found[0] if len(shown) > 1 and tall <= found[0].scale * length else found[1]


def standard_scale(most: float) -> tuple[float, str]:
    """Largest standard scale of at most so many mm of paper per metre, and its name.

    >>> standard_scale(317.0), standard_scale(1000.0), standard_scale(2400.0)
    ((200.0, '1 : 5'), (1000.0, '1 : 1'), (2000.0, '2 : 1'))
    """
    powers = [10.0**k for k in range(7)]
    scales = {1e3 * n * p: f"{n * p:g} : 1" for p in powers for n in ENLARGED}
    scales |= {1e3 / (n * p): f"1 : {n * p:g}" for p in powers for n in REDUCED}
    scale = max(s for s in scales if s <= most * (1.0 + 1e-9))
    return scale, scales[scale]


def _columns(face: Face, unit: str, joint: str) -> tuple[float, float]:
    """Widths [mm] that the texts left and right of a face take."""
    if not face.rows:
        return 3.0, width_of("no holes", size=SMALL) + PAD
    heights = [HEADS[0], *(drawn(one.row.height, unit) for one in face.rows)]
    before = max(width_of(text, size=SMALL) for text in heights) + LEAD + 1.6
    after = [part for one in face.rows for part in row_text(one, unit, joint).split("\n")]
    head = width_of(HEADS[1], size=SMALL)
    widest = max([head, *(width_of(text, size=SMALL, bold=True) for text in after)])
    return before, widest + LEAD + PAD
