"""What a landing came to: loads and strokes of every leg, how the vehicle stands, in a word."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import lock
from crushleg.landing.motion.curves import force_on
from crushleg.landing.motion.legs import folds_used, force_at_stop, largest_force, travel_needed

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.girder.crush import Crush
    from crushleg.landing.motion.curves import Curves
    from crushleg.landing.motion.ledger import Ledger
    from crushleg.landing.motion.record import History
    from crushleg.landing.motion.run import Moved
    from crushleg.landing.motion.setup import Setup

WORDS = ("stands", "slides", "bottoms", "strikes", "tips")
"""Mildest first; the worst that applies is said."""
SLIDES = 0.05
"""A vehicle slides when its pads, each from its own contact, have moved together by this share of
their circle, or when it has not come to rest in its time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """B landings with N legs; arrays (B, N) of legs, (B,) of vehicles.

    Attributes
    ----------
    word : tuple of str
        One of :data:`WORDS` each.
    contact : ndarray
        When each pad is first loaded [s]; NaN for one that never is.
    stroke, needed, crush, folds : ndarray
        Most travel of each absorber, what it would have needed had it gone on at its last force,
        crush that stays [m], folds used.
    mean_at_stop : ndarray
        Mean force of the fold each leg stopped in [N].
    bottomed : ndarray of bool
        The leg came to the end of its curve and went stiff.
    girder, axial, side, pad : ndarray
        Largest force in the girder, load along the leg, across it, of its pad on the ground [N].
    slide, sunk : ndarray
        Way of each pad over the ground, and into it [m].
    deceleration, accelerometer, turning : ndarray
        Largest acceleration, the same less gravity [m/s2], angular velocity [rad/s].
    lean, heel : ndarray
        At the end: vehicle axis against the ground's normal, and against the vertical [rad].
    clearance, clearance_time, clearance_azimuth : ndarray
        Least of the hull over the ground [m]; when [s], where round the body from the direction
        of travel [rad].
    angle_before, angle_least, angle_left : ndarray
        To tipping over the weakest line of pads [rad]: uncrushed on level ground, least during
        the landing, at the end. NaN for fewer than three legs.
    energy_left : ndarray
        Energy that tips the vehicle at the end [J].
    time : ndarray
        When the landing ended [s].
    rested : ndarray of bool
        It had come to rest by then.
    ledger : Ledger
        Energies at the end [J], shape (B,).
    """

    word: tuple[str, ...]
    contact: FloatArray
    stroke: FloatArray
    needed: FloatArray
    crush: FloatArray
    folds: FloatArray
    mean_at_stop: FloatArray
    bottomed: BoolArray
    girder: FloatArray
    axial: FloatArray
    side: FloatArray
    pad: FloatArray
    slide: FloatArray
    sunk: FloatArray
    deceleration: FloatArray
    accelerometer: FloatArray
    turning: FloatArray
    lean: FloatArray
    heel: FloatArray
    clearance: FloatArray
    clearance_time: FloatArray
    clearance_azimuth: FloatArray
    angle_before: FloatArray
    angle_least: FloatArray
    angle_left: FloatArray
    energy_left: FloatArray
    time: FloatArray
    rested: BoolArray
    ledger: Ledger

    def __post_init__(self) -> None:
        lock(self)


