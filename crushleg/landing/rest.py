"""Where a touchdown comes to rest: all legs at once, or the first legs and then all."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.arrays import known
from crushleg.landing.contact import first_offset, next_gap, next_offset
from crushleg.landing.elastic import bottoming_force
from crushleg.landing.energy import force_at, stop, swept_peak
from crushleg.landing.first_leg import effective_mass, rotation_per_impulse, shared_fraction
from crushleg.landing.next_touch import NextTouch, until_next_touch
from crushleg.landing.share import together
from crushleg.landing.timing import duration

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.case.records import Leg, Touchdown, Vehicle
    from crushleg.landing.arrival import Arrival, LegCurve


class Rest(NamedTuple):
    """The stop in vertical terms, arrays (3, G), low nominal high force.

    ``first``, ``others`` travel of the first and of the other legs, ``needed`` travel that would
    stop the first ones [m]; ``end`` reaction of a first leg at the stop, ``leg_peak`` and
    ``total_peak`` largest reaction of one leg and of all [N]; ``demand`` energy that stops it;
    ``asked`` and ``capacity`` energy at the end of the curve, asked for and there [J].
    """

    first: FloatArray
    others: FloatArray
    needed: FloatArray
    end: FloatArray
    leg_peak: FloatArray
    total_peak: FloatArray
    demand: FloatArray
    asked: FloatArray
    capacity: FloatArray
    time: FloatArray
    bottomed: BoolArray


def all_at_once(curve: LegCurve, legs: int, arrival: Arrival, *, timed: bool = True) -> Rest:
    """Stop of a vehicle whose legs all touch together and share alike.

    The energy that the legs must take is the kinetic energy and the work of the net weight on the
    way down.

    Parameters
    ----------
    curve : LegCurve
    legs : int
    arrival : Arrival
    timed : bool
        Whether to follow the time; else it is NaN.

    Returns
    -------
    Rest

    Notes
    -----
    Means: Energy that the legs must take until the vehicle stands still.
    Formula: n W(z) − Wn z = E_kin at the stop
    Formula: energy demand = E_kin + Wn z_needed
    Formula: energy to the end of the usable stroke = E_kin + Wn z_end
    Formula: capacity = n W(z_end)
    Range: Vertical travel, all legs alike; first_contact "all". F must exceed Wn on the way.
    Band: Low, nominal and high force of the girder, one stop each: low goes furthest and so gains
    most from the weight.
    Limits: factors.speed_reserve through E_kin

    References
    ----------
    Energy balance [D]
    """
    reaction, work = legs * curve.reaction, legs * curve.work
    weight = arrival.net_weight
    end = stop(curve.travel, reaction, work, weight, arrival.kinetic)
    hard = bottoming_force(end.force, end.shortfall, legs * curve.stiffness, weight)
    peak = np.maximum(swept_peak(curve.travel, reaction, end.stroke), hard)
    time = np.full_like(peak, np.nan)
    if timed:
        speed = np.sqrt(2.0 * arrival.kinetic / arrival.mass)
        time = duration(curve.travel, reaction, work, weight, arrival.mass, speed, end.stroke)
    return Rest(
        first=end.stroke,
        others=end.stroke,
        needed=end.stroke_needed,
        end=end.force / legs,
        leg_peak=peak / legs,
        total_peak=peak,
        demand=arrival.kinetic + weight * end.stroke_needed,
        asked=arrival.kinetic + weight * curve.travel[..., -1],
        capacity=work[..., -1],
        time=time,
        bottomed=end.bottomed,
    )


def first_contact(
    curve: LegCurve, vehicle: Vehicle, leg: Leg, touchdown: Touchdown, arrival: Arrival, first: int
) -> tuple[NextTouch, FloatArray, FloatArray]:
    """First legs alone, on the effective mass, until the next pads touch.

    Returns
    -------
    tuple
        State as the next pads touch, what the first legs alone could not take [J], and the travel
        that would have stopped them beyond their curve [m].
    """
    radius, height = known(vehicle.pad_circle_radius), known(vehicle.centre_of_gravity_height)
    gyration = known(vehicle.radius_of_gyration)
    x1 = first_offset(radius, vehicle.legs, first)
    following = next_offset(radius, vehicle.legs, first)
    turn = rotation_per_impulse(x1, height, gyration, leg.pad_friction)
    effective = effective_mass(arrival.mass, x1, turn)
    turning = abs(arrival.rate)
    speed = arrival.closing + turning * x1
    fall = arrival.net_weight / arrival.mass
    reaction, work = first * curve.reaction, first * curve.work
    touch = until_next_touch(
        curve.travel,
        reaction,
        work,
        mass=arrival.mass,
        effective=effective,
        shared=shared_fraction(x1, following, turn),
        speed=arrival.closing,
        acceleration=fall,
        gap=next_gap(x1, following, abs(touchdown.attitude) + touchdown.slope),
        rotation=turning,
        offset=x1,
        following=following,
        gyration=gyration,
    )
    alone = stop(curve.travel, reaction, work, effective * fall, 0.5 * effective * speed**2)
    return touch, alone.shortfall, alone.stroke_needed - alone.stroke


def first_then_all(
    curve: LegCurve, vehicle: Vehicle, leg: Leg, touchdown: Touchdown, arrival: Arrival, first: int
) -> Rest:
    """Stop of a vehicle whose first legs take the effective mass until the next pads touch.

    Then all legs share the rest.

    Parameters
    ----------
    curve : LegCurve
    vehicle, leg, touchdown : records of the case
    arrival : Arrival
    first : int
        How many legs touch first, 1 or 2.

    Returns
    -------
    Rest

    Notes
    -----
    Means: One leg or a pair touches first and takes part of the mass until the next pads touch.
    Formula: first legs: W1(z) − m_eff (g − T/m) z = ½ m_eff (v + |ω| x1)² until the gap is closed
    Formula: then: Σ W − Wn z = energy still in motion
    Range: An energy estimate for a rigid vehicle in the plane, small angles, no rebound; for slopes
    and sliding see land.
    Band: Low, nominal and high force, one stop each.
    Limits: touchdown.first_contact, attitude, attitude_rate and slope
    Limits: vehicle.pad_circle_radius, centre_of_gravity_height and radius_of_gyration;
    leg.pad_friction

    If the first legs bottom before the next pads touch, the others are taken to crush as far.
    An energy estimate: after the next pads touch, all legs travel on by the same amount and take
    all that is left in motion, rotation included.

    References
    ----------
    Impulse and energy of a rigid body in the plane [D]
    """
    touch, missed, more = first_contact(curve, vehicle, leg, touchdown, arrival, first)
    both = together(curve.travel, curve.reaction, curve.work, touch.travel, first, vehicle.legs)
    end = stop(both.travel, both.reaction, both.work, arrival.net_weight, touch.kinetic)
    late = np.where(touch.bottomed, 0.0, end.stroke)
    early = touch.travel + late
    bottomed = touch.bottomed | end.bottomed
    short = np.where(touch.bottomed, missed, end.shortfall) / first
    last, share = curve.reaction[..., -1], arrival.net_weight / vehicle.legs
    hard = np.where(bottomed, bottoming_force(last, short, curve.stiffness, share), 0.0)
    one = np.maximum(swept_peak(curve.travel, curve.reaction, early), hard)
    rest = (vehicle.legs - first) * force_at(curve.travel, curve.reaction, late)
    total = np.maximum(
        swept_peak(both.travel, both.reaction, late), first * one + np.where(bottomed, rest, 0.0)
    )
    speed = np.sqrt(2.0 * np.maximum(touch.kinetic, 0.0) / arrival.mass)
    time = touch.time + duration(
        both.travel, both.reaction, both.work, arrival.net_weight, arrival.mass, speed, late
    )
    needed = touch.travel + np.where(touch.bottomed, more, end.stroke_needed)
    alone = first * curve.work[..., -1]
    asked = touch.kinetic + arrival.net_weight * both.travel[..., -1]
    return Rest(
        first=early,
        others=np.where(touch.bottomed, early, late),
        needed=needed,
        end=force_at(curve.travel, curve.reaction, early),
        leg_peak=one,
        total_peak=total,
        demand=touch.energy + touch.kinetic + arrival.net_weight * (needed - touch.travel),
        asked=np.where(touch.bottomed, alone + missed, touch.energy + asked),
        capacity=np.where(touch.bottomed, alone, touch.energy + both.work[..., -1]),
        time=time,
        bottomed=bottomed,
    )
