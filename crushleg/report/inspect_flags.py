"""What an inspection points at first, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.report.inspect_words import legs_named
from crushleg.trial.faces import lowest_face
from crushleg.trial.judged import fastest, judged, speed_if_tilted
from crushleg.units import plain, show

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.arrays import BoolArray
    from crushleg.trial.inspect import Inspection
    from crushleg.trial.judged import Judged

MANY = 6
"""Legs that are named with a detail each."""


def flags(found: Inspection, units: str) -> list[str]:
    """Say what must be looked at first; empty if nothing.

    Parameters
    ----------
    found : Inspection
    units : str
        "si" or "us".

    Returns
    -------
    list of str
    """
    seen = judged(found)
    return [
        *_limit_flags(found, seen, units),
        *_folding_flags(found, seen, units),
        *_unequal_flags(found, seen, units),
    ]


def _limit_flags(found: Inspection, seen: Judged, units: str) -> Iterator[str]:
    """Say what is at its end or beyond a limit."""
    left, rest, limits = found.left, found.rest, found.case.limits
    if seen.solid.any():
        yield f"{legs_named(seen.solid)}: no stroke left within the reading error."
    over = seen.over & ~seen.solid
    if over.any():
        part = f"{limits.stroke_fraction:g}"
        yield f"{legs_named(over)}: crushed beyond {part} of the usable stroke."
    if seen.standing.any():
        load = show(rest.load, "force", units)
        least = show(float(left.hold.min()), "force", units)
        may = f"{legs_named(seen.standing)} may settle further"
        yield f"{may}: {load} may stand on one leg, its low mean force is {least}."
    if found.sank:
        yield "The force at the stop is below the net weight: the legs sank on after it."
    if seen.lean and rest.lean is not None and limits.lean_max is not None:
        lean, limit = (show(x, "angle", units) for x in (rest.lean, limits.lean_max))
        yield f"Lean {lean} is above lean_max, {limit}."
    if seen.clearance and rest.clearance is not None:
        clear, limit = (show(x, "length", units) for x in (rest.clearance, limits.clearance_min))
        yield f"Clearance {clear} is below clearance_min, {limit}."
    if seen.fast:
        limit = show(fastest(found), "speed", units)
        yield f"The speed is above that of every touchdown of the case, {limit}."


def _folding_flags(found: Inspection, seen: Judged, units: str) -> Iterator[str]:
    """Say what did not fold as computed, or was not read well."""
    faces, left = found.faces, found.left
    if faces.tilted.any():
        tilts = [show(float(tilt), "angle", units, 2) for tilt in faces.tilt]
        details = [f"{tilt}, low at the {lowest_face(faces, i)}" for i, tilt in enumerate(tilts)]
        which = _each(faces.tilted, details, f"up to {tilts[int(faces.tilt.argmax())]}")
        yield (
            f"Crushed tilted: {which}. Folding may have turned into bending; the curve holds for "
            "straight folding."
        )
    if seen.folds.any():
        details = [
            f"{plain(float(n))} counted, {used:.1f} by its crush"
            for n, used in zip(found.heights.folds, left.folds, strict=True)
        ]
        which = _each(seen.folds, details, "see the table")
        yield (
            f"Folds do not agree: {which}. It did not fold as computed, or a height or the count "
            "is wrong."
        )
    if faces.twisted.any():
        yield f"{legs_named(faces.twisted)}: the faces do not lie in one plane; read them again."


def _unequal_flags(found: Inspection, seen: Judged, units: str) -> Iterator[str]:
    """Say how the legs differ."""
    faces = found.faces
    if seen.unequal:
        least, most = (int(f(faces.crush)) for f in (np.argmin, np.argmax))
        apart = show(float(np.ptp(faces.crush)), "length", units)
        more = f"leg {most + 1} {apart} more than leg {least + 1}"
        yield f"Unequal crush: {more}.{_tilted(found, units)}"
    if seen.uncrushed.any():
        yield f"{legs_named(seen.uncrushed)}: no crush beyond the reading error."
    if seen.off_plane.any():
        most_off = show(float(np.abs(found.rest.off_plane).max()), "length", units)
        yield (
            f"{legs_named(seen.off_plane)}: up to {most_off} off the plane of all legs; they may "
            "not all carry."
        )


def _each(which: BoolArray, details: Sequence[str], instead: str) -> str:
    """Name legs with the detail of each; of many with one detail for all."""
    legs = np.flatnonzero(which)
    if legs.size > MANY:
        return f"{legs_named(which).lower()} ({instead})"
    return "leg " + ", ".join(f"{i + 1} ({details[int(i)]})" for i in legs)


def _tilted(found: Inspection, units: str) -> str:
    """Say what the speed would be, had the vehicle come down out of level."""
    speed = speed_if_tilted(found)
    if speed is None:
        return ""
    return (
        f" If it touched down as far out of level as it leans now, its weight did more work and "
        f"the speed is {show(speed, 'speed', units)}."
    )