def outcome(crush: Crush, curves: Curves, setup: Setup, moved: Moved) -> Outcome:
    """Read what landings came to.

    Parameters
    ----------
    crush : Crush
        The girders that ``curves`` are of: curve 3 g + level.
    curves : Curves
    setup : Setup
    moved : Moved

    Returns
    -------
    Outcome
    """
    most, seen = moved.pads.most, moved.seen
    girder, level = np.divmod(setup.curve, 3)
    bottomed = most > curves.end[setup.curve]
    spring = largest_force(curves, setup, most)
    crushed = np.clip(most - force_on(curves, setup.curve, most) / setup.stiffness, 0.0, None)
    crushed = np.minimum(crushed, crush.usable[girder])
    folds = folds_used(crush, girder, crushed)
    early = np.where(
        crush.sequence.from_foot[girder] | (crushed <= 1e-9),
        0.0,
        crush.largest_start[level, girder],
    )
    axis = moved.pose.rotation[:, :, 2]
    up = -setup.gravity / np.sqrt((setup.gravity**2).sum(axis=1))[:, None]
    return Outcome(
        word=_words(setup, moved, bottomed),
        contact=seen.contact,
        stroke=most,
        needed=travel_needed(curves, setup, most, spring),
        crush=crushed,
        folds=folds,
        mean_at_stop=force_at_stop(crush, setup.curve, folds),
        bottomed=bottomed,
        girder=np.maximum(spring, early),
        axial=np.maximum(seen.strut, np.maximum(spring, early)),
        side=seen.across,
        pad=seen.normal,
        slide=seen.slide,
        sunk=moved.pads.sunk,
        deceleration=seen.deceleration,
        accelerometer=seen.accelerometer,
        turning=seen.turning,
        lean=_angle_between(axis, np.broadcast_to([0.0, 0.0, 1.0], axis.shape)),
        heel=_angle_between(axis, up),
        clearance=seen.clearance,
        clearance_time=seen.clearance_time,
        clearance_azimuth=seen.clearance_azimuth,
        angle_before=upright_angle(setup),
        angle_least=np.where(np.isfinite(seen.angle), seen.angle, np.nan),
        angle_left=moved.balance.angle,
        energy_left=moved.balance.energy,
        time=moved.time,
        rested=moved.rested,
        ledger=moved.ledger,
    )


def upright_angle(setup: Setup) -> FloatArray:
    """Angle to tipping of the uncrushed vehicle, upright on level ground (B,) [rad].

    Notes
    -----
    Formula: α = arctan(least reach of a line of pads/height)

    References
    ----------
    Geometry [D]
    """
    height = -setup.pads[:, :1, 2].min(axis=1)
    ring = np.take_along_axis(setup.pads, setup.ring[..., None], axis=1)[..., :2]
    if ring.shape[1] < 3:
        return np.full(len(ring), np.nan)
    edge = np.roll(ring, -1, axis=1) - ring
    reach = ring[..., 0] * edge[..., 1] - ring[..., 1] * edge[..., 0]
    reach = reach / np.sqrt((edge**2).sum(axis=-1))
    return np.asarray(np.arctan2(reach.min(axis=1), height))


def closure(history: History) -> float:
    """Largest gap of the ledger over all steps, as a share of the energy that came in.

    Notes
    -----
    Formula: closure = max over steps |gap|/energy that came in

    References
    ----------
    [D]
    """
    gap = history.ledger[:, 0] - history.ledger[:, 1:].sum(axis=1)
    return float(np.abs(gap).max() / history.ledger[:, 0].max())


def _words(setup: Setup, moved: Moved, bottomed: BoolArray) -> tuple[str, ...]:
    """How each landing ended, in a word; the worst that applies.

    Notes
    -----
    Means: How a landing ended, in a word: stands, slides, bottoms, strikes or tips.
    Formula: stands < slides < bottoms < strikes < tips
    Range: slides: pads have moved together by 5 % of their circle, or it never came to rest;
    strikes: clearance zero or less; tips: beyond the balance over a line of pads.
    Band: Each column has its own word.

    References
    ----------
    Order of the words [judgement]
    """
    touched = ~np.isnan(moved.seen.contact)[..., None]
    drift = np.where(touched, moved.pads.anchor - moved.seen.touch, 0.0).mean(axis=1)
    circle = np.sqrt((setup.pads[..., :2] ** 2).sum(axis=-1)).max(axis=1)
    slides = (np.sqrt((drift**2).sum(axis=1)) > SLIDES * circle) | ~moved.rested
    found = np.zeros(len(drift), dtype=np.intp)
    applies = (slides, bottomed.any(axis=1), moved.seen.clearance <= 0.0, moved.tipped)
    for rank, which in enumerate(applies, start=1):
        found[which] = rank
    return tuple(WORDS[rank] for rank in found)


def _angle_between(a: FloatArray, b: FloatArray) -> FloatArray:
    return np.asarray(np.arctan2(np.sqrt((np.cross(a, b) ** 2).sum(axis=1)), (a * b).sum(axis=1)))
