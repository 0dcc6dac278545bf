"""What a touchdown assumes and where it leaves the tested range, in words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from crushleg.landing.afterwards import standing_after
from crushleg.said import Quantity, Said

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.case.records import Case
    from crushleg.landing.touchdown import Landed

OFF_AXIS = math.radians(5.0)


def landing_cautions(case: Case, landings: Sequence[Landed]) -> Iterator[str]:
    """Cautions of the vehicle and of every touchdown, first girder.

    Parameters
    ----------
    case : Case
    landings : sequence of Landed

    Yields
    ------
    str
    """
    yield from leg_cautions(case)
    yield from balance_cautions(case, landings)


def balance_cautions(case: Case, landings: Sequence[Landed], says: str = "") -> Iterator[str]:
    """Cautions of touchdowns by energy balance, ``says`` before each text.

    Parameters
    ----------
    case : Case
    landings : sequence of Landed
    says : str, optional

    Yields
    ------
    str
    """
    if case.leg.travel_ratio is not None:
        yield (
            f"{says}Linkage: forces by virtual work, no friction under the pad, strut without "
            "side load."
        )
    together = [x.name for x in landings if x.touchdown.first_contact == "all"]
    if case.vehicle.legs > 1 and together:
        yield (
            f"{says}All legs are taken to touch together ({', '.join(together)}). On a slope or "
            "with an attitude the first leg takes far more: give first_contact."
        )
    hard = [x.name for x in landings if bool(x.bottomed[:, 0].any())]
    if hard:
        yield (
            f"{says}A leg bottoms ({', '.join(hard)}): its load is an elastic estimate, and the "
            "structure above is no longer protected."
        )
    for landed in landings:
        yield from (f"{landed.name}: {says}" + text for text in _touchdown(case, landed))


def leg_cautions(case: Case) -> Iterator[str]:
    """Cautions of the leg, however the touchdown is worked out."""
    leg = case.leg
    if leg.cant > OFF_AXIS:
        yield "Load off the girder axis by more than about 5 to 8°: outside tested range."
    if leg.travel_ratio is not None:
        return
    if leg.cant > 0.0 and leg.pad_friction > 0.0:
        yield "Canted leg: part of the energy goes into pad friction; check pad_friction = 0 too."
    elif leg.side_load == "guide" and leg.pad_friction > 0.0:
        yield "A guide carries the side load: size the guide for it (friction × pad load)."


def _touchdown(case: Case, landed: Landed) -> Iterator[str]:
    touchdown = landed.touchdown
    if touchdown.first_contact != "all":
        yield "first leg(s) and then all, an energy estimate, not a motion."
    if touchdown.thrust_to_weight > 0.0:
        yield "thrust is held to the stop; tip-over and standing take it as off."
    if landed.arrival.horizontal > 0.0 and case.vehicle.legs > 2:
        yield (
            "the speed that just tips takes legs that do not spring back; where they do, a "
            "vehicle tipped from 0.85 of it in `land`."
        )
    if touchdown.slope > 0.0 and landed.arrival.closing > landed.arrival.vertical:
        closing = Quantity(float(landed.arrival.closing), "speed")
        yield Said("closing speed normal to the slope ", closing, ".")
    weight = standing_after(case.vehicle, case.leg, landed)
    if not bool(landed.bottomed[0, 0]) and float(landed.at_stop[0, 0]) < weight:
        yield (
            "the low curve stops in a trough below the share of weight; the leg settles "
            "further by part of a fold."
        )
