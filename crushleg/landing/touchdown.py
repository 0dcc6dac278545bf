"""From the crush of a girder and the records of a vehicle to where a touchdown stops."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from crushleg.girder.windows import look_up
from crushleg.landing.arrival import Arrival, LegCurve, arrive, leg_curve, leg_forces
from crushleg.landing.rates import accelerometer, deceleration, gear_factor
from crushleg.landing.rest import Rest, all_at_once, first_then_all

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.case.records import Factors, Leg, Touchdown, Vehicle
    from crushleg.girder.crush import Crush

FIRST_LEGS = {"all": 0, "one": 1, "two": 2}
ELASTIC = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Landed:
    """One touchdown of G girders; arrays (3, G): low, nominal, high force.

    Attributes
    ----------
    first : int
        How many legs touch first; all of them when they touch together.
    demand : ndarray
        Energy all legs together must take [J].
    asked, capacity : ndarray
        Energy at the end of the curve, asked for and there [J].
    stroke, others : ndarray
        Stroke of the most crushed legs and of the others, elastic shortening included [m].
    stroke_needed : ndarray
        The same, had the girder gone on at its last force; above ``stroke`` when it bottomed.
    crush, returned : ndarray
        Crush that stays [m]; energy that the elastic shortening of all legs gives back [J].
    girder_peak, peak, side_peak, pad_peak : ndarray
        Largest force in the girder, axial at its attachment, across it, under one pad [N].
    deceleration, accelerometer, gear_factor : ndarray
        (F − Wn)/m, (F + T)/m [m/s2] and F/(m g0) [-] at the largest total force.
    duration, folds, mean_at_stop, at_stop : ndarray
        Time to stop [s]; folds used by the most crushed legs; least mean force of the folds that
        the legs stop in, and force of the most crushed ones there [N].
    bottomed : ndarray of bool
        The curve ended before the vehicle stopped.
    """

    touchdown: Touchdown
    arrival: Arrival
    curve: LegCurve
    first: int
    demand: FloatArray
    asked: FloatArray
    capacity: FloatArray
    stroke: FloatArray
    others: FloatArray
    stroke_needed: FloatArray
    crush: FloatArray
    returned: FloatArray
    girder_peak: FloatArray
    peak: FloatArray
    side_peak: FloatArray
    pad_peak: FloatArray
    deceleration: FloatArray
    accelerometer: FloatArray
    gear_factor: FloatArray
    duration: FloatArray
    folds: FloatArray
    mean_at_stop: FloatArray
    at_stop: FloatArray
    bottomed: BoolArray

    @property
    def name(self) -> str:
        """Name of the touchdown."""
        return self.touchdown.name

    @property
    def reserve(self) -> bool:
        """Whether it is judged as a reserve case."""
        return self.touchdown.reserve


def land(
    crush: Crush,
    vehicle: Vehicle,
    leg: Leg,
    touchdown: Touchdown,
    factors: Factors,
    *,
    timed: bool = True,
) -> Landed:
    """Stop one touchdown on the curves of G girders.

    Parameters
    ----------
    crush : Crush
    vehicle, leg, touchdown, factors : records of the case
        Numbers that differ from girder to girder, or on one girder from landing to landing, are
        arrays (G,).
    timed : bool
        Whether to follow the time when all legs touch together; else it is NaN.

    Returns
    -------
    Landed
    """
    arrival = arrive(vehicle, touchdown, factors)
    curve = leg_curve(crush, leg_forces(leg))
    first = FIRST_LEGS[touchdown.first_contact]
    if first:
        rest = first_then_all(curve, vehicle, leg, touchdown, arrival, first)
    else:
        rest = all_at_once(curve, vehicle.legs, arrival, timed=timed)
    return landed_from(
        crush, curve, touchdown, arrival, rest, (first or vehicle.legs, vehicle.legs)
    )


def landed_from(
    crush: Crush,
    curve: LegCurve,
    touchdown: Touchdown,
    arrival: Arrival,
    rest: Rest,
    count: tuple[int, int],
) -> Landed:
    """Stroke, crush that stays, spring-back and forces of a leg that has stopped.

    The crush that stays is the stroke less the elastic shortening, which springs back and gives its
    energy back.

    Notes
    -----
    Means: Crush that stays after the stop, and what springs back.
    Formula: crush = stroke − F_stop/K, 0 to the usable stroke
    Formula: energy sprung back = Σ legs F_stop²/(2K)
    Formula: axial = A/F × girder peak, side = T/F × girder peak, pad = V/F × girder peak
    Range: Where the sequence does not run from the foot, the girder peak is at least the largest
    start force of all zones.
    Band: Low, nominal and high force, one stop each.

    References
    ----------
    [D]
    """
    forces = curve.forces
    first, legs = count
    at_stop = rest.end / forces.reaction
    stroke, others = rest.first / forces.travel, rest.others / forces.travel
    plastic = np.clip(stroke - at_stop / crush.stiffness, 0.0, crush.usable)
    orderly = crush.sequence.from_foot | (plastic <= ELASTIC)
    early = np.where(orderly, 0.0, crush.largest_start)
    girder_peak = np.maximum(rest.leg_peak / forces.reaction, early)
    total_peak = np.maximum(rest.total_peak, early * forces.reaction * legs)
    folds, mean = _fold_at(crush, plastic)
    other = mean
    if rest.others is not rest.first:
        other = _fold_at(crush, np.clip(others - at_stop / crush.stiffness, 0.0, crush.usable))[1]
    spring = first * at_stop**2 + (legs - first) * np.where(others > 0.0, at_stop, 0.0) ** 2
    return Landed(
        touchdown=touchdown,
        arrival=arrival,
        curve=curve,
        first=first,
        demand=rest.demand,
        asked=rest.asked,
        capacity=rest.capacity,
        stroke=stroke,
        others=others,
        stroke_needed=rest.needed / forces.travel,
        crush=plastic,
        returned=0.5 * spring / crush.stiffness,
        girder_peak=girder_peak,
        peak=girder_peak * forces.axial,
        side_peak=girder_peak * forces.side,
        pad_peak=girder_peak * forces.reaction,
        deceleration=deceleration(total_peak, arrival.net_weight, arrival.mass),
        accelerometer=accelerometer(total_peak, arrival.thrust, arrival.mass),
        gear_factor=gear_factor(total_peak, arrival.mass),
        duration=rest.time,
        folds=folds,
        mean_at_stop=np.minimum(mean, other),
        at_stop=at_stop,
        bottomed=rest.bottomed,
    )


def _fold_at(crush: Crush, plastic: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Folds used, the last as a fraction, and mean force of the fold that is folding.

    Notes
    -----
    Means: How many folds of a leg are used, the last as a fraction.
    Formula: folds = whole folds + (crush − their stroke)/(η 2H)
    Range: Crush that stays, elastic shortening taken off.
    Band: Low, nominal and high force, one stop each.

    References
    ----------
    [D]
    """
    real = crush.folds.length > 0.0
    count = np.concatenate([np.zeros((len(real), 1)), np.cumsum(real, axis=1)], axis=1)
    used = look_up(plastic.T, crush.folds.stroke, count.astype(np.float64)).T
    last = real.sum(axis=1) - 1
    index = np.minimum(used.astype(np.intp), last)
    return used, np.take_along_axis(crush.folds.force, index[..., None], axis=-1)[..., 0]
