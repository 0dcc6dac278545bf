"""What an inspection says in words: the speed, what is flagged, what to check, how it was read."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.cautions import SCREENING
from crushleg.girder.bands import BAND_PROBABILITY
from crushleg.girder.cautions import girder_cautions
from crushleg.report.words import common_unit
from crushleg.trial.judged import speed_per_energy
from crushleg.trial.speed_band import CAUSES
from crushleg.units import express, plain, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.arrays import BoolArray
    from crushleg.trial.inspect import Inspection

LIKELY = f"{100.0 * BAND_PROBABILITY:g} %"
ONE_SIDED = f"{50.0 * (1.0 + BAND_PROBABILITY):g} %"
NO_RELEASE = (
    "This inspection releases no leg for another landing. A crushed leg is spent: what is left in "
    "it is for handling and standing, and for the responsible engineer to judge."
)
MEASURED = (
    "Height: along the girder, from the foot plate to the upper end of the length that may fold, "
    "in the middle of each face."
)
SPRUNG = (
    "Spring-back: the elastic shortening of the landing is out of a leg once it is unloaded, so "
    "what its height lacks is plastic crush. It is put back for the balance: energy and travel "
    "are those at the bottom."
)
BALANCE = (
    "Balance: v = √(2 [E - (m g - T) Δz]/m), E all energy taken by legs and elsewhere, Δz the way "
    "of the vehicle axis down to the bottom, from the plane through the legs [derived]."
)
BAND_WORDS = (
    f"Band: about {LIKELY}, two-sided. Causes are independent and added as root-sum-square of "
    "energy. The girder's band (alloy, model, wall, where folds fall) is common to all legs of a "
    "batch; 2 % (standard deviation, judgement) is each leg's own."
)
FRICTION = (
    "Friction: the work of sliding pads and guides is in the balance, with the friction of the "
    "case; its error is not in the band."
)
LINKAGE = "Friction under the pads is not in the balance (linkage): it is energy not in the legs."
NORMAL = (
    "The speed is that normal to the ground; energy of sliding and turning at contact is in it as "
    "far as the legs took it."
)
LEAST_SHARE = 0.5


def per_cent(share: float) -> str:
    """Share in whole per cent."""
    return f"{100.0 * share:.0f} %"


def speed_words(found: Inspection, units: str) -> str:
    """Say the speed with its band, or its lower bound."""
    low, nominal, high = (float(v) for v in found.band.speed)
    unit = common_unit([nominal], "speed", units)
    least, middle, most = (f"{express(v, unit):.2f}" for v in (low, nominal, high))
    if found.lower_bound:
        return (
            f"Speed at touchdown: at least {least} {unit} ({ONE_SIDED}, one-sided), a lower bound; "
            f"what is known accounts for {middle} {unit}."
        )
    return f"Speed at touchdown: {middle} {unit}, {least} to {most} {unit} (about {LIKELY})."


def why_bound(found: Inspection, units: str) -> Iterator[str]:
    """Say why the speed is a lower bound, and what more energy would add."""
    if found.asked.other is None:
        energy = 0.05 * max(float(found.band.energy[1]), 1.0)
        unit = common_unit([energy], "energy", units)
        step = float(plain(express(energy, unit), 1))
        faster = speed_per_energy(found, step * energy / express(energy, unit))
        more = show(faster, "speed", units, 2)
        yield (
            "Energy not in the legs (pads, soil, sliding, joints) is unknown: --other-energy. "
            f"Every {plain(step)} {unit} of it adds about {more}."
        )
    if found.sank:
        yield "The legs sank on after the stop: it was faster than the crush says."
    if found.left.solid.any():
        which = legs_named(found.left.solid)
        yield f"{which} crushed to the end of the curve: what was taken beyond it is not known."


def dominant(found: Inspection) -> str:
    """Say which cause makes the most of the band, by its share of the squares."""
    squares = (found.band.parts**2).mean(axis=0)
    total = squares.sum()
    if total <= 0.0:
        return "no uncertainty: nothing was taken"
    most = int(squares.argmax())
    share = squares[most] / total
    verb = "dominates" if share >= LEAST_SHARE else "is the largest"
    return f"{CAUSES[most]} {verb}: {per_cent(share)} of the squared band"


def lean_words(found: Inspection) -> str:
    """Say lean, its error and where it goes."""
    rest = found.rest
    if rest.lean is None or rest.lean_error is None:
        return "lean not known"
    lean, error = (np.degrees(x) for x in (rest.lean, rest.lean_error))
    said = f"lean {lean:.2f} ± {error:.2f} deg"
    if rest.direction is None or rest.lean <= rest.lean_error:
        return f"{said}, none beyond reading error"
    return f"{said} toward {np.degrees(rest.direction):.0f} deg from leg 1"


def legs_named(which: BoolArray) -> str:
    """Name legs: "Leg 3", "Legs 1, 4", "All legs"."""
    names = [str(i + 1) for i in np.flatnonzero(which)]
    if len(names) == which.size > 1:
        return "All legs"
    return f"{'Leg' if len(names) == 1 else 'Legs'} {', '.join(names)}"


def to_check(found: Inspection) -> list[str]:
    """List what to check on the vehicle, in the order of a walk round it."""
    girder, leg = found.case.girder, found.case.leg
    items = ["support the vehicle before anyone works under it"]
    if girder.holes.rows:
        items.append("cracks at hole edges and at the corners of the folds")
    else:
        items.append("cracks at the corners of the folds")
    if girder.seam is not None:
        items.append("the seam and its heat-affected zone, opened or torn")
    items += [
        "welds and joints of the girder at foot plate and vehicle",
        "folds even round the section, from the foot, no overall bend",
        "pads and foot plates: bent, slipped, sunk into the ground",
    ]
    if leg.side_load == "guide":
        items.append("guide: free, straight, not scored")
    items.append("attachment of every leg and the structure above it")
    return items


def method(found: Inspection, units: str) -> list[str]:
    """Say how the readings were taken and what the band holds."""
    girder, leg = found.case.girder, found.case.leg
    before = show(found.before, "length", units, 5)
    uncrushed = f"{before} before the landing" + (
        ", the length of the drawing." if found.asked.before is None else ", as read."
    )
    free = leg.free_length
    if free is not None and abs(free - girder.length) > 1e-9:
        uncrushed += f" Not the free length, {show(free, 'length', units, 5)}."
    squeeze = show(found.rest.squeeze, "length", units, 2)
    return [
        f"{MEASURED} {uncrushed}",
        f"{SPRUNG} Under the vehicle's weight a leg stays {squeeze} shorter: not corrected.",
        BALANCE,
        BAND_WORDS,
        LINKAGE if leg.travel_ratio is not None else FRICTION,
    ]


def cautions(found: Inspection) -> list[str]:
    """Cautions of an inspection; the one on screening and that no leg is released first."""
    case = found.case
    return [
        SCREENING,
        NO_RELEASE,
        *("Assumed: " + sentence for sentence in case.assumed),
        *girder_cautions(case.girder, found.crush),
        NORMAL,
    ]
