"""Coming to rest: when a vehicle has stopped crushing and sliding, and how its rocking fades."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.motion.balance import balance
from crushleg.landing.motion.body import kinetic, pose_of

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.landing.motion.body import Body
    from crushleg.landing.motion.ledger import Spent
    from crushleg.landing.motion.setup import Setup
    from crushleg.landing.motion.state import Pads, Pose
    from crushleg.landing.motion.watch import Seen

REST_SPEED, REST_SHARE = 1e-3, 5e-3
"""At rest below this speed [m/s], or this share of the speed at contact, for two bounces."""
QUIET, PROGRESS = 1.0, 5e-4
"""Quiet after a time over √(ρ/g) in which all legs and pads together crushed, slid and sank by
less than a length over ρ."""
HARMLESS = 0.2
"""Share of the energy to tip over that a quiet vehicle's rocking must not reach."""
FADE = 0.25
"""Time in which the speed of rocking falls to 1/e once quiet, over √(ρ/g) (judgement)."""


class Quiet(NamedTuple):
    """Crush, slide and sinkage of all legs [m], since when they are so [s], least height since."""

    done: FloatArray
    since: FloatArray
    lowest: FloatArray


class Pace(NamedTuple):
    """What rest is measured by (B,): slow speed [m/s], time of two bounces [s], ρ [m], √(ρ/g) [s].

    ρ is the distance of the farthest pad from the centre of gravity.
    """

    slow: FloatArray
    window: FloatArray
    reach: FloatArray
    time: FloatArray


def pace_of(setup: Setup, kinetic_energy: FloatArray) -> Pace:
    """Pace of landings that arrive with a kinetic energy [J]."""
    gravity = np.sqrt((setup.gravity**2).sum(axis=1))
    speed = np.sqrt(2.0 * kinetic_energy / setup.mass)
    reach = np.sqrt((setup.pads**2).sum(axis=-1)).max(axis=1)
    return Pace(
        slow=np.maximum(REST_SPEED, REST_SHARE * speed),
        window=4.0 * np.pi * np.sqrt(setup.mass / setup.stiffness.sum(axis=1)),
        reach=reach,
        time=np.sqrt(reach / gravity),
    )


def height_of(setup: Setup, position: FloatArray) -> FloatArray:
    """Height of the centre of gravity against gravity, not the ground's normal (B,) [m]."""
    g = setup.gravity
    return np.asarray(-(position * g).sum(axis=1) / np.sqrt((g**2).sum(axis=1)))


def still(
    quiet: Quiet, time: FloatArray, pads: Pads, watched: Seen, height: FloatArray, reach: FloatArray
) -> Quiet:
    """Note when a leg last crushed or a pad last slid."""
    done = pads.most.sum(axis=1) + watched.slide.sum(axis=1) + pads.sunk.sum(axis=1)
    goes_on = done > quiet.done + PROGRESS * reach
    return Quiet(
        done=np.where(goes_on, done, quiet.done),
        since=np.where(
            goes_on | ~pads.touching.any(axis=1) & (quiet.done == 0.0), time, quiet.since
        ),
        lowest=np.where(goes_on, height, np.minimum(quiet.lowest, height)),
    )


def faded(
    setup: Setup,
    pace: Pace,
    body: Body,
    pads: Pads,
    used: Spent,
    quiet: Quiet,
    h: FloatArray,
    since: FloatArray,
) -> tuple[Body, Spent]:
    """Let the rocking of a quiet vehicle fade; what it loses counts as damping.

    Never on one or two legs, where no energy to tip over is known.
    """
    long = since > QUIET * pace.time
    if not long.any():
        return body, used
    energy = kinetic(setup, body)
    gravity = np.sqrt((setup.gravity**2).sum(axis=1))
    raised = setup.mass * gravity * (height_of(setup, body.position) - quiet.lowest)
    lift = np.nan_to_num(balance(setup, pose_of(setup, body), pads).energy, nan=0.0)
    fades = long & (energy + raised < HARMLESS * lift)
    keep = np.where(fades, np.exp(-h / (FADE * pace.time)), 1.0)
    slower = body._replace(
        velocity=keep[:, None] * body.velocity, momentum=keep[:, None] * body.momentum
    )
    return slower, used._replace(damping=used.damping + energy * (1.0 - keep**2))


def calm(setup: Setup, pace: Pace, pose: Pose, pads: Pads) -> BoolArray:
    """Slow, and standing on three pads; on one or two a vehicle stands on a knife's edge."""
    turning = np.einsum("bij,bi->bj", pose.rotation, pose.turning)
    energy = (pose.velocity**2).sum(axis=1) + (turning**2 * setup.inertia).sum(axis=1) / setup.mass
    stands = pads.touching.sum(axis=1) >= 3
    return np.asarray(stands & (energy < pace.slow**2))
