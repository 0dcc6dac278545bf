"""Where the energy goes: what came in against what was taken, at every step.

kinetic at contact + work of gravity + work of thrust
= crushed + elastic + friction + damping + ground + kinetic now + what does not close.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.motion.curves import work_on

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.landing.motion.curves import Curves
    from crushleg.landing.motion.setup import Setup
    from crushleg.landing.motion.state import Pads


class Spent(NamedTuple):
    """Energies that add up over the steps (B,) [J]: thrust comes in, the others are taken."""

    thrust: FloatArray
    friction: FloatArray
    damping: FloatArray
    ground: FloatArray


class Ledger(NamedTuple):
    """Energies at one time (B,) [J]; ``came`` is kinetic at contact, gravity and thrust."""

    came: FloatArray
    crushed: FloatArray
    elastic: FloatArray
    friction: FloatArray
    damping: FloatArray
    ground: FloatArray
    kinetic: FloatArray

    @property
    def open(self) -> FloatArray:
        """What does not close [J]."""
        return np.asarray(self.came - sum(self[1:]))


def nothing_spent(count: int) -> Spent:
    """Ledger of ``count`` landings at contact."""
    return Spent(*np.zeros((4, count)))


def spent(so_far: Spent, before: Pads, after: Pads, thrust_work: FloatArray) -> Spent:
    """Add one step: mean of the forces at both ends times what moved.

    Parameters
    ----------
    so_far : Spent
    before, after : Pads
        At both ends of the step.
    thrust_work : ndarray, shape (B,)
        Work of the thrust in the step [J].

    Returns
    -------
    Spent
    """
    drawn = after.travel - before.travel
    guide = 0.5 * (before.guide + after.guide) * drawn
    damper = 0.5 * (before.damper + after.damper) * drawn
    slip = after.anchor - before.anchor
    grip = (before.force + after.force)[..., :2] - before.drag - after.drag
    rub = -0.5 * (grip * slip).sum(axis=-1)
    shift = after.place[..., :2] - before.place[..., :2]
    drag = -0.5 * ((before.drag + after.drag) * shift).sum(axis=-1)
    ground = 0.5 * (before.force + after.force)[..., 2] * (after.sunk - before.sunk)
    return Spent(
        thrust=so_far.thrust + thrust_work,
        friction=so_far.friction + (guide + rub).sum(axis=1),
        damping=so_far.damping + (damper + drag).sum(axis=1),
        ground=so_far.ground + ground.sum(axis=1),
    )


def ledger(
    setup: Setup,
    curves: Curves,
    pads: Pads,
    so_far: Spent,
    energy: tuple[FloatArray, FloatArray, FloatArray],
) -> Ledger:
    """Where the energy of a landing went, at one time.

    Parameters
    ----------
    setup : Setup
    curves : Curves
    pads : Pads
    so_far : Spent
    energy : tuple of ndarray (B,)
        Kinetic at contact, work of gravity so far, kinetic now [J].

    Returns
    -------
    Ledger

    Notes
    -----
    Means: Where the energy of a landing in motion went, and whether the books balance.
    Formula: kinetic at contact + gravity + thrust = crushed + elastic + friction + damping + ground
    + kinetic + gap
    Range: The gap is what integration leaves open; it is printed.
    Band: Columns of the landing.

    References
    ----------
    Balance of energy [D]
    """
    first, gravity, now = energy
    most = pads.most
    stored = np.maximum(setup.stiffness * (pads.most - pads.travel), 0.0)
    top = pads.spring + stored
    crushed = work_on(curves, setup.curve, most) - 0.5 * top**2 / setup.stiffness
    grip = (pads.force[..., :2] - pads.drag) ** 2
    held = 0.5 * grip.sum(axis=-1) / np.maximum(setup.grip, 1.0)
    return Ledger(
        came=first + gravity + so_far.thrust,
        crushed=crushed.sum(axis=1),
        elastic=(0.5 * pads.spring**2 / setup.stiffness + held).sum(axis=1),
        friction=so_far.friction,
        damping=so_far.damping,
        ground=so_far.ground,
        kinetic=now,
    )
