r"""Crush curves of many girders, read at many strokes at once.

Total travel x = crush + elastic shortening, as in :mod:`crushleg.landing.elastic`. Up to the
largest travel so far the girder springs on its axial stiffness K; beyond, it follows its curve;
beyond the end of the curve it is bottomed and goes on with K.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.landing.elastic import with_elastic

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray, IntArray


class Curves(NamedTuple):
    """C curves of n points on total travel, end to end in flat arrays of C n values.

    ``key`` is the travel [m] shifted by ``span`` per curve, so that one sorted search serves all
    curves. ``force`` [N], ``slope`` [N/m] to the next point, ``work`` [J] up to the point; at the
    last point the slope is the stiffness. ``end`` (C,) is the travel at the end of the curve,
    ``stiffness`` (C,) is K [N/m].
    """

    points: int
    span: float
    key: FloatArray
    travel: FloatArray
    force: FloatArray
    slope: FloatArray
    work: FloatArray
    end: FloatArray
    stiffness: FloatArray


def curves_of(
    stroke: FloatArray, force: FloatArray, energy: FloatArray, stiffness: FloatArray
) -> Curves:
    """Curves on crush stroke, made ready for reading.

    Parameters
    ----------
    stroke, force, energy : ndarray, shape (C, n)
        Crush stroke [m], force [N], energy [J].
    stiffness : ndarray, shape (C,)
        Axial stiffness K [N/m].

    Returns
    -------
    Curves
    """
    x, f, e = with_elastic(stroke, force, energy, stiffness)
    points = x.shape[1]
    span = 2.0 * float(x.max()) + 1.0
    run = np.diff(x, axis=1)
    slope = np.divide(np.diff(f, axis=1), run, out=np.zeros_like(run), where=run > 0.0)
    slope = np.concatenate([slope, np.asarray(stiffness)[:, None]], axis=1)
    shift = span * np.arange(len(x))[:, None]
    flat = ((x + shift), x, f, slope, e)
    key, travel, load, steep, work = (np.ascontiguousarray(a).ravel() for a in flat)
    return Curves(
        points, span, key, travel, load, steep, work, x[:, -1].copy(), np.asarray(stiffness)
    )


def force_on(curves: Curves, which: IntArray, travel: FloatArray) -> FloatArray:
    """Force of the curves at a travel never reached before [N].

    Parameters
    ----------
    curves : Curves
    which : ndarray of int
        Curve of each leg.
    travel : ndarray
        Total travel [m], not negative; of the shape of ``which``.

    Returns
    -------
    ndarray
        Force [N].
    """
    i = _piece(curves, which, travel)
    return np.asarray(curves.force[i] + curves.slope[i] * (travel - curves.travel[i]))


def next_bend(curves: Curves, which: IntArray, travel: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Travel at the first point under load of each curve, and at the next point from here on [m].

    Parameters
    ----------
    curves : Curves
    which : ndarray of int
    travel : ndarray
        Total travel [m].

    Returns
    -------
    first, bend : ndarray
        ``bend`` is inf beyond the end of the curve.
    """
    i = _piece(curves, which, travel)
    last = (i + 1) % curves.points == 0
    return (
        curves.travel[curves.points * which + 1],
        np.where(last, np.inf, curves.travel[np.where(last, i, i + 1)]),
    )


def work_on(curves: Curves, which: IntArray, travel: FloatArray) -> FloatArray:
    """Work done on the curves up to a travel [J], elastic part included.

    Parameters
    ----------
    curves : Curves
    which : ndarray of int
    travel : ndarray
        Total travel [m].

    Returns
    -------
    ndarray
        Work [J]: exact at the points, trapezoid between with its small remainder spread evenly.
    """
    i = _piece(curves, which, travel)
    beyond = travel - curves.travel[i]
    load, steep = curves.force[i], curves.slope[i]
    last = (i + 1) % curves.points == 0
    j = np.where(last, i, i + 1)
    run = curves.travel[j] - curves.travel[i]
    spare = curves.work[j] - curves.work[i] - (load + 0.5 * steep * run) * run
    share = np.divide(beyond, run, out=np.zeros_like(run), where=run > 0.0)
    return np.asarray(curves.work[i] + (load + 0.5 * steep * beyond) * beyond + spare * share)


def _piece(curves: Curves, which: IntArray, travel: FloatArray) -> IntArray:
    """Flat index of the last point at or before each travel."""
    found = np.searchsorted(curves.key, travel + curves.span * which, side="right") - 1
    first = curves.points * which
    return np.clip(found, first, first + curves.points - 1)
