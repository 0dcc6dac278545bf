"""Force that starts a fold at a section: the four walls summed, each with its own holes.

low: effective widths at low yield. high: squash of the net section at high yield. nominal: mean
of both forms at nominal yield. Wall and hole tolerance join by root-sum-square in logs.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.girder.buckling import critical_stress, holed_width, strips_width
from crushleg.girder.pattern import levels, nominal
from crushleg.girder.squash import squash_stress
from crushleg.girder.walls import cut_holes, wall_sections

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import FloatArray
    from crushleg.girder.pattern import Girders
    from crushleg.girder.walls import WallSection


def effective_force(
    girders: Girders, sections: list[WallSection], yield_strength: FloatArray
) -> FloatArray:
    """Sum of effective widths × wall × yield [N], shape (G, M); yield [Pa], shape (G,).

    Notes
    -----
    Formula: F = Σ walls C t s_y × effective fraction × stagger factor

    References
    ----------
    Effective widths of AISI S100, EN 1993-1-5 [published]; sum per wall [D]
    """
    sy = yield_strength[:, None]

    def of(at: WallSection) -> FloatArray:
        lam = _slenderness(girders, at, sy)
        width = holed_width(lam, at.removed)
        if at.strips is not None:
            gaps, inner, longest = at.strips
            nu = np.broadcast_to(girders.poisson_ratio[:, None], at.side.shape)
            cut = strips_width(gaps, inner, longest, at.side, lam, nu)
            width = width + at.slotted * (np.minimum(cut, width) - width)
        return 2.0 * at.side * at.wall * sy * width * at.stagger

    return _both(sections, of)


def squash_force(
    girders: Girders, sections: list[WallSection], yield_strength: FloatArray, ultimate: FloatArray
) -> FloatArray:
    """Squash force of the net section [N], shape (G, M); strengths [Pa], shape (G,).

    Notes
    -----
    Formula: F = Σ walls C t (1 − removed) × squash stress × stagger factor

    References
    ----------
    Continuous strength method [from memory]; sum per wall [D]
    """
    sy, su = yield_strength[:, None], ultimate[:, None]

    def of(at: WallSection) -> FloatArray:
        stress = squash_stress(
            _slenderness(girders, at, sy), sy, su, girders.youngs_modulus[:, None]
        )
        return 2.0 * at.side * at.wall * (1.0 - at.removed) * stress * at.stagger

    return _both(sections, of)


def _both(sections: list[WallSection], of: Callable[[WallSection], FloatArray]) -> FloatArray:
    """Sum over both pairs of walls, computed once where they are alike."""
    first, second = sections
    one = of(first)
    return one + (one if second is first else of(second))


def _slenderness(girders: Girders, at: WallSection, sy: FloatArray) -> FloatArray:
    critical = critical_stress(
        girders.youngs_modulus[:, None], girders.poisson_ratio[:, None], at.wall, at.side
    )
    return np.sqrt(sy / critical)


def start_force(girders: Girders, z: FloatArray, *, banded: bool = False) -> FloatArray:
    """Force that starts a fold at heights ``z``: the four walls summed.

    Rows carry it without the crush initiator's fraction. Holes grade this force strongly, the mean
    force little.

    Parameters
    ----------
    girders : Girders
    z : ndarray
        Heights [m], shape (G, M); non-finite ones give infinite force.
    banded : bool
        Net section averaged over ± one wall, the width of a hinge, instead of one line.

    Returns
    -------
    ndarray
        Low, nominal, high [N], shape (3, G, M).

    Notes
    -----
    Means: Force at which a section begins to fold, holes and slender walls in it.
    Formula: low = Σ effective width × t × s_y,low
    Formula: high = Σ net width × t × squash stress, high
    Formula: nominal = half the sum of both forms at nominal strengths
    Range: d/C to 0.5, C/t to 70, rows 3 d apart, as the effective width.
    Band: From the lower to the upper form, alloy in them; wall and hole tolerance join by
    root-sum-square in logs.
    Limits: girder.wall_tolerance and girder.hole_tolerance widen the band

    References
    ----------
    Effective width, AISI S100 and EN 1993-1-5 [published], with holes [from memory]; squash of the
    net section [from memory]; sum per wall and mean of both [D]
    """
    real = np.isfinite(z)
    z = np.where(real, z, 0.0)
    wall = girders.wall_at(z)
    band = wall if banded else None
    grown = girders.hole_tolerance[:, None, None]
    growths = (0.0, grown, -grown) if girders.banded else (0.0,)
    cuts = [cut_holes(girders, z, by, band) for by in growths]
    sy, su = girders.yield_compression, girders.ultimate
    thin, thick = (wall + by * girders.wall_tolerance[:, None] for by in (-1.0, 1.0))
    sections = wall_sections(girders, cuts[0], wall)
    middle = 0.5 * (
        effective_force(girders, sections, nominal(sy))
        + squash_force(girders, sections, nominal(sy), nominal(su))
    )
    if not girders.banded:
        return levels(girders, np.where(real, middle, np.inf))
    low = [
        effective_force(girders, wall_sections(girders, cut, t), sy[0])
        for cut, t in ((cuts[0], wall), (cuts[0], thin), (cuts[1], wall))
    ]
    high = [
        squash_force(girders, wall_sections(girders, cut, t), sy[2], su[2])
        for cut, t in ((cuts[0], wall), (cuts[0], thick), (cuts[2], wall))
    ]
    found = np.stack([middle * _apart(middle, low), middle, middle / _apart(middle, high)])
    return np.where(real, found, np.inf)


def _apart(middle: FloatArray, level: list[FloatArray]) -> FloatArray:
    """Factor exp(−r): form and alloy against the nominal, and both tolerances of the form."""
    form, wall, hole = level
    parts = (form / middle, wall / form, hole / form)
    return np.exp(-np.sqrt(sum(np.log(part) ** 2 for part in parts)))
