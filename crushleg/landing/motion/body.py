r"""One step of the rigid body: velocity Verlet, midpoint in attitude.

.. math::

    v_{n+1/2} = v_n + \tfrac12 h\,a_n, \quad r_{n+1} = r_n + h\,v_{n+1/2}, \quad
    v_{n+1} = v_{n+1/2} + \tfrac12 h\,a_{n+1}

and the same for the angular momentum L and the attitude, with ω = R I⁻¹ Rᵀ L at half a step.
Second order in the step h, which may change from step to step.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.motion.rotation import cross, matrix, turned
from crushleg.landing.motion.state import Pose

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.landing.motion.setup import Setup, Start
    from crushleg.landing.motion.state import Pads


class Body(NamedTuple):
    """B bodies in the ground frame, and what acts on them.

    ``position`` (B, 3) [m], ``attitude`` (B, 4) and its matrix ``rotation``, ``velocity`` [m/s]
    and angular ``momentum`` [kg m2/s] (B, 3), ``push`` [N] and ``moment`` about the centre of
    gravity [N m] (B, 3).
    """

    position: FloatArray
    attitude: FloatArray
    rotation: FloatArray
    velocity: FloatArray
    momentum: FloatArray
    push: FloatArray
    moment: FloatArray


def at_start(setup: Setup, start: Start) -> Body:
    """Bodies at contact: gravity and thrust act, no pad is loaded."""
    R = matrix(start.attitude)
    push = setup.mass[:, None] * setup.gravity + setup.thrust[:, None] * R[:, :, 2]
    momentum = np.einsum("bij,bj,bkj,bk->bi", R, setup.inertia, R, start.turning)
    none = np.zeros_like(push)
    return Body(start.position, start.attitude, R, start.velocity, momentum, push, none)


def spin(setup: Setup, rotation: FloatArray, momentum: FloatArray) -> FloatArray:
    """Angular velocity in the ground frame [rad/s] of an angular momentum there."""
    local = np.einsum("bij,bi->bj", rotation, momentum) / setup.inertia
    return np.einsum("bij,bj->bi", rotation, local)


def pose_of(setup: Setup, body: Body) -> Pose:
    """Pose and speeds of the bodies."""
    R = body.rotation
    return Pose(body.position, R, body.velocity, spin(setup, R, body.momentum))


def drifted(setup: Setup, body: Body, h: FloatArray) -> tuple[Body, Pose]:
    """Half a kick and a drift: the next position with the speeds of half a step.

    Parameters
    ----------
    setup : Setup
    body : Body
    h : ndarray, shape (B,)
        Step [s].

    Returns
    -------
    Body, Pose
        The pose has the speeds that the same forces would give at the end of the step.
    """
    step = h[:, None]
    kick, twist = 0.5 * step * body.push / setup.mass[:, None], 0.5 * step * body.moment
    velocity, momentum = body.velocity + kick, body.momentum + twist
    turning = spin(setup, body.rotation, momentum)
    middle = matrix(turned(body.attitude, 0.5 * step * turning))
    attitude = turned(body.attitude, step * spin(setup, middle, momentum))
    R = matrix(attitude)
    there = body._replace(
        position=body.position + step * velocity,
        attitude=attitude,
        rotation=R,
        velocity=velocity,
        momentum=momentum,
    )
    return there, Pose(there.position, R, velocity + kick, spin(setup, R, momentum + twist))


def kicked(setup: Setup, body: Body, push: FloatArray, moment: FloatArray, h: FloatArray) -> Body:
    """Second half of the kick, with the forces at the end of the step [N, N m]."""
    half = 0.5 * h[:, None]
    return body._replace(
        velocity=body.velocity + half * push / setup.mass[:, None],
        momentum=body.momentum + half * moment,
        push=push,
        moment=moment,
    )


def forces_on(
    setup: Setup, pose: Pose, pads: Pads, thrust: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Force and moment about the centre of gravity (B, 3) [N, N m]; ``thrust`` (B, 3) [N]."""
    push = pads.force.sum(axis=1) + thrust + setup.mass[:, None] * setup.gravity
    moment = cross(pads.place - pose.position[:, None], pads.force).sum(axis=1)
    return push, moment


def kinetic(setup: Setup, body: Body) -> FloatArray:
    """Kinetic energy (B,) [J]."""
    v = body.velocity
    return np.asarray(
        0.5 * setup.mass * np.einsum("bi,bi->b", v, v)
        + 0.5 * np.einsum("bi,bi->b", spin(setup, body.rotation, body.momentum), body.momentum)
    )
