"""What is the same all through a landing: B landings of vehicles with N legs, and the step."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray, IntArray

STEP = 0.25
"""Step times the highest angular frequency; 2 is the limit of stability (leapfrog)."""


class Setup(NamedTuple):
    """B landings of vehicles with N legs; every array has B on its first axis.

    Attributes
    ----------
    mass : (B,)
        [kg].
    inertia : (B, 3)
        About the body axes [kg m2].
    gravity : (B, 3)
        In the ground frame [m/s2].
    pads : (B, N, 3)
        Pads from the centre of gravity, legs uncrushed, body frame [m].
    slide : (B, N, 3)
        A pad moves by −slide × travel of its absorber, body frame [-].
    sideways : (B, N)
        1 where load across the absorber's axis is met, 0 for a strut in a linkage [-].
    curve : (B, N) of int
        Crush curve of each leg.
    stiffness, damping : (B, N)
        Along the absorber while it springs [N/m, N s/m].
    guide : (B, N)
        Friction in the guide, on the load across the axis [-].
    friction : (B, N)
        Pad on ground [-]; inf for a stuck pad.
    grip, grip_damping : (B, N)
        Sideways, of a pad that sticks [N/m, N s/m].
    bearing, bearing_gradient : (B, N)
        Force that begins to sink the pad [N], inf on firm ground; more per sinkage [N/m].
    thrust, shutdown, decay : (B,)
        Residual thrust along the body axis [N], until the time [s], then falling to 1/e in [s].
    hull_height, hull_radius : (B,)
        Ring of lowest hard points below the centre of gravity, round the axis [m]; the height
        is inf if there is none.
    ring : (B, N) of int
        Legs in the order of their azimuth.
    """

    mass: FloatArray
    inertia: FloatArray
    gravity: FloatArray
    pads: FloatArray
    slide: FloatArray
    sideways: FloatArray
    curve: IntArray
    stiffness: FloatArray
    damping: FloatArray
    guide: FloatArray
    friction: FloatArray
    grip: FloatArray
    grip_damping: FloatArray
    bearing: FloatArray
    bearing_gradient: FloatArray
    thrust: FloatArray
    shutdown: FloatArray
    decay: FloatArray
    hull_height: FloatArray
    hull_radius: FloatArray
    ring: IntArray


class Start(NamedTuple):
    """Pose and speeds at contact: (B, 3) position and velocity of the centre of gravity [m, m/s].

    ``attitude`` (B, 4) body to ground, ``turning`` (B, 3) angular velocity [rad/s], ground frame.
    """

    position: FloatArray
    velocity: FloatArray
    attitude: FloatArray
    turning: FloatArray


def highest_frequency(setup: Setup) -> FloatArray:
    r"""Highest angular frequency of the vehicle on all its springing legs.

    Parameters
    ----------
    setup : Setup

    Returns
    -------
    ndarray, shape (B,)
        ω [rad/s]: of the six motions of the rigid body, every pad sticking, upright.

    References
    ----------
    [D]
    """
    return np.sqrt(_stiffest(setup, setup.grip, setup.stiffness))


def highest_damping(setup: Setup) -> FloatArray:
    """Highest rate at which the damping of all legs stops a motion (B,) [1/s]; as above."""
    return _stiffest(setup, setup.grip_damping, setup.damping)


def _stiffest(setup: Setup, across: FloatArray, along: FloatArray) -> FloatArray:
    """Largest eigenvalue of springs (or dampers) across and along the legs over the inertia."""
    lines = _lines(setup.slide)
    springs = (across, across, along / setup.slide[..., 2] ** 2)
    total = np.zeros((len(setup.mass), 6, 6))
    for spring, line in zip(springs, lines, strict=True):
        moved = np.concatenate([line, np.cross(setup.pads, line)], axis=-1)
        total += np.einsum("bn,bni,bnj->bij", spring, moved, moved)
    inertia = np.concatenate([np.repeat(setup.mass[:, None], 3, axis=1), setup.inertia], axis=1)
    modes = np.linalg.eigvalsh(total / np.sqrt(inertia[:, :, None] * inertia[:, None, :]))
    return np.asarray(modes[:, -1])


def _lines(slide: FloatArray) -> list[FloatArray]:
    """Lines on which the ground's springs push: a pad sideways, then along its absorber.

    A pad that is held sideways pushes along its absorber too, since it slides as it sinks.
    """
    lines = []
    for k in range(3):
        line = np.zeros_like(slide)
        line[..., k] = 1.0
        if k < 2:
            line[..., 2] = -slide[..., k] / slide[..., 2]
        lines.append(line)
    return lines


def step(setup: Setup) -> FloatArray:
    """Step of the integration from the stiffest or the most damped motion [s], shape (B,)."""
    return STEP / np.maximum(highest_frequency(setup), highest_damping(setup))
