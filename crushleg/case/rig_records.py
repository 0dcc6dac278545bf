"""The drop rig of a case: what falls on the legs under test; SI units."""

from __future__ import annotations

from dataclasses import dataclass

from crushleg.case.fields import MASS, check_bounds, has

STANDARD_GRAVITY = 9.80665
SLOWEST, FASTEST = 1e-3, 100.0
"""Bounds of a touchdown's speed, which a drop must meet too [m/s]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rig:
    """A guided mass that drops on one leg or several, mounted as they are on the vehicle.

    Friction acts in the fall and in the crush, lift from contact on; both above the load cell.
    """

    mass_above: float = has("mass", "falling, above the load cell", **MASS)
    mass_below: float = has(
        "mass", "falling, below the load cell, leg included", 0.0, at_least=0.0, at_most=1e7
    )
    legs: int = has("count", "legs under the falling mass", 1, at_least=1, at_most=24)
    friction: float = has("force", "of the guides, constant", 0.0, at_least=0.0, at_most=1e9)
    lift: float = has(
        "number",
        "share of the falling weight carried from contact on",
        0.0,
        at_least=0.0,
        below=1.0,
        why="at 1 the lift carries the mass: it does not settle",
    )
    lift_force: float | None = has(
        "force", "carried from contact on, in place of lift", None, at_least=0.0, at_most=1e9
    )
    gravity: float = has(
        "acceleration", "gravity at the rig", STANDARD_GRAVITY, at_least=1e-5, at_most=100.0
    )
    drop_height: float | None = has(
        "length", "fall before contact", None, at_least=1e-4, at_most=50.0
    )

    def __post_init__(self) -> None:
        check_bounds(self)

    @property
    def mass(self) -> float:
        """All that falls [kg]."""
        return self.mass_above + self.mass_below

    @property
    def carried(self) -> float:
        """Lift from contact on [N]."""
        if self.lift_force is not None:
            return self.lift_force
        return self.lift * self.mass * self.gravity
