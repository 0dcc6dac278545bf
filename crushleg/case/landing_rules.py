"""Rules between touchdown, standing, limits and vehicle: each reports what is not given."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from crushleg.case.drafts import ask

if TYPE_CHECKING:
    from crushleg.case.drafts import Drafts
    from crushleg.case.sheet import Sheet
    from crushleg.case.tables import Draft

LEAST_GAP = math.radians(0.1)
"""Legs nearer than this stand at one place."""
TIPPING = ("centre_of_gravity_height", "pad_circle_radius", "radius_of_gyration")


def first_contact_is_described(touchdown: Draft, drafts: Drafts, sheet: Sheet) -> None:
    """One or two legs first: the gap under the others and the whole vehicle must be known."""
    contact = touchdown["first_contact"]
    path = (*touchdown.path, "first_contact")
    if contact == "all":
        return
    if drafts.vehicle["legs"] < 3:
        read = f'"{contact}" on {drafts.vehicle["legs"]} legs'
        sheet.report(path, read, '"all": with fewer than three legs none is apart')
        return
    ask(drafts.vehicle, TIPPING, path, f'"{contact}"', sheet)
    if abs(touchdown["attitude"]) + touchdown["slope"] <= 0.0:
        read = f'"{contact}": the far pads\' gap is not given'
        write = "attitude or slope, which say how high the other pads still are"
        sheet.report(path, read, write)


def tipping_is_described(touchdown: Draft, drafts: Drafts, sheet: Sheet) -> None:
    """Horizontal speed or slope may tip the vehicle over: its geometry must be known."""
    if drafts.vehicle["legs"] < 3:
        if touchdown["horizontal_speed"] > 0.0:
            read = (
                f"a horizontal speed on {drafts.vehicle['legs']} legs, which have no tipping edge"
            )
            path = (*touchdown.path, "horizontal_speed")
            sheet.report(path, read, "no horizontal_speed, or three legs or more")
        return
    for key in ("horizontal_speed", "slope"):
        if touchdown[key] > 0.0:
            because = f"{key} above zero (tip-over)"
            ask(drafts.vehicle, TIPPING, (*touchdown.path, key), because, sheet)


def turning_has_an_inertia(touchdown: Draft, drafts: Drafts, sheet: Sheet) -> None:
    """Energy of turning goes by the radius of gyration."""
    if touchdown["attitude_rate"] != 0.0:
        path = (*touchdown.path, "attitude_rate")
        ask(drafts.vehicle, ("radius_of_gyration",), path, "attitude_rate", sheet)


def azimuths_are_those_of_the_legs(drafts: Drafts, sheet: Sheet) -> None:
    """Legs placed freely: one azimuth each, no two alike."""
    azimuths, legs = drafts.vehicle["leg_azimuths"], drafts.vehicle["legs"]
    if azimuths is None:
        return
    path = ("vehicle", "leg_azimuths")
    if len(azimuths) != legs:
        sheet.report(path, f"{len(azimuths)} angles for {legs} legs", "one angle per leg")
    places = sorted(azimuth % math.tau for azimuth in azimuths)
    gaps = [b - a for a, b in pairwise([*places, places[0] + math.tau])] if places else []
    if len(azimuths) > 1 and min(gaps) < LEAST_GAP:
        sheet.report(path, "two legs at one place", "another angle for each leg")


def bearing_has_an_area(drafts: Drafts, sheet: Sheet) -> None:
    """Ground that gives carries pressure times the pad's area."""
    if drafts.ground is not None and drafts.leg["pad_area"] is None:
        sheet.report(("ground",), "[ground], without pad_area", 'pad_area = "0.16 m2" in [leg]')


def names_are_unique(drafts: Drafts, sheet: Sheet) -> None:
    """Touchdowns are told apart by name, and so are standing cases."""
    for tables in (drafts.touchdowns, drafts.standings):
        seen: set[str] = set()
        for table in tables:
            name = table.get("name")
            if name in seen:
                read = f'"{name}", which is the name of an earlier one'
                sheet.report((*table.path, "name"), read, "another name")
            seen |= {name} if name else set()


def standing_is_described(drafts: Drafts, sheet: Sheet) -> None:
    """Side acceleration overturns about the pads: their circle and the height must be known."""
    keys = ("centre_of_gravity_height", "pad_circle_radius")
    for standing in drafts.standings:
        if standing["side_acceleration"] > 0.0:
            path = (*standing.path, "side_acceleration")
            ask(drafts.vehicle, keys, path, "side_acceleration above zero", sheet)


def clearance_limit_has_a_clearance(drafts: Drafts, sheet: Sheet) -> None:
    """Clearance that must be left needs the clearance there is."""
    if drafts.limits["clearance_min"] > 0.0:
        path = ("limits", "clearance_min")
        ask(drafts.vehicle, ("clearance",), path, "clearance_min", sheet)


def lean_limit_has_a_circle(drafts: Drafts, sheet: Sheet) -> None:
    """Uneven crush leans the vehicle by the pad circle."""
    if drafts.limits["lean_max"] is not None:
        path = ("limits", "lean_max")
        ask(drafts.vehicle, ("pad_circle_radius",), path, "lean_max", sheet)


def clearance_radius_has_a_circle(drafts: Drafts, sheet: Sheet) -> None:
    """Points off the axis come down by the lean."""
    if drafts.vehicle["clearance_radius"] > 0.0:
        path = ("vehicle", "clearance_radius")
        ask(drafts.vehicle, ("pad_circle_radius",), path, "clearance_radius above zero", sheet)


def pressure_limit_has_an_area(drafts: Drafts, sheet: Sheet) -> None:
    """Pressure needs the pad's area."""
    if drafts.limits["pad_pressure_max"] is not None and drafts.leg["pad_area"] is None:
        path = ("limits", "pad_pressure_max")
        sheet.report(path, "pad_pressure_max, without pad_area", 'pad_area = "0.16 m2" in [leg]')
