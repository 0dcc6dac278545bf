"""Numbers with their units, and what each check compares, in words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from crushleg.margins.motion import MOTION
from crushleg.units import display_unit, express, plain

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from crushleg.case.records import Case
    from crushleg.margins import Margin

DIMENSION = {
    "J": "energy",
    "m": "length",
    "N": "force",
    "Pa": "stress",
    "rad": "angle",
    "m/s": "speed",
    "s": "time",
}
MOMENT = {"J": "N·m", "kJ": "kN·m", "ft-lbf": "lbf-ft"}
LOW = "from low force"
LARGEST = "from the largest of low, nominal, high"
NEVER_STOPS = "never stops: weight on the legs exceeds the crush force"
NO_VALUE = "–"
NEGLIGIBLE = 1e-9
"""Length that is none [m]."""
SLACK = 1e-9
MOST_DECIMALS = 6


class Meaning(NamedTuple):
    """What a check compares: demand, capability, and which side of the scatter is taken."""

    demand: str
    capability: str
    scatter: str


MEANINGS = {
    "energy": Meaning(
        "energy to the end of the usable stroke, all legs",
        "energy the legs take to the end of the usable stroke",
        LOW,
    ),
    "stroke": Meaning("stroke the most crushed leg needs", "part of the usable stroke", LOW),
    "leg_load": Meaning("axial load at the leg attachment", "leg_limit_load", LARGEST),
    "deceleration": Meaning("deceleration (F - Wn)/m", "deceleration_max", LARGEST),
    "clearance": Meaning("clearance_min", "clearance left, even crush or one leg low", LOW),
    "lean": Meaning("lean at rest", "lean_max", "from one leg at low force, the rest at high"),
    "tip_over": Meaning(
        "horizontal speed",
        "speed that just tips it, pads stuck, thrust off",
        "from the lower of before and after crush",
    ),
    "column": Meaning(
        "force in the girder at the governing point of the stroke",
        "Euler load of the length left there",
        LARGEST,
    ),
    "bending": Meaning(
        "moment of the side load",
        "plastic moment of the net section beside the axial force",
        LARGEST,
    ),
    "pad_pressure": Meaning("pressure under one pad", "pad_pressure_max", LARGEST),
    "standing_after": Meaning(
        "load on the worst leg at rest, thrust off", "mean force of the fold it stopped in", LOW
    ),
    "standing_before": Meaning(
        "load on the worst leg, even share and overturning", "force that begins the crush", LOW
    ),
    "collapse_sequence": Meaning(
        "force that starts the zone whose turn it is",
        "least start force of the zones above, less the scatter",
        "nominal, less the scatter between neighbours, one-sided 95 %",
    ),
    "at_rest": Meaning(
        "time after which it still moves",
        "time after contact at which it rests: none",
        "from the worst column",
    ),
    "ligament": Meaning(
        "web or edge to be kept", "least web or edge, worst of all", "as drawn, no scatter"
    ),
}
LOWEST_LEG = "from the worst leg of low force, or of the forces that the landing has"
WORST_COLUMN = "from the worst of low, nominal, high"
IN_MOTION = {
    "stroke": Meaning("stroke the most crushed leg needs", "part of the usable stroke", LOWEST_LEG),
    "clearance": Meaning("clearance_min", "least clearance during the whole landing", WORST_COLUMN),
    "lean": Meaning("lean against the ground at the end", "lean_max", WORST_COLUMN),
    "tip_over": Meaning(
        "most tilt toward a line of pads during the landing, slope included",
        "static tip-over angle, uncrushed on level ground",
        WORST_COLUMN,
    ),
    "standing_after": MEANINGS["standing_after"]._replace(scatter=LOWEST_LEG),
}
CLEARANCE_USED_MOVING = Meaning(
    "most clearance used during the whole landing", "clearance there is", WORST_COLUMN
)
CLEARANCE_USED = Meaning("clearance used, even crush or one leg low", "clearance there is", LOW)
STATIC_TIP = Meaning(
    "slope and lean", "static tip-over angle", "from the worst of before and after crush"
)


def meaning(margin: Margin, case: Case) -> Meaning:
    """Say what a margin compares in this case."""
    moving = margin.touchdown.endswith(MOTION)
    found = MEANINGS[margin.check]
    if moving:
        found = IN_MOTION.get(margin.check, found)
    if margin.check == "clearance" and case.limits.clearance_min == 0.0:
        return CLEARANCE_USED_MOVING if moving else CLEARANCE_USED
    if margin.check == "tip_over" and margin.unit == "rad" and not moving:
        return STATIC_TIP
    if margin.check == "stroke":
        part = f"{case.limits.stroke_fraction:g} of the usable stroke"
        return found._replace(capability=part)
    if margin.check == "leg_load" and _is_ultimate(margin, case):
        return found._replace(capability=f"{case.factors.ultimate:g} × leg_limit_load")
    return found


def _is_ultimate(margin: Margin, case: Case) -> bool:
    """Whether a leg load is judged against ultimate strength, as in reserve cases."""
    limit = case.limits.leg_limit_load
    return margin.capability is not None and limit is not None and margin.capability[0] > limit


def never_stops(margin: Margin) -> bool:
    """Whether no stroke would do: the demand has no end."""
    return margin.demand is not None and not math.isfinite(margin.demand[0])


def touchdown_names(names: Sequence[str], case: Case) -> str:
    """Names joined; "all touchdowns" for all of several."""
    every = [touchdown.name for touchdown in case.touchdowns]
    return "all touchdowns" if len(every) > 1 and list(names) == every else ", ".join(names)


def check_name(margin: Margin) -> str:
    """Name of a check as the report prints it.

    The names in data and messages have underscores: tip_over.
    """
    return margin.check.replace("_", " ")


def quantities(values: Sequence[float], unit: str, system: str, digits: int = 3) -> list[str]:
    """SI values of a margin's ``unit`` in one readable unit, accelerations in g0.

    >>> quantities([278_006.0, 9.5e6], "N", "si", 4), quantities([56.1254], "m/s2", "si")
    (['278 kN', '9500 kN'], ['5.72 g0'])
    >>> quantities([0.5, 12.0], "m", "si"), quantities([1234.0], "N·m", "us")
    (['0.5 m', '12 m'], ['910 lbf-ft'])
    >>> quantities([float("inf"), 0.0694], "m", "si")
    ['–', '69.4 mm']
    """
    shown = "g0" if unit == "m/s2" else common_unit(values, DIMENSION.get(unit, "energy"), system)
    name = MOMENT[shown] if unit == "N·m" else shown
    least = NEGLIGIBLE if unit == "m" else 0.0
    return [
        f"{plain(express(x if abs(x) >= least else 0.0, shown), digits)} {name}"
        if math.isfinite(x)
        else NO_VALUE
        for x in values
    ]


def margin_text(value: float) -> str:
    """Signed margin, rounded down but for :data:`SLACK`; no shortfall reads as zero.

    >>> margin_text(0.09277), margin_text(-1e-10), margin_text(11.972), margin_text(1 / 5 - 1)
    ('+0.092', '-0.001', '+11.972', '-0.800')
    """
    if not math.isfinite(value):
        return "none"
    steps = math.floor(1e3 * (value + SLACK))
    return f"{(min(steps, -1) if value < 0.0 else steps) / 1e3:+.3f}"


def fixed(numbers: Sequence[float], digits: int = 3) -> list[str]:
    """Numbers of one column with the same decimals.

    So many digits in the smallest number, but at most one decimal more than the largest needs;
    a dash where there is none.

    >>> fixed([0.4, 31.18, 5.0]), fixed([190.2, 650.7, float("inf")])
    (['0.40', '31.18', '5.00'], ['190', '651', '–'])
    """
    needed = [
        max(digits - 1 - math.floor(math.log10(abs(x))), 0)
        for x in numbers
        if x and math.isfinite(x)
    ]
    places = min(max(needed), min(needed) + 1, MOST_DECIMALS) if needed else 0
    return [
        f"{round(x, places) + 0.0:.{places}f}" if math.isfinite(x) else NO_VALUE for x in numbers
    ]


def packed(rows: Iterable[Sequence[float]], unit: str, digits: int = 3) -> list[str]:
    """SI triples low, nominal, high, or so many as a row has, as one aligned cell in ``unit``.

    >>> packed([(9.6e3, 20e3, 101e3), (10e3, 21e3, 102e3)], "kN")
    [' 9.6 / 20.0 / 101.0', '10.0 / 21.0 / 102.0']
    """
    numbers = [[express(float(x), unit) for x in row] for row in rows]
    texts = fixed([x for row in numbers for x in row], digits)
    count = len(numbers[0]) if numbers else 1
    cells = [texts[i : i + count] for i in range(0, len(texts), count)]
    wide = [max(len(cell[k]) for cell in cells) for k in range(count)] if cells else []
    return [" / ".join(t.rjust(w) for t, w in zip(cell, wide, strict=True)) for cell in cells]


def common_unit(values: Iterable[float], dimension: str, system: str) -> str:
    """Choose the unit of a column: that of its largest finite value."""
    known = (abs(float(x)) for x in values if math.isfinite(x))
    return display_unit(max(known, default=0.0), dimension, system)


def small_length(system: str) -> str:
    """Name the unit in which a girder is drawn: mm or in."""
    return display_unit(0.0, "length", system)


def drawn(value: float, unit: str) -> str:
    """Length as a drawing has it: hundredths of a mm at most, thousandths of an inch.

    >>> drawn(0.0315, "mm"), drawn(0.04, "in")
    ('31.5', '1.575')
    """
    number = express(value, unit)
    return f"{number:.3f}" if unit == "in" else plain(round(number, 2), 6)
