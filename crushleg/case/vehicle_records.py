"""The vehicle and its legs as they were asked for; SI units, angles in radians.

Every field a case file may give carries its kind, bounds and meaning
(:mod:`crushleg.case.fields`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from crushleg.case.fields import LENGTH, LENGTH_OR_ZERO, MASS, TURN, check_bounds, has

SIDE_LOADS = ("guide", "girder")
STANDARD_GRAVITY = 9.80665


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
        0.2,
        at_least=0.0,
        at_most=0.5,
    )

    def __post_init__(self) -> None:
        check_bounds(self)
