"""Run many landings at once to rest, to tip-over, or to the end of their time."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from crushleg.landing.motion.balance import Balance, balance
from crushleg.landing.motion.body import at_start, drifted, forces_on, kicked, kinetic, pose_of
from crushleg.landing.motion.kinks import length_of_step
from crushleg.landing.motion.ledger import Ledger, Spent, ledger, nothing_spent, spent
from crushleg.landing.motion.pads import in_the_air, pushed
from crushleg.landing.motion.record import Chunk, History, Sample, histories
from crushleg.landing.motion.rows import joined, some_rows
from crushleg.landing.motion.settling import Quiet, calm, faded, height_of, pace_of, still
from crushleg.landing.motion.setup import step
from crushleg.landing.motion.watch import Seen, nothing_seen, seen

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import BoolArray, FloatArray, IntArray
    from crushleg.landing.motion.body import Body
    from crushleg.landing.motion.curves import Curves
    from crushleg.landing.motion.settling import Pace
    from crushleg.landing.motion.setup import Setup, Start
    from crushleg.landing.motion.state import Pads, Pose

BOTTOMED = 0.25
"""Part of the longest step once a leg has bottomed: much energy then bounces on its spring."""
LOOK, TILT = 16, 4
"""Steps between two looks at which landings have ended, and at how near they are to tipping."""
BEYOND = 0.02
"""Tipped so far [rad] beyond the balance over a line of pads."""
OVER = 1.2
"""Tipped when the vehicle axis leans so far [rad] from the vertical, with any number of legs."""
FAR, DEEP = 5.0, 0.2
"""A landing ends when the vehicle has slid, or a pad has sunk, so many times ρ."""
LIFE, BALANCING = 30.0, 10.0
"""Longest time of a landing over √(ρ/g), ρ from pads to centre of gravity; the second one on one or
two legs, which never rest but balance."""


class Moved(NamedTuple):
    """How B landings ended; ``history`` holds every step of each where it was asked for.

    ``time`` (B,) [s]; ``rested`` and ``tipped`` (B,), neither where time ran out.
    """

    time: FloatArray
    pose: Pose
    pads: Pads
    seen: Seen
    ledger: Ledger
    balance: Balance
    rested: BoolArray
    tipped: BoolArray
    history: tuple[History, ...]


class _Now(NamedTuple):
    """Everything that changes, of the landings still running."""

    time: FloatArray
    body: Body
    pads: Pads
    seen: Seen
    spent: Spent
    thrust: FloatArray
    quiet: Quiet


class _Fixed(NamedTuple):
    """Everything that does not, of the landings still running."""

    which: IntArray
    setup: Setup
    h: FloatArray
    piece: FloatArray
    end: FloatArray
    kinetic: FloatArray
    start: FloatArray
    pace: Pace


def run(
    setup: Setup,
    curves: Curves,
    start: Start,
    *,
    part: float | FloatArray = 1.0,
    record: bool = False,
    told: Callable[[int], None] | None = None,
) -> Moved:
    """Integrate B landings, all of them in every step.

    Parameters
    ----------
    setup : Setup
    curves : Curves
    start : Start
    part : float or ndarray (B,)
        All steps times this; below 1 to see what the step costs.
    record : bool
        Keep every step.
    told : callable, optional
        Called with the number of landings that have ended since the last call.

    Returns
    -------
    Moved

    Notes
    -----
    Formula: m dv/dt = Σ f + m g + thrust, dL/dt = Σ r × f; kick, drift, kick
    Range: Steps end at the kinks of the forces, and are halved once to see what they cost.

    References
    ----------
    [D]
    """
    fixed, now = _begin(setup, curves, start, part)
    ended: list[tuple[IntArray, tuple[Any, ...]]] = []
    chunks: list[Chunk] = []
    samples: list[Sample] = []
    count = 0
    while len(fixed.which):
        now, pose = _step(fixed, curves, now, look=count % TILT == 0)
        if record:
            samples.append(_sample(fixed, curves, now, pose))
        count += 1
        if count % LOOK:
            continue
        rested, tipped, over = _ends(fixed, now, pose)
        done = rested | tipped | over
        if not done.any():
            continue
        ended.append((fixed.which[done], _result(fixed, curves, now, (rested, tipped), done)))
        if record:
            chunks.append(Chunk(fixed.which, samples))
            samples = []
        fixed, now = some_rows(fixed, ~done), some_rows(now, ~done)
        if told is not None:
            told(int(done.sum()))
    return _gathered(ended, histories(chunks, len(setup.mass)) if record else ())


def _begin(
    setup: Setup, curves: Curves, start: Start, part: float | FloatArray
) -> tuple[_Fixed, _Now]:
    body = at_start(setup, start)
    pose = pose_of(setup, body)
    energy = kinetic(setup, body)
    count = len(setup.mass)
    fixed = _Fixed(
        which=np.arange(count),
        setup=setup,
        h=part * step(setup),
        piece=part * curves.end[setup.curve].min(axis=1) / curves.points,
        end=curves.end[setup.curve],
        kinetic=energy,
        start=start.position,
        pace=pace_of(setup, energy),
    )
    time = np.zeros(count)
    thrust = thrust_at(setup, time)[:, None] * pose.rotation[:, :, 2]
    pads = pushed(setup, curves, in_the_air(setup, pose), pose)
    none = nothing_spent(count)
    quiet = Quiet(time, time, height_of(setup, start.position))
    return fixed, _Now(time, body, pads, nothing_seen(setup), none, thrust, quiet)


def thrust_at(setup: Setup, time: FloatArray) -> FloatArray:
    """Residual thrust [N] so long after contact [s]."""
    late = np.maximum(time - setup.shutdown, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        left = np.where(late > 0.0, np.exp(-late / setup.decay), 1.0)
    return setup.thrust * left


def _step(fixed: _Fixed, curves: Curves, now: _Now, *, look: bool) -> tuple[_Now, Pose]:
    setup = fixed.setup
    idle = now.time - now.quiet.since > 0.25 * fixed.pace.time
    hard = (now.pads.most > fixed.end).any(axis=1)
    longest = fixed.h * np.where(hard, BOTTOMED, np.where(idle, 2.0, 1.0))
    h = length_of_step(now.pads, longest, fixed.piece)
    time = now.time + h
    half, pose = drifted(setup, now.body, h)
    pads = pushed(setup, curves, now.pads, pose)
    thrust = thrust_at(setup, time)[:, None] * pose.rotation[:, :, 2]
    push, moment = forces_on(setup, pose, pads, thrust)
    body = kicked(setup, half, push, moment, h)
    work = 0.5 * ((thrust + now.thrust) * (body.position - now.body.position)).sum(axis=1)
    used = spent(now.spent, now.pads, pads, work)
    rests = calm(setup, fixed.pace, pose, pads)
    watched = seen(now.seen, setup, time, pose, (now.pads, pads), push, rests, look=look)
    height = height_of(setup, body.position)
    quiet = still(now.quiet, time, pads, watched, height, fixed.pace.reach)
    body, used = faded(setup, fixed.pace, body, pads, used, quiet, h, time - quiet.since)
    return _Now(time, body, pads, watched, used, thrust, quiet), pose


def _sample(fixed: _Fixed, curves: Curves, now: _Now, pose: Pose) -> Sample:
    """One step as it is kept."""
    setup, body = fixed.setup, now.body
    fall = ((body.position - fixed.start) * setup.gravity).sum(axis=1)
    energies = (fixed.kinetic, setup.mass * fall, kinetic(setup, body))
    kept = ledger(setup, curves, now.pads, now.spent, energies)
    return Sample(now.time, pose, now.pads, body.push, kept)


def _ends(fixed: _Fixed, now: _Now, pose: Pose) -> tuple[BoolArray, BoolArray, BoolArray]:
    """Which landings have come to rest, which have tipped, which are out of time."""
    rested = now.time - now.seen.calm > fixed.pace.window
    up = -fixed.setup.gravity / np.sqrt((fixed.setup.gravity**2).sum(axis=1))[:, None]
    lean = (pose.rotation[:, :, 2] * up).sum(axis=1)
    tipped = (now.seen.angle < -BEYOND) | (lean < np.cos(OVER))
    gone = np.sqrt(((pose.position - fixed.start)[:, :2] ** 2).sum(axis=1))
    life = LIFE if fixed.setup.curve.shape[1] > 2 else BALANCING
    deep = now.pads.sunk.max(axis=1) > DEEP * fixed.pace.reach
    over = (now.time > life * fixed.pace.time) | (gone > FAR * fixed.pace.reach) | deep
    return rested & ~tipped, np.asarray(tipped), np.asarray(over)


def _result(
    fixed: _Fixed, curves: Curves, now: _Now, ends: tuple[BoolArray, BoolArray], done: BoolArray
) -> tuple[Any, ...]:
    """Rows of the landings that have ended."""
    part, here = some_rows(fixed, done), some_rows(now, done)
    pose = pose_of(part.setup, here.body)
    kept = _sample(part, curves, here, pose).ledger
    left = balance(part.setup, pose, here.pads)
    rested, tipped = (end[done] for end in ends)
    return here.time, pose, here.pads, here.seen, kept, left, rested, tipped


def _gathered(ended: list[tuple[IntArray, tuple[Any, ...]]], history: tuple[History, ...]) -> Moved:
    """Results of all landings in their first order."""
    order = np.argsort(np.concatenate([which for which, _ in ended]))
    columns = zip(*(rows for _, rows in ended), strict=True)
    return Moved._make([*(joined(parts, order) for parts in columns), history])
