r"""In which order the zones fold, and how sure that is.

A zone is a row of holes with its cell (mid-pitch to mid-pitch), or a plain wall segment without
rows. The sequence runs from the foot when the start force of every zone is at most that of all
zones above it which its own fold (± H) does not reach. Crests of later folds add nothing to
this: a fold that needs more than the next zone's start force hands over to that zone, in order,
and what comes after is that zone's own comparison [D].
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.pattern import nominal
from crushleg.girder.start import start_force
from crushleg.girder.walls import cut_holes, wall_sections

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray, IntArray
    from crushleg.girder.pattern import Girders

NEIGHBOUR_SCATTER = 0.02
SHEET_SCATTER = 0.01
Z_ONE_SIDED = 1.645
Z_TWO_SIDED = 1.96
TIE = 1e-9


class Sequence(NamedTuple):
    """Zones of G girders: start force (3, G, Z) [N], ratio to the least above, order scatter.

    ``ratio`` is infinite for the topmost zone; ``scatter`` is the standard deviation of its log.
    """

    height: FloatArray
    start: FloatArray
    ratio: FloatArray
    scatter: FloatArray
    from_foot: BoolArray


def collapse_sequence(girders: Girders, half: FloatArray) -> Sequence:
    """Compare the start forces of all zones before any folding.

    Parameters
    ----------
    girders : Girders
    half : ndarray
        Half fold length at the foot [m], shape (G,).

    Returns
    -------
    Sequence
        ``from_foot`` (G,) of bool.

    Notes
    -----
    Formula: ratio_i = min over zones above i of S_j/S_i
    Formula: σ² = 2 (0.02² + (0.01/1.96)²) + σ_hole,i² + σ_hole,j²
    Formula: from the foot where every ratio is at least 1
    Range: Zones above that the zone's own fold, ± H, does not reach.

    Alloy, rate and hardening are common to all zones; apart may be the scatter of neighbours, the
    wall within one sheet and the hole tolerance.

    References
    ----------
    [D]; 2 % between neighbours and 1 % of the wall in one sheet [judgement]
    """
    start = start_force(girders, girders.zones)
    foot = np.isfinite(girders.zones) & (np.arange(girders.zones.shape[1]) == 0)
    start = np.where(foot, start * girders.first_peak_fraction[:, None], start)
    middle = nominal(start)
    above = girders.zones[:, None, :] > girders.zones[:, :, None] + half[:, None, None]
    least, which = _least(np.where(above, middle[:, None, :], np.inf))
    hole = hole_scatter(girders, middle)
    other = np.take_along_axis(hole, which, axis=1)
    pair = 2.0 * (NEIGHBOUR_SCATTER**2 + (SHEET_SCATTER / Z_TWO_SIDED) ** 2)
    scatter = np.sqrt(pair + hole**2 + other**2)
    with np.errstate(invalid="ignore"):
        ratio = np.where(np.isfinite(girders.zones), least / middle, np.inf)
    from_foot = np.asarray((ratio >= 1.0 - TIE).all(axis=1))
    return Sequence(girders.zones, start, ratio, scatter, from_foot)


def _least(values: FloatArray) -> tuple[FloatArray, IntArray]:
    which = values.argmin(axis=-1)
    return np.take_along_axis(values, which[..., None], axis=-1)[..., 0], which


def hole_scatter(girders: Girders, start: FloatArray) -> FloatArray:
    """Scatter (σ) of ln(start force) from the hole tolerance, a 95 % limit; shape (G, Z).

    Notes
    -----
    Formula: σ = ln(net(d)/net(d + tolerance))/1.96

    References
    ----------
    [D]
    """
    z = np.where(np.isfinite(girders.zones), girders.zones, 0.0)
    wall = girders.wall_at(z)
    growth = girders.hole_tolerance[:, None, None]

    def net(by: FloatArray | float) -> FloatArray:
        cut = wall_sections(girders, cut_holes(girders, z, by), wall)
        return sum(at.side * (1.0 - at.removed) for at in cut)  # type: ignore[return-value]

    return np.where(np.isfinite(start), np.log(net(0.0) / net(growth)) / Z_TWO_SIDED, 0.0)
