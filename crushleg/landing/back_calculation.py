"""From the energy that crushed legs took back to the speed at touchdown."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def speed_from_crush(
    mass: ArrayLike, net_weight: ArrayLike, energy: ArrayLike, travel: ArrayLike
) -> FloatArray:
    """Speed that an energy taken over a travel accounts for.

    Parameters
    ----------
    mass : array_like
        Mass stopped m [kg].
    net_weight : array_like
        Weight less thrust, m g − T [N].
    energy : array_like
        Energy taken on the way down, all legs and all else together E [J].
    travel : array_like
        How far the centre of gravity came down from first contact to the stop Δz [m]: at the
        bottom, before the legs spring back.

    Returns
    -------
    ndarray
        Speed at first contact v [m/s]; zero where the weight alone does more work than E.

    Notes
    -----
    Means: Speed at touchdown that the crush of the legs accounts for.
    Formula: v = √(2 [E − (m g − T) Δz]/m)
    Range: Without the energy that went elsewhere (pads, soil, sliding, joints) the speed is a lower
    bound.
    Band: Force common to all legs, force leg to leg, reading, mass, other energy: each an energy,
    joined by root-sum-square, about 95 %.
    Limits: touchdown.mass or vehicle.mass; vehicle.gravity; touchdown.thrust_to_weight

    References
    ----------
    [D]

    Examples
    --------
    >>> speed = speed_from_crush(1000.0, 9806.65, [4000.0, 6400.0], [0.10, 0.16])
    >>> speed.round(6).tolist()
    [2.457371, 3.108355]
    """
    m, w, e, z = floats(mass, net_weight, energy, travel)
    return np.sqrt(2.0 * np.maximum(e - w * z, 0.0) / m)
