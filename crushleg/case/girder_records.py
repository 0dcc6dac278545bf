"""The drilled girder as it was asked for: section, alloy, pattern; SI units.

Every field a case file may give carries its kind, bounds and meaning
(:mod:`crushleg.case.fields`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from crushleg.case.fields import LENGTH, LENGTH_OR_ZERO, SHIFT, STRENGTH, check_bounds, has

if TYPE_CHECKING:
    from crushleg.case.material import Material

FACES = ("all", "front-back", "left-right")
SHAPES = ("circle", "slot", "rectangle")


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Low, nominal and high value of one quantity."""

    low: float
    nominal: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.nominal <= self.high:
            message = f"low ≤ nominal ≤ high is broken: {self.low}, {self.nominal}, {self.high}"
            raise ValueError(message)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of equal holes at one height, the same on both faces of a pair."""

    height: float = has("length", "row centre above the FOOT end", **LENGTH)
    size: float = has("length", "hole size across the face", **LENGTH)
    size_along: float | None = has(
        "length", "the other dimension of a slot or rectangle", None, **LENGTH
    )
    shape: str = has("choice", "hole shape", "circle", choices=SHAPES)
    per_face: int = has("count", "holes side by side on a face", 1, at_least=1, at_most=40)
    spacing: float = has("length", "between hole centres of a row", 0.0, **LENGTH_OR_ZERO)
    offset: float = has("length", "row centre sideways from the face centre", 0.0, **SHIFT)
    faces: str = has("choice", "which faces are drilled", "all", choices=FACES)

    def __post_init__(self) -> None:
        check_bounds(self)

    @property
    def along(self) -> float:
        """Hole size along the girder [m]."""
        return self.size if self.size_along is None else self.size_along


@dataclass(frozen=True, slots=True, kw_only=True)
class Holes:
    """The hole pattern: the law it came from and its rows, foot first."""

    law: str
    rows: tuple[Row, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WallStep:
    """From this height upward the wall has this thickness."""

    start: float = has("length", "height above the FOOT end", **LENGTH, key="from")
    wall: float = has("length", "wall thickness from there on", **LENGTH)

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """Weld or heat-affected zone that runs along the girder."""

    strength_factor: float = has(
        "number", "strength of the affected metal over the parent's", at_least=0.1, at_most=1.0
    )
    affected_width: float | None = has(
        "length", "affected width, summed round the section; left out: all of it", None, **LENGTH
    )

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """Measured wall and certificate strengths; they override drawing and datasheet."""

    wall: float | None = has("length", "measured wall thickness", None, **LENGTH)
    yield_strength: float | None = has("stress", "yield of the certificate", None, **STRENGTH)
    ultimate_strength: float | None = has("stress", "ultimate of the certificate", None, **STRENGTH)

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Correlation:
    """What tests of this girder said: it replaces the model part of the band."""

    force_factor: float = has(
        "number", "mean measured over predicted force", at_least=0.2, at_most=5.0
    )
    scatter: float = has(
        "number", "standard deviation of ln(next test / prediction)", at_least=0.001, at_most=0.5
    )
    tests: int = has("count", "number of tests behind it", at_least=1, at_most=1000)
    source: str = has("text", "which tests")

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Girder:
    """The drilled box girder: section, alloy, pattern."""

    material: Material
    width: float = has("length", "outside width", **LENGTH)
    depth: float = has("length", "outside depth, the other side", **LENGTH)
    wall: float = has("length", "wall thickness", **LENGTH)
    length: float = has("length", "length that may fold", **LENGTH)
    wall_tolerance: float = has("length", "± on the wall", **LENGTH_OR_ZERO)
    hole_tolerance: float = has("length", "± on every hole size", **LENGTH_OR_ZERO)
    corner_radius: float = has("length", "outside corner radius", **LENGTH_OR_ZERO)
    effective_length_factor: float = has(
        "number", "of the girder as a column", 1.0, at_least=0.1, at_most=4.0
    )
    first_peak_fraction: float = has(
        "number", "crush initiator at the foot: below 1", 1.0, at_least=0.1, at_most=1.0
    )
    crest_ratio: Band = has(  # noqa: RUF009  # a field, as every other; ruff knows field() only
        "band", "crest of later folds over their mean, low nominal high", at_least=1.0, at_most=10.0
    )
    temperature: float = has("temperature", "of the girder at touchdown", above=0.0)
    rate: bool = has("flag", "strain-rate factor on", default=False)
    band: bool = has("flag", "low and high; off: one girder, which is its nominal", default=True)
    wall_steps: tuple[WallStep, ...] = ()
    seam: Seam | None = None
    measured: Measured | None = None
    correlation: Correlation | None = None
    holes: Holes = Holes(law="none")

    def __post_init__(self) -> None:
        check_bounds(self)
