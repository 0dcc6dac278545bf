r"""Plain square column: mean folding force and fold length of the four published modes.

[AJ84] W. Abramowicz, N. Jones, Int. J. Impact Eng. 2 (1984) 179, and 4 (1986) 243: coefficients
[from memory], ranges of C/t as in their abstract [published]
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.arrays import FloatArray, floats
from crushleg.girder.short_axis import total

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

MODES = ("symmetric", "asymmetric, one corner", "extensional")
CRUSHED_FRACTION = (0.73, 0.77, 0.77)
BLEND = 0.01


class PlainFold(NamedTuple):
    """Mean force [N], half fold length [m], crushed fraction [-] and mode weights (last axis)."""

    force: FloatArray
    half_length: FloatArray
    crushed: FloatArray
    weights: FloatArray


def plastic_moment(flow_stress: ArrayLike, wall: ArrayLike) -> FloatArray:
    """Plastic moment per width of a wall; stress [Pa], wall [m].

    Returns
    -------
    ndarray
        M0 [N].

    Notes
    -----
    Formula: M0 = s0 t²/4

    References
    ----------
    [AJ84]

    Examples
    --------
    >>> float(plastic_moment(400e6, 2e-3))
    400.0
    """
    s0, t = floats(flow_stress, wall)
    return 0.25 * s0 * t * t


def symmetric_ratio(slenderness: ArrayLike) -> FloatArray:
    """Pm/M0 of the symmetric mode; ``slenderness`` = C/t [-].

    Notes
    -----
    Formula: Pm/M0 = 52.22 (C/t)^(1/3)
    Range: Lowest for C/t above 40.8.

    References
    ----------
    [AJ84]

    Examples
    --------
    >>> round(float(symmetric_ratio(60.0)), 1)
    204.4
    """
    return 52.22 * np.cbrt(floats(slenderness)[0])


def asymmetric_ratio(slenderness: ArrayLike) -> FloatArray:
    """Pm/M0 of the asymmetric mode with one extensional corner of eight.

    Notes
    -----
    Formula: Pm/M0 = 45.90 (C/t)^(1/3) + 1.75 (C/t)^(2/3) + 1.02
    Range: Lowest for C/t 7.5 to 40.8; tested at C/t 30 and 32.

    References
    ----------
    [AJ84]

    Examples
    --------
    >>> round(float(asymmetric_ratio(20.0)), 1)
    138.5
    """
    q = np.cbrt(floats(slenderness)[0])
    return 45.90 * q + 1.75 * q * q + 1.02


def asymmetric_two_ratio(slenderness: ArrayLike) -> FloatArray:
    """Pm/M0 of the asymmetric mode with two extensional corners of eight.

    Notes
    -----
    Formula: Pm/M0 = 42.92 (C/t)^(1/3) + 3.17 (C/t)^(2/3) + 2.04
    Range: Never the lowest.

    References
    ----------
    [AJ84]

    Examples
    --------
    >>> float(asymmetric_two_ratio(20.0)) > float(asymmetric_ratio(20.0))
    True
    """
    q = np.cbrt(floats(slenderness)[0])
    return 42.92 * q + 3.17 * q * q + 2.04


def extensional_ratio(slenderness: ArrayLike) -> FloatArray:
    """Pm/M0 of the extensional mode.

    Notes
    -----
    Formula: Pm/M0 = 32.64 √(C/t) + 8.16
    Range: Lowest for C/t below 7.5.

    References
    ----------
    [AJ84]

    Examples
    --------
    >>> float(extensional_ratio(4.0))
    73.44
    """
    return 32.64 * np.sqrt(floats(slenderness)[0]) + 8.16


def plain_fold(side: ArrayLike, wall: ArrayLike, flow_stress: ArrayLike) -> PlainFold:
    """Lowest mode of an undrilled square column: mean force, fold length, crushed fraction.

    The force is that of the lowest mode. H and η would jump where two modes cross; they are blended
    by weights of the modes.

    Parameters
    ----------
    side : array_like
        Mid-line side C, mean of the two sides of a rectangle [m].
    wall : array_like
        Wall t [m].
    flow_stress : array_like
        Flow stress s0 [Pa].

    Returns
    -------
    PlainFold
        Arrays of the broadcast shape; ``weights`` with a last axis over :data:`MODES`.

    Notes
    -----
    Means: Mean force, half fold length H and crushed fraction η of the undrilled column, in the
    mode that takes the least force.
    Formula: Pm = M0 × least Pm/M0 of the modes
    Formula: H = Σ w_i H_i, with 0.99 C^(2/3) t^(1/3) symmetric, 0.86 C^(2/3) t^(1/3) asymmetric,
    √(C t) extensional
    Formula: η = Σ w_i η_i, with 0.73, 0.77, 0.77
    Formula: w_i ∝ exp[−(P_i − P)/(0.01 P)]
    Range: C/t 7.5 to 100; sides of a rectangle up to about 2 : 1.
    Band: None here: the force is nominal. Its low and high are explained under band.

    The mode with two extensional corners is never the lowest and takes no part in the blend.

    References
    ----------
    [AJ84]; blend of H and η [D]

    Examples
    --------
    >>> fold = plain_fold(0.136, 0.004, 472.5e6)
    >>> round(float(fold.force) / 1e3, 1), round(float(fold.crushed), 3)
    (317.7, 0.756)
    """
    c, t, s0 = floats(side, wall, flow_stress)
    x = c / t
    ratios = (symmetric_ratio(x), asymmetric_ratio(x), extensional_ratio(x))
    lowest = np.minimum(np.minimum(ratios[0], ratios[1]), ratios[2])
    weights = np.stack([np.exp(-(r - lowest) / (BLEND * lowest)) for r in ratios], axis=-1)
    weights = weights / total(weights)[..., None]
    equal = np.cbrt(c * c * t)
    lengths = np.stack([0.99 * equal, 0.86 * equal, np.sqrt(c * t)], axis=-1)
    half, crushed = total(weights * lengths), total(weights * np.array(CRUSHED_FRACTION))
    return PlainFold(plastic_moment(s0, t) * lowest, half, crushed, weights)
