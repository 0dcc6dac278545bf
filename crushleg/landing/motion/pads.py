r"""What the ground pushes on each pad, from the pose of the vehicle and what has happened so far.

A massless pad slides on its absorber: pad = p − x a, a the slide. While it is on the ground its
height says x; the absorber's force F acts by virtual work, f·(−a) = F, on the ground's force
f = (T, N). With c = −a_z: N = (F + T·a)/c. A sticking pad is held by a grip, T = −k_t (u − A)
with A its anchor; |T| ≤ μ N, and the anchor follows a pad that slides. A sliding pad has
N = F/(c − μ τ·a), τ the direction of T: for a canted leg that slips inward the V/F of
:mod:`crushleg.landing.leg`.

[D]
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.motion.curves import force_on
from crushleg.landing.motion.rotation import cross

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.landing.motion.curves import Curves
    from crushleg.landing.motion.setup import Setup

LEAST_OPENING = 1e-3
"""Below this c − μ τ·a a leg is jammed: its pad does not slide."""
GUIDE_SPEED = 0.02
"""Stroke speed [m/s] from which the friction of the guide is fully there."""
GROUND_ROUNDS = 12
GUIDE_ROUNDS = 3


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


class _Legs(NamedTuple):
    """Legs in a pose: pads as if uncrushed, slides, c, speed of a pad as part of the body."""

    at: FloatArray
    slide: FloatArray
    opening: FloatArray
    speed: FloatArray


def in_the_air(setup: Setup, pose: Pose) -> Pads:
    """Hold the pads before contact: nothing crushed, nothing pushed."""
    none = np.zeros(setup.curve.shape)
    flat = np.zeros((*none.shape, 2))
    place = pose.position[:, None] + np.einsum("bij,bnj->bni", pose.rotation, setup.pads)
    return Pads(
        travel=none,
        most=none,
        sunk=none,
        anchor=place[..., :2],
        place=place,
        force=np.zeros((*none.shape, 3)),
        spring=none,
        damper=none,
        guide=none,
        across=none,
        drag=flat,
    )


def pushed(setup: Setup, curves: Curves, before: Pads, pose: Pose) -> Pads:
    """Find the forces of the ground on the pads in a pose, and the state they leave.

    Parameters
    ----------
    setup : Setup
    curves : Curves
    before : Pads
        State one step earlier.
    pose : Pose

    Returns
    -------
    Pads
    """
    lever = np.einsum("bij,bnj->bni", pose.rotation, setup.pads)
    slide = np.einsum("bij,bnj->bni", pose.rotation, setup.slide)
    arm = lever - before.travel[..., None] * slide
    legs = _Legs(
        at=pose.position[:, None] + lever,
        slide=slide,
        opening=np.maximum(-slide[..., 2], LEAST_OPENING),
        speed=pose.velocity[:, None]
        + cross(np.broadcast_to(pose.turning[:, None], arm.shape), arm),
    )
    if np.isfinite(setup.bearing).any():
        return _on(setup, curves, before, legs, _sunk(setup, curves, before, legs))
    return _on(setup, curves, before, legs, before.sunk)


def _on(setup: Setup, curves: Curves, before: Pads, legs: _Legs, sunk: FloatArray) -> Pads:
    """Find the forces with the pads sunk so far into the ground."""
    reach = -(legs.at[..., 2] + sunk) / legs.opening
    most = np.maximum(reach, before.most)
    yields = force_on(curves, setup.curve, most)
    free = most - yields / setup.stiffness
    travel = np.maximum(reach, free)
    spring = setup.stiffness * (travel - free)
    touching = spring > 0.0
    rate = -legs.speed[..., 2] / legs.opening
    damped = np.minimum(np.maximum(spring + setup.damping * rate, 0.0), yields)
    damper = np.where(touching & (reach < most), damped - spring, 0.0)
    place = legs.at - travel[..., None] * legs.slide
    drift = legs.speed[..., :2] - rate[..., None] * legs.slide[..., :2]
    anchor = np.where(touching[..., None], before.anchor, place[..., :2])
    drag = -setup.grip_damping[..., None] * drift
    pull = np.where(
        touching[..., None], drag - setup.grip[..., None] * (place[..., :2] - anchor), 0.0
    )
    load = spring + damper
    force, guide, across = _with_guide(setup, before, legs, load, pull, rate)
    slips = touching[..., None] & (force[..., :2] != pull)
    drag = np.where(slips | ~touching[..., None], 0.0, drag)
    dragged = place[..., :2] + force[..., :2] / np.maximum(setup.grip, 1.0)[..., None]
    return Pads(
        travel=travel,
        most=most,
        sunk=sunk,
        anchor=np.where(slips, dragged, anchor),
        place=place,
        force=force,
        spring=spring,
        damper=damper,
        guide=guide,
        across=across,
        drag=drag,
    )


def _with_guide(
    setup: Setup, before: Pads, legs: _Legs, load: FloatArray, pull: FloatArray, rate: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Find the force of the ground, friction of the guide, load across the absorber."""
    guide, across = np.zeros_like(load), before.across
    moving = np.clip(rate / GUIDE_SPEED, -1.0, 1.0)
    for _ in range(GUIDE_ROUNDS if setup.guide.any() else 1):
        guide = np.where(load > 0.0, np.maximum(setup.guide * across * moving, -load), 0.0)
        force = _grip(load + guide, pull, legs, setup.friction)
        along = np.einsum("bni,bni->bn", force, legs.slide)
        length = np.einsum("bni,bni->bn", legs.slide, legs.slide)
        rest = np.einsum("bni,bni->bn", force, force) - along**2 / length
        across = setup.sideways * np.sqrt(np.maximum(rest, 0.0))
    return force, guide, across


