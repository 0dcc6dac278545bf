"""What is kept of a landing while it runs: extremes, and when the vehicle has come to rest."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.motion.balance import balance, clearance

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.landing.motion.setup import Setup
    from crushleg.landing.motion.state import Pads, Pose


class Seen(NamedTuple):
    """Extremes so far of B landings with N legs.

    Attributes
    ----------
    contact : (B, N)
        When each pad first was loaded [s]; NaN before.
    touch : (B, N, 2)
        Where it was then [m].
    strut, across, normal : (B, N)
        Largest load along the absorber, across it, and of the pad on the ground [N].
    slide : (B, N)
        Way of each pad over the ground [m].
    deceleration, accelerometer : (B,)
        Largest acceleration with a pad loaded; the same less gravity [m/s2].
    turning : (B,)
        Largest angular velocity after contact [rad/s].
    clearance, clearance_time, clearance_azimuth : (B,)
        Least distance of the hull from the ground until the vehicle is beyond tipping [m], when
        [s], where round the body [rad].
    angle, angle_time : (B,)
        Least angle left before tipping [rad], when [s].
    peak_time : (B,)
        When the deceleration was largest [s].
    calm : (B,)
        Since when the vehicle has been at rest [s]; NaN while it moves.
    """

    contact: FloatArray
    touch: FloatArray
    strut: FloatArray
    across: FloatArray
    normal: FloatArray
    slide: FloatArray
    deceleration: FloatArray
    accelerometer: FloatArray
    turning: FloatArray
    clearance: FloatArray
    clearance_time: FloatArray
    clearance_azimuth: FloatArray
    angle: FloatArray
    angle_time: FloatArray
    peak_time: FloatArray
    calm: FloatArray


def nothing_seen(setup: Setup) -> Seen:
    """Extremes before contact."""
    B, N = setup.curve.shape
    legs, one, never = np.zeros((B, N)), np.zeros(B), np.full(B, np.nan)
    most = np.full(B, np.inf)
    return Seen(
        np.full((B, N), np.nan), np.zeros((B, N, 2)), legs, legs, legs, legs, one, one, one,
        most, never, never, most, never, never, never,
    )  # fmt: skip


def seen(
    so_far: Seen,
    setup: Setup,
    time: FloatArray,
    pose: Pose,
    pads: tuple[Pads, Pads],
    push: FloatArray,
    calm: BoolArray,
    *,
    look: bool,
) -> Seen:
    """Extremes with one more step.

    Parameters
    ----------
    so_far : Seen
    setup : Setup
    time : ndarray, shape (B,)
        [s].
    pose : Pose
    pads : tuple of Pads
        One step earlier and now.
    push : ndarray, shape (B, 3)
        Force on the vehicle, gravity and thrust included [N].
    calm : ndarray of bool, shape (B,)
        Whether the vehicle moves too little to go on.
    look : bool
        Whether to work out how near the vehicle is to tipping.

    Returns
    -------
    Seen
    """
    before, now = pads
    touching = now.touching
    landed = ~np.isnan(so_far.contact).all(axis=1) | touching.any(axis=1)
    loaded = touching.any(axis=1)
    acceleration = push / setup.mass[:, None]
    slow = np.where(loaded, _length(acceleration), 0.0)
    felt = np.where(loaded, _length(acceleration - setup.gravity), 0.0)
    left = np.where(so_far.angle < 0.0, np.inf, clearance(setup, pose))
    nearer = left < so_far.clearance
    angle = so_far.angle
    if look:
        angle = np.where(landed, np.fmin(angle, balance(setup, pose, now).angle), angle)
    tipped = angle < so_far.angle
    harder = slow > so_far.deceleration
    axis = pose.rotation[:, 2, :2]
    return Seen(
        contact=np.where(np.isnan(so_far.contact) & touching, time[:, None], so_far.contact),
        touch=np.where(
            (np.isnan(so_far.contact) & touching)[..., None], now.place[..., :2], so_far.touch
        ),
        strut=np.maximum(so_far.strut, now.strut),
        across=np.maximum(so_far.across, now.across),
        normal=np.maximum(so_far.normal, now.force[..., 2]),
        slide=so_far.slide + _length(now.anchor - before.anchor) * (touching & before.touching),
        deceleration=np.maximum(so_far.deceleration, slow),
        accelerometer=np.maximum(so_far.accelerometer, felt),
        turning=np.maximum(so_far.turning, np.where(landed, _length(pose.turning), 0.0)),
        clearance=np.minimum(so_far.clearance, left),
        clearance_time=np.where(nearer, time, so_far.clearance_time),
        clearance_azimuth=np.where(
            nearer, np.arctan2(-axis[:, 1], -axis[:, 0]), so_far.clearance_azimuth
        ),
        angle=angle,
        angle_time=np.where(tipped, time, so_far.angle_time),
        peak_time=np.where(harder, time, so_far.peak_time),
        calm=np.where(calm, np.fmin(so_far.calm, time), np.nan),
    )


def _length(vector: FloatArray) -> FloatArray:
    return np.asarray(np.sqrt((vector**2).sum(axis=-1)))
