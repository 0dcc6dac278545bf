"""Vehicles whose motion cannot be worked out: refused, with every reason."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from crushleg.errors import InputError, Problem
from crushleg.landing.motion.assemble import leg_places
from crushleg.landing.motion.run import LIFE
from crushleg.landing.motion.setup import step

if TYPE_CHECKING:
    from crushleg.case.records import Vehicle
    from crushleg.landing.motion.setup import Setup

NEEDED = {
    "centre_of_gravity_height": 'centre_of_gravity_height = "9.0 m"',
    "pad_circle_radius": 'pad_circle_radius = "3.4 m"',
    "radius_of_gyration": 'radius_of_gyration = "5.2 m"',
}
LEAST_TURN = 1e-6
"""Angle that is none [rad]."""
LEAST_GYRATION = 0.02
"""Least radius of gyration over the way to a pad."""
MOST_STEPS = 1e6
"""Steps of one landing beyond which it is not tried."""


def refuse_geometry(vehicle: Vehicle) -> None:
    """Refuse a vehicle whose motion cannot be worked out, with every reason."""
    problems = [
        Problem(field=f"vehicle.{key}", read="nothing; `land` needs it", write=write)
        for key, write in NEEDED.items()
        if getattr(vehicle, key) is None
    ]
    height, clearance = vehicle.centre_of_gravity_height, vehicle.clearance
    if height is not None and clearance is not None and clearance >= height:
        read = "a lowest hard point above the centre of gravity"
        write = "a clearance below centre_of_gravity_height"
        problems.append(Problem(field="vehicle.clearance", read=read, write=write))
    gyration, radius = vehicle.radius_of_gyration, vehicle.pad_circle_radius
    if None not in (height, gyration, radius):
        reach = math.hypot(height or 0.0, radius or 0.0)
        for key in ("radius_of_gyration", "axial_radius_of_gyration"):
            value = getattr(vehicle, key)
            if value is not None and value < LEAST_GYRATION * reach:
                read = "almost no inertia"
                write = f"at least {LEAST_GYRATION * reach:.3g} m, a fiftieth of the way to a pad"
                problems.append(Problem(field=f"vehicle.{key}", read=read, write=write))
    if vehicle.legs > 2 and _widest_gap(vehicle) >= math.pi - LEAST_TURN:
        read = "legs that leave half of the circle free: the centre of gravity is not between them"
        write = "angles with less than 180 deg between neighbours"
        problems.append(Problem(field="vehicle.leg_azimuths", read=read, write=write))
    if problems:
        raise InputError(problems)


def _widest_gap(vehicle: Vehicle) -> float:
    """Widest angle between neighbouring legs [rad]."""
    places = np.sort(leg_places(vehicle) % math.tau)
    return float(np.diff(np.append(places, places[0] + math.tau)).max())


def refuse_steps(setup: Setup) -> None:
    """Refuse legs so stiff on so light a vehicle that no time would be enough."""
    reach = np.sqrt((setup.pads**2).sum(axis=-1)).max(axis=1)
    gravity = np.sqrt((setup.gravity**2).sum(axis=1))
    steps = float((LIFE * np.sqrt(reach / gravity) / step(setup)).max())
    if steps > MOST_STEPS:
        read = f"legs so stiff on so light a vehicle that a landing may take {steps:.0e} steps"
        raise InputError(
            [
                Problem(
                    field="vehicle.mass",
                    read=read,
                    write="the whole mass; see also radius_of_gyration and gravity",
                )
            ]
        )
