"""Start force of a fold that is bent by the one under it: the weakest section of its window.

A fold centred on z bends somewhere within z ± H, at its weakest section. Where the window falls
against the rows is not known: the least, the mean and the most over it are low, nominal, high.
Sections are bands of ± one wall, about the width of a hinge.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.net import band_area
from crushleg.girder.start import start_force
from crushleg.girder.windows import on_cells

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.girder.pattern import Girders

TRIES = 25
NARROWINGS = 18
GOLDEN = 0.5 * (5.0**0.5 - 1.0)


class Inside(NamedTuple):
    """Rows and wall steps: height, net area (G, Q), start force (3, G, Q); infinite when padded."""

    height: FloatArray
    area: FloatArray
    force: FloatArray


def weak_spots(girders: Girders) -> Inside:
    """Rows and wall steps, the sections that are weakest for their surroundings."""
    height = np.concatenate([girders.zones, girders.steps], axis=1)
    real = np.isfinite(height)
    area = band_area(girders, np.where(real, height, 0.0))
    return Inside(height, np.where(real, area, np.inf), start_force(girders, height, banded=True))


def weakest_within(girders: Girders, spots: Inside, z: FloatArray, half: FloatArray) -> FloatArray:
    """Least start force within ± H of the cells ``z`` (G, M), shape (3, G, M) [N].

    Window ends are looked up between cells, rows and wall steps inside taken at their own
    height, so that the result is continuous in every input.

    Notes
    -----
    Formula: S(z) = min start force over z ± H

    References
    ----------
    [D]
    """
    field = start_force(girders, z, banded=True)
    ends = _ends(girders, z, half)
    least = [np.minimum(*(on_cells(level, girders.length, at) for at in ends)) for level in field]
    return _with_inside(spots, np.stack(least), spots.force, z, half)


def strongest_window(
    girders: Girders, spots: Inside, bottom: FloatArray, top: FloatArray, half: FloatArray
) -> FloatArray:
    """High start force of the weakest section of the window, where that is strongest.

    Parameters
    ----------
    girders : Girders
    spots : Inside
    bottom, top, half : ndarray
        Where the window's centre may lie and its half height H [m], shape (G, K).

    Returns
    -------
    ndarray
        Force [N], shape (G, K).

    Notes
    -----
    Formula: S_high = max over window centres of min start force over z ± H

    References
    ----------
    [D]; the window is found by net area, on a grid and then by golden section.
    """
    tried = bottom[:, :, None] + (top - bottom)[:, :, None] * np.linspace(0.0, 1.0, TRIES)
    flat = tried.reshape(girders.count, -1)
    area = _window_area(girders, spots, flat, np.repeat(half, TRIES, axis=1)).reshape(tried.shape)
    best = area.argmax(axis=2)[..., None]
    left = np.take_along_axis(tried, np.maximum(best - 1, 0), axis=2)[..., 0]
    right = np.take_along_axis(tried, np.minimum(best + 1, TRIES - 1), axis=2)[..., 0]
    start = np.take_along_axis(tried, best, axis=2)[..., 0]
    for _ in range(NARROWINGS):
        low, high = right - GOLDEN * (right - left), left + GOLDEN * (right - left)
        rises = _window_area(girders, spots, low, half) < _window_area(girders, spots, high, half)
        left, right = np.where(rises, low, left), np.where(rises, right, high)
    found = 0.5 * (left + right)
    least = np.take_along_axis(area, best, axis=2)[..., 0]
    better = _window_area(girders, spots, found, half) >= least
    z = np.where(better, found, start)
    ends = np.minimum(*(start_force(girders, at, banded=True)[2] for at in _ends(girders, z, half)))
    return _with_inside(spots, ends, spots.force[2], z, half)


def _ends(girders: Girders, z: FloatArray, half: FloatArray) -> list[FloatArray]:
    return [np.clip(z + reach, 0.0, girders.length[:, None]) for reach in (-half, half)]


def _window_area(girders: Girders, spots: Inside, z: FloatArray, half: FloatArray) -> FloatArray:
    """Least net area of the window [m2]."""
    ends = np.minimum(*(band_area(girders, at) for at in _ends(girders, z, half)))
    return _with_inside(spots, ends, spots.area, z, half)


def _with_inside(
    spots: Inside, least: FloatArray, value: FloatArray, z: FloatArray, half: FloatArray
) -> FloatArray:
    """Lower ``least`` to the value of every spot that lies inside the window."""
    for q in range(spots.height.shape[1]):
        within = np.abs(spots.height[:, q : q + 1] - z) <= half
        least = np.minimum(least, np.where(within, value[..., q : q + 1], np.inf))
    return least
