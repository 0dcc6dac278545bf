r"""Plastic work of one fold of a drilled square column, integrated over its mechanism.

A second computation of the hole law. It shares the folding element with the project and nothing
else: holes are the true discs, slots and rectangles of the unrolled walls, plastic lines are cut
with them one by one, and the work rate is summed over the fold angle α. It checks the computation,
not nature: no drilled square column has been tested, and what the element leaves out (tearing,
holes that stretch, a fold that seeks its own height) is left out here too.

**Mechanism.** Four walls of side C, corners at x = ± C/2, a fold of height 2H about z = p. Every
wall panel turns by α out of the vertical, up to 90°: the middle line of a wall moves by
S = H sin α along the wall's normal, of two opposite walls outward, of the other two inward.

*Horizontal hinges.* Panels meet at p ± H with what stays upright, turn α, and at p with each
other, turn 2α. The moment per length is the same, so the work is ¼, ½, ¼.

*Inclined hinges.* A corner is where the outward wall (now at + S) and the inward wall (now at − S)
meet: at height p it has moved by S along the outward wall, at p ± H not at all. The inward wall
has grown by what the outward one has lost: its sheet has gone round the corner. In the sheet of the
outward wall the corner therefore stands, at angle α, on the two straight lines from (0, p ± H) to
(S, p), counted from the corner's first place: points x = u (H − |ζ|), u = sin α. Each line is
H √(1 + u²) long. The published element lets the whole line travel at the speed Ṡ of its tip, so
its work rate is ∝ √(1 + u²) du, evenly along the line. The sheet itself is passed at
(1 − |ζ|/H) Ṡ across: its work rate goes with the area swept (``by_area``), ∝ (H − |ζ|) dζ du.

*Corner surface.* Where both lines meet, the sheet flows round the corner over a doubly curved
surface that rides along z = p out to x = S. Seen along the wall normal the corner edge leans by β
from the vertical: it has gone S √2 sideways over a height H cos α, so tan β = √2 tan α. In plan the
corner is 90°, so half of the arc left and right of the edge is ψ₀ = 45° at the ends and
ψ = ψ₀ + (1 − 2ψ₀/π) φ at the lean φ, and the stretch of a strip round it is its arc's sine. The
sheet flows at Ṡ: the rate is ∝ Ṡ ∫ sin ψ dφ from 0 to β, which is integrated here as it stands.
In closed form it is √2 (sin(β/2) + 1 − cos(β/2)).

**Result.** Share of the work of each kind that falls into holes, φh, φs, φc. The work of a fold is
a r + b/H + d H/r of the rolling radius r; at its least over r and H the three are equal and the
force keeps R = [(1 − φc)(1 − φh)(1 − φs)]^(1/3).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal, NamedTuple, TypeAlias

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    Array: TypeAlias = NDArray[np.float64]

ANGLES = 160
"""Steps of the fold angle."""
PAIRS = ((0, 2), (1, 3))
"""Walls that are swept, in turn from layer to layer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """Holes cut alike in some walls (0 to 3 round the column): centre x from the middle, sizes."""

    walls: tuple[int, ...]
    x: float
    z: float
    across: float
    along: float
    shape: Literal["circle", "slot", "rectangle"] = "circle"


class Lost(NamedTuple):
    """Shares of the work of horizontal hinges, inclined hinges and corner surface in holes."""

    hinge: Array
    inclined: Array
    corner: Array

    def left(self) -> Array:
        """R: what the mean force keeps."""
        return np.cbrt((1.0 - self.hinge) * (1.0 - self.inclined) * (1.0 - self.corner))

    def mean(self) -> Lost:
        """Shares averaged over all folds."""
        return Lost(*(np.asarray(share.mean()) for share in self))


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """Square column: wall side C, half fold length H, holes. One length unit throughout."""

    side: float
    half: float
    openings: tuple[Opening, ...]

    def fold(self, centres: Array, swept: tuple[int, int], *, by_area: bool = False) -> Lost:
        """Work lost by folds about each of ``centres`` when the pair of walls ``swept`` is."""
        inclined, corner = self._travelling(centres, swept, by_area=by_area)
        return Lost(self._horizontal(centres), inclined, corner)

    def folds(self, centres: Array, *, by_area: bool = False) -> Lost:
        """Work lost by folds about ``centres``, mean of either pair swept."""
        either = [self.fold(centres, pair, by_area=by_area) for pair in PAIRS]
        return Lost(*(np.mean(shares, axis=0) for shares in zip(*either, strict=True)))

    def phase_average(self, z: float, phases: int = 97, *, by_area: bool = False) -> Lost:
        """Mean over fold centres within ± H of ``z``, by the midpoint rule."""
        return self.folds(self.centres_about(z, phases), by_area=by_area).mean()

    def centres_about(self, z: float, phases: int) -> Array:
        """Fold centres within ± H of ``z``."""
        return z + self.half * (2.0 * (np.arange(phases) + 0.5) / phases - 1.0)

    def _horizontal(self, centres: Array) -> Array:
        """Hinges on all four walls: turned by α, 2α, α."""
        work, lost = 0.0, np.zeros(centres.shape)
        for height, turn in ((-1.0, 1.0), (0.0, 2.0), (1.0, 1.0)):
            work += turn * 4.0 * self.side
            line = (np.zeros(centres.shape) - 0.5 * self.side, centres + height * self.half)
            for opening in self.openings:
                low, high = cut(line, (self.side, 0.0), opening)
                lost += len(opening.walls) * turn * self.side * (high - low)
        return lost / work

    def _travelling(
        self, centres: Array, swept: tuple[int, int], *, by_area: bool
    ) -> tuple[Array, Array]:
        """Inclined hinges and corner surface at both ends of both walls swept."""
        inclined, corner = np.zeros(centres.shape), np.zeros(centres.shape)
        for opening in self.openings:
            walls = len(set(opening.walls) & set(swept))
            near = np.abs(centres - opening.z) < self.half + 0.5 * opening.along
            if not walls or not near.any():
                continue
            for seen in (opening, replace(opening, x=-opening.x)):  # from either corner
                corner[near] += 0.25 * walls * self._ridden(centres[near], seen)
                for up in (-1.0, 1.0):
                    part = self._crossed(centres[near], seen, up, by_area=by_area)
                    inclined[near] += 0.125 * walls * part
        return inclined, corner

    def _crossed(self, centres: Array, opening: Opening, up: float, *, by_area: bool) -> Array:
        """One inclined hinge, from its tip on the middle line to the corner at p ± H."""
        angle = 0.5 * np.pi * (np.arange(ANGLES) + 0.5) / ANGLES
        gone = self.half * np.sin(angle)
        tip = (gone - 0.5 * self.side, centres[:, None])
        low, high = cut(tip, (-gone, up * self.half), opening)
        speed = np.cos(angle)
        if by_area:
            part = (high - 0.5 * high**2) - (low - 0.5 * low**2)
            return np.asarray(part @ speed / (0.5 * speed.sum()))
        rate = speed * np.hypot(1.0, np.sin(angle))
        return np.asarray((high - low) @ rate / rate.sum())

    def _ridden(self, centres: Array, opening: Opening) -> Array:
        """Corner surface on its way along the middle line from the corner out to H."""
        line = (np.zeros(centres.shape) - 0.5 * self.side, centres)
        ends = cut(line, (self.half, 0.0), opening)
        entered, left = (corner_work(np.arcsin(end)) for end in ends)
        return left - entered


