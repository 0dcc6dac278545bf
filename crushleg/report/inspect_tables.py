"""Tables of an inspection: readings, energy, causes of the band, what is left."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.girder.pattern import LEVELS
from crushleg.landing.back_calculation import speed_from_crush
from crushleg.report.inspect_words import per_cent
from crushleg.report.layout import Column, Table
from crushleg.report.words import NO_VALUE, common_unit, fixed, packed, small_length
from crushleg.trial.speed_band import CAUSES
from crushleg.units import express, plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.arrays import FloatArray
    from crushleg.trial.inspect import Inspection

TRIPLE = "low / nominal / high"


def numbers(values: FloatArray | Sequence[float], unit: str, places: int) -> list[str]:
    """SI values of a column in a unit, with the same decimals."""
    return [f"{round(express(float(x), unit), places) + 0.0:.{places}f}" for x in values]


def places_of(unit: str) -> int:
    """Decimals of a length read by tape: tenths of a mm, hundredths of an inch."""
    return 2 if unit == "in" else 1


def face_cells(found: Inspection, unit: str) -> list[str]:
    """Heights of the four faces of each leg, packed into one cell."""
    rows = [numbers(row, unit, places_of(unit)) for row in found.heights.faces]
    wide = max(len(text) for row in rows for text in row)
    return [" ".join(text.rjust(wide) for text in row) for row in rows]


def fold_cells(found: Inspection) -> list[str]:
    """Folds by the crush of each leg, and counted."""
    counted = found.heights.folds
    return [
        f"{used:.1f} / {NO_VALUE if np.isnan(n) else plain(float(n))}"
        for used, n in zip(found.left.folds, counted, strict=True)
    ]


def leg_names(found: Inspection) -> list[str]:
    """Legs by their number."""
    return [str(i + 1) for i in range(found.faces.crush.size)]


def readings_table(found: Inspection, units: str) -> Table:
    """Heights as read, crush with its error, folds, tilt."""
    unit = small_length(units)
    crush = numbers(found.faces.crush, unit, places_of(unit))
    error = numbers(found.faces.error, unit, places_of(unit))
    return Table(
        (
            Column(("leg",)),
            Column((f"heights, {unit}", "front right back left")),
            Column(("crush that", f"stays, {unit}")),
            Column(("folds: crush", "/ counted")),
            Column(("tilt", "deg")),
        ),
        list(
            zip(
                leg_names(found),
                face_cells(found, unit),
                [f"{c} ± {e}" for c, e in zip(crush, error, strict=True)],
                fold_cells(found),
                numbers(found.faces.tilt, "deg", 1),
                strict=True,
            )
        ),
    )


def energy_table(found: Inspection, units: str) -> Table:
    """Energy that folded each girder, and what sprang back."""
    legs = found.band.legs
    unit = common_unit(legs.energy.ravel().tolist(), "energy", units)
    back = common_unit(legs.spring.ravel().tolist(), "energy", units)
    force = common_unit(legs.force.ravel().tolist(), "force", units)
    return Table(
        (
            Column(("leg",)),
            Column((f"energy absorbed, {unit}", TRIPLE)),
            Column(("elastic,", f"returned {back}")),
            Column(("force at the", f"stop, {force}")),
        ),
        list(
            zip(
                leg_names(found),
                packed(legs.energy.T.tolist(), unit),
                fixed([express(float(x), back) for x in legs.spring[1]]),
                fixed([express(float(x), force) for x in legs.force[1]]),
                strict=True,
            )
        ),
    )


def ledger(found: Inspection) -> list[tuple[str, FloatArray | None]]:
    """Energy of the landing by entry, at low, nominal and high force [J]; ``None`` is unknown."""
    legs, band = found.band.legs, found.band
    folded, spring = legs.energy.sum(axis=-1), legs.spring.sum(axis=-1)
    rubbed = legs.work.sum(axis=-1) - folded - spring
    other = None if found.asked.other is None else np.full(3, found.unsure.other)
    weight = -found.stopped.net_weight * band.travel
    return [
        ("folding of the girders", folded),
        ("elastic, sprung back after the stop", spring),
        ("friction of pads and guides", rubbed),
        (
            "not in the legs (pads, soil, sliding, joints)",
            None if found.asked.other is None else other,
        ),
        ("less the net weight's work on the way down", weight),
        ("kinetic energy at touchdown", np.maximum(band.energy + weight, 0.0)),
    ]


def ledger_table(found: Inspection, units: str) -> Table:
    """Entries of the energy balance, with the decimals that the largest needs."""
    entries = ledger(found)
    most = max(float(np.abs(value).max()) for _, value in entries if value is not None)
    unit = common_unit([most], "energy", units)
    places = decimals(express(most, unit))
    cells = [
        "unknown" if value is None else " / ".join(numbers(value, unit, places))
        for _, value in entries
    ]
    return Table(
        (Column(("energy of the landing",), number=False, wraps=True), Column((unit, TRIPLE))),
        [(name, cell) for (name, _), cell in zip(entries, cells, strict=True)],
        strong=len(entries) - 1,
    )


def decimals(largest: float) -> int:
    """Decimals that give a number four digits, and none beyond the point it needs.

    >>> decimals(3.764), decimals(284.1), decimals(948749.3)
    (3, 1, 0)
    """
    return max(3 - int(np.floor(np.log10(largest))), 0) if largest > 0.0 else 0


def cause_rows(found: Inspection) -> list[tuple[str, FloatArray, FloatArray, float]]:
    """Cause, energy down and up [J], speed down and up [m/s], share of the squares."""
    band, stopped = found.band, found.stopped
    squares = (band.parts**2).mean(axis=0)
    total = max(float(squares.sum()), 1e-300)
    rows = []
    for k, name in enumerate(CAUSES):
        energy = band.parts[:, k]
        at = band.energy[1] + np.array([-1.0, 1.0]) * energy
        speed = speed_from_crush(stopped.mass, stopped.net_weight, at, band.travel[1])
        rows.append((name, energy, speed - band.speed[1], float(squares[k]) / total))
    return rows


def causes_table(found: Inspection, units: str) -> Table:
    """Causes of the band of the speed."""
    rows = cause_rows(found)
    unit = common_unit([e for row in rows for e in row[1]], "energy", units)
    speed = common_unit([float(found.band.speed[1])], "speed", units)
    energies = fixed([express(float(e), unit) for row in rows for e in row[1]])
    return Table(
        (
            Column(("cause", "95 % limits"), number=False),
            Column((f"energy, {unit}", "down / up")),
            Column((f"speed, {speed}", "down / up")),
            Column(("share of", "the squares")),
        ),
        [
            (
                name,
                f"{energies[2 * k]} / {energies[2 * k + 1]}",
                " / ".join(f"{express(float(v), speed):+.3f}" for v in change),
                f"{100.0 * share:.1f} %",
            )
            for k, (name, _, change, share) in enumerate(rows)
        ],
    )


def left_table(found: Inspection, units: str) -> Table:
    """Stroke and energy left in every leg by the curve, and what it holds at low force."""
    left = found.left
    length = small_length(units)
    unit = common_unit(left.energy.ravel().tolist(), "energy", units)
    force = common_unit(left.hold.tolist(), "force", units)
    shares = left.stroke / float(found.crush.usable[0])
    stroke = numbers(left.stroke, length, places_of(length))
    return Table(
        (
            Column(("leg",)),
            Column(("stroke left", length)),
            Column(("of usable",)),
            Column((f"energy left, {unit}", TRIPLE)),
            Column(("low mean", f"force, {force}")),
        ),
        list(
            zip(
                leg_names(found),
                stroke,
                map(per_cent, shares.tolist()),
                packed(left.energy.T.tolist(), unit),
                fixed([express(float(x), force) for x in left.hold]),
                strict=True,
            )
        ),
    )


def levels(values: FloatArray) -> dict[str, float]:
    """Low, nominal, high by name."""
    return {name: float(x) for name, x in zip(LEVELS, values, strict=True)}
