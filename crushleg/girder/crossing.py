"""Where the lines of a folding element cross a hole, and quadrature over it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.holes import chord

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

MEAN_RULE = np.polynomial.legendre.leggauss(12)
FOLD_RULE = np.polynomial.legendre.leggauss(12)
_BISECTIONS = 28


class Hole(NamedTuple):
    """Arrays of holes [m]: centre height and sideways offset, sizes, corner radius, wall side C."""

    height: FloatArray
    offset: FloatArray
    across: FloatArray
    along: FloatArray
    corner: FloatArray
    side: FloatArray

    @property
    def outline(self) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """Height, sizes and corner radius, as :mod:`crushleg.girder.holes` takes them."""
        return self.height, self.across, self.along, self.corner


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


def nodes_near(
    hole: Hole, half: FloatArray, span: FloatArray, at: FloatArray, rule: tuple[FloatArray, ...]
) -> list[Nodes]:
    """Quadrature over heights within ± ``span`` of ``at`` where hole edges reach below H."""
    found = []
    chord_of = [part[..., None] for part in hole.outline]
    corners = corners_of(hole)
    for centre in corners:
        reach = _reach(hole, centre - half)
        radius = np.where(reach > 0.0, reach, 1.0)
        bottom = np.arcsin(np.clip((at - span - hole.height) / radius, -1.0, 1.0))
        top = np.arcsin(np.clip((at + span - hole.height) / radius, -1.0, 1.0))
        arc = 0.5 * np.maximum(top - bottom, 0.0)[..., None]
        angle = 0.5 * (top + bottom)[..., None] + arc * rule[0]
        z = hole.height[..., None] + radius[..., None] * np.sin(angle)
        weight = arc * rule[1] * reach[..., None] * np.cos(angle) / len(corners)
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
        return 0.5 * chord(z, *hole.outline) - np.abs(z - p) - margin

    ends = []
    for end in (hole.height - edge, hole.height + edge):
        inside, outside = top, np.broadcast_to(end, top.shape)
        for _ in range(_BISECTIONS):
            middle = 0.5 * (inside + outside)
            crossed = excess(middle) > 0.0
            inside, outside = np.where(crossed, middle, inside), np.where(crossed, outside, middle)
        ends.append(np.where(excess(top) > 0.0, inside, top))
    return ends[0], ends[1]
