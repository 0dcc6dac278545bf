r"""How uncertain a back-calculated speed is: every cause as an energy, joined by root-sum-square.

The speed is :math:`v = \sqrt{2\,(E - W_n Δz)/m}`; what makes it uncertain is written as the energy
that would change it as much, so that causes add in squares and the speed follows at the end.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def mass_deviation(energy: ArrayLike, mass_error: ArrayLike) -> FloatArray:
    """Energy that changes the speed as much as an error of the mass.

    Weight and thrust go with the mass: v² = 2E/m − 2(g − T/m)Δz, of which only the first term
    moves.

    Parameters
    ----------
    energy : array_like
        Energy taken on the way down E [J].
    mass_error : array_like
        δm/m [-].

    Returns
    -------
    ndarray
        Energy [J].

    Notes
    -----
    Formula: ΔE = E δm/m

    References
    ----------
    [D]

    Examples
    --------
    >>> float(mass_deviation(6000.0, 0.02))
    120.0
    """
    e, error = floats(energy, mass_error)
    return e * error


def common_part(band: ArrayLike, own: ArrayLike) -> FloatArray:
    """Part of a girder's band that all legs of a batch share.

    Parameters
    ----------
    band, own : array_like
        Half width of the band of one girder r, and of what each leg has on its own, in logs [-].

    Returns
    -------
    ndarray
        Half width [-]; zero where the band is narrower than what legs have on their own.

    Notes
    -----
    Formula: r_common = √(r² − r_own²)

    References
    ----------
    [D]

    Examples
    --------
    >>> float(common_part(0.05, 0.03).round(6))
    0.04
    """
    r, alone = floats(band, own)
    return np.sqrt(np.maximum(r**2 - alone**2, 0.0))


def root_sum_square(parts: ArrayLike) -> FloatArray:
    """Join independent deviations, along the first axis.

    Parameters
    ----------
    parts : array_like, shape (k, ...)

    Returns
    -------
    ndarray, shape (...)

    Examples
    --------
    >>> float(root_sum_square([3.0, 4.0]))
    5.0
    """
    (each,) = floats(parts)
    return np.sqrt(np.sum(each**2, axis=0))
