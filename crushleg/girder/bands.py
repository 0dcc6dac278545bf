"""Low and high of the mean force: independent parts, joined by root-sum-square in logs."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

BAND_PROBABILITY = 0.95
Z_TWO_SIDED = 1.96
PLAIN_SCATTER = 0.075
HOLED_SCATTER = 0.10
HOLED_FROM = 0.3
WALL_EXPONENT = 5.0 / 3.0


def model_scatter(hinge_share: ArrayLike) -> FloatArray:
    """Scatter (standard deviation) of ln(true / computed mean force).

    Parameters
    ----------
    hinge_share : array_like
        Hole share of the horizontal hinges φh [-].

    Returns
    -------
    ndarray
        σ [-], 0.075 plain, 0.10 from φh = 0.3.

    Notes
    -----
    Formula: σ = 0.10 − 0.025 (1 − min(φh/0.3, 1))²

    The slope stays below that of −ln R / 1.96, so that a larger hole never raises the high curve.

    References
    ----------
    Inside it lie 259 simulated circular tubes with one ring of holes, 6 % low [judgement]

    Examples
    --------
    >>> float(model_scatter(0.0)), float(model_scatter(0.3))
    (0.075, 0.1)
    """
    (share,) = floats(hinge_share)
    left = 1.0 - np.minimum(share / HOLED_FROM, 1.0)
    return HOLED_SCATTER - (HOLED_SCATTER - PLAIN_SCATTER) * left * left


def mean_force_band(
    flow_stress: FloatArray,
    wall_tolerance: FloatArray,
    wall: FloatArray,
    hinge_share: FloatArray,
    test_scatter: FloatArray,
    ratios: tuple[FloatArray, FloatArray, FloatArray],
) -> tuple[FloatArray, FloatArray]:
    """Half widths of the band on the mean force, in logs.

    Parameters
    ----------
    flow_stress : ndarray
        Low, nominal, high [Pa], shape (3, G), taken as 95 % limits.
    wall_tolerance : ndarray
        ± on the wall, a 95 % limit [m], shape (G,).
    wall, hinge_share : ndarray
        Wall [m] and φh, shape (G, M).
    test_scatter : ndarray
        σ from tests of this girder, NaN where there are none, shape (G,).
    ratios : tuple of ndarray
        R of the worst phase, phase average, best phase [-], shape (G, M).

    Returns
    -------
    tuple of ndarray
        r down and r up: low = nominal·exp(−r), high = nominal·exp(+r), about 95 % two-sided.

    Notes
    -----
    Means: How far low and high lie from nominal, and what makes the band between them.
    Formula: r = √(r_alloy² + (1.96 σ)² + (5/3 Δt/t)² + r_phase²)
    Formula: low = nominal exp(−r), high = nominal exp(+r)
    Range: About 95 % two-sided, parts independent; a correlation file puts its scatter in the place
    of σ.
    Band: Alloy (flow stress, low and high of the datasheet), model σ, wall tolerance, phase of
    folds against rows; rate where it is on. Strokes and energies come from the low curve, loads
    from the largest of the three.
    Limits: girder.wall_tolerance is Δt
    Limits: girder.correlation replaces σ

    Upward, what holes add to the model's scatter fades as holes take more, by c/(√(c² + y²) + y)
    with y = −ln R and c the other parts: however wrong R is, the column is not stronger than
    without holes, and in full one more hole would raise the high curve where phase matters most.

    References
    ----------
    Composition [D]; σ [judgement]; parts as stated
    """
    tests = test_scatter[:, None]
    tested = ~np.isnan(tests)
    base = np.where(tested, tests, PLAIN_SCATTER)
    holed = np.where(tested, tests, model_scatter(hinge_share))
    low, nominal, high = flow_stress[:, :, None]
    least, mean, most = (np.log(ratio) for ratio in ratios)
    thickness = (WALL_EXPONENT * wall_tolerance[:, None] / wall) ** 2
    more = Z_TWO_SIDED**2 * (holed**2 - base**2)
    fixed = (Z_TWO_SIDED * base) ** 2 + thickness
    down = np.sqrt(fixed + more + np.log(nominal / low) ** 2 + (mean - least) ** 2)
    fixed = fixed + np.log(high / nominal) ** 2
    fade = np.sqrt(fixed) / (np.sqrt(fixed + mean**2) - mean)
    up = np.sqrt(fixed + more * fade + (most - mean) ** 2)
    return down, up
