"""State of the pads of many landings, and pose of their vehicles, at one time."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray


class Pads(NamedTuple):
    """State of the pads of B landings, N legs each.

    Attributes
    ----------
    travel, most : (B, N)
        Of the absorbers: total travel now and at most so far [m].
    sunk : (B, N)
        Into the ground [m].
    anchor : (B, N, 2)
        Where each pad sticks; under a pad in the air [m].
    place : (B, N, 3)
        Of the pads [m].
    force : (B, N, 3)
        Of the ground on the pads [N].
    spring, damper, guide : (B, N)
        Parts of the force along the absorber: of the girder, of the damping, of the guide [N].
    across : (B, N)
        Load across the absorber [N].
    drag : (B, N, 2)
        Part of the sideways force that damps a sticking pad [N].
    rate : (B, N)
        Speed of the absorber's stroke, of a pad in the air as if it touched [m/s].
    left : (B, N)
        Travel to the next kink of its force [m]: contact, end of springing, bend of the curve.
    crushes : (B, N) of bool
        Beyond all travel so far: the girder follows its curve.
    """

    travel: FloatArray
    most: FloatArray
    sunk: FloatArray
    anchor: FloatArray
    place: FloatArray
    force: FloatArray
    spring: FloatArray
    damper: FloatArray
    guide: FloatArray
    across: FloatArray
    drag: FloatArray
    rate: FloatArray
    left: FloatArray
    crushes: BoolArray

    @property
    def strut(self) -> FloatArray:
        """Load along the absorbers (B, N) [N]."""
        return self.spring + self.damper + self.guide

    @property
    def touching(self) -> BoolArray:
        """Pads that are loaded (B, N)."""
        return np.asarray(self.spring > 0.0)


class Pose(NamedTuple):
    """Pose and speeds at one time: position, body to ground, velocity, angular velocity."""

    position: FloatArray
    rotation: FloatArray
    velocity: FloatArray
    turning: FloatArray
