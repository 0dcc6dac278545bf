"""A drop rig of a case: its drops, and what each stands for on the vehicle."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.case.records import Touchdown
from crushleg.landing.energy import energy_at
from crushleg.landing.touchdown import land
from crushleg.trial.rig import (
    cell_force,
    contact_speed,
    effective_weight,
    equivalent_mass,
    release_height,
)

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Rig, Vehicle
    from crushleg.check import Checked
    from crushleg.landing.touchdown import Landed

ONLY = "drop"


class Drop(NamedTuple):
    """One drop: ``landed`` (3, 1) of ``vehicle``, the falling mass on the legs of the rig.

    Fall before contact [m]; compression of the load cell, low, nominal, high [N], shape (3,);
    weight of a free drop that stands for it at its lift [N], shape (3,).
    """

    vehicle: Vehicle
    landed: Landed
    height: float
    cell: FloatArray
    effective_weight: FloatArray


class Standin(NamedTuple):
    """What the rig needs to stand for a touchdown, low, nominal, high: shape (3,).

    Speed at contact [m/s]; travel of the most crushed leg [m]; falling mass with the friction and
    lift of this rig, and without both [kg]; fall with that mass [m].
    """

    name: str
    speed: float
    travel: FloatArray
    mass: FloatArray
    free_mass: FloatArray
    height: FloatArray


def drops(checked: Checked, rig: Rig) -> tuple[Drop, ...]:
    """Drop of the height given, or one at the speed of each touchdown.

    Parameters
    ----------
    checked : Checked
    rig : Rig

    Returns
    -------
    tuple of Drop
    """
    given = rig.mass, rig.gravity, rig.friction
    if rig.drop_height is not None:
        return (_drop(checked, rig, ONLY, float(contact_speed(rig.drop_height, *given))),)
    return tuple(
        _drop(checked, rig, landed.name, landed.arrival.closing) for landed in checked.landings
    )


def _drop(checked: Checked, rig: Rig, name: str, speed: float) -> Drop:
    """Land the falling mass; friction and lift act like thrust on the way down."""
    case, upward = checked.case, rig.friction + rig.carried
    weight = rig.mass * rig.gravity
    vehicle = replace(
        case.vehicle, mass=rig.mass, legs=rig.legs, gravity=rig.gravity, leg_azimuths=None
    )
    touchdown = Touchdown(name=name, vertical_speed=speed, thrust_to_weight=upward / weight)
    landed = land(checked.crush, vehicle, case.leg, touchdown, case.factors)
    reaction = (landed.accelerometer * landed.arrival.mass - landed.arrival.thrust)[:, 0]
    height = float(release_height(speed, rig.mass, rig.gravity, rig.friction))
    travel = landed.stroke[:, 0] * landed.curve.forces.travel
    return Drop(
        vehicle,
        landed,
        height,
        cell_force(reaction, rig.mass_above, rig.mass_below, upward),
        effective_weight(weight, height, travel, rig.carried / weight),
    )


def standins(checked: Checked, rig: Rig) -> tuple[Standin, ...]:
    """Falling mass and height with which the rig stands for each touchdown.

    Parameters
    ----------
    checked : Checked
    rig : Rig

    Returns
    -------
    tuple of Standin
        The most crushed leg of the touchdown crushes as far from the same speed.
    """
    return tuple(_standin(landed, checked.case.vehicle.legs, rig) for landed in checked.landings)


def _standin(landed: Landed, legs: int, rig: Rig) -> Standin:
    """Take a share of what all legs must take, or the work of the first leg on its own."""
    curve, arrival = landed.curve, landed.arrival
    travel = landed.stroke * curve.forces.travel
    if landed.touchdown.first_contact == "all":
        one = (arrival.kinetic + arrival.net_weight * travel) / legs
    else:
        one = energy_at(curve.travel, curve.reaction, curve.work, travel)
    energy, z, v = rig.legs * one[:, 0], travel[:, 0], arrival.closing
    force = 0.0 if rig.lift_force is None else rig.lift_force
    mass = equivalent_mass(energy, z, v, rig.gravity, rig.lift, rig.friction + force)
    return Standin(
        landed.name,
        v,
        z,
        mass,
        equivalent_mass(energy, z, v, rig.gravity),
        np.asarray(release_height(v, mass, rig.gravity, rig.friction)),
    )
