r"""Force inside one fold: from the crest down (or up), with mean exactly one.

ξ from 0 to 1 is the share of the fold's crush stroke, p its crest over its mean force:

.. math::
    p > 1:\quad F/P_m = \tau + (p-\tau)e^{-\xi/w}, \quad (p-\tau)\,w\,(1-e^{-1/w}) = 1-\tau

.. math::
    p \le 1:\quad F/P_m = q - (q-p)e^{-\xi/w_r}, \quad
    q - (q-p)\,w_r\,(1-e^{-1/w_r}) = 1

[D]; the trough τ = 0.6 and the rise w_r = 0.2 are judgement. The energy up to any ξ grows with p,
so that a stronger section never takes less energy anywhere.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

TROUGH = 0.6
RISE = 0.2
RISEN = RISE * (1.0 - np.exp(-1.0 / RISE))
_STEPS = 10


def decay(crest: ArrayLike) -> FloatArray:
    """Decay 1/w of the wave, by Newton steps; zero for p ≤ 1.

    Parameters
    ----------
    crest : array_like
        p [-].

    Returns
    -------
    ndarray
        1/w [-].

    Notes
    -----
    Formula: (p − τ) w (1 − exp(−1/w)) = 1 − τ, solved for 1/w

    References
    ----------
    [D]

    Examples
    --------
    >>> [round(1.0 / float(decay(p)), 5) for p in (1.5, 2.5)]
    [0.52078, 0.21244]
    """
    (p,) = floats(crest)
    y = np.minimum((1.0 - TROUGH) / np.maximum(p - TROUGH, 1.0 - TROUGH), 1.0)
    x = (1.0 - y) * (1.0 + 1.0 / y)
    for _ in range(_STEPS):
        safe = np.maximum(x, 1e-8)
        value = -np.expm1(-safe) / safe
        slope = (np.exp(-safe) - value) / safe
        x = np.maximum(safe - (value - y) / np.minimum(slope, -1e-9), 0.0)
    return np.where(y < 1.0, x, 0.0)


def wave_force(share: ArrayLike, crest: ArrayLike, rate: ArrayLike) -> FloatArray:
    """Force over the fold's mean at ``share`` ξ of its stroke; ``rate`` from :func:`decay`.

    A fold begins at its crest p and falls, or rises from it where p is below 1. The mean over a
    fold is exactly 1, so that its energy is Pm·η·2H.

    Notes
    -----
    Means: How the force falls within one fold, from its crest to the next.
    Formula: p > 1: F/Pm = τ + (p − τ) exp(−ξ/w), with (p − τ) w (1 − exp(−1/w)) = 1 − τ
    Formula: p ≤ 1: F/Pm = q − (q − p) exp(−ξ/0.2), with mean 1
    Range: τ = 0.6 is the trough; the shape moves peaks and the stroke within a fold, never energy.
    Band: Each level on its own crest and mean force.
    Limits: girder.crest_ratio bounds p

    References
    ----------
    Shape with mean 1 [D]; its trough τ [judgement]

    Examples
    --------
    >>> float(wave_force(0.0, 1.5, decay(1.5)))
    1.5
    """
    xi, p, x = floats(share, crest, rate)
    falling = TROUGH + (p - TROUGH) * np.exp(-x * xi)
    plateau = (1.0 - RISEN * p) / (1.0 - RISEN)
    rising = plateau - (plateau - p) * np.exp(-xi / RISE)
    return np.where(p > 1.0, falling, rising)


def wave_energy(share: ArrayLike, crest: ArrayLike, rate: ArrayLike) -> FloatArray:
    """Energy from 0 to ``share`` over the fold's energy Pm·η·2H; arguments as there.

    Notes
    -----
    Formula: E/(Pm η 2H) = ∫ F/Pm dξ from 0 to ξ

    References
    ----------
    Integral of :func:`wave_force` [D]

    Examples
    --------
    >>> round(float(wave_energy(1.0, 1.5, decay(1.5))), 12)
    1.0
    """
    xi, p, x = floats(share, crest, rate)
    grown = -np.expm1(-x * xi) / np.maximum(x, 1e-12)
    falling = TROUGH * xi + (p - TROUGH) * np.where(x > 1e-8, grown, xi)
    plateau = (1.0 - RISEN * p) / (1.0 - RISEN)
    rising = plateau * xi - (plateau - p) * RISE * (1.0 - np.exp(-xi / RISE))
    return np.where(p > 1.0, falling, rising)
