"""Units and standard gravity: exact definitions, and the rounded factors of the usual table.

Standard gravity: 3rd General Conference on Weights and Measures (1901). Inch, pound: international
yard and pound agreement (1959). Factors: NIST SP 811 (2008), appendix B. Room temperature: ISO 1,
20 °C. All from memory.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from crushleg.case.assume import ROOM_TEMPERATURE
from crushleg.case.rig_records import STANDARD_GRAVITY as OF_RIG
from crushleg.case.vehicle_records import STANDARD_GRAVITY as OF_VEHICLE
from crushleg.girder.strength import ROOM
from crushleg.landing.rates import STANDARD_GRAVITY as OF_RATES
from crushleg.units import parse
from tests.outside import Outside, each

if TYPE_CHECKING:
    from collections.abc import Callable

gravity = partial(
    Outside,
    theirs=9.80665,
    source="3rd General Conference on Weights and Measures (1901)",
    place="standard acceleration of gravity",
    status="from memory",
    relative=1e-12,
    why="exact by definition",
    unit="m/s2",
)
NIST = "NIST SP 811 (2008)"
YARD_AND_POUND = "international yard and pound agreement (1959)"


def read(text: str, kind: str) -> Callable[[], float]:
    return lambda: parse(text, kind)


VALUES = (
    gravity(what="standard gravity of the unit g0", ours=read("1 g0", "acceleration")),
    *(
        gravity(what=f"standard gravity {place}", ours=partial(float, value))
        for place, value in (
            ("of a vehicle", OF_VEHICLE),
            ("of a rig", OF_RIG),
            ("that decelerations are counted in", OF_RATES),
        )
    ),
    *(
        Outside(
            what=f"room temperature, {place}",
            theirs=293.15,
            ours=partial(float, value),
            source="ISO 1",
            place="standard reference temperature",
            status="from memory",
            relative=1e-9,
            why="exact by definition",
            unit="K",
        )
        for place, value in (
            ("of a girder whose case gives none", ROOM_TEMPERATURE),
            ("of the strengths of a datasheet", ROOM),
        )
    ),
    *(
        Outside(
            what=f"{text} in SI",
            theirs=theirs,
            ours=read(text, kind),
            source=source,
            place=place,
            status="from memory",
            relative=relative,
            why=why,
            unit=unit,
        )
        for text, kind, theirs, unit, source, place, relative, why in (
            ("1 in", "length", 0.0254, "m", YARD_AND_POUND, "inch", 1e-12, "exact"),
            ("1 ft", "length", 0.3048, "m", YARD_AND_POUND, "foot", 1e-12, "exact"),
            ("1 lb", "mass", 0.45359237, "kg", YARD_AND_POUND, "pound", 1e-12, "exact"),
            ("1 lbf", "force", 4.448222, "N", NIST, "appendix B", 2e-7, "seven digits"),
            ("1 kip", "force", 4448.222, "N", NIST, "appendix B", 2e-7, "seven digits"),
            ("1 psi", "stress", 6894.757, "Pa", NIST, "appendix B", 2e-7, "seven digits"),
            ("1 ksi", "stress", 6894757.0, "Pa", NIST, "appendix B", 2e-7, "seven digits"),
            ("1 ft-lbf", "energy", 1.355818, "J", NIST, "appendix B", 2e-7, "seven digits"),
            ("1 mph", "speed", 0.44704, "m/s", NIST, "appendix B", 1e-12, "exact"),
            ("1 ft/s", "speed", 0.3048, "m/s", NIST, "appendix B", 1e-12, "exact"),
            ("1 lb/in3", "density", 27679.90, "kg/m3", NIST, "appendix B", 2e-7, "seven digits"),
            ("32 degF", "temperature", 273.15, "K", NIST, "appendix B", 1e-12, "exact"),
            ("212 degF", "temperature", 373.15, "K", NIST, "appendix B", 1e-12, "exact"),
        )
    ),
)


@each(VALUES)
def test_cgpm_1901_yard_and_pound_1959_nist_sp_811_and_iso_1_units(value: Outside) -> None:
    value.check()
