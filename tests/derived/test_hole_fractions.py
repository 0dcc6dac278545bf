"""What holes take from a fold, against a second computation [D].

The second computation counts: the plastic work of the folding mechanism is integrated over the
true outline of every hole, point in or out, and shares nothing with the code but the mechanism:
fold centres p anywhere within ± H; horizontal hinges at p − H, p, p + H (¼, ½, ¼ of their work);
corner surface out from each corner along the line p, at x = H sin α, with rate
sin(β/2) + 1 − cos(β/2), tan β = √2 tan α; inclined hinges through x = (H − |ζ|) sin α, z = p + ζ,
of length √(1 + sin² α).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.case.records import Row
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.crossing import Hole
from crushleg.girder.front import folding_front
from crushleg.girder.hinges import corner_share, hinge_share, sweep_share
from tests.samples import dunlin, girder, mm

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.case.records import Girder

FACES = ("front-back", "left-right")
PHASES, POINTS = 120, 160


@pytest.mark.parametrize(
    ("ratio", "hinge", "sweep", "corner", "left"),
    [
        (0.2, 0.10, 0.0, 0.0, 0.9655),
        (0.3, 0.15, 0.0, 0.0, 0.9473),
        (0.4, 0.20, 0.0024, 0.1347, 0.8839),
        (0.5, 0.25, 0.0281, 0.4112, 0.7543),
        (0.6, 0.30, 0.0819, 0.6287, 0.6203),
    ],
)
def test_a_fold_centred_on_a_row_loses_the_shares_worked_by_hand(
    ratio: float, hinge: float, sweep: float, corner: float, left: float
) -> None:
    """H/C 0.32, four walls, one hole each.

    φh = ½ d/C; φs and φc by adaptive quadrature over height and travel, and by counting
    4000 × 4000 points of the true outline: both agree to the digits given.
    """
    hole = Hole(*(np.array(v) for v in (0.0, 0.0, ratio, ratio, 0.5 * ratio, 1.0)))
    p, half = np.array(0.0), np.array(0.32)
    found = [float(share(p, half, hole)) for share in (hinge_share, sweep_share, corner_share)]
    assert_allclose(found, [hinge, sweep, corner], atol=2e-4)
    assert_allclose(np.prod([1.0 - f for f in found]) ** (1 / 3), left, atol=2e-4)


def cut_away(rows: tuple[Row, ...], face: str, x: FloatArray, z: FloatArray) -> BoolArray:
    """Whether points of a face (x from its middle) lie in a hole: straight from the drawing."""
    inside = np.zeros(np.broadcast(x, z).shape, dtype=bool)
    for row in rows:
        if row.faces not in ("all", face):
            continue
        a, b = 0.5 * row.size, 0.5 * (row.size_along or row.size)
        for i in range(row.per_face):
            dx = np.abs(x - row.offset - (i - (row.per_face - 1) / 2) * row.spacing)
            dz = np.abs(z - row.height)
            if row.shape == "rectangle":
                inside |= (dx < a) & (dz < b)
                continue
            r = min(a, b)
            inside |= np.hypot(np.maximum(dx - (a - r), 0.0), np.maximum(dz - (b - r), 0.0)) < r
    return inside


def middles(count: int) -> FloatArray:
    return (np.arange(count) + 0.5) / count


def hinge_lost(record: Girder, centres: FloatArray, half: float, side: float) -> float:
    x = (middles(2000) - 0.5) * side
    lost = 0.0
    for shift, work in ((-1.0, 0.25), (0.0, 0.5), (1.0, 0.25)):
        for face in FACES:
            z = (centres + shift * half)[:, None]
            lost += 0.5 * work * float(np.mean(cut_away(record.holes.rows, face, x[None, :], z)))
    return lost


def corner_lost(record: Girder, centres: FloatArray, half: float, side: float) -> float:
    alpha = 0.5 * np.pi * middles(4000)
    beta = np.arctan(np.sqrt(2.0) * np.tan(alpha))
    rate = np.cos(alpha) * (np.sin(0.5 * beta) + 1.0 - np.cos(0.5 * beta))
    out = -0.5 * side + half * np.sin(alpha)
    total = 0.0
    for face in FACES:
        for x in (out, -out):
            hit = cut_away(record.holes.rows, face, x[None, :], centres[:, None])
            total += 0.25 * float(np.mean(hit @ rate) / rate.sum())
    return total


def sweep_lost(record: Girder, centres: FloatArray, half: float, side: float) -> float:
    u = middles(POINTS)[:, None]
    zeta = half * (2.0 * middles(POINTS) - 1.0)[None, :]
    rate = np.broadcast_to(np.sqrt(1.0 + u * u), (POINTS, POINTS))
    out = -0.5 * side + u * (half - np.abs(zeta))
    total = 0.0
    for face in FACES:
        for x in (out, -out):
            for p in centres:
                total += float(np.sum(rate[cut_away(record.holes.rows, face, x, p + zeta)]))
    return 0.25 * total / (centres.size * float(rate.sum()))


def slots(size: float, along: float, **fields: object) -> Girder:
    row = Row(height=0.5, size=size * mm, size_along=along * mm, **fields)  # type: ignore[arg-type]
    return girder(row)


PATTERNS = {
    "centred": (girder(Row(height=0.5, size=80 * mm)), 0.5),
    "centred, window beside": (girder(Row(height=0.5, size=80 * mm)), 0.53),
    "offset": (girder(Row(height=0.5, size=60 * mm, offset=25 * mm)), 0.49),
    "several per face": (girder(Row(height=0.5, size=25 * mm, per_face=4, spacing=32 * mm)), 0.5),
    "slot along": (slots(30, 90, shape="slot", offset=40 * mm), 0.52),
    "slot across": (slots(100, 25, shape="slot"), 0.5),
    "rectangle": (slots(90, 40, shape="rectangle"), 0.49),
    "two faces": (girder(Row(height=0.5, size=90 * mm, faces="front-back")), 0.5),
    "staggered": (
        girder(
            *(
                Row(
                    height=(440 + 40 * i) * mm,
                    size=30 * mm,
                    per_face=2,
                    spacing=60 * mm,
                    offset=(15 if i % 2 else -15) * mm,
                )
                for i in range(4)
            )
        ),
        0.5,
    ),
    "first row": (dunlin(), 0.02),
    "last row": (girder(Row(height=0.94, size=90 * mm)), 0.99),
}


@pytest.mark.parametrize("name", list(PATTERNS))
def test_phase_averages_match_the_counted_mechanism(name: str) -> None:
    record, height = PATTERNS[name]
    front = folding_front(girder_arrays([record], [0.0]))
    cell = int(np.argmin(np.abs(front.z[0] - height)))
    half, z, side = float(front.walls.half[0, cell]), float(front.z[0, cell]), 136 * mm
    z = min(max(z, 2.0 * half), record.length - 2.0 * half)
    centres = z + half * (2.0 * middles(PHASES) - 1.0)
    shares = front.shares
    found = [
        shares.hinge[0, cell],
        shares.sweep[:, 0, cell].mean(),
        shares.corner[:, 0, cell].mean(),
    ]
    counted = [f(record, centres, half, side) for f in (hinge_lost, sweep_lost, corner_lost)]
    assert_allclose(found, counted, rtol=0.02, atol=5e-4)
    kept = np.prod([1.0 - c for c in counted]) ** (1 / 3)
    assert_allclose(front.ratio[0, cell], kept, rtol=2e-3)


def test_each_pair_of_walls_has_its_own_sweep_and_corner() -> None:
    record, height = PATTERNS["two faces"]
    front = folding_front(girder_arrays([record], [0.0]))
    cell = int(np.argmin(np.abs(front.z[0] - height)))
    assert front.shares.corner[0, 0, cell] > 0.2
    assert front.shares.corner[1, 0, cell] == 0.0
    assert front.shares.sweep[1, 0, cell] == 0.0
