"""How near the vehicle is to tipping over a line between two pads, and to the ground."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.motion.rotation import cross

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray, IntArray
    from crushleg.landing.motion.setup import Setup
    from crushleg.landing.motion.state import Pads, Pose


class Balance(NamedTuple):
    """Of the weakest line (B,): angle left [rad], energy left [J], its first leg."""

    angle: FloatArray
    energy: FloatArray
    leg: IntArray


def balance(setup: Setup, pose: Pose, pads: Pads) -> Balance:
    """Angle and energy that tip the vehicle over its weakest line between two pads.

    Parameters
    ----------
    setup : Setup
    pose : Pose
    pads : Pads

    Returns
    -------
    Balance
        Angle α between the centre of gravity, seen along the line, and the vertical above the
        line; negative beyond it. NaN for fewer than three legs.

    Notes
    -----
    Means: Tilt and energy that still keep the vehicle from tipping over its weakest line of pads.
    Formula: ΔE = m g⊥ ρ (1 − cos α)
    Formula: α = arctan(reach/height) of the centre of gravity over the line
    Range: Three legs or more; pads where they are, gravity across the line.
    Band: Columns of the landing: low, nominal, high, or the forces that the landing has.

    ρ is the distance of the centre of gravity from the line and g⊥ gravity across it, so a line
    that runs up the slope counts right.

    References
    ----------
    [D]
    """
    B, N = setup.curve.shape
    if N < 3:
        none = np.full(B, np.nan)
        return Balance(none, none, np.zeros(B, dtype=np.intp))
    place = np.take_along_axis(pads.place, setup.ring[..., None], axis=1)
    edge = np.roll(place, -1, axis=1) - place
    edge = edge / np.sqrt(np.einsum("bni,bni->bn", edge, edge))[..., None]
    down = np.broadcast_to(setup.gravity[:, None], edge.shape)
    down = down - np.einsum("bni,bni->bn", down, edge)[..., None] * edge
    pull = np.sqrt(np.einsum("bni,bni->bn", down, down))
    up = -down / pull[..., None]
    inward = cross(up, edge)
    arm = pose.position[:, None] - place
    height = np.einsum("bni,bni->bn", arm, up)
    reach = np.einsum("bni,bni->bn", arm, inward)
    angle = np.arctan2(reach, height)
    lever = np.hypot(reach, height)
    lift = setup.mass[:, None] * pull * lever * (1.0 - np.cos(np.maximum(angle, 0.0)))
    worst = angle.argmin(axis=1)[:, None]
    return Balance(
        np.take_along_axis(angle, worst, axis=1)[:, 0],
        lift.min(axis=1),
        np.take_along_axis(setup.ring, worst, axis=1)[:, 0],
    )


def clearance(setup: Setup, pose: Pose) -> FloatArray:
    """Distance of the lowest hard points from the ground (B,) [m]; inf where none are given.

    The points lie on a ring round the vehicle axis; its lowest one counts.

    Notes
    -----
    Means: Least distance of the lowest hard points from the ground during a landing in motion.
    Formula: least = z_G − h_c cos θ − r_c sin θ, θ the tilt of the axis
    Range: Ring of the lowest hard points over flat ground, at every step.
    Band: Columns of the landing; the worst counts.
    Limits: limits.clearance_min; vehicle.clearance, clearance_radius

    References
    ----------
    Geometry [D]
    """
    axis = pose.rotation[:, :, 2]
    tilt = np.sqrt(np.maximum(1.0 - axis[:, 2] ** 2, 0.0))
    centre = pose.position[:, 2] - setup.hull_height * axis[:, 2]
    lowest = centre - setup.hull_radius * tilt
    return np.asarray(np.where(np.isfinite(setup.hull_height), lowest, np.inf))
