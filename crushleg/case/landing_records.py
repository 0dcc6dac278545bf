"""Touchdowns, ground and standing cases as they were asked for; SI units, angles in radians.

Every field a case file may give carries its kind, bounds and meaning
(:mod:`crushleg.case.fields`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from crushleg.case.fields import FULL_TURN, MASS, STRENGTH, TURN, check_bounds, has

CONTACTS = ("all", "two", "one")


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
