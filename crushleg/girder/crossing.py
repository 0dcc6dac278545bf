"""Where the lines of a folding element cross a hole, and quadrature over it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.holes import area_below, chord

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

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
    """Heights inside a hole, weights, and the hole edges seen from one corner; last axis.

    The weights of both corners add up to one wall.
    """

    z: FloatArray
    weight: FloatArray
    near: FloatArray
    far: FloatArray


def _reach(hole: Hole, near: FloatArray) -> FloatArray:
    """Height above its centre up to which a hole is wider than 2 ``near``."""
    inward = np.clip(near - (0.5 * hole.across - hole.corner), 0.0, hole.corner)
    straight = 0.5 * hole.along - hole.corner
    reach = straight + np.sqrt(np.maximum(hole.corner**2 - inward**2, 0.0))
    return np.where(near < 0.5 * hole.across, reach, 0.0)


def nodes_near(hole: Hole, half: FloatArray, low: FloatArray, high: FloatArray) -> list[Nodes]:
    """Quadrature over heights from ``low`` to ``high`` where hole edges come below H."""
    found = []
    chord_of = [part[..., None] for part in hole.outline]
    corners = corners_of(hole)
    for centre in corners:
        reach = _reach(hole, centre - half)
        radius = np.where(reach > 0.0, reach, 1.0)
        ends = (np.maximum(low, hole.bottom), np.minimum(high, hole.top))
        bottom, top = (np.arcsin(np.clip((z - hole.height) / radius, -1.0, 1.0)) for z in ends)
        arc = 0.5 * np.maximum(top - bottom, 0.0)[..., None]
        angle = 0.5 * (top + bottom)[..., None] + arc * MEAN_RULE[0]
        z = hole.height[..., None] + radius[..., None] * np.sin(angle)
        weight = arc * MEAN_RULE[1] * reach[..., None] * np.cos(angle) / len(corners)
        width = 0.5 * chord(z, *chord_of)
        found.append(Nodes(z, weight, centre[..., None] - width, centre[..., None] + width))
    return found


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
