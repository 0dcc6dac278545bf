"""After the stop: lean, clearance, tip-over and standing, even and uneven crush."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.arrays import known
from crushleg.girder.short_axis import total
from crushleg.landing.leg import pad_slip
from crushleg.landing.settle import (
    clearance_left,
    crush_tilt,
    lean_angle,
    standing_load,
    topples,
    worst_share_after,
)
from crushleg.landing.tip_over import after_crush, critical_speed, edge_angle, edge_distance

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.case.records import Leg, Standing, Vehicle
    from crushleg.landing.touchdown import Landed


class Settled(NamedTuple):
    """How the vehicle sits after a touchdown, even (0) and uneven (1) crush, shape (2, G).

    Mean vertical travel of the legs [m], lean [rad], clearance left [m].
    """

    travel: FloatArray
    lean: FloatArray
    clearance: FloatArray


class TipOver(NamedTuple):
    """Speeds that just tip the vehicle [m/s] and static angles [rad], shape (3, G).

    Before crush, after even crush, after uneven crush; ``tilt`` is what slope and lean use up.
    """

    speed: FloatArray
    angle: FloatArray
    tilt: FloatArray


def settle(vehicle: Vehicle, landed: Landed) -> Settled:
    """Lean and clearance with every leg on its low force, and with one low and the rest high.

    Parameters
    ----------
    vehicle : Vehicle
    landed : Landed

    Returns
    -------
    Settled
        ``lean`` is zero where no pad circle is given.

    References
    ----------
    [D]
    """
    each = [_strokes(vehicle.legs, landed, rest) for rest in (0, -1)]
    strokes = np.moveaxis(np.stack(each, axis=1), 0, -1)
    travel = total(strokes) / vehicle.legs * landed.curve.forces.travel
    azimuths = 2.0 * np.pi * np.arange(vehicle.legs) / vehicle.legs
    radius = vehicle.pad_circle_radius
    tilt = np.zeros_like(travel)
    if radius is not None:
        tilt = crush_tilt(strokes, azimuths, radius, landed.curve.forces.travel)
    clearance = np.full_like(travel, np.inf)
    if vehicle.clearance is not None:
        clearance = clearance_left(vehicle.clearance, travel, vehicle.clearance_radius, tilt, 0.0)
    return Settled(travel, lean_angle(tilt), clearance)


def _strokes(legs: int, landed: Landed, rest: int) -> FloatArray:
    """Stroke of every leg (n, G) [m]: one first leg at low force, the rest at level ``rest``."""
    touched = min(landed.first, legs)
    first = [landed.stroke[0], *[landed.stroke[rest]] * (touched - 1)]
    return np.stack([*first, *[landed.others[rest]] * (legs - touched)])


def tip_over(vehicle: Vehicle, leg: Leg, landed: Landed, settled: Settled) -> TipOver:
    """Tip-over about the line between two stuck pads, before and after crush.

    Parameters
    ----------
    vehicle, leg : records of the case
    landed : Landed
    settled : Settled

    Returns
    -------
    TipOver
        All zero for fewer than three legs or a vehicle without the lengths it needs.

    References
    ----------
    [D]
    """
    height, radius = vehicle.centre_of_gravity_height, vehicle.pad_circle_radius
    shape = (3, settled.travel.shape[1])
    slope = landed.touchdown.slope
    tilt = slope + np.concatenate([np.zeros((1, shape[1])), settled.lean])
    if height is None or radius is None or vehicle.legs < 3:
        return TipOver(np.zeros(shape), np.zeros(shape), tilt)
    travel = np.concatenate([np.zeros((1, shape[1])), settled.travel])
    slip = np.zeros(shape) if leg.travel_ratio is not None else pad_slip(travel, leg.cant)
    edge = edge_distance(1.0, vehicle.legs)
    h, r = after_crush(height, radius * edge, travel, slip * edge)
    gyration = known(vehicle.radius_of_gyration)
    speed = critical_speed(vehicle.gravity, h, r, gyration, tilt)
    return TipOver(speed, edge_angle(h, r), tilt)


def standing_before(vehicle: Vehicle, leg: Leg, standing: Standing) -> tuple[FloatArray, BoolArray]:
    """Axial load on the worst uncrushed leg [N], no friction, and whether the vehicle topples.

    Parameters
    ----------
    vehicle, leg, standing : records of the case

    Returns
    -------
    ndarray, ndarray of bool

    Notes
    -----
    Formula: W = m g, M = m a h
    Formula: load = A/V × V(W, n, M, R)

    References
    ----------
    [D]
    """
    weight = standing.mass * vehicle.gravity
    moment = standing.mass * standing.side_acceleration * known(vehicle.centre_of_gravity_height)
    stand = (weight, vehicle.legs, moment, known(vehicle.pad_circle_radius, 1.0))
    return axial(leg) * standing_load(*stand), topples(*stand)


def standing_after(vehicle: Vehicle, leg: Leg, landed: Landed) -> FloatArray:
    """Axial load on the worst crushed leg [N]: thrust off, uneven shares, no friction.

    Notes
    -----
    Formula: load = A/V × share × W

    References
    ----------
    [D]
    """
    share = float(worst_share_after(vehicle.legs))
    return axial(leg) * share * landed.arrival.weight


def axial(leg: Leg) -> FloatArray:
    """Axial force over vertical load of a frictionless leg, by virtual work [-]."""
    return np.asarray(np.cos(leg.cant) if leg.travel_ratio is None else leg.travel_ratio)
