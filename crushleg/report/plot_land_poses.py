"""A vehicle in motion seen from its right side, in the upright plane of its travel.

Lengths in metres: across is level in the direction of travel, up is against gravity, both from
the ground under the centre of gravity.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.land import planned
from crushleg.landing.motion.assemble import assemble
from crushleg.landing.motion.rotation import matrix
from crushleg.report.plot_land_legs import main_column

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.land import Move, Moving
    from crushleg.landing.motion.setup import Setup

AROUND = 73
"""Points of the hull ring."""
ABOVE = 0.35
"""The axis is drawn so much of the height of the centre of gravity above it."""


class View(NamedTuple):
    """One pose of N legs, from the side; arrays end in across and up [m].

    Attributes
    ----------
    time : float
        [s].
    centre : (2,)
        Centre of gravity.
    axis : (2, 2)
        Ends of the vehicle axis: level with the hull ring, and above the centre of gravity.
    pads, free, held : (N, 2)
        Pads where they are and where they would be uncrushed; where the girders are held.
    travel, sunk, depth : (N,)
        Stroke, sinkage, way behind the plane [m].
    hull : (P, 2)
        Ring of lowest hard points, none without clearance.
    lowest, below : (2,)
        Lowest hard point and the ground under it along the normal.
    clearance : float
        Between them [m]; NaN without.
    slope : (2,)
        Rise of the ground over a metre across, and over a metre away from the viewer [-].
    lean : (2,)
        Vehicle axis ahead of the vertical, and to the left of it [rad].
    velocity : (2,)
        Of the centre of gravity at contact [m/s].
    """

    time: float
    centre: FloatArray
    axis: FloatArray
    pads: FloatArray
    free: FloatArray
    held: FloatArray
    travel: FloatArray
    sunk: FloatArray
    depth: FloatArray
    hull: FloatArray
    lowest: FloatArray
    below: FloatArray
    clearance: float
    slope: FloatArray
    lean: FloatArray
    velocity: FloatArray


class _Pose(NamedTuple):
    """Time, position, rotation, pads and their travel and sinkage, ground frame."""

    time: float
    position: FloatArray
    rotation: FloatArray
    place: FloatArray
    travel: FloatArray
    sunk: FloatArray


def views(moving: Moving, move: Move) -> tuple[View, View, View]:
    """Contact, peak deceleration and end of the main column of a landing.

    Parameters
    ----------
    moving : Moving
    move : Move

    Returns
    -------
    tuple of View
    """
    case, column = moving.checked.case, main_column(move)
    landing = planned(case, move.plan)[column]
    setup, start = assemble(case, moving.checked.crush, [landing])
    history = move.histories[column]
    R = matrix(start.attitude[0])
    none = np.zeros(case.vehicle.legs)
    pads = start.position[0] + setup.pads[0] @ R.T
    loaded = (history.force[..., 2] > 0.0).any(axis=1)
    peak = int(np.argmax((history.push**2).sum(axis=1) * loaded))
    poses = [_Pose(0.0, start.position[0], R, pads, none, none)]
    for step in (peak, -1):
        fields = ("position", "rotation", "place", "travel", "sunk")
        time = float(history.time[step])
        poses.append(_Pose(time, *(getattr(history, field)[step] for field in fields)))
    length = case.leg.free_length
    first, hardest, last = (_seen(setup, pose, start.velocity[0], length) for pose in poses)
    return first, hardest, last


def side_axes(gravity: FloatArray) -> FloatArray:
    """Rows: level ahead, up, level to the left, in the ground frame; shape (3, 3)."""
    up = -gravity / np.sqrt(gravity @ gravity)
    ahead = np.array([1.0, 0.0, 0.0]) - up[0] * up
    ahead /= np.sqrt(ahead @ ahead)
    return np.stack([ahead, up, np.cross(up, ahead)])


def _seen(setup: Setup, pose: _Pose, velocity: FloatArray, length: float | None) -> View:
    """Project one pose."""
    frame = side_axes(setup.gravity[0])
    ahead, up, left = frame
    plumb = pose.position - pose.position[2] / up[2] * up

    def flat(points: FloatArray) -> FloatArray:
        return np.asarray((points - plumb) @ frame[:2].T)

    slide = setup.slide[0] @ pose.rotation.T
    free = pose.place + pose.travel[:, None] * slide
    along = slide / np.sqrt((slide**2).sum(axis=1))[:, None]
    z = pose.rotation[:, 2]
    height = -float(setup.pads[0, :, 2].min())
    reach = _reach(setup, height) if length is None else length
    ring = _ring(setup, pose)
    lowest = ring[np.argmin(ring[:, 2])] if len(ring) else np.full(3, np.nan)
    foot = setup.hull_height[0] if np.isfinite(setup.hull_height[0]) else 0.5 * height
    ends = np.stack([pose.position - foot * z, pose.position + ABOVE * height * z])
    rise = np.array([-ahead[2], -left[2]]) / up[2]
    return View(
        time=pose.time,
        centre=flat(pose.position),
        axis=flat(ends),
        pads=flat(pose.place),
        free=flat(free),
        held=flat(free - reach * along),
        travel=pose.travel,
        sunk=pose.sunk,
        depth=(pose.place - plumb) @ left,
        hull=flat(ring),
        lowest=flat(lowest),
        below=flat(lowest * [1.0, 1.0, 0.0]),
        clearance=float(lowest[2]),
        slope=rise,
        lean=np.arctan2([z @ ahead, z @ left], z @ up),
        velocity=velocity @ frame[:2].T,
    )


def _reach(setup: Setup, height: float) -> float:
    """How far up the legs are drawn where nobody says where they are held [m]."""
    hull = setup.hull_height[0]
    return float(height - hull) if np.isfinite(hull) else 0.5 * height


def _ring(setup: Setup, pose: _Pose) -> FloatArray:
    """Lowest hard points of the hull, ground frame, (P, 3)."""
    if not np.isfinite(setup.hull_height[0]):
        return np.zeros((0, 3))
    turn = np.linspace(0.0, 2.0 * np.pi, AROUND)
    radius = setup.hull_radius[0]
    local = np.stack(
        [radius * np.cos(turn), radius * np.sin(turn), np.full(AROUND, -setup.hull_height[0])],
        axis=1,
    )
    return np.asarray(pose.position + local @ pose.rotation.T)
