"""What was asked: frozen records of a case, SI units, angles in radians.

Every field a case file may give carries its kind, bounds and meaning
(:mod:`crushleg.case.fields`); the TOML reader fills these records and nothing else does.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from crushleg.case.fields import (
    LENGTH,
    LENGTH_OR_ZERO,
    MASS,
    SAFETY,
    STRENGTH,
    check_bounds,
    has,
)
from crushleg.case.girder_records import (
    FACES,
    SHAPES,
    Band,
    Correlation,
    Girder,
    Holes,
    Measured,
    Row,
    Seam,
    WallStep,
)

__all__ = [
    "CONTACTS",
    "FACES",
    "RIGHT_ANGLE",
    "SHAPES",
    "SIDE_LOADS",
    "STANDARD_GRAVITY",
    "Band",
    "Case",
    "Correlation",
    "Factors",
    "Girder",
    "Ground",
    "Holes",
    "Leg",
    "Limits",
    "Measured",
    "Row",
    "Seam",
    "Standing",
    "Touchdown",
    "Vehicle",
    "WallStep",
]

CONTACTS = ("all", "two", "one")
SIDE_LOADS = ("guide", "girder")
STANDARD_GRAVITY = 9.80665
RIGHT_ANGLE = math.pi / 2
FULL_TURN = 2 * math.pi
TURN = {"at_least": -FULL_TURN, "at_most": FULL_TURN}


@dataclass(frozen=True, slots=True, kw_only=True)
class Vehicle:
    """The landing vehicle."""

    mass: float = has("mass", "landing mass, whole vehicle", **MASS)
    legs: int = has("count", "number of legs, equally spaced", at_least=1, at_most=24)
    gravity: float = has(
        "acceleration",
        "gravity at the landing site",
        STANDARD_GRAVITY,
        at_least=1e-5,
        at_most=100.0,
    )
    centre_of_gravity_height: float | None = has(
        "length", "centre of gravity above the pads, legs uncrushed", None, **LENGTH
    )
    pad_circle_radius: float | None = has("length", "vehicle axis to pad centre", None, **LENGTH)
    radius_of_gyration: float | None = has(
        "length", "about a horizontal axis through the centre of gravity", None, **LENGTH
    )
    axial_radius_of_gyration: float | None = has(
        "length", "about the vehicle axis, for `land`", None, **LENGTH
    )
    leg_azimuths: tuple[float, ...] | None = has(
        "angles", "of each leg round the vehicle axis, for `land`", None, **TURN
    )
    clearance: float | None = has(
        "length", "lowest hard point above the pads, legs uncrushed", None, **LENGTH
    )
    clearance_radius: float = has(
        "length", "how far from the vehicle axis that point lies", 0.0, **LENGTH_OR_ZERO
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
    pad_area: float | None = has(
        "area", "bearing area of one pad", None, at_least=1e-6, at_most=1e4
    )
    guide_friction: float = has(
        "number", "friction coefficient in the guide", 0.0, at_least=0.0, below=1.0
    )
    travel_ratio: float | None = has(
        "number",
        "vertical travel per stroke, for a strut in a linkage",
        None,
        at_least=0.05,
        at_most=20.0,
    )
    free_length: float | None = has(
        "length", "from pad to where the girder is held", None, **LENGTH
    )
    damping: float = has(
        "number",
        "share of critical damping while a leg springs, for `land`",
        0.05,
        at_least=0.0,
        at_most=0.5,
    )

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Touchdown:
    """One landing to survive."""

    name: str = has("text", "name of the touchdown")
    vertical_speed: float = has("speed", "downward, at contact", at_least=1e-3, at_most=100.0)
    horizontal_speed: float = has("speed", "at contact", 0.0, at_least=0.0, at_most=100.0)
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
    attitude_rate: float = has(
        "angular rate", "of the vehicle at contact", 0.0, at_least=-FULL_TURN, at_most=FULL_TURN
    )
    heading: float | None = has(
        "angle", "from leg 1 to the direction of travel, for `land`", None, **TURN
    )
    slope_azimuth: float = has(
        "angle", "from the direction of travel to uphill, for `land`", 0.0, **TURN
    )
    thrust_to_weight: float = has(
        "number",
        "residual thrust over the weight here",
        0.0,
        at_least=0.0,
        below=1.0,
        why="at 1 thrust carries the vehicle: it does not settle",
    )
    shutdown_time: float | None = has(
        "time", "thrust stays so long after contact, for `land`", None, at_least=0.0, at_most=1e3
    )
    thrust_decay: float = has(
        "time", "it then falls to 37 % in this, for `land`", 0.0, at_least=0.0, at_most=1e3
    )
    first_contact: str = has("choice", "which legs touch first", "all", choices=CONTACTS)
    mass: float | None = has("mass", "landing mass of this case, if another", None, **MASS)
    reserve: bool = has("flag", "speeds times speed_reserve, ultimate strength", default=False)

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """Ground that gives under the pads: pressure that sinks a pad, growing with its sinkage."""

    bearing_pressure: float = has(
        "stress", "that begins to sink a pad", at_least=1.0, at_most=STRENGTH["at_most"]
    )
    bearing_gradient: float = has(
        "bearing gradient", "pressure more per sinkage", 0.0, at_least=0.0, at_most=1e12
    )
    source: str = has("text", "where these values come from")

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The vehicle stands on its uncrushed legs."""

    name: str = has("text", "name of the standing case")
    mass: float = has("mass", "mass while it stands", **MASS)
    side_acceleration: float = has(
        "acceleration", "wind or handling", 0.0, at_least=0.0, at_most=100.0
    )

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What must not be exceeded; a limit left out is not judged."""

    leg_limit_load: float | None = has(
        "force", "axial, at the leg attachment", None, at_least=1.0, at_most=1e9
    )
    deceleration_max: float | None = has(
        "acceleration", "of the vehicle", None, at_least=1e-3, at_most=1e5
    )
    clearance_min: float = has(
        "length", "that must be left under the vehicle", 0.0, **LENGTH_OR_ZERO
    )
    lean_max: float | None = has(
        "angle", "at rest", None, at_least=math.radians(0.001), below=RIGHT_ANGLE
    )
    stroke_fraction: float = has(
        "number", "share of the usable stroke that may be used", 0.95, at_least=0.01, at_most=1.0
    )
    pad_pressure_max: float | None = has(
        "stress", "under the pad", None, at_least=1.0, at_most=STRENGTH["at_most"]
    )

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Factors:
    """Factors of safety, each used in one place only."""

    speed_reserve: float = has("number", "on the speeds of reserve cases", 1.2, **SAFETY)
    ultimate: float = has("number", "on leg_limit_load in reserve cases", 1.4, **SAFETY)
    column: float = has("number", "on the load of the girder as a column", 1.4, **SAFETY)

    def __post_init__(self) -> None:
        check_bounds(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One case file, read; ``beside`` are the paths of the other files it was read from."""

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
    beside: tuple[str, ...] = ()
    ground: Ground | None = None
