"""The girder of a leg as a column and as a beam, along the whole stroke."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.net import net_section
from crushleg.girder.start import start_force
from crushleg.landing.grid import points_to, running, take

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray, IntArray
    from crushleg.case.records import Girder, Leg
    from crushleg.girder.crush import Crush
    from crushleg.landing.touchdown import Landed


def euler_load(
    youngs_modulus: FloatArray, inertia: FloatArray, factor: float, length: FloatArray
) -> FloatArray:
    """Elastic buckling load of a column.

    Parameters
    ----------
    youngs_modulus, inertia : ndarray
        E [Pa], I [m4].
    factor : float
        Effective-length factor K [-].
    length : ndarray
        Length left ℓ [m].

    Returns
    -------
    ndarray
        Load [N].

    Notes
    -----
    Formula: N = π² E I/(K ℓ)²

    References
    ----------
    Euler [common practice]

    Examples
    --------
    >>> import numpy as np
    >>> float(euler_load(np.float64(200e9), np.float64(1e-6), 1.0, np.float64(np.pi)).round(3))
    200000.0
    """
    return np.pi**2 * youngs_modulus * inertia / (factor * length) ** 2


def held_length(leg: Leg, girder: Girder) -> float:
    """Length from pad to where the girder is held [m]; the girder's own when not given."""
    return girder.length if leg.free_length is None else leg.free_length


class Swept(NamedTuple):
    """Strokes [m] and girder forces [N] of the curve (3, G, n), and how many of its points are met.

    ``peak`` is the largest force, at stroke ``at``: at the stop, where it is that of bottoming, or
    at zero stroke when the sequence does not run from the foot.
    """

    stroke: FloatArray
    force: FloatArray
    met: IntArray
    peak: FloatArray
    at: FloatArray


def swept(crush: Crush, landed: Landed) -> Swept:
    """Follow the girder on its way to the stop."""
    forces = landed.curve.forces
    stroke = landed.curve.travel / forces.travel[..., None]
    force = landed.curve.reaction / forces.reaction[..., None]
    met = points_to(stroke, landed.stroke)
    at = np.where(crush.sequence.from_foot, landed.stroke, 0.0)
    return Swept(stroke, force, met, landed.girder_peak, at)


def column_loads(
    crush: Crush, landed: Landed, leg: Leg, girder: Girder
) -> tuple[FloatArray, FloatArray]:
    """Worst pair of force and Euler load on the length left, over stroke and the three curves.

    Parameters
    ----------
    crush : Crush
    landed : Landed
    leg, girder : records of the case

    Returns
    -------
    tuple of ndarray
        Force and Euler load [N], shape (G,).

    Notes
    -----
    Formula: least of π² E I/(K ℓ)²/F over the stroke, ℓ = held length − stroke

    References
    ----------
    Euler [common practice]; least net inertia of all zones on the whole length [D]
    """
    way = swept(crush, landed)
    held = np.asarray(held_length(leg, girder))
    left = np.maximum(held[..., None] - way.stroke, 1e-3)
    weighed = way.force * left**2
    most = running(weighed)
    new = np.where(weighed[..., 1:] > most[..., :-1], np.arange(1, weighed.shape[-1]), 0)
    first = np.zeros_like(new[..., :1])
    worst = take(running(np.concatenate([first, new], axis=-1)), way.met - 1).astype(np.intp)
    left_then = np.maximum(held - way.at, 1e-3)
    last = way.peak * left_then**2 > take(weighed, worst)
    load = np.where(last, way.peak, take(way.force, worst))
    length = np.where(last, left_then, take(left, worst))
    factor = girder.effective_length_factor
    carries = euler_load(crush.girders.youngs_modulus, crush.inertia, factor, length)
    return _worst(load, carries)


def bending_moments(
    crush: Crush, landed: Landed, leg: Leg, girder: Girder
) -> tuple[FloatArray, FloatArray]:
    """Worst pair of moment and moment capacity over sections and the three curves.

    S is the start force of the section: at every zone above the first while the zones below have
    their turn (F at most their start forces), and where the girder is held, with the largest force
    of all. Force, yield and start force of the same curve, since the alloy is common to them.

    Parameters
    ----------
    crush : Crush
    landed : Landed
    leg, girder : records of the case

    Returns
    -------
    tuple of ndarray
        Moment and capacity [N m], shape (G,).

    Notes
    -----
    Formula: M = T z
    Formula: M_c = s_y Z_net (1 − F/S)

    References
    ----------
    [D]; linear interaction, on the safe side of a box section's [common practice]
    """
    girders = crush.girders
    held = np.atleast_1d(held_length(leg, girder))[:, None]
    zones = girders.zones[:, 1:]
    inner = np.where(np.isfinite(zones), zones, held)
    lever = np.concatenate([inner, np.broadcast_to(held, (len(inner), 1))], axis=1)
    section = np.minimum(lever, girders.length[:, None])
    net = net_section(girders, section)
    start = start_force(girders, section)
    force = _force_before(crush, landed, lever, held)
    capacity = (
        girders.yield_compression[:, :, None]
        * net.modulus.min(axis=0)
        * np.maximum(1.0 - force / start, 0.0)
    )
    moment = landed.curve.forces.side[..., None] * force * lever
    flat = (np.moveaxis(each, 2, 1).reshape(-1, each.shape[1]) for each in (moment, capacity))
    return _worst(*flat)


def _force_before(crush: Crush, landed: Landed, lever: FloatArray, held: FloatArray) -> FloatArray:
    """Largest force met before each section begins to fold (3, G, Q) [N]."""
    below = np.maximum.accumulate(crush.sequence.start, axis=2)[:, :, :-1]
    orderly = np.isfinite(below) & crush.sequence.from_foot[:, None]
    below = np.where(orderly, below, np.inf)
    turn = np.concatenate([below, np.full((*below.shape[:2], 1), np.inf)], axis=2)
    half, length = crush.front.walls.half[:, :1], crush.girders.length[:, None]
    begins = crush.usable[:, None] * np.maximum(lever - half, 0.0) / length
    begins = np.where(crush.sequence.from_foot[:, None] & (lever < held), begins, np.inf)
    way = swept(crush, landed)
    most = running(way.force)
    met = []
    for at in begins.T:
        count = np.minimum(points_to(way.stroke, at), way.met)
        met.append(np.maximum(take(most, count - 1), np.where(way.at <= at, way.peak, 0.0)))
    return np.minimum(np.stack(met, axis=-1), np.where(lever < held, turn, np.inf))


def _worst(demand: FloatArray, capability: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Of pairs on the first axis, the one with the least capability over demand."""
    ratio = np.where(demand > 0.0, capability / np.where(demand > 0.0, demand, 1.0), np.inf)
    index = ratio.argmin(axis=0)[None]
    return (
        np.take_along_axis(demand, index, axis=0)[0],
        np.take_along_axis(capability, index, axis=0)[0],
    )
