"""What a prediction assumes and does not give, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.girder.bands import BAND_PROBABILITY
from crushleg.said import Quantity, Said

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.case.records import Case
    from crushleg.check import Checked
    from crushleg.landing.touchdown import Landed
    from crushleg.trial.instruments import Instruments

STAND_CLEAR = (
    "Nobody under or beside a raised mass, nor near legs that have crushed: they stand on folded "
    "metal and may settle further without warning."
)
HELD = 0.01
"""Share of the weight that friction and lift hold, from which a record must know it."""
SAME_SPEED = 0.02
"""Share by which a drop's speed may differ from the one the strain rate is taken at."""


def prediction_cautions(
    checked: Checked, landings: Sequence[Landed], settings: Instruments, over: Sequence[str]
) -> Iterator[str]:
    """Cautions of a prediction, beside those of the check.

    Parameters
    ----------
    checked : Checked
    landings : sequence of Landed
        What is predicted: touchdowns, or drops.
    settings : Instruments
    over : sequence of str
        Names of those whose own speed takes a leg of low force beyond its limit.

    Yields
    ------
    str
    """
    yield STAND_CLEAR
    yield (
        f"The band holds about {100.0 * BAND_PROBABILITY:g} % of girders. Errors of speed, mass, "
        "height and reading come on top."
    )
    yield (
        "The short impact of pad, foot and fittings is not predicted: filter before you compare "
        "peaks. The mass of the girder is left out."
    )
    yield (
        "Speed read back from crush is a lower bound as long as energy taken elsewhere (pads, "
        "soil, joints, structure) is unknown."
    )
    if not checked.passes:
        yield "This case FAILS its check: run `check` and read why before you issue this sheet."
    if over:
        yield (
            f"At its own speed a leg of low force goes beyond its limit ({', '.join(over)}): do "
            "not run this test as it is."
        )
    yield from _events(landings)
    yield from _case(checked.case)
    if checked.case.rig is not None:
        yield from _rig(checked, landings)
    if not settings.passes:
        yield (
            f"Folds pass at {settings.fold_frequency:.0f} Hz: even class {settings.peak_class} "
            "dulls their crests; read peaks unfiltered beside it."
        )


def _events(landings: Sequence[Landed]) -> Iterator[str]:
    hard = [x.name for x in landings if bool(x.bottomed[:, 0].any())]
    if hard:
        yield (
            f"A leg may BOTTOM ({', '.join(hard)}): from there on load, deceleration and time are "
            "an elastic estimate."
        )
    apart = [x.name for x in landings if x.touchdown.first_contact != "all"]
    if apart:
        yield (
            f"Legs crush unevenly ({', '.join(apart)}): an energy estimate, not a motion. Table "
            "and nomogram are for legs that crush alike; else add the work of each leg and take "
            "the mean travel."
        )
    turning = [x.name for x in landings if x.arrival.rate != 0.0]
    if turning:
        yield f"Energy of turning is read back as speed ({', '.join(turning)})."
    along = [x.name for x in landings if x.arrival.horizontal > 0.0]
    if along:
        yield (
            f"The speed read back is the one normal to the ground ({', '.join(along)}); what "
            "sliding takes of the horizontal one is not in the legs."
        )


def _case(case: Case) -> Iterator[str]:
    if case.ground is not None:
        yield "Ground that gives is not in this sheet: it is taken as rigid."
    if case.leg.cant > 0.0 and case.leg.travel_ratio is None:
        yield "Canted legs: crush is measured along the girder; travel is its vertical part."


def _rig(checked: Checked, landings: Sequence[Landed]) -> Iterator[str]:
    case = checked.case
    yield (
        "Rig: the leg stands as on the vehicle and the mass comes down upright; friction is "
        "constant, lift starts at contact, both act above the load cell."
    )
    yield from _record(checked)
    side = max(float(x.side_peak.max()) for x in landings)
    if side > 0.0:
        yield Said(
            "A side load up to ",
            Quantity(side, "force"),
            " goes into the guides; friction that grows with it is only what [leg] says.",
        )
    apart = [x.name for x in checked.landings if x.touchdown.first_contact != "all"]
    if apart:
        yield (
            f"The rig stands for the most crushed leg alone ({', '.join(apart)}): same speed and "
            "crush, another course of force in time."
        )
    rated = max(x.touchdown.vertical_speed for x in checked.landings)
    far = [x.name for x in landings if abs(x.arrival.closing / rated - 1.0) > SAME_SPEED]
    if case.girder.rate and far:
        at = Quantity(rated, "speed")
        yield Said("Strain rate is taken at ", at, f", not at that of {', '.join(far)}.")


def _record(checked: Checked) -> Iterator[str]:
    """Tell what `correlate` must know of friction and lift, which act beside the girder."""
    rig = checked.case.rig
    if rig is None or rig.friction + rig.carried <= HELD * rig.mass * rig.gravity:
        return
    net = rig.gravity - (rig.friction + rig.carried) / rig.mass
    yield Said(
        'For `correlate`: gravity = "',
        Quantity(net, "acceleration", 4),
        "\" in the record's TOML, less friction and lift; and force from a cell, as an "
        "accelerometer reads lift too.",
    )
