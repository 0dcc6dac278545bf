"""Squash of one wall in compression, with the hardening of a stocky one."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

CSM_LIMIT = 0.68


def squash_stress(
    slenderness: ArrayLike,
    yield_strength: ArrayLike,
    ultimate: ArrayLike,
    youngs_modulus: ArrayLike,
) -> FloatArray:
    """Stress a wall reaches when it squashes: yield, lifted by hardening when stocky.

    ε_u = 1 − s_y/s_u.

    Parameters
    ----------
    slenderness : array_like
        λ [-].
    yield_strength, ultimate, youngs_modulus : array_like
        s_y, s_u, E [Pa].

    Returns
    -------
    ndarray
        Stress [Pa].

    Notes
    -----
    Means: Stress at which a wall squashes instead of buckling.
    Formula: ε/ε_y = 0.25/λ^3.6, at most 15
    Formula: σ = s_y + (s_u − s_y)(ε − ε_y)/(0.16 ε_u − ε_y), at most s_u
    Range: No lift from λ = 0.68 on. The slope is that of austenitic steel, for other alloys on the
    high side, which is the side this bound is used on.
    Band: The upper of the two forms of the start force: it stands in the high curve.

    References
    ----------
    Continuous strength method, base curve and austenitic hardening slope [from memory]

    Examples
    --------
    >>> float(squash_stress(0.7, 300e6, 600e6, 200e9)) / 1e6
    300.0
    """
    lam, sy, su, E = floats(slenderness, yield_strength, ultimate, youngs_modulus)
    ratio = np.minimum(0.25 / np.clip(lam, 0.05, CSM_LIMIT) ** 3.6, 15.0)
    ey = sy / E
    span = np.maximum(0.16 * (1.0 - sy / su) - ey, 1e-9)
    lift = np.clip((ratio - 0.25 / CSM_LIMIT**3.6) * ey / span, 0.0, 1.0)
    return sy + (su - sy) * lift