def corner_rate(angle: Array) -> Array:
    """Work rate of the corner surface over the fold angle, by Gauss quadrature over the lean."""
    lean = np.arctan2(np.sqrt(2.0) * np.sin(angle), np.cos(angle))
    nodes, weights = np.polynomial.legendre.leggauss(8)
    first = 0.25 * np.pi
    turn = first + (1.0 - 2.0 * first / np.pi) * 0.5 * lean[:, None] * (1.0 + nodes)
    return np.asarray(np.cos(angle) * 0.5 * lean * (np.sin(turn) @ weights))


def _table() -> tuple[Array, Array]:
    angle = np.linspace(0.0, 0.5 * np.pi, 2001)
    middle = corner_rate(0.5 * (angle[1:] + angle[:-1]))
    work = np.concatenate([[0.0], np.cumsum(middle)])
    return angle, work / work[-1]


_ANGLE, _WORK = _table()


def corner_work(angle: Array) -> Array:
    """Share of the corner surface's work done up to a fold angle."""
    return np.interp(angle, _ANGLE, _WORK)


def cut(
    start: tuple[Array, Array], run: tuple[Array | float, Array | float], opening: Opening
) -> tuple[Array, Array]:
    """Part of a straight line that lies in a hole, as fractions (low, high) of its length.

    The line goes from ``start`` (x, z) by ``run``; equal fractions where it misses the hole.
    """
    x, z = start[0] - opening.x, start[1] - opening.z
    a, b = 0.5 * opening.across, 0.5 * opening.along
    if opening.shape == "rectangle":
        found = [_through_box(x, z, run, a, b)]
    else:
        r = min(a, b)
        ends = ((a - r, b - r), (r - a, r - b))
        found = [_through_disc(x - dx, z - dz, run, r) for dx, dz in ends]
        if opening.shape == "slot":
            body = (a, b - r) if a <= b else (a - r, b)
            found.append(_through_box(x, z, run, *body))
    low = np.min([part[0] for part in found], axis=0)
    high = np.max([part[1] for part in found], axis=0)
    low, high = np.clip(low, 0.0, 1.0), np.clip(high, 0.0, 1.0)
    return low, np.maximum(low, high)


def _through_disc(x: Array, z: Array, run: Iterable[Array | float], r: float) -> tuple[Array, ...]:
    dx, dz = run
    square = dx * dx + dz * dz
    along = (x * dx + z * dz) / square
    root = along * along - (x * x + z * z - r * r) / square
    reach = np.sqrt(np.maximum(root, 0.0))
    return _where_hit(root > 0.0, -along - reach, reach - along)


def _through_box(
    x: Array, z: Array, run: Iterable[Array | float], a: float, b: float
) -> tuple[Array, ...]:
    low, high = np.array(-np.inf), np.array(np.inf)
    for at, step, edge in zip((x, z), run, (a, b), strict=True):
        safe = np.where(step == 0.0, 1e-300, step)  # a line along an edge: in for ever, or never
        ends = (-edge - at) / safe, (edge - at) / safe
        low, high = np.maximum(low, np.minimum(*ends)), np.minimum(high, np.maximum(*ends))
    return _where_hit(low < high, low, high)


def _where_hit(hit: NDArray[np.bool_], low: Array, high: Array) -> tuple[Array, ...]:
    return np.where(hit, low, np.inf), np.where(hit, high, -np.inf)
