"""What was asked: frozen records of a case, SI units, angles in radians.

Every field a case file may give carries its kind, bounds and meaning
(:mod:`crushleg.case.fields`); the TOML reader fills these records and nothing else does.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from crushleg.case.fields import check_bounds, has

if TYPE_CHECKING:
    from crushleg.case.material import Material

FACES = ("all", "front-back", "left-right")
SHAPES = ("circle", "slot", "rectangle")
CONTACTS = ("all", "two", "one")
SIDE_LOADS = ("guide", "girder")
STANDARD_GRAVITY = 9.80665
RIGHT_ANGLE = math.pi / 2


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
class Vehicle:
    """The landing vehicle."""

    mass: float = has("mass", "landing mass, whole vehicle", above=0.0)
    legs: int = has("count", "number of legs, equally spaced", at_least=1, at_most=24)
    gravity: float = has(
        "acceleration", "gravity at the landing site", STANDARD_GRAVITY, above=0.0, at_most=100.0
    )
    centre_of_gravity_height: float | None = has(
        "length", "centre of gravity above the pads, legs uncrushed", None, above=0.0
    )
    pad_circle_radius: float | None = has("length", "vehicle axis to pad centre", None, above=0.0)
    radius_of_gyration: float | None = has(
        "length", "about a horizontal axis through the centre of gravity", None, above=0.0
    )
    clearance: float | None = has(
        "length", "lowest hard point above the pads, legs uncrushed", None, above=0.0
    )
    clearance_radius: float = has(
        "length", "how far from the vehicle axis that point lies", 0.0, at_least=0.0
    )

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """How the girder sits between vehicle and ground."""

    side_load: str = has("choice", "who carries the side load", choices=SIDE_LOADS)
    cant: float = has(
        "angle", "girder axis against the vehicle axis", 0.0, at_least=0.0, below=math.radians(60)
    )
    pad_friction: float = has(
        "number", "friction coefficient, pad on ground", 0.4, at_least=0.0, at_most=1.5
    )
    pad_area: float | None = has("area", "bearing area of one pad", None, above=0.0)
    guide_friction: float = has(
        "number", "friction coefficient in the guide", 0.0, at_least=0.0, below=1.0
    )
    travel_ratio: float | None = has(
        "number",
        "vertical travel per stroke, for a strut in a linkage",
        None,
        above=0.0,
        at_most=20.0,
    )
    free_length: float | None = has(
        "length", "from pad to where the girder is held", None, above=0.0
    )

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of equal holes at one height, the same on both faces of a pair."""

    height: float = has("length", "row centre above the FOOT end", above=0.0)
    size: float = has("length", "hole size across the face", above=0.0)
    size_along: float | None = has(
        "length", "the other dimension of a slot or rectangle", None, above=0.0
    )
    shape: str = has("choice", "hole shape", "circle", choices=SHAPES)
    per_face: int = has("count", "holes side by side on a face", 1, at_least=1, at_most=40)
    spacing: float = has("length", "between hole centres of a row", 0.0, at_least=0.0)
    offset: float = has("length", "row centre sideways from the face centre", 0.0)
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

    start: float = has("length", "height above the FOOT end", above=0.0, key="from")
    wall: float = has("length", "wall thickness from there on", above=0.0)

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """Weld or heat-affected zone that runs along the girder."""

    strength_factor: float = has(
        "number", "strength of the affected metal over the parent's", above=0.0, at_most=1.0
    )
    affected_width: float | None = has(
        "length", "affected width, summed round the section; left out: all of it", None, above=0.0
    )

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """Measured wall and certificate strengths; they override drawing and card."""

    wall: float | None = has("length", "measured wall thickness", None, above=0.0)
    yield_strength: float | None = has("stress", "yield of the certificate", None, above=0.0)
    ultimate_strength: float | None = has("stress", "ultimate of the certificate", None, above=0.0)

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Correlation:
    """What tests of this girder said: it replaces the model part of the band."""

    force_factor: float = has("number", "mean measured over predicted force", above=0.0)
    scatter: float = has(
        "number", "standard deviation of ln(next test / prediction)", above=0.0, at_most=0.5
    )
    tests: int = has("count", "number of tests behind it", at_least=1)
    source: str = has("text", "which tests")

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Girder:
    """The drilled box girder: section, alloy, pattern."""

    material: Material
    width: float = has("length", "outside width", above=0.0)
    depth: float = has("length", "outside depth, the other side", above=0.0)
    wall: float = has("length", "wall thickness", above=0.0)
    length: float = has("length", "length that may fold", above=0.0)
    wall_tolerance: float = has("length", "± on the wall", at_least=0.0)
    hole_tolerance: float = has("length", "± on every hole size", at_least=0.0)
    corner_radius: float = has("length", "outside corner radius", at_least=0.0)
    effective_length_factor: float = has(
        "number", "of the girder as a column", 1.0, above=0.0, at_most=4.0
    )
    first_peak_fraction: float = has(
        "number", "crush initiator at the foot: below 1", 1.0, above=0.0, at_most=1.0
    )
    crest_ratio: Band = has(  # noqa: RUF009  # a field, as every other; ruff knows field() only
        "band", "crest of later folds over their mean, low nominal high", at_least=1.0
    )
    temperature: float = has("temperature", "of the girder at touchdown", above=0.0)
    rate: bool = has("flag", "strain-rate factor on", default=False)
    wall_steps: tuple[WallStep, ...] = ()
    seam: Seam | None = None
    measured: Measured | None = None
    correlation: Correlation | None = None
    holes: Holes = Holes(law="none")

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Touchdown:
    """One landing to survive."""

    name: str = has("text", "name of the touchdown")
    vertical_speed: float = has("speed", "downward, at contact", above=0.0)
    horizontal_speed: float = has("speed", "at contact", 0.0, at_least=0.0)
    slope: float = has(
        "angle", "of the ground, against the landing", 0.0, at_least=0.0, below=math.radians(60)
    )
    attitude: float = has(
        "angle",
        "vehicle axis against the vertical",
        0.0,
        above=-math.radians(60),
        below=math.radians(60),
    )
    attitude_rate: float = has("angular rate", "of the vehicle at contact", 0.0)
    thrust_to_weight: float = has(
        "number",
        "residual thrust over the weight here",
        0.0,
        at_least=0.0,
        below=1.0,
        why="at 1 thrust carries the vehicle: it does not settle",
    )
    first_contact: str = has("choice", "which legs touch first", "all", choices=CONTACTS)
    mass: float | None = has("mass", "landing mass of this case, if another", None, above=0.0)
    reserve: bool = has("flag", "speeds times speed_reserve, ultimate strength", default=False)

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The vehicle stands on its uncrushed legs."""

    name: str = has("text", "name of the standing case")
    mass: float = has("mass", "mass while it stands", above=0.0)
    side_acceleration: float = has("acceleration", "wind or handling", 0.0, at_least=0.0)

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What must not be exceeded; a limit left out is not judged."""

    leg_limit_load: float | None = has("force", "axial, at the leg attachment", None, above=0.0)
    deceleration_max: float | None = has("acceleration", "of the vehicle", None, above=0.0)
    clearance_min: float = has("length", "that must be left under the vehicle", 0.0, at_least=0.0)
    lean_max: float | None = has("angle", "at rest", None, above=0.0, below=RIGHT_ANGLE)
    stroke_fraction: float = has(
        "number", "share of the usable stroke that may be used", 0.95, above=0.0, at_most=1.0
    )
    pad_pressure_max: float | None = has("stress", "under the pad", None, above=0.0)

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Factors:
    """Factors of safety, each used in one place only."""

    speed_reserve: float = has("number", "on the speeds of reserve cases", 1.2, at_least=1.0)
    ultimate: float = has("number", "on leg_limit_load in reserve cases", 1.4, at_least=1.0)
    column: float = has("number", "on the load of the girder as a column", 1.4, at_least=1.0)

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One case file, read."""

    title: str
    revision: str
    author: str
    vehicle: Vehicle
    leg: Leg
    girder: Girder
    touchdowns: tuple[Touchdown, ...]
    standings: tuple[Standing, ...]
    limits: Limits
    factors: Factors
    input_sha256: str
    assumed: tuple[str, ...]