def _grip(load: FloatArray, pull: FloatArray, legs: _Legs, friction: FloatArray) -> FloatArray:
    """Find the force of the ground on pads that stick under a pull, or slide."""
    lean = legs.slide[..., :2]
    pulled = np.sqrt(pull[..., 0] ** 2 + pull[..., 1] ** 2)
    stuck = np.maximum(load + (pull * lean).sum(axis=-1), 0.0) / legs.opening
    towards = pull / np.where(pulled > 0.0, pulled, 1.0)[..., None]
    with np.errstate(invalid="ignore"):
        narrow = legs.opening - friction * (towards * lean).sum(axis=-1)
        slips = (pulled > friction * stuck) & (narrow > LEAST_OPENING) & np.isfinite(friction)
    normal = np.where(slips, load / np.where(slips, narrow, 1.0), stuck)
    drawn = np.where(slips, np.where(np.isfinite(friction), friction, 0.0) * normal, pulled)
    flat = np.where((normal > 0.0)[..., None], towards * drawn[..., None], 0.0)
    flat = np.where(slips[..., None] | (normal <= 0.0)[..., None], flat, pull)
    return np.concatenate([flat, normal[..., None]], axis=-1)


def _sunk(setup: Setup, curves: Curves, before: Pads, legs: _Legs) -> FloatArray:
    """How far the pads sink: until the ground carries what the legs push (false position)."""

    def spare(sunk: FloatArray) -> FloatArray:
        carried = setup.bearing + setup.bearing_gradient * sunk
        return _on(setup, curves, before, legs, sunk).force[..., 2] - carried

    reach = -(legs.at[..., 2] + before.sunk)
    low, high = before.sunk, before.sunk + np.maximum(reach, 0.0)
    over = spare(low)
    sinks = over > 0.0
    if not sinks.any():
        return low
    under = spare(high)
    for _ in range(GROUND_ROUNDS):
        share = np.divide(over, over - under, out=np.full_like(over, 0.5), where=over > under)
        middle = low + np.clip(share, 0.02, 0.98) * (high - low)
        found = spare(middle)
        above = found > 0.0
        low, high = np.where(above, middle, low), np.where(above, high, middle)
        over = np.where(above, found, 0.5 * over)
        under = np.where(above, 0.5 * under, found)
    return np.where(sinks, high, before.sunk)
