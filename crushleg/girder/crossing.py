"""Where the lines of a folding element cross a hole, and quadrature over it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.holes import area_below, chord, half_chord

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray, IntArray

MEAN_RULE = np.polynomial.legendre.leggauss(5)
FOLD_RULE = np.polynomial.legendre.leggauss(12)
_BISECTIONS = 28


class Hole(NamedTuple):
    """Arrays of holes [m]: centre height and sideways offset, sizes, corner radius, wall side C.

    Only what lies between the heights ``bottom`` and ``top`` counts: the part in one wall.
    """

    height: FloatArray
    offset: FloatArray
    across: FloatArray
    along: FloatArray
    corner: FloatArray
    side: FloatArray
    bottom: FloatArray = np.array(-np.inf)
    top: FloatArray = np.array(np.inf)

    @property
    def outline(self) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """Height, sizes and corner radius, as :mod:`crushleg.girder.holes` takes them."""
        return self.height, self.across, self.along, self.corner

    def chord(self, z: FloatArray) -> FloatArray:
        """Width of the part across the face at ``z`` [m]."""
        inside = (z >= self.bottom) & (z < self.top)
        return np.where(inside, chord(z, *self.outline), 0.0)

    def area(self, low: FloatArray, high: FloatArray) -> FloatArray:
        """Area of the part between two heights [m2]."""
        low, high = (np.clip(z, self.bottom, self.top) for z in (low, high))
        return area_below(high, *self.outline) - area_below(low, *self.outline)


def corners_of(hole: Hole) -> list[FloatArray]:
    """Distance of the hole centre from each corner of the wall; one for both when centred."""
    if not np.any(hole.offset):
        return [0.5 * hole.side]
    return [0.5 * hole.side + hole.offset, 0.5 * hole.side - hole.offset]


class Nodes(NamedTuple):
    """Heights inside a hole, weights, and the hole edges seen from one corner; nodes first.

    Only of the holes ``rows`` of those asked for: the others have nothing between the heights.
    """

    rows: IntArray
    z: FloatArray
    weight: FloatArray
    near: FloatArray
    far: FloatArray


def reach_near(hole: Hole, near: FloatArray) -> FloatArray:
    """Height above its centre up to which a hole is wider than 2 ``near`` [m]; zero if nowhere."""
    inward = np.clip(near - (0.5 * hole.across - hole.corner), 0.0, hole.corner)
    straight = 0.5 * hole.along - hole.corner
    reach = straight + np.sqrt(np.maximum(hole.corner**2 - inward**2, 0.0))
    return np.where(near < 0.5 * hole.across, reach, 0.0)


def nodes_near(
    hole: Hole, centre: FloatArray, reach: FloatArray, low: FloatArray, high: FloatArray
) -> Nodes:
    """Quadrature from ``low`` to ``high`` over the heights within ``reach`` of hole centres.

    Parameters
    ----------
    hole : Hole
        Of shape (P,), as all others.
    centre, reach : ndarray
        Distance of the hole centre from one corner; :func:`reach_near` [m].
    low, high : ndarray
        Heights [m].

    Returns
    -------
    Nodes
        Gauss nodes in the angle whose sine is the height over ``reach``; sine and cosine from the
        tangent of half of it, which is faster.
    """
    middle, low, high = hole.height, np.maximum(low, hole.bottom), np.minimum(high, hole.top)
    inside = np.maximum(low, middle - reach) < np.minimum(high, middle + reach)
    rows = np.flatnonzero(inside)
    radius, middle = reach[rows], middle[rows]
    ends = (np.clip((z[rows] - middle) / radius, -1.0, 1.0) for z in (low, high))
    bottom, top = (np.arcsin(end) for end in ends)
    arc = 0.5 * (top - bottom)
    tangent = np.tan(0.25 * (top + bottom) + 0.5 * arc * MEAN_RULE[0][:, None])
    secant = 1.0 / (1.0 + tangent * tangent)
    above = 2.0 * radius * tangent * secant
    weight = arc * radius * MEAN_RULE[1][:, None] * (2.0 * secant - 1.0)
    width = half_chord(np.abs(above), hole.across[rows], hole.along[rows], hole.corner[rows])
    centre = centre[rows]
    return Nodes(rows, middle + above, weight, centre - width, centre + width)


def crossed(hole: Hole, p: FloatArray, margin: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Heights between which an inclined hinge crosses the hole: half chord − |z − p| > margin.

    The difference is concave; its top is where the outline runs at 45°, or nearer the middle.
    """
    edge = 0.5 * hole.along
    steep = edge - hole.corner * (1.0 - np.sqrt(0.5))
    top = hole.height + np.clip(p - hole.height, -steep, steep)

    def excess(z: FloatArray) -> FloatArray:
        into = np.clip(np.abs(z - hole.height) - (edge - hole.corner), 0.0, hole.corner)
        width = 0.5 * hole.across - hole.corner + np.sqrt(hole.corner**2 - into**2)
        return width - np.abs(z - p) - margin

    ends = []
    for end in (hole.height - edge, hole.height + edge):
        inside, outside = top, np.broadcast_to(end, top.shape)
        for _ in range(_BISECTIONS):
            middle = 0.5 * (inside + outside)
            crossed = excess(middle) > 0.0
            inside, outside = np.where(crossed, middle, inside), np.where(crossed, outside, middle)
        ends.append(np.where(excess(top) > 0.0, inside, top))
    return np.clip(ends[0], hole.bottom, hole.top), np.clip(ends[1], hole.bottom, hole.top)
