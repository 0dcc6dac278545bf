r"""One wall in compression: elastic buckling, effective width with holes.

Plain effective width is the same in both standards; the form with round holes is that of AISI
S100, whose stated range is d/C ≤ 0.5, C/t ≤ 70, hole spacing ≥ 3 d.

[S100] AISI S100
[EC3] EN 1993-1-5 with ψ = 1
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

STIFFENED = 4.0
FREE_EDGE = 0.425
LIMIT = 0.673
JOIN = 0.02


def critical_stress(
    youngs_modulus: ArrayLike,
    poisson_ratio: ArrayLike,
    wall: ArrayLike,
    width: ArrayLike,
    k: ArrayLike = STIFFENED,
) -> FloatArray:
    """Elastic buckling stress of a plate strip.

    Parameters
    ----------
    youngs_modulus, poisson_ratio : array_like
        E [Pa], ν [-].
    wall, width : array_like
        Wall t and strip width b [m].
    k : array_like
        Buckling coefficient [-]: 4 both edges held, 0.425 one edge free.

    Returns
    -------
    ndarray
        Stress [Pa].

    Notes
    -----
    Formula: σcr = k π² E/(12 (1 − ν²)) × (t/b)²
    Range: Long flat strip, elastic.

    References
    ----------
    [EC3] [published]

    Examples
    --------
    >>> round(float(critical_stress(200e9, 0.3, 1.0, 10.0)) / 1e9, 3)
    7.23
    """
    E, nu, t, b, k = floats(youngs_modulus, poisson_ratio, wall, width, k)
    return k * np.pi**2 * E / (12.0 * (1.0 - nu * nu)) * (t / b) ** 2


def plain_width(slenderness: ArrayLike) -> FloatArray:
    """Effective over full width of a plain wall.

    ``slenderness`` λ [-].

    Notes
    -----
    Means: Part of a wall in compression that still carries when it buckles.
    Formula: ρ = (1 − 0.22/λ)/λ, 1 up to λ = 0.673
    Formula: λ = √(s_y/σcr)
    Range: Wall held along both edges.
    Band: The lower of the two forms of the start force: it stands in the low curve.

    References
    ----------
    [S100], [EC3] [published]

    Examples
    --------
    >>> round(float(plain_width(1.0)), 3), round(float(plain_width(1.495)), 4)
    (0.78, 0.5705)
    """
    lam = np.maximum(floats(slenderness)[0], LIMIT)
    return np.minimum((1.0 - 0.22 / lam) / lam, 1.0)


def holed_width(slenderness: ArrayLike, removed: ArrayLike) -> FloatArray:
    """Effective over full width of a wall with round holes.

    Parameters
    ----------
    slenderness : array_like
        λ [-] of the wall without holes.
    removed : array_like
        x, removed over full width [-].

    Returns
    -------
    ndarray
        Effective fraction [-], never below zero.

    Notes
    -----
    Formula: b/C = (1 − 0.22/λ − 0.8 x + 0.085 x/λ)/λ, at most 1 − x
    Range: x to 0.5, C/t to 70, hole spacing from 3 d; outside it computes, and a caution says so.

    At λ = 0.673 the form misses 1 − x by up to 0.001; the difference is added and fades out over
    the next 0.02 of λ, so that the two pieces meet.

    References
    ----------
    [S100] [from memory]

    Examples
    --------
    >>> round(float(holed_width(1.0, 0.2)), 3), round(float(holed_width(1.495, 0.4)), 4)
    (0.637, 0.3716)
    """
    lam, x = floats(slenderness, removed)
    net = np.maximum(1.0 - x, 0.0)
    slender = np.maximum(lam, LIMIT)
    width = (1.0 - 0.22 / slender - 0.8 * x + 0.085 * x / slender) / slender
    at_limit = (1.0 - 0.22 / LIMIT - 0.8 * x + 0.085 * x / LIMIT) / LIMIT
    width = width + (net - at_limit) * np.maximum(1.0 - (slender - LIMIT) / JOIN, 0.0)
    return np.where(lam <= LIMIT, net, np.clip(width, 0.0, net))


def strips_width(
    gaps: ArrayLike,
    inner: ArrayLike,
    length: ArrayLike,
    side: ArrayLike,
    slenderness: ArrayLike,
    poisson_ratio: ArrayLike,
) -> FloatArray:
    """Effective over full width of a wall cut into strips by long slots.

    Each strip beside a slot has one free edge as long as the slot: k = 0.425 + (w/ℓ)² on its own
    width, at most 4. A strip between two slots has two and cannot be stiffer than a column
    clamped at the slot ends, k = 4(1 − ν²)(w/ℓ)².

    Parameters
    ----------
    gaps : array_like
        Strip widths w [m], on the last axis.
    inner : array_like
        Whether a strip lies between two slots; shape of ``gaps``.
    length, side : array_like
        Slot length ℓ and wall side C [m], without the last axis.
    slenderness : array_like
        λ [-] of the wall without holes (k = 4).
    poisson_ratio : array_like
        ν [-].

    Returns
    -------
    ndarray
        Effective fraction [-].

    Notes
    -----
    Formula: b/C = Σ w ρ(λ_w)/C, λ_w = λ √(4/k) w/C
    Formula: k = 0.425 + (w/ℓ)², at most 4, beside one slot; between two slots at most 4 (1 −
    ν²)(w/ℓ)²
    Range: Straight edges of the strips, as long as the slot.

    References
    ----------
    [EC3] outstand element [published]; plate of finite length with one free edge, S. P. Timoshenko,
    J. M. Gere, Theory of Elastic Stability [from memory]; inner strips [D]
    """
    w, free, ell, c, lam, nu = floats(gaps, inner, length, side, slenderness, poisson_ratio)
    short = (w / np.maximum(ell, 1e-9)[..., None]) ** 2
    outstand = np.minimum(FREE_EDGE + short, STIFFENED)
    column = 4.0 * (1.0 - nu * nu)[..., None] * short
    k = np.where(free > 0.0, np.minimum(outstand, column), outstand)
    wide = np.where(k > 0.0, np.sqrt(STIFFENED / np.maximum(k, 1e-12)), 0.0)
    strip = lam[..., None] * wide * w / c[..., None]
    return (w * plain_width(strip)).sum(axis=-1) / c


def stagger_factor(net_ratio: ArrayLike) -> FloatArray:
    """Loss of a 60° staggered pattern loaded along the rows, over its net width.

    ``net_ratio`` μ [-].

    Notes
    -----
    Means: What staggered rows lose beside rows in line.
    Formula: factor = min(μ, 0.687 μ + 0.359 μ²)/μ
    Formula: μ = (p − d)/p
    Range: 60° pattern, loaded along the rows; p pitch, d hole.
    Band: The same for low, nominal and high.

    References
    ----------
    Practice of perforated sheet [from memory]

    Examples
    --------
    >>> float(stagger_factor(0.95)), round(float(stagger_factor(0.5)), 4)
    (1.0, 0.8665)
    """
    (mu,) = floats(net_ratio)
    return np.minimum(1.0, 0.687 + 0.359 * mu)
