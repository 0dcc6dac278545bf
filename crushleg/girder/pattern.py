"""Arrays of girders: what the equations of this room are fed with.

Leading axis: girders. Holes, zones and wall segments are padded to the same count, so that
thousands of girders go through one call.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

LEVELS = ("low", "nominal", "high")
LEVELLED = ("yield_compression", "yield_tension", "ultimate", "flow_stress", "crest_ratio")


@dataclass(frozen=True, slots=True, kw_only=True)
class Girders:
    """G girders. Lengths [m], stresses [Pa], strengths with a first axis low, nominal, high.

    Girders that are not ``banded`` are what they are: low and high are the nominal, and that axis,
    here and in all results, may have the nominal alone (:func:`nominal_alone`).

    ``pairs`` has shape (2, G, N): 1 where a hole is cut in both front-back walls (first) or
    both left-right walls (second). Padded holes have size zero, padded zones and wall steps
    lie at infinity.
    """

    width: FloatArray
    depth: FloatArray
    length: FloatArray
    corner_radius: FloatArray
    wall_start: FloatArray
    wall: FloatArray
    height: FloatArray
    offset: FloatArray
    across: FloatArray
    along: FloatArray
    corner: FloatArray
    stagger: FloatArray
    pairs: FloatArray
    zones: FloatArray
    yield_compression: FloatArray
    yield_tension: FloatArray
    ultimate: FloatArray
    flow_stress: FloatArray
    youngs_modulus: FloatArray
    poisson_ratio: FloatArray
    density: FloatArray
    wall_tolerance: FloatArray
    hole_tolerance: FloatArray
    first_peak_fraction: FloatArray
    crest_ratio: FloatArray
    force_factor: FloatArray
    test_scatter: FloatArray
    banded: bool = True

    @property
    def count(self) -> int:
        """Number of girders."""
        return int(self.width.shape[0])

    def wall_at(self, z: FloatArray) -> FloatArray:
        """Wall thickness [m] at heights ``z`` (G, M); at a step the upper one."""
        wall = np.broadcast_to(self.wall[:, :1], z.shape)
        for start, thickness in zip(self.wall_start.T[1:], self.wall.T[1:], strict=True):
            wall = np.where(z >= start[:, None], thickness[:, None], wall)
        return wall

    def sides_at(self, wall: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Mid-line side [m] of the front-back and of the left-right walls, shape of ``wall``.

        C is the mean of both sides; C/t says how slender the walls are, d/C how much of a wall a
        hole takes.

        Notes
        -----
        Means: Side C of the box between the middles of its walls, with C/t and d/C made of it.
        Formula: C = width − t, depth − t
        Range: Tested range: C/t 7.5 to 100, d/C to 0.6, sides to about 2 : 1.
        Band: None: nominal sizes; the wall tolerance enters the band of the force.
        Limits: girder.width, girder.depth, girder.wall; girder.measured replaces the wall

        References
        ----------
        Mid-line model of thin-walled sections [common practice]
        """
        return self.width[:, None] - wall, self.depth[:, None] - wall

    def segment(self, index: int) -> tuple[FloatArray, FloatArray]:
        """Heights between which a wall segment reaches [m], shape (G,); the ends are open."""
        starts = self.wall_start.T
        low = starts[index] if index else np.full(self.count, -np.inf)
        last = index + 1 == len(starts)
        return low, np.full(self.count, np.inf) if last else starts[index + 1]

    @property
    def steps(self) -> FloatArray:
        """Heights just below and above every wall step (G, 2(S−1)); padded ones at infinity."""
        edge = self.wall_start[:, 1:]
        return np.concatenate([edge - 1e-9, edge], axis=1)


def nominal(by_level: FloatArray) -> FloatArray:
    """Nominal of an array whose first axis is low, nominal, high, or the nominal alone."""
    middle: FloatArray = by_level[len(by_level) // 2]
    return middle


def levels(girders: Girders, middle: FloatArray) -> FloatArray:
    """Give the nominal as every level, of girders without a band."""
    return np.broadcast_to(middle, (len(girders.flow_stress), *middle.shape))


def nominal_alone(girders: Girders) -> Girders:
    """Girders without a band, nominal strengths and crests alone on their first axis."""
    alone = {name: nominal(getattr(girders, name))[None] for name in LEVELLED}
    return replace(girders, **alone, banded=False)
