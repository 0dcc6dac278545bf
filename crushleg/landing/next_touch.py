r"""From the first contact of one leg or a pair to that of the next.

In free fall a pad at x would have come down by (v + ω x) t + a t²/2, a = g − T/m. The first pads
are held back from theirs by z_f − z_1, pad j by the fraction c_j of that
(:mod:`crushleg.landing.first_leg`), so

.. math:: z_j = z_{fj} - c_j (z_{f1} - z_1)

until it has closed its gap. If the first legs stop before, the vehicle pivots on them: z_1 stays,
the rest holds. An energy estimate: plane motion, small angles, no horizontal speed at contact,
friction on the first pads all stuck or all sliding; the motion of the whole vehicle is more exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import BoolArray, FloatArray, floats, lock
from crushleg.landing.energy import energy_at, stop
from crushleg.landing.grid import take
from crushleg.landing.timing import held, speed_left, times

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


@dataclass(frozen=True, slots=True, kw_only=True)
class NextTouch:
    """State of the vehicle as the next pads touch; arrays over the leading axes.

    Attributes
    ----------
    travel : ndarray
        Vertical travel of the first leg(s) [m].
    energy : ndarray
        What they have taken together [J].
    time : ndarray
        Since first contact [s].
    drop : ndarray
        Descent of the centre of gravity [m].
    kinetic : ndarray
        Energy still in motion, m v²/2 + Wn drop − energy [J]; where the first pads slide, the
        friction they spend is not deducted: an upper bound.
    first_speed, next_speed : ndarray
        Downward speed of the first and of the next pads [m/s].
    pivots : ndarray of bool
        The first legs had stopped before.
    bottomed : ndarray of bool
        The first legs came to the end of their curve, neither stopped nor joined by the next:
        the state is the one at that moment.
    """

    travel: FloatArray
    energy: FloatArray
    time: FloatArray
    drop: FloatArray
    kinetic: FloatArray
    first_speed: FloatArray
    next_speed: FloatArray
    pivots: BoolArray
    bottomed: BoolArray

    def __post_init__(self) -> None:
        lock(self)


def until_next_touch(
    travel: ArrayLike,
    force: ArrayLike,
    energy: ArrayLike,
    *,
    mass: ArrayLike,
    effective: ArrayLike,
    shared: ArrayLike,
    speed: ArrayLike,
    acceleration: ArrayLike,
    gap: ArrayLike,
    rotation: ArrayLike = 0.0,
    offset: ArrayLike = 0.0,
    following: ArrayLike = 0.0,
    gyration: ArrayLike = 0.0,
) -> NextTouch:
    """Follow the first leg(s) until the next pads touch.

    Parameters
    ----------
    travel, force, energy : array_like, shape (..., n)
        Curve of the first leg(s) together: vertical travel [m], vertical reaction [N], work [J].
    mass, effective : array_like, shape (...)
        Mass of the vehicle and what of it the first pads stop [kg].
    shared : array_like, shape (...)
        Fraction cj of the next pads [-], below 1.
    speed : array_like, shape (...)
        Touchdown speed v, downward positive [m/s].
    acceleration : array_like, shape (...)
        g − T/m [m/s2], above zero.
    gap : array_like, shape (...)
        Height of the next pads at first contact [m], not negative.
    rotation : array_like, shape (...)
        Rate at contact that brings the first pads down faster, ω [rad/s].
    offset, following, gyration : array_like, shape (...)
        x1, xj and k [m]; they count with a rotation only.

    Returns
    -------
    NextTouch
        The state at that moment. From there on all legs share ``kinetic`` plus the weight's work
        on what the vehicle still sinks, the first ones starting from ``travel``.

    Notes
    -----
    Formula: z_j = z_fj − c_j (z_f1 − z_1)
    Formula: z_f = (v + ω x) t + ½ (g − T/m) t²

    Between grid points the motion is uniformly accelerated: exact for a constant force, of second
    order in the spacing otherwise.

    References
    ----------
    [D]

    Examples
    --------
    >>> at = until_next_touch([0.0, 0.3], [4e4, 4e4], [0.0, 12e3], mass=1000.0, effective=500.0,
    ...     shared=0.0, speed=3.0, acceleration=9.80665, gap=0.08)
    >>> float(at.time.round(5)), bool(at.pivots)
    (0.0256, False)
    """
    m, me, c, v, a, gap_, turn, x1, xj, k = np.broadcast_arrays(
        *floats(
            mass, effective, shared, speed, acceleration, gap, rotation, offset, following, gyration
        )
    )
    v1, vj = v + turn * x1, v + turn * xj
    end = stop(travel, force, energy, me * a, 0.5 * me * v1**2)
    z, sunk = held(travel, force, energy, end.stroke)
    t = times(travel, force, energy, me * a, me, v1, end.stroke)
    w = speed_left(z, sunk, me * a, me, v1)
    apart = (vj - c * v1) / (1.0 - c)
    z_first, t_touch, touched = _touch(z, t, w, c, apart, a, gap_)
    t_pivot = _fall_time((gap_ - c * end.stroke) / (1.0 - c), apart, a)
    pivots = ~touched & ~end.bottomed
    bottomed = ~touched & end.bottomed
    x = np.where(touched, z_first, end.stroke)
    time = np.where(touched, t_touch, np.where(pivots, t_pivot, t[..., -1]))
    taken = energy_at(travel, force, energy, x)
    left = speed_left(x[..., None], taken[..., None], me * a, me, v1)[..., 0]
    first = np.where(pivots, 0.0, left)
    gained = 0.5 * a * time**2
    drop = v * time + gained - me / m * (v1 * time + gained - x)
    return NextTouch(
        travel=np.asarray(x),
        energy=taken,
        time=np.asarray(time),
        drop=np.asarray(drop),
        kinetic=np.asarray(0.5 * m * (v**2 + (k * turn) ** 2) + m * a * drop - taken),
        first_speed=np.asarray(first),
        next_speed=np.asarray(vj + a * time - c * (v1 + a * time - first)),
        pivots=np.asarray(pivots),
        bottomed=np.asarray(bottomed),
    )


def _touch(
    z: FloatArray,
    t: FloatArray,
    w: FloatArray,
    c: FloatArray,
    v: FloatArray,
    a: FloatArray,
    gap: FloatArray,
) -> tuple[FloatArray, FloatArray, BoolArray]:
    """Travel of the first pads and time as the next touch, and whether they do before a stop."""
    cg, vg, ag = c[..., None], v[..., None], a[..., None]
    z, t, w, closed = np.broadcast_arrays(z, t, w, (1.0 - cg) * (vg * t + 0.5 * ag * t**2) + cg * z)
    reached = closed >= gap[..., None]
    i = np.clip(np.argmax(reached, axis=-1) - 1, 0, t.shape[-1] - 2)
    t0, w0, z0, dt, dw = (take(grid, i) for grid in (t, w, z, np.diff(t), np.diff(w)))
    slowing = np.divide(dw, dt, out=np.zeros_like(dt), where=dt > 0.0)
    short = np.maximum(gap - take(closed, i), 0.0)
    rate, bend = (1.0 - c) * (v + a * t0) + c * w0, (1.0 - c) * a + c * slowing
    dt = _fall_time(short, rate, bend)
    return z0 + w0 * dt + 0.5 * slowing * dt**2, t0 + dt, np.asarray(reached.any(axis=-1))


def _fall_time(height: FloatArray, speed: FloatArray, acceleration: FloatArray) -> FloatArray:
    """Time to cover a height at uniform acceleration."""
    root = np.sqrt(np.maximum(speed**2 + 2.0 * acceleration * height, 0.0))
    return np.divide(2.0 * height, speed + root, out=np.zeros_like(root), where=speed + root > 0.0)
