"""Girder records and their crush, as the tests of several rooms build them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from crushleg.case.material import Material
from crushleg.case.records import Band, Girder, Holes, Row
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.crush import Crush, crush

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

MPa = 1e6
mm = 1e-3


def band(low: float, nominal: float | None = None, high: float | None = None) -> Band:
    """Low, nominal, high; one value stands for all three."""
    nominal = low if nominal is None else nominal
    return Band(low=low, nominal=nominal, high=nominal if high is None else high)


def material(
    yield_strength: Band,
    ultimate_strength: Band,
    youngs_modulus: float = 200e9,
    poisson_ratio: float = 0.27,
) -> Material:
    """Datasheet with strengths alone [Pa]."""
    return Material(
        key="sample",
        name="sample",
        designation="",
        condition="",
        crushing="folds",
        note="",
        heat_treated=False,
        density=7900.0,
        youngs_modulus=youngs_modulus,
        poisson_ratio=poisson_ratio,
        yield_strength=yield_strength,
        ultimate_strength=ultimate_strength,
    )


STAINLESS = material(band(220 * MPa, 295 * MPa, 350 * MPa), band(520 * MPa, 650 * MPa, 700 * MPa))
EXACT = material(band(80 * MPa), band(145 * MPa), 70e9, 0.33)


def girder(*rows: Row, **changes: Any) -> Girder:
    """Box of 140 × 4 mm, 1 m long, drilled with ``rows``; fields as in the record."""
    fields: dict[str, Any] = {
        "material": STAINLESS,
        "width": 140 * mm,
        "depth": 140 * mm,
        "wall": 4 * mm,
        "length": 1.0,
        "wall_tolerance": 0.09 * mm,
        "hole_tolerance": 0.2 * mm,
        "corner_radius": 6 * mm,
        "crest_ratio": band(1.2, 1.35, 1.55),
        "temperature": 293.15,
        "holes": Holes(law="listed" if rows else "none", rows=rows),
    }
    return Girder(**(fields | changes))


def dunlin(**changes: Any) -> Girder:
    """Girder of the Dunlin test stage: six rows, larger toward the foot."""
    sizes = (82, 74, 64, 52, 38, 20)
    rows = (Row(height=(80 + 130 * i) * mm, size=size * mm) for i, size in enumerate(sizes))
    return girder(*rows, **changes)


def crushed(*girders: Girder) -> Crush:
    """Crush of a batch of girders, no rate factor."""
    return crush(girder_arrays(girders, [3.0] * len(girders)))


def energy_at(result: Crush, stroke: FloatArray, index: int = 0) -> FloatArray:
    """Energy of one girder of a batch at crush strokes [m], shape (3, N) [J]."""
    curve = result.curve
    return np.stack([np.interp(stroke, curve.stroke[index], e[index]) for e in curve.energy])


def assert_not_above(smaller: FloatArray, larger: FloatArray, slack: float = 1e-9) -> None:
    """Fail with the worst place where ``smaller`` exceeds ``larger`` by more than ``slack``."""
    excess = smaller / larger - 1.0
    worst = np.unravel_index(np.nanargmax(excess), excess.shape)
    place = tuple(int(i) for i in worst)
    assert not np.isnan(excess).any(), "not a number"
    assert excess[worst] <= slack, f"{excess[worst]:.3e} above at {place}: {smaller[worst]:.9g}"
