"""Where the energy that came in came from: speed at contact, gravity, thrust."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.motion.body import at_start, kinetic

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.landing.motion.setup import Setup, Start


class Incoming(NamedTuple):
    """Kinetic at contact, work of gravity and of thrust to the end (B,) [J]."""

    kinetic: FloatArray
    gravity: FloatArray
    thrust: FloatArray


def incoming(setup: Setup, start: Start, came: FloatArray, end: FloatArray) -> Incoming:
    """Split the energy that came in.

    Parameters
    ----------
    setup : Setup
    start : Start
    came : ndarray, shape (B,)
        All of it, from the ledger [J].
    end : ndarray, shape (B, 3)
        Where the centre of gravity came to [m].

    Returns
    -------
    Incoming
    """
    first = kinetic(setup, at_start(setup, start))
    fall = ((end - start.position) * setup.gravity).sum(axis=1)
    gravity = setup.mass * fall
    thrust = np.where(setup.thrust > 0.0, came - first - gravity, 0.0)
    return Incoming(first, gravity, thrust)
