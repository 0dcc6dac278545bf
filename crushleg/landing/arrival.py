"""What touches down, and the curve of one leg in vertical terms."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.arrays import known
from crushleg.landing.elastic import with_elastic
from crushleg.landing.leg import LegForces, linkage_leg, sliding_leg

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Factors, Leg, Touchdown, Vehicle
    from crushleg.girder.crush import Crush


class Arrival(NamedTuple):
    """What touches down: mass [kg], thrust, weight and net weight [N], speeds [m/s, rad/s].

    ``closing`` is the speed normal to the ground, ``kinetic`` [J] what the legs must stop.
    """

    mass: float
    weight: float
    thrust: float
    net_weight: float
    vertical: float
    horizontal: float
    rate: float
    closing: float
    kinetic: float


class LegCurve(NamedTuple):
    """One leg with its elastic shortening, low nominal high (3, G, n): travel, reaction, work."""

    travel: FloatArray
    reaction: FloatArray
    work: FloatArray
    stiffness: FloatArray
    forces: LegForces


def arrive(vehicle: Vehicle, touchdown: Touchdown, factors: Factors) -> Arrival:
    """Mass, speeds, weight and kinetic energy that arrive at a touchdown.

    Wn is the net weight, T the residual thrust, positive upward.

    Notes
    -----
    Means: What touches down: mass m, net weight Wn = m g − T, speeds and kinetic energy.
    Formula: Wn = m g − T, T = thrust_to_weight × m g
    Formula: closing speed = max(v, v cos σ + v_h sin σ), σ the slope
    Formula: E_kin = ½ m v_closing² + ½ m k² ω²
    Formula: reserve: every speed × speed_reserve, once
    Range: Thrust below the weight. On a slope the closing speed is that of a landing uphill, never
    less than v.
    Band: None: what arrives is given; the girder's force has the band. `scatter` draws it.
    Limits: factors.speed_reserve multiplies the speeds of reserve cases
    Limits: touchdown.mass, else vehicle.mass; vehicle.gravity; vehicle.radius_of_gyration is k

    References
    ----------
    Kinetics of a rigid body [D]

    Reserve by speed: the precedent is 1.2 in the former 14 CFR 23.723 [published]
    """
    factor = factors.speed_reserve if touchdown.reserve else 1.0
    v, along, rate = (
        factor * speed
        for speed in (
            touchdown.vertical_speed,
            touchdown.horizontal_speed,
            touchdown.attitude_rate,
        )
    )
    mass = vehicle.mass if touchdown.mass is None else touchdown.mass
    weight = mass * vehicle.gravity
    thrust = touchdown.thrust_to_weight * weight
    uphill = v * np.cos(touchdown.slope) + along * np.sin(touchdown.slope)
    closing = np.maximum(v, uphill)
    spin = 0.5 * mass * known(vehicle.radius_of_gyration) ** 2 * rate**2
    kinetic = 0.5 * mass * closing**2 + spin
    return Arrival(mass, weight, thrust, weight - thrust, v, along, rate, closing, kinetic)


def leg_forces(leg: Leg) -> LegForces:
    """Force ratios of the leg; guide friction only where a guide carries the side load."""
    if leg.travel_ratio is not None:
        return linkage_leg(leg.travel_ratio)
    guide = leg.guide_friction if leg.side_load == "guide" else 0.0
    return sliding_leg(leg.cant, leg.pad_friction, guide)


def leg_curve(crush: Crush, forces: LegForces) -> LegCurve:
    """Vertical reaction and work of one leg against the vertical travel of the vehicle."""
    s = np.broadcast_to(crush.curve.stroke, crush.curve.force.shape)
    x, force, energy = with_elastic(s, crush.curve.force, crush.curve.energy, crush.stiffness)
    travel, reaction = forces.travel[..., None], forces.reaction[..., None]
    work = energy * reaction * travel
    stiffness = crush.stiffness * forces.reaction / forces.travel
    return LegCurve(x * travel, force * reaction, work, stiffness, forces)
