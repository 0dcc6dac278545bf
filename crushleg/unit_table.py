"""The closed table of units: scales, zeros, examples, usual misspellings, units of display.

Units are exact by definition: inch 0.0254 m and pound 0.45359237 kg (international yard and
pound, 1959), standard gravity 9.80665 m/s2 (3rd CGPM, 1901), degF by 5/9 and 459.67; collected
in NIST SP 811 (2008), appendix B (from memory). Scales are fractions, so that a text is rounded
once: "9 mm" is the float 0.009.
"""

from __future__ import annotations

import math
from fractions import Fraction

INCH = Fraction("0.0254")
FOOT = 12 * INCH
POUND = Fraction("0.45359237")
G0 = Fraction("9.80665")
LBF = POUND * G0
DEGREE = Fraction(math.pi) / 180
ONE = Fraction(1)
KILO = Fraction(1000)
MILLI = Fraction(1, 1000)


UNITS: dict[str, dict[str, Fraction]] = {
    "length": {"mm": MILLI, "cm": 10 * MILLI, "m": ONE, "in": INCH, "ft": FOOT},
    "mass": {"kg": ONE, "t": KILO, "lb": POUND},
    "force": {"N": ONE, "kN": KILO, "MN": KILO**2, "lbf": LBF, "kip": KILO * LBF},
    "stress": {
        "MPa": KILO**2, "Pa": ONE, "kPa": KILO, "GPa": KILO**3,
        "psi": LBF / INCH**2, "ksi": KILO * LBF / INCH**2,
    },
    "energy": {"J": ONE, "kJ": KILO, "ft-lbf": FOOT * LBF},
    "speed": {"m/s": ONE, "ft/s": FOOT, "in/s": INCH, "mph": 5280 * FOOT / 3600},
    "acceleration": {"m/s2": ONE, "g0": G0, "ft/s2": FOOT},
    "angle": {"deg": DEGREE, "rad": ONE},
    "angular rate": {"deg/s": DEGREE, "rad/s": ONE},
    "temperature": {"degC": ONE, "K": ONE, "degF": Fraction(5, 9)},
    "time": {"s": ONE, "ms": MILLI},
    "area": {"m2": ONE, "mm2": MILLI**2, "cm2": MILLI**2 * 100, "in2": INCH**2, "ft2": FOOT**2},
    "density": {"kg/m3": ONE, "lb/in3": POUND / INCH**3},
    "bearing gradient": {
        "kPa/m": KILO, "Pa/m": ONE, "MPa/m": KILO**2, "psi/in": LBF / INCH**3,
    },
    "strain rate": {"1/s": ONE},
    "number": {"": ONE, "%": Fraction(1, 100)},
}  # fmt: skip
"""Dimension -> unit -> SI units in one of it; no unit occurs in two dimensions."""

ZEROS = {"degC": Fraction("273.15"), "degF": Fraction("459.67")}
"""What is added to a number of this unit before it is scaled to kelvin."""

EXAMPLES = {
    "length": "4 mm", "mass": "40 t", "force": "620 kN", "stress": "300 MPa", "energy": "50 kJ",
    "speed": "3.5 m/s", "acceleration": "9.80665 m/s2", "angle": "3 deg",
    "angular rate": "2 deg/s", "temperature": "20 degC", "time": "80 ms", "area": "0.16 m2",
    "density": "7900 kg/m3", "strain rate": "0.001 1/s",
    "bearing gradient": "500 kPa/m", "number": "40 %",
}  # fmt: skip
"""One well-formed quantity per dimension, for messages."""

OTHER_SPELLINGS = {
    "°": "deg", "°C": "degC", "°F": "degF", "C": "degC", "F": "degF", "deg C": "degC",
    "deg F": "degF", "degrees": "deg", "degree": "deg", "°/s": "deg/s", "g": "g0", "gee": "g0",
    "gees": "g0", "g's": "g0", '"': "in", "″": "in", "inch": "in", "inches": "in", "'": "ft",
    "′": "ft", "feet": "ft", "foot": "ft", "lbs": "lb", "lbm": "lb", "pounds": "lb",
    "tonne": "t", "tonnes": "t", "ton": "t", "tons": "t", "kips": "kip", "klbf": "kip",
    "N/mm2": "MPa", "fps": "ft/s", "ft-lb": "ft-lbf", "ft lbf": "ft-lbf", "lbf-ft": "ft-lbf",
    "s-1": "1/s", "/s": "1/s", "sec": "s", "seconds": "s", "percent": "%", "sq in": "in2",
    "sq ft": "ft2", "millimeters": "mm", "meters": "m", "metres": "m", "Kelvin": "K",
}  # fmt: skip
"""Usual spellings outside the table -> the unit that was probably meant."""

Ladder = tuple[tuple[float, str], ...]

BOTH: dict[str, Ladder] = {
    "angle": ((0.0, "deg"),),
    "angular rate": ((0.0, "deg/s"),),
    "time": ((0.0, "ms"), (1.0, "s")),
    "strain rate": ((0.0, "1/s"),),
    "number": ((0.0, ""),),
}
DISPLAY: dict[str, dict[str, Ladder]] = {
    "si": BOTH
    | {
        "length": ((0.0, "mm"), (1.0, "m")),
        "mass": ((0.0, "kg"), (1e3, "t")),
        "force": ((0.0, "N"), (1e3, "kN"), (1e7, "MN")),
        "stress": ((0.0, "Pa"), (1e3, "kPa"), (1e6, "MPa"), (1e10, "GPa")),
        "energy": ((0.0, "J"), (1e3, "kJ")),
        "speed": ((0.0, "m/s"),),
        "acceleration": ((0.0, "m/s2"),),
        "temperature": ((0.0, "degC"),),
        "area": ((0.0, "mm2"), (0.01, "m2")),
        "density": ((0.0, "kg/m3"),),
        "bearing gradient": ((0.0, "kPa/m"),),
    },
    "us": BOTH
    | {
        "length": ((0.0, "in"), (float(10 * FOOT), "ft")),
        "mass": ((0.0, "lb"),),
        "force": ((0.0, "lbf"), (float(KILO * LBF), "kip")),
        "stress": ((0.0, "psi"), (float(KILO * LBF / INCH**2), "ksi")),
        "energy": ((0.0, "ft-lbf"),),
        "speed": ((0.0, "ft/s"),),
        "acceleration": ((0.0, "ft/s2"),),
        "temperature": ((0.0, "degF"),),
        "area": ((0.0, "in2"), (float(FOOT**2), "ft2")),
        "density": ((0.0, "lb/in3"),),
        "bearing gradient": ((0.0, "psi/in"),),
    },
}
"""System -> dimension -> from which SI magnitude on which unit is shown."""
