"""A level landing on legs of unlike girders: stopped by the sum of their forces."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.errors import InputError, Problem
from crushleg.landing.arrival import arrive, leg_curve, leg_forces
from crushleg.landing.elastic import bottoming_force
from crushleg.landing.energy import force_at, stop, swept_peak
from crushleg.landing.rest import Rest
from crushleg.landing.share import sample
from crushleg.landing.touchdown import landed_from

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case, Touchdown
    from crushleg.girder.crush import Crush
    from crushleg.landing.arrival import LegCurve
    from crushleg.landing.touchdown import Landed


def land_unlike(crush: Crush, case: Case, touchdown: Touchdown, legs: int) -> Landed:
    """Stop a level touchdown whose legs differ.

    Parameters
    ----------
    crush : Crush
        Girders of all legs, those of one vehicle side by side.
    case : Case
        With arrays of the same order.
    touchdown : Touchdown
    legs : int
        Of one vehicle.

    Returns
    -------
    Landed
        One entry per leg.

    Raises
    ------
    InputError
        Not all legs touch at once.

    Notes
    -----
    All legs travel alike, to where the first one bottoms; the curves are added at the points of
    all of them. That the vehicle leans toward its softer legs while it lands is left out.

    References
    ----------
    [D]
    """
    if touchdown.first_contact != "all":
        read = f'part = "leg" with first_contact = "{touchdown.first_contact}"'
        hint = f'touchdown "{touchdown.name}": legs that differ are landed level, all at once'
        raise InputError([Problem(read=read, write='part = "batch"', hint=hint)])
    arrival = arrive(case.vehicle, touchdown, case.factors)
    curve = leg_curve(crush, leg_forces(case.leg))
    rest = _together(curve, arrival.net_weight, arrival.kinetic, legs)
    return landed_from(crush, curve, touchdown, arrival, rest, (legs, legs))


def _together(curve: LegCurve, weight: ArrayLike, kinetic: ArrayLike, legs: int) -> Rest:
    shape = curve.travel.shape[:-1]

    def of_vehicle(values: FloatArray) -> FloatArray:
        """Largest of the legs of one vehicle, for every one of them."""
        split = values.reshape(-1, legs)
        return np.repeat(split.max(axis=1), legs).reshape(values.shape)

    least = -of_vehicle(-curve.travel[..., -1])
    travel = np.minimum(_points(curve.travel, legs), least[..., None])
    reaction, work = (
        _summed(field, legs) for field in sample(curve.travel, curve.reaction, curve.work, travel)
    )
    weight, kinetic = (of_vehicle(np.broadcast_to(value, shape)) for value in (weight, kinetic))
    end = stop(travel, reaction, work, weight, kinetic)
    stiffness = _summed(np.broadcast_to(curve.stiffness, shape)[..., None], legs)[..., 0]
    hard = bottoming_force(end.force, end.shortfall, stiffness, weight)
    more = np.where(end.bottomed, (hard - end.force) / stiffness, 0.0)
    own = force_at(curve.travel, curve.reaction, end.stroke) + more * curve.stiffness
    peak = np.maximum(swept_peak(curve.travel, curve.reaction, end.stroke), own)
    return Rest(
        first=end.stroke,
        others=end.stroke,
        needed=end.stroke_needed,
        end=force_at(curve.travel, curve.reaction, end.stroke),
        leg_peak=peak,
        total_peak=np.maximum(swept_peak(travel, reaction, end.stroke), hard),
        demand=kinetic + weight * end.stroke_needed,
        asked=kinetic + weight * travel[..., -1],
        capacity=work[..., -1],
        time=np.full(shape, np.nan),
        bottomed=end.bottomed,
    )


def _points(travel: FloatArray, legs: int) -> FloatArray:
    """Points of all legs of one vehicle, rising, for every one of them."""
    every = np.sort(travel.reshape(*travel.shape[:-2], -1, legs * travel.shape[-1]), axis=-1)
    return np.repeat(every, legs, axis=-2)


def _summed(values: FloatArray, legs: int) -> FloatArray:
    """Sum over the legs of one vehicle, for every one of them, shape (..., G, n)."""
    split = values.reshape(*values.shape[:-2], -1, legs, values.shape[-1])
    total = np.zeros_like(split[..., 0, :])
    for leg in range(legs):
        total = total + split[..., leg, :]
    return np.repeat(total, legs, axis=-2)
