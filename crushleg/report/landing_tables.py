"""Tables of the landing: touchdowns and margins."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from crushleg.girder.pattern import LEVELS
from crushleg.margins import RESERVE_COUNTS
from crushleg.margins.motion import MOTION
from crushleg.report.layout import Column, Heading, Pairs, Paragraph, Table
from crushleg.report.words import (
    LARGEST,
    LOW,
    NEGLIGIBLE,
    NEVER_STOPS,
    NO_VALUE,
    check_name,
    common_unit,
    fixed,
    margin_text,
    never_stops,
    quantities,
    touchdown_names,
)
from crushleg.units import express, plain, show

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case, Touchdown
    from crushleg.check import Checked
    from crushleg.landing.arrival import Arrival
    from crushleg.landing.touchdown import Landed
    from crushleg.margins import Margin
    from crushleg.report.layout import Block


def touchdowns(checked: Checked, units: str) -> Iterator[Block]:
    """One table per touchdown; its columns are low, nominal and high force of the girders."""
    yield Heading("Touchdowns")
    yield Paragraph(
        f"Stroke, energy, clearance and standing are judged {LOW}; loads and decelerations "
        f"{LARGEST}. Strokes include elastic shortening; energies are those of all legs."
    )
    for landed in checked.landings:
        yield Paragraph(f"{landed.name}: {_arrival(checked, landed, units)}", "bold")
        yield _touchdown(landed, units)
        endless = [
            level
            for level, needed in zip(LEVELS, landed.stroke_needed[:, 0], strict=True)
            if not math.isfinite(needed)
        ]
        if endless:
            yield Paragraph(f"At {' and '.join(endless)} force it {NEVER_STOPS}.", "bold")


def _arrival(checked: Checked, landed: Landed, units: str) -> str:
    """Mass, speeds and what else is given of a touchdown, and which legs are taken to be first."""
    given = arrival_facts(checked.case, landed.touchdown, landed.arrival, units)
    together = landed.touchdown.first_contact == "all"
    first = f"{landed.first} of {checked.case.vehicle.legs} legs first"
    return ", ".join([*given, "all legs at once" if together else first])


def arrival_facts(case: Case, touchdown: Touchdown, arrival: Arrival, units: str) -> list[str]:
    """Mass, speeds and what else is given of a touchdown; reserve speeds worked out."""
    speed = show(arrival.vertical, "speed", units)
    if touchdown.reserve:
        given = show(touchdown.vertical_speed, "speed", units)
        speed = f"{given} × {case.factors.speed_reserve:g} = {speed} (RESERVE, all speeds)"
    facts = [f"{show(arrival.mass, 'mass', units)}", f"vertical {speed}"]
    if touchdown.horizontal_speed > 0.0:
        facts.append(f"horizontal {show(arrival.horizontal, 'speed', units)}")
    if touchdown.slope > 0.0:
        facts.append(f"slope {show(touchdown.slope, 'angle')}")
    if touchdown.attitude != 0.0:
        facts.append(f"attitude {show(touchdown.attitude, 'angle')}")
    if touchdown.attitude_rate != 0.0:
        facts.append(f"attitude rate {show(arrival.rate, 'angular rate')}")
    if touchdown.thrust_to_weight > 0.0:
        facts.append(f"thrust {touchdown.thrust_to_weight:g} of the weight")
    return facts


def _touchdown(landed: Landed, units: str) -> Table:
    def line(label: str, values: FloatArray, dimension: str, judged: str = "") -> tuple[str, ...]:
        unit = common_unit(values[:, 0], dimension, units)
        least = NEGLIGIBLE if dimension == "length" else 0.0
        numbers = fixed([express(float(x) * (abs(x) >= least), unit) for x in values[:, 0]])
        return (f"{label}, {unit}", *numbers, judged)

    def ratio(label: str, values: FloatArray, judged: str = "") -> tuple[str, ...]:
        return (label, *(f"{x:.2f}" for x in values[:, 0]), judged)

    g0 = express(1.0, "g0")
    lines = [
        line("energy to the stop", landed.demand, "energy"),
        line("energy to end of usable stroke", landed.asked, "energy", "low"),
        line("stroke, most crushed leg", landed.stroke, "length", "low"),
    ]
    if landed.touchdown.first_contact != "all":
        lines.append(line("stroke, other legs", landed.others, "length"))
    if np.any(landed.bottomed):
        lines.append(line("stroke needed", landed.stroke_needed, "length", "low"))
    lines += [
        line("permanent crush", landed.crush, "length"),
        line("elastic energy returned", landed.returned, "energy"),
        ratio("folds used", landed.folds),
        line("peak force, axial, one leg", landed.peak, "force", "largest"),
        line("side load, one leg", landed.side_peak, "force"),
        ratio("gear load factor F/(m g0)", landed.gear_factor),
        ratio("deceleration (F - Wn)/(m g0)", landed.deceleration * g0, "largest"),
        ratio("accelerometer (F + T)/(m g0)", landed.accelerometer * g0),
        line("time to stop", landed.duration, "time"),
        ("bottomed", *("BOTTOMED" if x else "no" for x in landed.bottomed[:, 0]), ""),
    ]
    return Table(
        (
            Column(("girder force",), number=False),
            *(Column((level,)) for level in LEVELS),
            Column(("judged",), number=False),
        ),
        lines,
    )


def margins(checked: Checked, units: str) -> Iterator[Block]:
    """Every margin that is judged or shown, as they come."""
    shown = [i for i, margin in enumerate(checked.margins) if margin.margin is not None]
    yield Table(
        (
            Column(("check",), number=False, wraps=True),
            Column(("touchdown",), number=False, wraps=True),
            Column(("factor ×", "demand")),
            Column(("capability",)),
            Column(("margin",)),
            Column(("",), number=False, wraps=True),
        ),
        [_margin_line(checked.margins[i], units, governs=i == checked.governs) for i in shown],
        strong=shown.index(checked.governs),
    )
    yield Paragraph(
        "Energy: to the end of the usable stroke. Column: the force at the governing point of the "
        "stroke, where force × length left² is largest; it may be less than the peak force."
    )
    if any(not checked.margins[i].counts for i in shown):
        yield Paragraph(
            "Not counted: shown only. Reserve cases are judged on "
            f"{', '.join(check.replace('_', ' ') for check in RESERVE_COUNTS)}."
        )


def _margin_line(margin: Margin, units: str, *, governs: bool) -> tuple[str, ...]:
    value = float(margin.margin[0])  # type: ignore[index] # only margins that are there
    marks = {
        "governs": governs,
        "negative": not value >= 0.0,
        "never stops": never_stops(margin),
        "not counted": not margin.counts,
    }
    said = ", ".join(mark for mark, true in marks.items() if true)
    return (check_name(margin), margin.touchdown, *sides(margin, units), margin_text(value), said)


def sides(margin: Margin, units: str, digits: int = 3) -> tuple[str, str]:
    """Factor × demand (the factor only when not 1) and capability of a margin, with units."""
    both = [float(side[0]) for side in (margin.demand, margin.capability) if side is not None]
    demand, capability = quantities(both, margin.unit, units, digits)
    if demand == NO_VALUE:
        return demand, capability
    factor = "" if math.isclose(margin.factor, 1.0) else f"{plain(margin.factor)} × "
    return f"{factor}{demand}", capability


def not_judged(checked: Checked) -> Pairs | None:
    """Say what could not be judged, why and where; None when all was."""
    reasons: dict[tuple[str, str], list[str]] = {}
    for margin in checked.margins:
        if margin.margin is None:
            reasons.setdefault((check_name(margin), margin.reason), []).append(margin.touchdown)
    if not reasons:
        return None
    said = "; ".join(
        f"{check} ({_where(names, checked)}): {why}" for (check, why), names in reasons.items()
    )
    return Pairs([("Not judged", said)])


def _where(names: Sequence[str], checked: Checked) -> str:
    """Touchdowns of the balance, then those in motion."""
    moving = [name for name in names if name.endswith(MOTION)]
    balance = [name for name in names if not name.endswith(MOTION)]
    every = dict.fromkeys(m.touchdown for m in checked.margins if m.touchdown.endswith(MOTION))
    said = [touchdown_names(balance, checked.case)] if balance else []
    if moving:
        which = "all" if moving == list(every) else "; ".join(moving).replace(MOTION, "")
        said.append(f"in motion: {which}")
    return ", ".join(said)
