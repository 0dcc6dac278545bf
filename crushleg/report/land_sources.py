"""The references behind landings in motion, beside those of the check."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.report.sources import sources
from crushleg.said import Quantity, Said

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.case.records import Case
    from crushleg.land import Moving

MOTION = (
    (
        "Motion: rigid body with six degrees of freedom, Newton and Euler, velocity Verlet with "
        "unit quaternions; legs by virtual work, pads with dry friction that stick and slide "
        "[derived]"
    ),
    "Tip-over: weight over the line between two pads, energy m g ρ (1 - cos α) [derived]",
    ("Accelerometer reading: class 180, -3 dB at 5/3 of the class, SAE J211, ISO 6487 [published]"),
    (
        "Rest below 0.5 % of the speed at contact; slides from 5 % of the pad circle; damping, "
        "grip of a pad that sticks [judgement]"
    ),
)
STANDARD = (
    "Standard cases: level, one and two legs first, up and down the slope, pads sliding and "
    "stuck, reserve, corners of mass and strength, thrust that tails off [common practice]; "
    "masses ± 5 % [judgement]"
)


def land_sources(moving: Moving) -> list[str]:
    """List the references behind landings in motion, their status in brackets.

    Parameters
    ----------
    moving : Moving

    Returns
    -------
    list of str
    """
    checked = moving.checked
    standard = [STANDARD] if len(moving.moves) > len(checked.case.touchdowns) else []
    return [*MOTION, *standard, *_ground(checked.case), *sources(checked)]


def _ground(case: Case) -> Iterator[str]:
    friction = f"Friction of the pads, {case.leg.pad_friction:g}"
    assumed = any(sentence.startswith("pad_friction ") for sentence in case.assumed)
    yield f"{friction} [{'common practice' if assumed else 'given by the case'}]"
    if case.leg.pad_area is not None:
        yield Said("Pad area ", Quantity(case.leg.pad_area, "area", 4), " [given by the case]")
    if case.ground is not None:
        yield f"Bearing of the ground: {case.ground.source} [given by the case]"
