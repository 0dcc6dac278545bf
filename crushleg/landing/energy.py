r"""Where a crush curve stops the vehicle.

A curve is three arrays on the last axis: stroke s [m] from zero, rising or repeated; force F [N]
at those strokes, two values at a jump (repeated stroke); energy E [J], the exact integral of F
from zero stroke. Leading axes are cases. Stroke and force may be those of the girder or vertical
travel and reaction, as long as the product is work and the weight belongs to the same travel.

[D] derived here, checked against independent time integration in the tests.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import BoolArray, FloatArray, IntArray, floats, lock
from crushleg.landing.grid import inside, locate, on_grid_shape, piece, points_to, running, take
from crushleg.landing.reach import first_root, reached_in

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """Where the curve stops the vehicle; every array has the shape of the leading axes.

    Attributes
    ----------
    stroke, force, energy : ndarray
        Stroke [m], force [N] and energy under the curve [J] at the stop, or at the end of the
        curve when it does not stop.
    index : ndarray of int
        Grid point at or before the stop.
    bottomed : ndarray of bool
        The curve ends before the vehicle stops.
    shortfall : ndarray
        Energy still to take at the end of the curve [J]; zero when it stops.
    stroke_needed : ndarray
        Stroke [m] that would stop it, were the last force to go on; inf if that is below weight.
    """

    stroke: FloatArray
    force: FloatArray
    energy: FloatArray
    index: IntArray
    bottomed: BoolArray
    shortfall: FloatArray
    stroke_needed: FloatArray

    def __post_init__(self) -> None:
        lock(self)


def work_against(stroke: ArrayLike, force: ArrayLike) -> FloatArray:
    """Energy under a curve of straight pieces.

    Parameters
    ----------
    stroke : array_like, shape (..., n)
        Stroke [m], rising; a repeated value is a jump and does no work.
    force : array_like, shape (..., n)
        Force [N].

    Returns
    -------
    ndarray, shape (..., n)
        Energy [J], zero at the first point.

    Notes
    -----
    Formula: E(s) = ∫ F ds from 0 to s

    References
    ----------
    [D]

    Examples
    --------
    >>> work_against([0.0, 0.1, 0.1, 0.2], [100.0, 100.0, 300.0, 300.0]).round(6).tolist()
    [0.0, 10.0, 10.0, 40.0]
    """
    s, f = np.broadcast_arrays(*floats(stroke, force))
    pieces = 0.5 * (f[..., 1:] + f[..., :-1]) * np.diff(s)
    return np.concatenate([np.zeros_like(s[..., :1]), np.cumsum(pieces, axis=-1)], axis=-1)


def stop(
    stroke: ArrayLike, force: ArrayLike, energy: ArrayLike, weight: ArrayLike, demand: ArrayLike
) -> Stop:
    """First stroke at which the curve has taken the energy of the vehicle.

    Parameters
    ----------
    stroke, force, energy : array_like, shape (..., n)
        The curve: [m], [N], [J]; a shorter one repeats its last point.
    weight : array_like, shape (...)
        Net weight Wn = m g − T [N].
    demand : array_like, shape (...)
        Kinetic energy to take [J], not negative.

    Returns
    -------
    Stop
        Stroke, force, energy, and whether the curve was long enough.

    Notes
    -----
    Formula: ∫ (F − Wn) ds = ½ m v², s from 0 to S
    Formula: bottomed: S_needed = s_end + (energy still to take)/(F_end − Wn)
    Range: First crossing; a curve that ends before it has bottomed, one whose last force is below
    the weight never stops.
    Band: Low, nominal and high force, one stop each: the low force goes furthest.

    Between grid points F is straight; what the exact energy of the piece exceeds the trapezoid by
    is spread evenly over it, so the energy is exact at both ends. Where F falls below Wn inside a
    piece the first crossing is found even if both ends lie below the demand.

    References
    ----------
    Energy balance [D]

    Examples
    --------
    >>> rest = stop([0.0, 0.3], [40e3, 40e3], [0.0, 12e3], 1000 * 9.80665, 4500.0)
    >>> float(rest.stroke.round(7)), bool(rest.bottomed)
    (0.1490394, False)
    """
    (s, f, e), (w, d) = on_grid_shape((stroke, force, energy), (weight, demand))
    i, bottomed = reached_in(s, f, e, w, d)
    here = piece(s, f, e, i)
    bend = 0.5 * (here.force_end - here.force) * here.run
    before = here.energy - w * here.stroke
    lean = here.energy_end - w * here.stroke_end - before - bend
    u = np.where(bottomed, 1.0, first_root(bend, lean, np.maximum(d - before, 0.0)))
    at, end = here.stroke_at(u), here.force_at(u)
    shortfall = np.where(bottomed, d - (e[..., -1] - w * s[..., -1]), 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        further = np.where(end > w, shortfall / (end - w), np.inf)
    return Stop(
        stroke=at,
        force=end,
        energy=here.energy_at(u),
        index=np.asarray(np.where(u < 1.0, i, i + 1)),
        bottomed=np.asarray(bottomed),
        shortfall=shortfall,
        stroke_needed=np.asarray(at + np.where(bottomed, further, 0.0)),
    )


def energy_at(stroke: ArrayLike, force: ArrayLike, energy: ArrayLike, at: ArrayLike) -> FloatArray:
    """Energy under the curve up to a stroke.

    Parameters
    ----------
    stroke, force, energy : array_like, shape (..., n)
        The curve: [m], [N], [J].
    at : array_like, shape (...)
        Stroke [m]; beyond the curve its end counts.

    Returns
    -------
    ndarray, shape (...)
        Energy [J], exact at the grid points.

    References
    ----------
    [D]

    Examples
    --------
    >>> float(energy_at([0.0, 0.2], [0.0, 200.0], [0.0, 20.0], 0.1).round(6))
    5.0
    """
    (s, f, e), (x,) = on_grid_shape((stroke, force, energy), (at,))
    i, u = locate(s, x)
    return piece(s, f, e, i).energy_at(u)


def force_at(stroke: ArrayLike, force: ArrayLike, at: ArrayLike) -> FloatArray:
    """Force at a stroke; at a jump the one met first.

    Parameters
    ----------
    stroke, force : array_like, shape (..., n)
        The curve: [m], [N].
    at : array_like, shape (...)
        Stroke [m]; beyond the curve its end counts.

    Returns
    -------
    ndarray, shape (...)
        Force [N].

    Examples
    --------
    >>> float(force_at([0.0, 0.1, 0.1, 0.2], [100.0, 100.0, 300.0, 300.0], 0.1))
    100.0
    """
    (s, f), (x,) = on_grid_shape((stroke, force), (at,))
    return inside(s, f, *locate(s, x))


def swept_peak(stroke: ArrayLike, force: ArrayLike, at: ArrayLike) -> FloatArray:
    """Largest force met on the way to a stroke, both values of a jump and the end included.

    Parameters
    ----------
    stroke, force : array_like, shape (..., n)
        The curve: [m], [N].
    at : array_like, shape (...)
        Stroke [m].

    Returns
    -------
    ndarray, shape (...)
        Force [N].

    Notes
    -----
    Means: Largest force on the way to the stop, of the girder and of the leg at its attachment.
    Formula: girder: F_peak = max F(s), s from 0 to S
    Formula: leg, axial at its attachment: A/F × F_peak
    Range: Bottoming and zones that start out of order may raise it.
    Band: Low, nominal and high girder, each to its own stop; loads are judged on the largest of the
    three.
    Limits: limits.leg_limit_load, in the margin leg_load

    References
    ----------
    [D]

    Examples
    --------
    >>> float(swept_peak([0.0, 0.1, 0.1, 0.2], [100.0, 100.0, 300.0, 200.0], 0.15))
    300.0
    """
    (s, f), (x,) = on_grid_shape((stroke, force), (at,))
    met = take(running(f), points_to(s, x) - 1)
    return np.maximum(met, inside(s, f, *locate(s, x)))
