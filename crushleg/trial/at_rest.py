"""The vehicle on its crushed legs: lean, clearance, standing, and what is left in each leg."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.afterwards import axial
from crushleg.landing.contact import first_offset
from crushleg.landing.crush_plane import plane_of_legs
from crushleg.landing.settle import clearance_left, lean_angle, worst_share_after
from crushleg.landing.touchdown import FIRST_LEGS

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.case.records import Case, Touchdown, Vehicle
    from crushleg.girder.crush import Crush
    from crushleg.landing.arrival import Arrival
    from crushleg.landing.leg import LegForces
    from crushleg.trial.crushed_legs import Taken
    from crushleg.trial.faces import Faces

LEAST = 1e-9
"""Slope below which a lean is round-off."""


class Left(NamedTuple):
    """What is left in every leg (n,), by the curve of its girder.

    ``folds`` used [-] and low mean force of the fold it stopped in, ``hold`` [N]; ``stroke`` left
    [m] and ``energy`` left, low nominal high (3, n) [J]; ``solid``: no stroke left within the
    reading error.
    """

    folds: FloatArray
    hold: FloatArray
    stroke: FloatArray
    energy: FloatArray
    solid: BoolArray


class AtRest(NamedTuple):
    """The vehicle after the landing; ``None`` where the case does not say what it takes.

    ``sunk`` travel of the axis after spring-back and ``off_plane`` (n,) what each leg is longer
    than the plane of all legs, vertically [m]; ``lean`` against the ground, its ± and direction
    from leg 1 [rad]; ``clearance`` and its ± [m]; ``load`` axial on the worst leg, thrust off
    [N], and ``squeeze`` elastic shortening of a leg under its even share of the weight [m].
    """

    sunk: float
    off_plane: FloatArray
    lean: float | None
    lean_error: float | None
    direction: float | None
    clearance: float | None
    clearance_error: float | None
    load: float
    squeeze: float


def leg_azimuths(vehicle: Vehicle) -> FloatArray:
    """Direction of every leg round the vehicle axis [rad], shape (n,)."""
    if vehicle.leg_azimuths is not None:
        return np.asarray(vehicle.leg_azimuths)
    return 2.0 * np.pi * np.arange(vehicle.legs) / vehicle.legs


def plane(vehicle: Vehicle) -> FloatArray:
    """Plane through the legs as a matrix (3, n); slopes per metre of a circle of 1 m if not given.

    See :func:`crushleg.landing.crush_plane.plane_of_legs`.
    """
    return plane_of_legs(leg_azimuths(vehicle), vehicle.pad_circle_radius or 1.0)


def before_contact(vehicle: Vehicle, touchdown: Touchdown) -> float:
    r"""How far the foot of the axis is above the ground when the first pads touch, x1 sin φ [m].

    Zero where all legs touch together. φ is attitude and slope together.

    References
    ----------
    [D]
    """
    first = FIRST_LEGS[touchdown.first_contact]
    if not first or vehicle.pad_circle_radius is None:
        return 0.0
    offset = first_offset(vehicle.pad_circle_radius, vehicle.legs, first)
    return float(offset * np.sin(abs(touchdown.attitude) + touchdown.slope))


def left_in_legs(crush: Crush, legs: Taken, faces: Faces) -> Left:
    """Folds used, stroke and energy left, of the first girder.

    Parameters
    ----------
    crush : Crush
    legs : Taken
    faces : Faces

    Returns
    -------
    Left
    """
    real = crush.folds.length[0] > 0.0
    ends = np.append(crush.folds.stroke[0, :-1][real], crush.usable[0])
    used = np.interp(faces.crush, ends, np.arange(ends.size, dtype=np.float64))
    index = np.minimum(used.astype(np.intp), real.sum() - 1)
    stroke = np.maximum(crush.usable[0] - faces.crush, 0.0)
    energy = np.maximum(crush.curve.energy[:, 0, -1:] - legs.energy, 0.0)
    hold = crush.folds.force[0, 0, index]
    return Left(used, hold, stroke, energy, stroke <= faces.error)


def at_rest(
    case: Case,
    arrival: Arrival,
    forces: LegForces,
    faces: Faces,
    girder: tuple[Crush, Left],
    fit: FloatArray,
) -> AtRest:
    """Lean, clearance and standing on crush that stays.

    Parameters
    ----------
    case : Case
    arrival : Arrival
    forces : LegForces
    faces : Faces
    girder : tuple
        Crush of the girder and what is left in the legs.
    fit : ndarray, shape (3, n)
        From :func:`plane`.

    Returns
    -------
    AtRest
    """
    vehicle = case.vehicle
    travel, error = (float(forces.travel) * each for each in (faces.crush, faces.error))
    sunk, east, north = fit @ travel
    unsure = np.sqrt((fit**2) @ (error**2))
    azimuths, radius = leg_azimuths(vehicle), vehicle.pad_circle_radius or 1.0
    on_plane = sunk + radius * (east * np.cos(azimuths) + north * np.sin(azimuths))
    leans = vehicle.pad_circle_radius is not None and vehicle.legs > 1
    slope = float(np.hypot(east, north)) if leans else 0.0
    slope = slope if slope > LEAST else 0.0
    slope_error = float(unsure[1:].max()) if leans else 0.0
    clear, r = vehicle.clearance, vehicle.clearance_radius
    load = float(axial(case.leg)) * arrival.weight
    return AtRest(
        sunk=float(sunk),
        off_plane=on_plane - travel,
        lean=float(lean_angle(slope)) if leans else None,
        lean_error=float(lean_angle(slope_error)) if leans else None,
        direction=float(np.arctan2(north, east) % (2.0 * np.pi)) if slope > LEAST else None,
        clearance=None if clear is None else float(clearance_left(clear, sunk, r, slope, 0.0)),
        clearance_error=None if clear is None else float(np.hypot(unsure[0], r * slope_error)),
        load=load * float(worst_share_after(vehicle.legs)),
        squeeze=load / vehicle.legs / float(girder[0].stiffness[0]),
    )
