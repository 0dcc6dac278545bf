"""Friction of a pad on the ground: it sticks while the grip asks for less, or slides.

The mechanics stand in :mod:`crushleg.landing.motion.pads`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

LEAST_OPENING = 1e-3
"""Below this c − μ τ·a a leg is jammed: its pad does not slide."""


def gripped(
    load: FloatArray, pull: FloatArray, slide: FloatArray, opening: FloatArray, friction: FloatArray
) -> FloatArray:
    """Force of the ground on pads that stick under a pull, or slide.

    Parameters
    ----------
    load : ndarray, shape (B, N)
        Along the absorbers [N].
    pull : ndarray, shape (B, N, 2)
        Sideways, were the pads to stick [N].
    slide : ndarray, shape (B, N, 3)
    opening : ndarray, shape (B, N)
        c = −a_z [-].
    friction : ndarray, shape (B, N)
        inf for a stuck pad [-].

    Returns
    -------
    ndarray, shape (B, N, 3)
        Force [N].
    """
    lean = slide[..., :2]
    pulled = np.sqrt(pull[..., 0] ** 2 + pull[..., 1] ** 2)
    stuck = np.maximum(load + (pull * lean).sum(axis=-1), 0.0) / opening
    towards = pull / np.where(pulled > 0.0, pulled, 1.0)[..., None]
    with np.errstate(invalid="ignore"):
        narrow = opening - friction * (towards * lean).sum(axis=-1)
        slips = (pulled > friction * stuck) & (narrow > LEAST_OPENING) & np.isfinite(friction)
    normal = np.where(slips, load / np.where(slips, narrow, 1.0), stuck)
    drawn = np.where(slips, np.where(np.isfinite(friction), friction, 0.0) * normal, pulled)
    flat = np.where((normal > 0.0)[..., None], towards * drawn[..., None], 0.0)
    flat = np.where(slips[..., None] | (normal <= 0.0)[..., None], flat, pull)
    return np.concatenate([flat, normal[..., None]], axis=-1)
