"""From records of a case to arrays of girders."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.girder.buckling import stagger_factor
from crushleg.girder.holes import corner_radius
from crushleg.girder.pattern import Girders, nominal
from crushleg.girder.strength import girder_strengths

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Girder, Row

SAME_HEIGHT = 1e-9


def girder_arrays(girders: Sequence[Girder], speed: Sequence[float]) -> Girders:
    """Stack girder records, padding holes, zones and wall segments.

    Parameters
    ----------
    girders : sequence of Girder
    speed : sequence of float
        Vertical speed for the strain-rate factor, one per girder [m/s].

    Returns
    -------
    Girders
    """
    banded = any(g.band for g in girders)
    strengths = [girder_strengths(g, v) for g, v in zip(girders, speed, strict=True)]
    walls = [_walls(g) for g in girders]
    holes = [_holes(g) for g in girders]

    def each(of: str) -> FloatArray:
        return np.array([getattr(g, of) for g in girders], dtype=np.float64)

    def level(index: int) -> FloatArray:
        found = np.stack([s[index] for s in strengths], axis=1)
        return found if banded else np.repeat(nominal(found)[None], len(found), axis=0)

    def hole(index: int, fill: float = 0.0) -> FloatArray:
        return _padded([[h[index] for h in found] for found in holes], fill)

    tests = [g.correlation for g in girders]
    crests = ("low", "nominal", "high") if banded else ("nominal",) * 3
    return Girders(
        width=each("width"),
        depth=each("depth"),
        length=each("length"),
        corner_radius=each("corner_radius"),
        wall_start=_padded([[s for s, _ in w] for w in walls], np.inf),
        wall=_padded([[t for _, t in w] for w in walls], None),
        height=hole(0),
        offset=hole(1),
        across=hole(2),
        along=hole(3),
        corner=hole(4),
        stagger=hole(5, 1.0),
        pairs=np.stack([hole(6), hole(7)]),
        zones=_padded([zone_heights(g) for g in girders], np.inf),
        yield_compression=level(0),
        yield_tension=level(1),
        ultimate=level(2),
        flow_stress=level(3),
        youngs_modulus=np.array([g.material.youngs_modulus for g in girders]),
        poisson_ratio=np.array([g.material.poisson_ratio for g in girders]),
        density=np.array([g.material.density for g in girders]),
        wall_tolerance=each("wall_tolerance"),
        hole_tolerance=each("hole_tolerance"),
        first_peak_fraction=each("first_peak_fraction"),
        crest_ratio=np.array([[getattr(g.crest_ratio, k) for g in girders] for k in crests]),
        force_factor=np.array([1.0 if c is None else c.force_factor for c in tests]),
        test_scatter=np.array([np.nan if c is None else c.scatter for c in tests]),
        banded=banded,
    )


def _padded(rows: Sequence[Sequence[float]], fill: float | None) -> FloatArray:
    """Rows of one array; short ones filled, or with their last value repeated (``fill`` None)."""
    width = max(1, *(len(row) for row in rows))
    full = [[*row, *[row[-1] if fill is None else fill] * (width - len(row))] for row in rows]
    return np.array(full, dtype=np.float64)


def _walls(girder: Girder) -> list[tuple[float, float]]:
    measured = girder.measured
    first = girder.wall if measured is None or measured.wall is None else measured.wall
    return [(0.0, first), *((step.start, step.wall) for step in girder.wall_steps)]


def _holes(girder: Girder) -> list[tuple[float, ...]]:
    """Height, offset, across, along, corner, stagger factor, front-back, left-right."""
    found: list[tuple[float, ...]] = []
    for index, row in enumerate(girder.holes.rows):
        factor = _row_stagger(girder.holes.rows, index)
        corner = corner_radius(row.shape, row.size, row.along)
        front, side = float(row.faces != "left-right"), float(row.faces != "front-back")
        for i in range(row.per_face):
            x = row.offset + (i - 0.5 * (row.per_face - 1)) * row.spacing
            found.append((row.height, x, row.size, row.along, corner, factor, front, side))
    return found


def _row_stagger(rows: Sequence[Row], index: int) -> float:
    """Loss of a row that is staggered against another close by, 60° pattern; 1 when far away.

    Full effect up to a row pitch of 0.866 × the hole spacing and a sideways shift of half of
    it, none at twice that pitch or without shift; linear between (judgement).
    """
    row = rows[index]
    if row.per_face < 2:
        return 1.0
    weight = 0.0
    for other in rows:
        if other is row or other.per_face < 2 or not _share_face(row, other):
            continue
        shift = abs(other.offset - row.offset) / row.spacing
        pitch = abs(other.height - row.height) / (0.866 * row.spacing)
        apart = 2.0 * abs(shift - round(shift))
        weight = max(weight, apart * min(max(2.0 - pitch, 0.0), 1.0))
    loss = 1.0 - float(stagger_factor(np.array(1.0 - row.size / row.spacing)))
    return 1.0 - weight * loss


def _share_face(one: Row, other: Row) -> bool:
    return "all" in (one.faces, other.faces) or one.faces == other.faces


def zone_heights(girder: Girder) -> list[float]:
    """Heights where folds may start [m], rising: rows, and wall segments that hold no row."""
    heights: list[float] = []
    for height in sorted(row.height for row in girder.holes.rows):
        if not heights or height - heights[-1] > SAME_HEIGHT:
            heights.append(height)
    starts = [0.0, *(step.start for step in girder.wall_steps)]
    for low, high in zip(starts, [*starts[1:], girder.length], strict=True):
        if not any(low <= height < high for height in heights):
            heights.append(0.5 * (low + high))
    return sorted(heights)
