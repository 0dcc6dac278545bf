r"""What the ground pushes on each pad, from the pose of the vehicle and what has happened so far.

A massless pad slides on its absorber: pad = p − x a, a the slide. While it is on the ground its
height says x; the absorber's force F acts by virtual work, f·(−a) = F, on the ground's force
f = (T, N). With c = −a_z: N = (F + T·a)/c. A sticking pad is held by a grip, T = −k_t (u − A)
with A its anchor, damped while the leg springs; |T| ≤ μ N, and the anchor follows a pad whose
grip alone is more. A sliding pad has N = F/(c − μ τ·a), τ the direction of T: for a canted leg
that slips inward the V/F of :mod:`crushleg.landing.leg`.

The damper of a springing leg never pushes or pulls more than the spring: no jump at contact.

[D]
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.motion.curves import force_on
from crushleg.landing.motion.grip import LEAST_OPENING, gripped
from crushleg.landing.motion.kinks import travel_to_kink, travel_to_sinking
from crushleg.landing.motion.rotation import cross
from crushleg.landing.motion.state import Pads

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.landing.motion.curves import Curves
    from crushleg.landing.motion.setup import Setup
    from crushleg.landing.motion.state import Pose

GUIDE_SPEED = 0.02
"""Stroke speed [m/s] from which the friction of the guide is fully there."""
GROUND_ROUNDS = 12
GUIDE_ROUNDS = 3


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
        rate=none,
        left=none,
        crushes=none > 0.0,
    )


def pushed(setup: Setup, curves: Curves, before: Pads, pose: Pose) -> Pads:
    """Find the forces of the ground on the pads in a pose, and the state they leave.

    The vehicle is a rigid body on massless pads; the girders follow their crush curves and spring
    back along their stiffness.

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

    Notes
    -----
    Means: Motion of the whole vehicle: every leg, slope, sliding and tipping, step by step.
    Formula: N = (F + T·a)/c, c = −a_z
    Formula: sticking: T = −k_t (u − A), |T| ≤ μ N
    Formula: sliding: N = F/(c − μ τ·a)
    Range: Rigid vehicle, flat ground, Coulomb friction; six degrees of freedom, any attitude, slope
    and heading.
    Band: A column for low, nominal and high girders, or the forces that each leg is given.
    Limits: leg.pad_friction is μ, [ground] lets pads sink
    Limits: touchdown.slope, attitude, attitude_rate, horizontal_speed, shutdown_time, thrust_decay

    References
    ----------
    Statics of a pad [D]
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
    springs = touching & (reach < most)
    rate = -legs.speed[..., 2] / legs.opening
    most_damped = np.minimum(2.0 * spring, yields)
    damped = np.clip(spring + setup.damping * rate, 0.0, np.maximum(most_damped, 0.0))
    damper = np.where(springs, damped - spring, 0.0)
    left, crushes = travel_to_kink(curves, setup.curve, reach, free, most)
    carried = setup.bearing + setup.bearing_gradient * sunk
    left = np.minimum(
        left, travel_to_sinking(carried * legs.opening / setup.stiffness, reach - free)
    )
    place = legs.at - travel[..., None] * legs.slide
    drift = legs.speed[..., :2] - rate[..., None] * legs.slide[..., :2]
    anchor = np.where(touching[..., None], before.anchor, place[..., :2])
    held = np.where(touching[..., None], -setup.grip[..., None] * (place[..., :2] - anchor), 0.0)
    drag = np.where(springs[..., None], -setup.grip_damping[..., None] * drift, 0.0)
    load = spring + damper
    force, guide, across = _with_guide(setup, before, legs, load, held + drag, rate)
    drawn = force[..., :2]
    slips = ((held**2).sum(axis=-1) > (drawn**2).sum(axis=-1)) & (drawn != held + drag).any(axis=-1)
    slips = slips[..., None]
    dragged = place[..., :2] + drawn / np.maximum(setup.grip, 1.0)[..., None]
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
        drag=np.where(slips, 0.0, drawn - held),
        rate=rate,
        left=left,
        crushes=crushes,
    )


def _with_guide(
    setup: Setup, before: Pads, legs: _Legs, load: FloatArray, pull: FloatArray, rate: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Find the force of the ground, friction of the guide, load across the absorber."""
    guide, across = np.zeros_like(load), before.across
    moving = np.clip(rate / GUIDE_SPEED, -1.0, 1.0)
    for _ in range(GUIDE_ROUNDS if setup.guide.any() else 1):
        guide = np.where(load > 0.0, np.maximum(setup.guide * across * moving, -load), 0.0)
        force = gripped(load + guide, pull, legs.slide, legs.opening, setup.friction)
        along = np.einsum("bni,bni->bn", force, legs.slide)
        length = np.einsum("bni,bni->bn", legs.slide, legs.slide)
        rest = np.einsum("bni,bni->bn", force, force) - along**2 / length
        across = setup.sideways * np.sqrt(np.maximum(rest, 0.0))
    return force, guide, across


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
