r"""Figures read off a measured crush: peaks, mean force, efficiency, usable stroke, folds.

The usable stroke of a leg that bottoms is where the tangent of the bottoming branch meets the
mean force before it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from scipy.signal import find_peaks

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.trial.record import Record

PROMINENT = 0.15
"""Rise and fall of a crest over the mean force from which it counts (judgement)."""
AT_STOP = 0.98
"""Part of the stroke from which a maximum is where the crush stopped, not a crest."""
BOTTOMS = 1.3
"""Last force over the highest crest before from which the branch is one of bottoming; judgement."""
STEEP = 3.0
"""Slope of that branch over the last force per whole stroke, at least (judgement)."""
BRANCH = (0.3, 0.9)
"""Part of the branch, between that crest and the last force, the tangent is laid on."""


class Metrics(NamedTuple):
    """One crush in SI; ``usable`` is NaN where it does not bottom.

    ``efficiency`` is mean force over largest force, energy over largest force times stroke.
    """

    stroke: float
    energy: float
    mean: float
    first_peak: float
    largest: float
    efficiency: float
    usable: float
    folds: int


def metrics(record: Record) -> Metrics:
    """Read the figures off a record, up to its largest stroke.

    Parameters
    ----------
    record : Record

    Returns
    -------
    Metrics
    """
    stroke, energy = float(record.stroke[-1]), float(record.energy[-1])
    mean = energy / stroke
    at = crests(record.stroke, record.force, mean)
    largest = float(record.sharp.max())
    return Metrics(
        stroke,
        energy,
        mean,
        _first_peak(record, at) if at else largest,
        largest,
        mean / largest,
        usable_stroke(record.stroke, record.force),
        len(at),
    )


def _first_peak(record: Record, at: list[int]) -> float:
    """Largest force of the first fold: up to the trough behind the first crest [N]."""
    end = at[1] if len(at) > 1 else len(record.force) - 1
    trough = at[0] + int(np.argmin(record.force[at[0] : end + 1]))
    return float(record.sharp[: trough + 1].max())


def crests(stroke: FloatArray, force: FloatArray, mean: float) -> list[int]:
    """Crests of a measured force, each of which begins a fold.

    Parameters
    ----------
    stroke, force : ndarray
        To the largest stroke, shape (n,).
    mean : float
        Mean force [N].

    Returns
    -------
    list of int
        Maxima that rise and fall by 15 % of the mean; neither a branch of bottoming nor the
        force at the stop is one.

    Notes
    -----
    Means: Folds counted on a measured force.
    Formula: a maximum that rises and falls by 15 % of the mean force
    Range: Neither a branch of bottoming nor the force at the stop is one.
    Band: None: it is a measurement.
    Limits: filter class of the record

    References
    ----------
    15 % [judgement]
    """
    end = _foot(stroke, force)
    part = force if end is None else force[: end + 1]
    padded = np.concatenate([[0.0], part, [0.0 if end is None else part[-1]]])
    found = find_peaks(padded, prominence=PROMINENT * mean)[0] - 1
    at_stop = end is None and len(found) > 1 and stroke[found[-1]] > AT_STOP * stroke[-1]
    return [int(i) for i in (found[:-1] if at_stop else found)]


def usable_stroke(stroke: FloatArray, force: FloatArray) -> float:
    """Stroke where the tangent of the bottoming branch meets the mean force before it [m].

    Parameters
    ----------
    stroke, force : ndarray
        To the largest stroke, shape (n,).

    Returns
    -------
    float
        NaN where the force does not end in a steep rise, 1.3 times above every crest.

    Notes
    -----
    Means: Usable stroke read off a measured force that bottoms.
    Formula: stroke where mean force before = tangent of the bottoming branch
    Range: A force that ends in a steep rise, 1.3 times above every crest.
    Band: None: it is a measurement.

    References
    ----------
    Tangent construction [common practice]; 1.3 [judgement]

    Examples
    --------
    >>> s = np.linspace(0.0, 0.2, 2001)
    >>> round(usable_stroke(s, 1e4 + 1e6 * np.maximum(s - 0.15, 0.0)), 6)
    0.15
    """
    foot = _foot(stroke, force)
    if foot is None or foot < 2:
        return float("nan")
    before = slice(0, foot + 1)
    mean = float(np.trapezoid(force[before], stroke[before]) / (stroke[foot] - stroke[0]))
    highest, last = float(force[before].max()), float(force[-1])
    low, high = (highest + part * (last - highest) for part in BRANCH)
    branch = np.flatnonzero((force >= low) & (force <= high) & (np.arange(len(force)) > foot))
    if len(branch) < 3 or np.ptp(stroke[branch]) <= 0.0:
        return float("nan")
    slope, level = np.polyfit(stroke[branch], force[branch], 1)
    return float((mean - level) / slope) if slope > 0.0 else float("nan")


def _foot(stroke: FloatArray, force: FloatArray) -> int | None:
    """Index where the last rise leaves the median force; None if it is no branch of bottoming."""
    top = int(np.argmax(force))
    below = np.flatnonzero(force[:top] <= float(np.median(force[: top + 1])))
    if len(below) < 3 or stroke[top] < 0.5 * stroke[-1]:
        return None
    foot = int(below[-1])
    rise = float(force[top] - force[foot]) * float(stroke[-1] - stroke[0])
    steep = rise > STEEP * float(force[top]) * float(stroke[top] - stroke[foot])
    high = float(force[top]) > BOTTOMS * float(force[: foot + 1].max())
    return foot if steep and high else None
