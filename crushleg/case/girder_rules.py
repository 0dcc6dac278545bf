"""Rules between section, alloy and leg: each reports what does not fit."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from crushleg.units import show

if TYPE_CHECKING:
    from crushleg.case.drafts import Drafts
    from crushleg.case.lines import Path
    from crushleg.case.sheet import Sheet

ROOM = 293.0
ROOM_SPAN = 8.0
"""Strengths of a datasheet hold at room temperature, 293 K ± 8 K (common practice)."""

LEAST_LIFT = 0.05
MOST_GUIDE = 0.9
"""Where the force of a canted leg grows without bound (judgement)."""


def wall_fits_the_section(drafts: Drafts, sheet: Sheet) -> None:
    """Every wall is thinner than half the narrower side."""
    half = min(drafts.girder["width"], drafts.girder["depth"]) / 2
    for wall, path in _walls(drafts):
        if wall >= half:
            write = f"less than {_mm(half)}, half the narrower side"
            sheet.report(path, f"a wall of {_mm(wall)}", write)


def tolerance_is_less_than_the_wall(drafts: Drafts, sheet: Sheet) -> None:
    """Leave some of the thinnest wall at the tolerance, measured or drawn."""
    tolerance = drafts.girder["wall_tolerance"]
    thinnest, path = min(_walls(drafts), key=lambda one: one[0])
    if tolerance < thinnest:
        return
    if "wall_tolerance" in drafts.girder.given:
        write = f"less than the wall, {_mm(thinnest)}"
        sheet.report(("girder", "wall_tolerance"), f"± {_mm(tolerance)}", write)
    else:
        write = f"more than its tolerance, {_mm(tolerance)}, or a wall_tolerance below it"
        sheet.report(path, f"a wall of {_mm(thinnest)}", write)


def corner_radius_fits(drafts: Drafts, sheet: Sheet) -> None:
    """Outside radius: 0 (sharp), or from the wall to half the narrower side."""
    girder = drafts.girder
    radius, wall = girder["corner_radius"], girder["wall"]
    half = min(girder["width"], girder["depth"]) / 2
    if wall < half and radius != 0.0 and not wall <= radius <= half:
        write = f'"0 mm" (sharp) or {_mm(wall)}, the wall, to {_mm(half)}, half the narrower side'
        sheet.report(("girder", "corner_radius"), _mm(radius), write)


def wall_steps_ascend(drafts: Drafts, sheet: Sheet) -> None:
    """Wall steps start one above the other, inside the length."""
    below = 0.0
    top = drafts.girder["length"]
    for step in drafts.wall_steps:
        start, path = step["from"], (*step.path, "from")
        if start >= top:
            sheet.report(path, _mm(start), f"less than the length, {_mm(top)}")
        if start <= below:
            sheet.report(path, _mm(start), f"more than {_mm(below)}: steps ascend from the foot")
        below = start if start < top else below


def seam_is_answered(drafts: Drafts, sheet: Sheet) -> None:
    """Heat-treated tempers lose strength at a weld: silence about the seam is refused."""
    if (
        drafts.datasheet().heat_treated
        and drafts.seam is None
        and "seam" not in drafts.girder.given
    ):
        write = 'seam = "none" in [girder], or [girder.seam] with strength_factor = 0.6'
        read = f"no seam, though a weld weakens {drafts.datasheet().name}"
        sheet.report(("girder", "seam"), read, write)


def measured_strengths_ascend(drafts: Drafts, sheet: Sheet) -> None:
    """Ultimate at least yield, once certificate values have replaced those of the datasheet."""
    if drafts.measured is None:
        return
    datasheet, measured = drafts.datasheet(), drafts.measured
    lower = measured["yield_strength"] or datasheet.yield_strength.nominal
    upper = measured["ultimate_strength"] or datasheet.ultimate_strength.nominal
    if upper < lower:
        key = "yield_strength" if measured["ultimate_strength"] is None else "ultimate_strength"
        read = f"yield {_mpa(lower)} above ultimate {_mpa(upper)}"
        write = "the yield and ultimate strength of one certificate"
        sheet.report((*measured.path, key), read, write)


def datasheet_covers_the_temperature(drafts: Drafts, sheet: Sheet) -> None:
    """Away from room temperature the datasheet must know the strengths, within its range."""
    kelvin = drafts.girder["temperature"]
    if abs(kelvin - ROOM) <= ROOM_SPAN:
        return
    known = [row.temperature for row in drafts.datasheet().strength_with_temperature]
    path = ("girder", "temperature")
    if not known:
        read = f"{_degrees(kelvin)}, but the datasheet has no [strength_with_temperature]"
        sheet.report(path, read, "285 K to 301 K, or a datasheet with that table")
    elif not known[0] <= kelvin <= known[-1]:
        write = f"{known[0]:g} K to {known[-1]:g} K, the range of the datasheet"
        sheet.report(path, _degrees(kelvin), write)


def datasheet_knows_the_rate(drafts: Drafts, sheet: Sheet) -> None:
    """``rate = true`` needs the pair of the datasheet."""
    if drafts.girder["rate"] and drafts.datasheet().rate is None:
        read = f"true, but {drafts.datasheet().name} has no [rate]"
        sheet.report(("girder", "rate"), read, "rate = false, or a datasheet with [rate]")


def leg_slides(drafts: Drafts, sheet: Sheet) -> None:
    """Cant and friction leave a force that crushes: cos γ − μ sin γ, μ_g tan(γ + atan μ)."""
    leg = drafts.leg
    cant, friction, guide = leg["cant"], leg["pad_friction"], leg["guide_friction"]
    lift = math.cos(cant) - friction * math.sin(cant)
    side = math.tan(cant + math.atan(friction))
    if lift <= LEAST_LIFT:
        read = f"cant {math.degrees(cant):g} deg with pad_friction {friction:g}: the leg jams"
        sheet.report(("leg", "cant"), read, "a smaller cant or friction")
    elif guide * side >= MOST_GUIDE:
        read = f"guide_friction {guide:g} times side load {side:.2f}: the leg jams in its guide"
        sheet.report(("leg", "guide_friction"), read, f"less than {MOST_GUIDE / side:.2f}")


def free_length_holds_the_girder(drafts: Drafts, sheet: Sheet) -> None:
    """From pad to hold is at least the length that may fold."""
    free, top = drafts.leg["free_length"], drafts.girder["length"]
    if free is not None and free < top:
        write = f"at least the girder's length, {_mm(top)}"
        sheet.report(("leg", "free_length"), _mm(free), write)


def _walls(drafts: Drafts) -> list[tuple[float, Path]]:
    """Every wall, drawn or measured, and the path of its field."""
    walls = [(wall, path) for _, wall, path in drafts.walls()]
    if drafts.measured is not None and drafts.measured["wall"] is not None:
        walls.append((drafts.measured["wall"], (*drafts.measured.path, "wall")))
    return walls


def _mm(value: float) -> str:
    return show(value, "length", digits=5)


def _mpa(value: float) -> str:
    return show(value, "stress", digits=4)


def _degrees(kelvin: float) -> str:
    return f"{kelvin:g} K"
