"""From the records of a case to landings: geometry, curves, pose and speeds at contact."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.arrival import arrive
from crushleg.landing.motion.curves import Curves, curves_of
from crushleg.landing.motion.rotation import matrix, turned
from crushleg.landing.motion.setup import Setup, Start

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case, Touchdown, Vehicle
    from crushleg.girder.crush import Crush

GRIP = 0.5
"""Stiffness of a sticking pad sideways over that of its girder (judgement; strokes of canted
legs with friction move by up to 0.5 % with it)."""
PAIR = {"all": True, "two": True, "one": False}


class Landing(NamedTuple):
    """One landing: its touchdown, the level (0 low, 1 nominal, 2 high) of each leg, pad friction.

    ``girder`` says which of G girders the legs are; ``friction`` is inf for stuck pads.
    """

    touchdown: Touchdown
    levels: tuple[int, ...]
    friction: float
    girder: int = 0


def leg_places(vehicle: Vehicle) -> FloatArray:
    """Azimuth of every leg round the vehicle axis [rad], shape (N,)."""
    if vehicle.leg_azimuths is not None:
        return np.asarray(vehicle.leg_azimuths)
    return 2.0 * np.pi * np.arange(vehicle.legs) / vehicle.legs


def heading_of(vehicle: Vehicle, touchdown: Touchdown) -> float:
    """Direction of travel from leg 1 [rad].

    Left out: such that leg 1 lies on the low side of the vehicle with ``first_contact`` "one",
    legs 1 and 2 as a pair otherwise; the low side is ahead when nothing leans.
    """
    if touchdown.heading is not None:
        return touchdown.heading
    places = leg_places(vehicle)
    pair = PAIR[touchdown.first_contact] and len(places) > 1
    middle = places[0] + (0.5 * ((places[1] - places[0]) % math.tau) if pair else 0.0)
    lean = touchdown.attitude + touchdown.slope * math.cos(touchdown.slope_azimuth)
    return float(middle + (math.pi if lean < -1e-12 else 0.0))


def curves_for(crush: Crush) -> Curves:
    """Curves of G girders, low, nominal, high: curve 3 g + level."""
    curve = crush.curve
    points = curve.stroke.shape[1]
    count = 3 * len(curve.stroke)
    force = np.moveaxis(curve.force, 0, 1).reshape(count, points)
    energy = np.moveaxis(curve.energy, 0, 1).reshape(count, points)
    return curves_of(
        np.repeat(curve.stroke, 3, axis=0), force, energy, np.repeat(crush.stiffness, 3)
    )


def assemble(case: Case, crush: Crush, landings: list[Landing]) -> tuple[Setup, Start]:
    """Landings of one vehicle as arrays.

    Parameters
    ----------
    case : Case
        Its vehicle must have height, pad circle and gyration.
    crush : Crush
    landings : list of Landing

    Returns
    -------
    Setup, Start
    """
    vehicle, leg = case.vehicle, case.leg
    arrivals = [arrive(vehicle, one.touchdown, case.factors) for one in landings]
    mass = np.array([a.mass for a in arrivals])
    B, N = len(landings), vehicle.legs
    pads, slide = _legs(case, landings)
    curve = np.array([[3 * one.girder + level for level in one.levels] for one in landings])
    stiffness = np.repeat(crush.stiffness, 3)[curve]
    grip = np.where(_friction(landings, N) > 0.0, GRIP * stiffness, 0.0)
    damping = 2.0 * leg.damping * np.sqrt(mass[:, None] / N * np.stack([stiffness, grip]))
    linkage = leg.travel_ratio is not None
    guided = 0.0 if linkage or leg.side_load != "guide" else leg.guide_friction
    ground, area = case.ground, leg.pad_area or 0.0
    axial = vehicle.axial_radius_of_gyration or vehicle.radius_of_gyration or 0.0
    gyration = np.array([vehicle.radius_of_gyration or 0.0] * 2 + [axial])
    frames = [_ground_frame(one.touchdown) for one in landings]
    down = np.array([0.0, 0.0, -vehicle.gravity])
    shutdown = [one.touchdown.shutdown_time for one in landings]
    full = np.ones((B, N))
    setup = Setup(
        mass=mass,
        inertia=mass[:, None] * gyration**2,
        gravity=np.array([frame @ down for frame in frames]),
        pads=pads,
        slide=slide,
        sideways=(0.0 if linkage else 1.0) * full,
        curve=curve,
        stiffness=stiffness,
        damping=damping[0],
        guide=guided * full,
        friction=_friction(landings, N),
        grip=grip,
        grip_damping=damping[1],
        bearing=(np.inf if ground is None else ground.bearing_pressure * area) * full,
        bearing_gradient=(0.0 if ground is None else ground.bearing_gradient * area) * full,
        thrust=np.array([a.thrust for a in arrivals]),
        shutdown=np.array([np.inf if t is None else t for t in shutdown]),
        decay=np.array([one.touchdown.thrust_decay for one in landings]),
        hull_height=np.full(B, _hull(vehicle)),
        hull_radius=np.full(B, vehicle.clearance_radius),
        ring=np.tile(np.argsort(leg_places(vehicle) % math.tau), (B, 1)),
    )
    speeds = np.array([[a.horizontal, 0.0, -a.vertical] for a in arrivals])
    rates = np.array([[0.0, a.rate, 0.0] for a in arrivals])
    return setup, _start(landings, setup, np.array(frames), speeds, rates)


def _friction(landings: list[Landing], legs: int) -> FloatArray:
    return np.repeat(np.array([one.friction for one in landings])[:, None], legs, axis=1)


def _hull(vehicle: Vehicle) -> float:
    """Lowest hard point below the centre of gravity [m]."""
    height = vehicle.centre_of_gravity_height or 0.0
    return math.inf if vehicle.clearance is None else height - vehicle.clearance


def _legs(case: Case, landings: list[Landing]) -> tuple[FloatArray, FloatArray]:
    """Place pads and slides in the body frame, x toward the direction of travel (B, N, 3)."""
    vehicle, leg = case.vehicle, case.leg
    height, radius = vehicle.centre_of_gravity_height or 0.0, vehicle.pad_circle_radius or 0.0
    heading = np.array([heading_of(vehicle, one.touchdown) for one in landings])
    places = leg_places(vehicle) - heading[:, None]
    out = np.stack([np.cos(places), np.sin(places), np.zeros_like(places)], axis=-1)
    up = np.array([0.0, 0.0, 1.0])
    if leg.travel_ratio is not None:
        slide = np.broadcast_to(-leg.travel_ratio * up, out.shape)
    else:
        slide = math.sin(leg.cant) * out - math.cos(leg.cant) * up
    return radius * out - height * up, np.array(slide)


def _ground_frame(touchdown: Touchdown) -> FloatArray:
    """Rows: axes of the ground frame, seen from the vertical and the direction of travel."""
    slope, azimuth = touchdown.slope, touchdown.slope_azimuth
    normal = np.array(
        [
            -math.sin(slope) * math.cos(azimuth),
            -math.sin(slope) * math.sin(azimuth),
            math.cos(slope),
        ]
    )
    ahead = np.array([1.0, 0.0, 0.0]) - normal[0] * normal
    ahead /= np.linalg.norm(ahead)
    return np.stack([ahead, np.cross(normal, ahead), normal])


def _start(
    landings: list[Landing],
    setup: Setup,
    frames: FloatArray,
    speeds: FloatArray,
    rates: FloatArray,
) -> Start:
    """Pose with the lowest pad just touching, the vehicle leaning forward by its attitude."""
    lean = np.array([[0.0, one.touchdown.attitude, 0.0] for one in landings])
    upright = np.tile([1.0, 0.0, 0.0, 0.0], (len(landings), 1))
    leaned = np.einsum("bij,bjk->bik", frames, matrix(turned(upright, lean)))
    attitude = np.stack([_quaternion(rotation) for rotation in leaned])
    pads = np.einsum("bij,bnj->bni", leaned, setup.pads)
    position = np.zeros((len(landings), 3))
    position[:, 2] = -pads[..., 2].min(axis=1)
    return Start(
        position=position,
        velocity=np.einsum("bij,bj->bi", frames, speeds),
        attitude=attitude,
        turning=np.einsum("bij,bj->bi", frames, rates),
    )


def _quaternion(rotation: FloatArray) -> FloatArray:
    """Find the unit quaternion of a rotation of less than half a turn."""
    w = 0.5 * math.sqrt(max(1.0 + float(np.trace(rotation)), 1e-300))
    odd = rotation - rotation.T
    return np.array([w, *(np.array([odd[2, 1], odd[0, 2], odd[1, 0]]) / (4.0 * w))])
