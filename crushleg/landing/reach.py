"""In which piece of a curve the energy of a vehicle is taken, and where in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.landing.grid import shared
from crushleg.landing.lookup import first_reached

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray, IntArray

MANY = 64
"""Cases on one curve from which on they are looked up."""


def reached_in(
    s: FloatArray, f: FloatArray, e: FloatArray, w: FloatArray, d: FloatArray
) -> tuple[IntArray, BoolArray]:
    """First piece in which the net energy reaches the demand, and whether it nowhere does."""
    if not shared(s) or w.size < MANY:
        return _reached_anywhere(s, f, e, w, d)
    rises = w < _least_slope(s, f, e)
    point = first_reached(s.reshape(-1), e.reshape(-1), w, d)
    bottomed = point == s.shape[-1]
    i = np.clip(point - 1, 0, s.shape[-1] - 2)
    if not rises.all():
        i[~rises], bottomed[~rises] = _reached_anywhere(s, f, e, w[~rises], d[~rises])
    return np.asarray(i), np.asarray(bottomed)


def _least_slope(s: FloatArray, f: FloatArray, e: FloatArray) -> float:
    """Weight below which the energy left rises all along every piece of falling force [N]."""
    run, rise, work = (np.diff(a.reshape(-1)) for a in (s, f, e))
    falls = (rise < 0.0) & (run > 0.0)
    slope = (work[falls] + 0.5 * rise[falls] * run[falls]) / run[falls]
    return float(slope.min(initial=np.inf))


def _reached_anywhere(
    s: FloatArray, f: FloatArray, e: FloatArray, w: FloatArray, d: FloatArray
) -> tuple[IntArray, BoolArray]:
    """Reach the demand at a point or between two, every case on all points of its curve."""
    s, f, e = (a.reshape(a.shape[-1]) if shared(a) else a for a in (s, f, e))
    net = e - w[..., None] * s
    bend = 0.5 * np.diff(f) * np.diff(s)
    reached = _top(net, bend, np.diff(net) - bend) >= d[..., None]
    bottomed = ~reached.any(axis=-1)
    i = np.where(bottomed, s.shape[-1] - 2, np.argmax(reached, axis=-1))
    return i, np.asarray(bottomed)


def _top(net: FloatArray, bend: FloatArray, lean: FloatArray) -> FloatArray:
    """Most net energy anywhere in each piece, where it runs as net + lean u + bend u²."""
    bulges = (bend < 0.0) & (lean > 0.0) & (lean < -2.0 * bend)
    crest = np.divide(-(lean**2), 4.0 * bend, out=np.zeros_like(lean), where=bulges)
    ends = np.maximum(net[..., :-1], net[..., 1:])
    return np.asarray(np.maximum(ends, net[..., :-1] + crest))


def first_root(bend: FloatArray, lean: FloatArray, short: FloatArray) -> FloatArray:
    """Smallest u in 0..1 with lean u + bend u² = short, without cancellation."""
    root = np.sqrt(np.maximum(lean**2 + 4.0 * bend * short, 0.0))
    top = np.where(lean >= 0.0, 2.0 * short, root - lean)
    under = np.where(lean >= 0.0, lean + root, 2.0 * bend)
    u = np.divide(top, under, out=np.zeros_like(top), where=(under > 0.0) & (short > 0.0))
    return np.clip(u, 0.0, 1.0)
