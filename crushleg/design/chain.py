"""Which hole may stand above which: the order of collapse, read from a table of start forces.

A row begins to fold at a force that depends on its own holes and wall. So the sizes that keep the
order are a chain: from a row to the next, the start force rises by at least the scatter between
neighbours. The margin of the whole girder is judged apart; the chain only proposes.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.case.records import Holes
from crushleg.design.choice import Choice
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.sequence import (
    NEIGHBOUR_SCATTER,
    SHEET_SCATTER,
    Z_ONE_SIDED,
    Z_TWO_SIDED,
    hole_scatter,
)
from crushleg.girder.start import start_force

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.design.choice import Space

LEAST_RISE = 1e-5
"""Rise that a link keeps beyond the scatter."""


class Chain(NamedTuple):
    """``rise`` [j, u]: how far ln(start force) of size u lies above that of size j, scatter off."""

    rise: FloatArray
    foot_gain: float

    def above(self, size: int, rise: float, *, foot: bool) -> int | None:
        """Largest size that may stand above another, not larger; None where none may."""
        if not 0 <= size < len(self.rise):
            return None
        found = self.rise[size, : size + 1] + (self.foot_gain if foot else 0.0)
        fits = np.flatnonzero(found >= rise + LEAST_RISE)
        return int(fits[-1]) if len(fits) else None

    def graded(
        self, below: tuple[int, ...], rows: int, links: int, rise: float = 0.0
    ) -> tuple[int, ...]:
        """Sizes of so many rows: ``below``, links of the chain above them, the rest as the last.

        Fewer rows where the chain ends early.
        """
        sizes = self.upward(below, links, rise)
        if len(sizes) < len(below) + links:
            return sizes
        return (*sizes, *(sizes[-1],) * (rows - len(sizes)))

    def upward(self, below: tuple[int, ...], links: int, rise: float = 0.0) -> tuple[int, ...]:
        """Sizes ``below`` (one at least) and up to so many links of the chain above them."""
        sizes = list(below)
        for _ in range(links):
            size = self.above(sizes[-1], rise, foot=len(sizes) == 1)
            if size is None:
                break
            sizes.append(size)
        return tuple(sizes)


def chains_of(space: Space) -> tuple[Chain, ...]:
    """Chains of every wall of a space.

    Parameters
    ----------
    space : Space

    Returns
    -------
    tuple of Chain
    """
    return tuple(_chain(space, wall) for wall in range(len(space.walls)))


def _chain(space: Space, wall: int) -> Chain:
    section = space.section(space.walls[wall], space.lengths[-1])
    widest = space.widest(space.walls[wall])
    count = int(np.searchsorted(space.sizes, widest + 1e-9, side="right"))
    middle = max(round(0.5 * section.length / space.grid), 1)
    rows = [
        space.hole_rows(Choice(wall, len(space.lengths) - 1, middle, 1, (size,)))
        for size in range(count)
    ]
    girders = girder_arrays(
        [replace(section, holes=Holes(law="listed", rows=row)) for row in rows], [0.0] * count
    )
    girders = replace(girders, zones=girders.height[:, :1])
    start = start_force(girders, girders.zones)
    hole = hole_scatter(girders, start[1])[:, 0]
    force = np.log(start[1, :, 0])
    pair = 2.0 * (NEIGHBOUR_SCATTER**2 + (SHEET_SCATTER / Z_TWO_SIDED) ** 2)
    scatter = np.sqrt(pair + hole[:, None] ** 2 + hole[None, :] ** 2)
    rise = force[None, :] - force[:, None] - Z_ONE_SIDED * scatter
    return Chain(rise, -float(np.log(section.first_peak_fraction)))
