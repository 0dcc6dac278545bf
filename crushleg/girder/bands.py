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
    r"""Scatter (standard deviation) of ln(true / computed mean force).

    .. math:: \sigma = 0.10 - 0.025\,(1 - \min(\varphi_h/0.3, 1))^2

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
    The slope stays below that of −ln R / 1.96, so that a larger hole never raises the high curve.

    References
    ----------
    Judgement; 259 simulated circular tubes with one ring of holes lie 6 % low, inside it.

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
    r"""Half widths of the band on the mean force, in logs.

    .. math:: r = \sqrt{r_{alloy}^2 + (1.96\,\sigma)^2 + (\tfrac53 \Delta t/t)^2 + r_{phase}^2}

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
    Upward, what holes add to the model's scatter fades as holes take more, by c/(√(c² + y²) + y)
    with y = −ln R and c the other parts: however wrong R is, the column is not stronger than
    without holes, and in full one more hole would raise the high curve where phase matters most.

    References
    ----------
    Composition [D]; parts as stated.
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
