"""What an inspection must point at: legs apart, limits exceeded, readings that clash."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.arrival import arrive
from crushleg.landing.back_calculation import speed_from_crush

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.trial.inspect import Inspection

FOLDS_APART = 1.0
UNEQUAL = 0.1
"""Difference between legs, of their mean crush, from which it is told (judgement)."""
OFF_PLANE = 2.0
"""Reading errors by which a leg stands off the plane of all before it is told (judgement)."""


class Judged(NamedTuple):
    """What is to be told; arrays (n,) of bool per leg.

    ``uncrushed``: no crush beyond the reading error; ``solid``: none left; ``over``: beyond the
    part of the usable stroke that may be used; ``folds``: counted and computed more than one
    apart; ``off_plane``: shorter or longer than the plane of all legs; ``unequal``: legs differ
    by more than a tenth of their mean; ``lean``, ``clearance``, ``standing``: beyond a limit of
    the case, or the weight on the worst leg beyond its low mean force; ``fast``: nominal speed
    above every touchdown of the case.
    """

    uncrushed: BoolArray
    solid: BoolArray
    over: BoolArray
    folds: BoolArray
    off_plane: BoolArray
    unequal: bool
    lean: bool
    clearance: bool
    standing: BoolArray
    fast: bool

    @property
    def exceeded(self) -> bool:
        """Whether a limit of the case, its stroke or its standing is exceeded."""
        legs = self.solid | self.over | self.standing
        return bool(legs.any() or self.lean or self.clearance)


def judged(found: Inspection) -> Judged:
    """Compare an inspection with its case and with itself.

    Parameters
    ----------
    found : Inspection

    Returns
    -------
    Judged
    """
    faces, rest, left, limits = found.faces, found.rest, found.left, found.case.limits
    counted = found.heights.folds
    apart = np.abs(np.where(np.isnan(counted), left.folds, counted) - left.folds)
    noise = np.sqrt(2.0) * faces.error.max()
    allowed = limits.stroke_fraction * float(found.crush.usable[0])
    return Judged(
        uncrushed=faces.crush <= faces.error,
        solid=left.solid,
        over=faces.crush > allowed,
        folds=apart > FOLDS_APART,
        off_plane=np.abs(rest.off_plane) > OFF_PLANE * faces.error,
        unequal=bool(np.ptp(faces.crush) > max(UNEQUAL * faces.crush.mean(), noise)),
        lean=_above(rest.lean, limits.lean_max),
        clearance=_above(limits.clearance_min, rest.clearance),
        standing=rest.load > left.hold,
        fast=bool(found.band.speed[1] > fastest(found)),
    )


def _above(value: float | None, limit: float | None) -> bool:
    return value is not None and limit is not None and value > limit


def fastest(found: Inspection) -> float:
    """Largest speed of the case's touchdowns, reserve cases with their factor [m/s]."""
    case = found.case
    return max(arrive(case.vehicle, one, case.factors).closing for one in case.touchdowns)


def speed_if_tilted(found: Inspection) -> float | None:
    """Speed if the vehicle touched down as much out of level as it leans now [m/s].

    Its axis then came down by R sin(lean) more, and the weight did that much more work.
    ``None`` where the case already says so, or the lean is not known.
    """
    radius, lean = found.case.vehicle.pad_circle_radius, found.rest.lean
    if radius is None or lean is None or found.stopped.drop > 0.0:
        return None
    fall: FloatArray = found.band.travel[1] + radius * np.sin(lean)
    return float(
        speed_from_crush(found.stopped.mass, found.stopped.net_weight, found.band.energy[1], fall)
    )


def speed_per_energy(found: Inspection, energy: float) -> float:
    """Speed that so much energy more, not in the legs, would stand for [m/s]."""
    more = found.band.energy[1] + energy
    stopped = found.stopped
    with_it = speed_from_crush(stopped.mass, stopped.net_weight, more, found.band.travel[1])
    return float(with_it - found.band.speed[1])
