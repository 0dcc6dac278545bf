"""Tables of a prediction: limits, instruments, faces to fill in, crush to energy and speed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from crushleg.report.layout import Column, Pairs, Table
from crushleg.report.words import common_unit, fixed, packed, quantities, small_length
from crushleg.trial.instruments import RANGE, rounded_up
from crushleg.trial.predict import back, distinct
from crushleg.units import display_unit, express, plain, show

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.trial.predict import Event, Prediction

TRIPLE = "low / nominal / high"
LINES = 20
FACES = ("front", "right", "back", "left")
BLANK = "......"
MOST_EVENTS, LONGEST_HEAD = 3, 11
"""So many events have their predicted height beside the measured ones."""


def limits_table(prediction: Prediction, units: str) -> Table:
    """Limits that reject a leg, abort a drop, or say that it did not go as predicted."""
    rejects, length = prediction.rejects, small_length(units)
    crush, height, faces = (
        f"{plain(express(value, length))} {length}"
        for value in (rejects.crush, rejects.height, rejects.faces)
    )
    lines = [
        ("reject a leg", f"crush over {crush}, height under {height}"),
        ("look closer", f"opposite faces of a leg more than {faces} apart (5° of tilt)"),
    ]
    for event, names in distinct(prediction):
        speed = show(event.speed_limit, "speed", units)
        if event.height_limit is not None and math.isfinite(event.height_limit):
            speed += f", a fall of {show(event.height_limit, 'length', units)}"
        when = f"faster than {speed}: a leg of low force would reach its limit"
        if event.speed_limit <= 0.0:
            when = "always: the weight alone takes a leg of low force to its limit"
        lines.append((f"abort ({', '.join(names)})", when))
    lines += [(f"not as predicted: {x.name}", _unexpected(x, units)) for x in prediction.events]
    return Table(
        (Column(("limit",), number=False, wraps=True), Column(("when",), number=False, wraps=True)),
        lines,
    )


def _unexpected(event: Event, units: str) -> str:
    """Measured values that no girder of the band would show."""
    landed, length = event.landed, small_length(units)
    alike = len(event.groups) == 1
    heights = ", ".join(
        _range(group.height, length) + ("" if alike else f" ({leg_names(group.legs)})")
        for group in event.groups
    )
    force, acceleration = (
        quantities([float(values.max())], unit, units)[0]
        for values, unit in ((landed.peak, "N"), (landed.deceleration, "m/s2"))
    )
    loads = f"deceleration over {acceleration}; one leg over {force}"
    return loads if landed.bottomed.all() else f"height outside {heights}; {loads}"


def leg_names(legs: tuple[int, ...]) -> str:
    """Name legs by their numbers.

    >>> leg_names((1,)), leg_names((2, 3, 4)), leg_names((1, 2))
    ('leg 1', 'legs 2 to 4', 'legs 1 and 2')
    """
    if len(legs) == 1:
        return f"leg {legs[0]}"
    return f"legs {legs[0]} {'and' if len(legs) == 2 else 'to'} {legs[-1]}"


def _range(values: FloatArray, unit: str) -> str:
    texts = fixed([express(float(x), unit) for x in (values.min(), values.max())])
    return f"{' to '.join(texts)} {unit}"


def instrument_pairs(prediction: Prediction, units: str) -> Pairs:
    """Ranges, filter class and sample rate."""
    found = prediction.instruments
    leg, cell = (quantities([x or 0.0], "N", units)[0] for x in (found.leg, found.cell))
    accelerometer = quantities([found.accelerometer], "m/s2", units)[0]
    travel = quantities([found.displacement], "m", units)[0]
    cells = [] if found.cell is None else [("load cell", f"{cell}, all legs of the rig")]
    shares = ", ".join(f"{one}: {100.0 * share:.0f} %" for one, share in found.shown.items())
    shown = [("crest kept", shares)] if shares else []
    return Pairs(
        [
            ("ranges", f"{RANGE:g} × the highest predicted (judgement)"),
            ("force of a leg", leg),
            *cells,
            ("accelerometer", accelerometer),
            ("displacement", travel),
            ("fold rate", f"{found.fold_frequency:.0f} Hz, fastest"),
            (
                "filter class",
                f"{found.peak_class} for peaks, {found.mean_class} to integrate (SAE J211)",
            ),
            *shown,
            ("sample rate", f"{found.sample_rate:.0f} Hz or more, same class on all channels"),
        ]
    )


def standin_table(prediction: Prediction, units: str) -> Table:
    """Speed, fall and falling mass with which the rig stands for each touchdown."""
    found = prediction.standins
    unit = common_unit(np.concatenate([one.mass for one in found]), "mass", units)
    falls = quantities([float(one.height[1]) for one in found], "m", units, 4)
    masses = packed([one.mass.tolist() for one in found], unit, 4)
    free = fixed([express(float(one.free_mass[1]), unit) for one in found], 4)
    return Table(
        (
            Column(("touchdown",), number=False, wraps=True),
            Column(("speed",)),
            Column(("fall",)),
            Column((f"mass in this rig, {unit}", TRIPLE)),
            Column(("no friction", "nor lift")),
        ),
        [
            (one.name, show(one.speed, "speed", units), *rest)
            for one, *rest in zip(found, falls, masses, free, strict=True)
        ],
    )


def faces_table(prediction: Prediction, units: str, blank: str = BLANK) -> Table:
    """Predicted height of the faces of every leg, and room for what is measured."""
    length, events = small_length(units), prediction.events[:MOST_EVENTS]
    columns = [
        fixed([express(float(g.height[1]), length) for g in event.groups for _ in g.legs])
        for event in events
    ]
    return Table(
        (
            Column(("leg",), number=False),
            *(Column(("at", _short(event.name))) for event in events),
            Column(("before",), number=False),
            *(Column((face,), number=False) for face in FACES),
        ),
        [
            (str(leg + 1), *heights, *(blank for _ in ("before", *FACES)))
            for leg, heights in enumerate(zip(*columns, strict=True))
        ],
    )


def _short(name: str) -> str:
    return name if len(name) <= LONGEST_HEAD else f"{name[: LONGEST_HEAD - 1]}…"


def readings_note(event: Event, names: tuple[str, ...], units: str) -> str:
    """Say what the table is for, with the equation behind it."""
    legs = event.stopped.legs
    mass = show(event.stopped.mass, "mass", units, digits=4)
    weight = show(event.stopped.net_weight, "force", units, digits=4)
    together = "one leg" if legs == 1 else f"{legs} legs that crush alike"
    return (
        f"{', '.join(names)}: {mass} on {together}, net weight Wn {weight}. "
        "v = √(2 (ΣE - Wn z)/m), E work of one leg, z vertical travel at the bottom."
    )


def reading_crush(usable: float, units: str) -> FloatArray:
    """Round values of crush, in the unit of display, up to the usable stroke [m]."""
    one = 1.0 / express(1.0, small_length(units))
    step = rounded_up(usable / one / LINES) * one
    return np.asarray(step * np.arange(math.floor(usable / step + 1e-9) + 1.0))


def speed_unit(units: str) -> str:
    """Name the unit in which speeds are shown."""
    return display_unit(0.0, "speed", units)


def readings_table(prediction: Prediction, event: Event, units: str) -> Table:
    """From crush that stays to height, folds, work of one leg and speed."""
    checked, length = prediction.checked, small_length(units)
    at = reading_crush(float(checked.crush.usable[0]), units)
    found = back(prediction, event, at)
    unit = common_unit(found.energy.ravel(), "energy", units)
    free = prediction.rejects.crush + prediction.rejects.height
    columns = [
        [plain(express(float(x), length), 4) for x in found.crush],
        fixed([express(free - float(x), length) for x in found.crush]),
        _triples(found.energy, unit),
        _triples(found.speed, speed_unit(units)),
    ]
    columns[0][0] = "begins"
    return Table(
        (
            Column(("crush", length)),
            Column(("height", length)),
            Column((f"work of one leg, {unit}", TRIPLE)),
            Column((f"speed, {speed_unit(units)}", TRIPLE)),
        ),
        list(zip(*columns, strict=True)),
    )


def _triples(values: FloatArray, unit: str) -> list[str]:
    """Pack low, nominal, high; the first line, where crush begins, as fine as the others."""
    numbers = values.T * express(1.0, unit)
    rest = fixed(numbers[1:].ravel().tolist())
    places = len(rest[0].partition(".")[2]) if rest else 3
    texts = [[f"{x:.{places}f}" for x in line] for line in numbers.tolist()]
    wide = [max(len(line[k]) for line in texts) for k in range(3)]
    return [" / ".join(t.rjust(w) for t, w in zip(line, wide, strict=True)) for line in texts]
