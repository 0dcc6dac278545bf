"""What was asked: frozen records of a case, SI units, angles in radians.

Every field a case file may give carries its kind, bounds and meaning
(:mod:`crushleg.case.fields`); the TOML reader fills these records and nothing else does.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from crushleg.case.fields import (
    LENGTH_OR_ZERO,
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
from crushleg.case.landing_records import CONTACTS, Ground, Standing, Touchdown
from crushleg.case.rig_records import Rig
from crushleg.case.scatter_records import Scatter, ScatterCorrelation, ScatterInput
from crushleg.case.scheme_records import Scheme
from crushleg.case.stock_records import OwnStock, StockSize
from crushleg.case.vehicle_records import SIDE_LOADS, STANDARD_GRAVITY, Leg, Vehicle

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
    "OwnStock",
    "Rig",
    "Row",
    "Scatter",
    "ScatterCorrelation",
    "ScatterInput",
    "Scheme",
    "Seam",
    "Standing",
    "StockSize",
    "Touchdown",
    "Vehicle",
    "WallStep",
]

RIGHT_ANGLE = math.pi / 2


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
    rig: Rig | None = None
    stock: OwnStock | None = None
    schemes: tuple[Scheme, ...] = ()
    scatter: Scatter | None = None
