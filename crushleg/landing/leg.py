r"""Geometry of one leg: what a crush force asks of pad, guide and vehicle.

Side view of a leg whose foot points outward: the vehicle sinks by z, the girder shortens by its
stroke s along its own axis and the pad slips on the ground, so friction is fully developed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats, lock

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


@dataclass(frozen=True, slots=True, kw_only=True)
class LegForces:
    """Forces and travel of a leg, per crush force and per stroke.

    Attributes
    ----------
    travel : ndarray
        Vertical travel of the vehicle per stroke z/s [-].
    axial : ndarray
        Axial load at the attachment per crush force of the girder [-].
    reaction : ndarray
        Vertical reaction of the ground per crush force V/F [-]; inf where the leg jams.
    side : ndarray
        Load across the girder axis per crush force T/F [-].
    """

    travel: FloatArray
    axial: FloatArray
    reaction: FloatArray
    side: FloatArray

    def __post_init__(self) -> None:
        lock(self)


def sliding_leg(cant: ArrayLike, friction: ArrayLike, guide_friction: ArrayLike) -> LegForces:
    """Girder held at a fixed cant, its pad slipping inward.

    Parameters
    ----------
    cant : array_like
        Girder axis against the vertical γ, foot outward [rad], 0 to π/3.
    friction : array_like
        Friction of pad on ground μ [-].
    guide_friction : array_like
        Friction in the guide that carries the side load μg [-]; zero without a guide.

    Returns
    -------
    LegForces
        Travel, axial load, reaction and side load; all but travel inf where friction jams the
        leg: γ + arctan μ at 90° or more, or the guide locks.

    Notes
    -----
    Means: Load across the girder, and with it axial load, ground reaction and travel of a canted
    leg.
    Formula: z/s = cos γ
    Formula: A/F = 1/(1 − μ_g tan(γ + arctan μ))
    Formula: V/F = (A/F)/(cos γ − μ sin γ)
    Formula: T/F = (A/F) tan(γ + arctan μ)
    Range: Rigid girder at a fixed cant γ, pad slipping inward, friction fully developed; girders
    that fold are tested to about 5 to 8° off their axis.
    Band: Ratios without a band; they multiply the force of each level.
    Limits: leg.cant is γ, leg.pad_friction μ, leg.guide_friction μ_g

    The guide's friction is taken on the side load T alone. A sleeve that carries T beyond its
    bearings presses them with more than T: enter a guide friction raised in that proportion.

    References
    ----------
    Statics and virtual work [D]

    Examples
    --------
    >>> import math
    >>> leg = sliding_leg(math.radians(20.0), 0.4, 0.0)
    >>> float(leg.reaction.round(5)), float(leg.side.round(5))
    (1.24551, 0.89415)
    """
    gamma, mu, mu_g = np.broadcast_arrays(*floats(cant, friction, guide_friction))
    along = np.cos(gamma) - mu * np.sin(gamma)
    across = np.sin(gamma) + mu * np.cos(gamma)
    free = along - mu_g * across
    slides = (along > 0.0) & (free > 0.0)
    axial, reaction, side = (
        np.divide(top, free, out=np.full_like(free, np.inf), where=slides)
        for top in (along, np.ones_like(free), across)
    )
    return LegForces(travel=np.cos(gamma), axial=axial, reaction=reaction, side=side)


def linkage_leg(travel_ratio: ArrayLike) -> LegForces:
    """Pin-ended strut in a linkage: virtual work alone.

    Parameters
    ----------
    travel_ratio : array_like
        Vertical travel of the vehicle per stroke of the strut r [-].

    Returns
    -------
    LegForces
        The strut carries no side load. Friction under the pad needs the slip of the linkage and
        is left out: a little more reaction, a little less stroke.

    Notes
    -----
    Formula: z/s = r
    Formula: V/F = 1/r, A/F = 1, T/F = 0
    Range: Pin-ended strut; friction under the pad is left out.
    Limits: leg.travel_ratio is r

    References
    ----------
    Virtual work [D]

    Examples
    --------
    >>> leg = linkage_leg(1.6)
    >>> float(leg.travel), float(leg.reaction)
    (1.6, 0.625)
    """
    (r,) = floats(travel_ratio)
    one = np.ones_like(r)
    return LegForces(travel=r.copy(), axial=one, reaction=1.0 / r, side=np.zeros_like(r))


def pad_slip(travel: ArrayLike, cant: ArrayLike) -> FloatArray:
    """How far the pad of a canted girder slips toward the vehicle axis.

    Parameters
    ----------
    travel : array_like
        Vertical travel of the vehicle z [m].
    cant : array_like
        Girder axis against the vertical γ, foot outward [rad].

    Returns
    -------
    ndarray
        Slip [m], inward positive.

    Notes
    -----
    Formula: slip = z tan γ

    References
    ----------
    [D]

    Examples
    --------
    >>> import math
    >>> float(pad_slip(0.2, math.radians(45.0)).round(6))
    0.2
    """
    z, gamma = floats(travel, cant)
    return z * np.tan(gamma)
