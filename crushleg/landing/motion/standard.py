"""Which landings are run: those of the case, and the standard ones built from one vehicle."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from crushleg.said import Quantity, Said

if TYPE_CHECKING:
    from crushleg.case.records import Case, Touchdown

LEVELS = ("low", "nominal", "high")
SLOPE, ATTITUDE, SIDEWAYS = math.radians(5.0), math.radians(3.0), 1.0
"""Ground, lean and speed of the standard cases where no touchdown has any (judgement)."""
CORNER = 0.05
"""Mass of the light and heavy corner less and more (judgement)."""
STUCK = 1.0
"""Friction of a pad that digs in or meets a stone (common practice); inf would set canted legs that
cannot slide against each other."""
THRUST, SHUTDOWN, DECAY = 0.3, 0.1, 0.2
"""Thrust over weight and its times [s] where no touchdown has any (judgement)."""


class Planned(NamedTuple):
    """A landing to run: ``columns`` are label and level of every leg; pads may be ``stuck``.

    A stuck pad has at least the friction :data:`STUCK`.
    """

    touchdown: Touchdown
    columns: tuple[tuple[str, tuple[int, ...]], ...]
    stuck: bool = False

    @property
    def name(self) -> str:
        """Name of the landing."""
        return self.touchdown.name


def friction_of(case: Case, plan: Planned) -> float:
    """Friction of the pads in a planned landing [-]."""
    return max(STUCK if plan.stuck else 0.0, case.leg.pad_friction)


def alike(
    legs: int, levels: tuple[int, ...] = (0, 1, 2)
) -> tuple[tuple[str, tuple[int, ...]], ...]:
    """All legs at one level, a column for each."""
    return tuple((LEVELS[level], (level,) * legs) for level in levels)


def as_asked(case: Case) -> list[Planned]:
    """Plan the touchdowns of the case, with low, nominal and high legs."""
    return [Planned(one, alike(case.vehicle.legs)) for one in case.touchdowns]


def standard(case: Case) -> tuple[list[Planned], tuple[str, ...]]:
    """Plan the standard cases of one vehicle, and say what they take.

    Parameters
    ----------
    case : Case
        Speed and mass are those of its fastest touchdown that is no reserve case; slope, lean,
        horizontal speed and thrust the largest of any touchdown.

    Returns
    -------
    list of Planned, tuple of str
        What was assumed, in sentences.

    References
    ----------
    Common practice: level, one and two legs first, up and down the slope, sliding and stuck pads,
    corners of mass and strength. The values stand beside their constants.
    """
    legs = case.vehicle.legs
    base, said = _base(case)
    level = replace(
        base, slope=0.0, slope_azimuth=0.0, attitude=0.0, attitude_rate=0.0,
        horizontal_speed=0.0, thrust_to_weight=0.0, heading=None, first_contact="all",
    )  # fmt: skip
    mass = case.vehicle.mass if base.mass is None else base.mass
    every = alike(legs)
    weak_one = (("one low, rest high", (0,) + (2,) * (legs - 1)),)
    plans = [
        Planned(replace(level, name="level, all legs at once"), every),
        *(_sideways(base, level, every) if legs > 2 else ()),
        Planned(replace(level, name="reserve speed", reserve=True), every),
        Planned(
            replace(level, name="light and strong", mass=(1.0 - CORNER) * mass), alike(legs, (2,))
        ),
        Planned(
            replace(level, name="heavy and weak", mass=(1.0 + CORNER) * mass), alike(legs, (0,))
        ),
        Planned(replace(level, name="one leg weak"), weak_one if legs > 1 else every),
        Planned(
            replace(
                level,
                name="thrust tails off",
                thrust_to_weight=base.thrust_to_weight,
                shutdown_time=base.shutdown_time,
                thrust_decay=base.thrust_decay,
            ),
            every,
        ),
    ]
    return plans, said


def _sideways(
    base: Touchdown, level: Touchdown, every: tuple[tuple[str, tuple[int, ...]], ...]
) -> list[Planned]:
    """One and two legs first; up and down the slope with sliding and with stuck pads."""
    plans = [
        Planned(
            replace(level, name=f"{word} first", attitude=base.attitude, first_contact=count), every
        )
        for word, count in (("one leg", "one"), ("two legs", "two"))
    ]
    for where, azimuth in (("uphill", 0.0), ("downhill", math.pi)):
        for how in ("slide", "stuck"):
            touchdown = replace(
                level,
                name=f"{where}, pads {how}",
                slope=base.slope,
                slope_azimuth=azimuth,
                horizontal_speed=base.horizontal_speed,
            )
            plans.append(Planned(touchdown, every, stuck=how == "stuck"))
    return plans


def _base(case: Case) -> tuple[Touchdown, tuple[str, ...]]:
    """Build the touchdown that the standard cases vary, and say what it assumes."""
    usual = [one for one in case.touchdowns if not one.reserve] or list(case.touchdowns)
    fastest = max(usual, key=lambda one: one.vertical_speed)
    slope = max(one.slope for one in case.touchdowns)
    attitude = max(abs(one.attitude) for one in case.touchdowns)
    sideways = max(one.horizontal_speed for one in case.touchdowns)
    pushed = max(case.touchdowns, key=lambda one: one.thrust_to_weight)
    said = [
        Said(f"{what} ", Quantity(value, kind), " (judgement): no touchdown has any.")
        for what, value, kind, known in (
            ("slope", SLOPE, "angle", slope),
            ("attitude", ATTITUDE, "angle", attitude),
            ("horizontal_speed", SIDEWAYS, "speed", sideways),
        )
        if not known
    ]
    thrust = pushed.thrust_to_weight or THRUST
    stays = SHUTDOWN if pushed.shutdown_time is None else pushed.shutdown_time
    decay = pushed.thrust_decay or DECAY
    if not pushed.thrust_to_weight:
        said.append(Said(f"thrust_to_weight {thrust:g} (judgement): no touchdown has any."))
    if pushed.shutdown_time is None:
        times = Quantity(stays, "time"), Quantity(decay, "time")
        said.append(Said("shutdown_time ", times[0], ", thrust_decay ", times[1], "."))
    base = replace(
        fastest,
        reserve=False,
        slope=slope or SLOPE,
        attitude=attitude or ATTITUDE,
        horizontal_speed=sideways or SIDEWAYS,
        thrust_to_weight=thrust,
        shutdown_time=stays,
        thrust_decay=decay,
    )
    return base, tuple(said)
