"""Factors of safety taken when a case gives none, against rules for landing gear.

Reserve energy, as factors on speed: former 14 CFR 23.723, 1.2; former 14 CFR 25.723, 12 against
10 ft/s; 14 CFR 27.727, 1.5 × the height, so √1.5 = 1.2247 (all published). Ours is 1.2
everywhere: 2 % less speed and 4 % less energy than 27.727 asks. Ultimate: NASA-STD-5001, 1.4 on
limit load for metallic structures (from memory). 14 CFR 27.501: a member that may yield at limit
load takes its ultimate load from the higher drop (published), so no factor comes on top of the
loads of a reserve case; its strength is ultimate × limit load instead.
"""

from __future__ import annotations

from functools import partial

import pytest

from crushleg.case.records import Case, Factors, Leg, Limits, Touchdown, Vehicle
from crushleg.check import Checked, check_case
from crushleg.landing.arrival import arrive
from tests.outside import Outside, each
from tests.samples import girder

VEHICLE = Vehicle(
    mass=12e3,
    legs=4,
    centre_of_gravity_height=1.5,
    pad_circle_radius=2.0,
    radius_of_gyration=1.0,
)
FOOT_A_SECOND = 0.3048
LIMIT_LOAD = 1e6


def fall(speed: float, *, reserve: bool) -> Touchdown:
    return Touchdown(name="fall", vertical_speed=speed, reserve=reserve)


def arrival_speed(speed: float) -> float:
    """Speed a reserve case of a vertical speed arrives with, no factor given [m/s]."""
    return arrive(VEHICLE, fall(speed, reserve=True), Factors()).vertical


def checked() -> Checked:
    """One touchdown as a limit case and as a reserve case, no factor given."""
    return check_case(
        Case(
            title="",
            revision="",
            author="",
            vehicle=VEHICLE,
            leg=Leg(side_load="guide", pad_friction=0.0, free_length=1.0),
            girder=girder(),
            touchdowns=tuple(fall(3.0, reserve=reserve) for reserve in (False, True)),
            standings=(),
            limits=Limits(leg_limit_load=LIMIT_LOAD),
            factors=Factors(),
            input_sha256="",
            assumed=(),
        )
    )


def strength(index: int) -> float:
    """Capability of the leg in the limit case (0) or the reserve case (1), over the limit load."""
    found = [one for one in checked().margins if one.check == "leg_load"][index]
    assert found.capability is not None
    assert found.factor == 1.0
    return float(found.capability[0]) / LIMIT_LOAD


reserve = partial(Outside, ours=lambda: arrival_speed(1.0), status="published")
VALUES = (
    reserve(
        what="reserve over limit contact speed, small aeroplanes",
        theirs=1.2,
        source="14 CFR 23.723, as it stood",
        place="reserve energy, 1.2 × the speed",
        relative=1e-9,
        why="the same number",
    ),
    Outside(
        what="reserve speed of a limit descent velocity of 10 ft/s, large aeroplanes",
        theirs=12.0,
        ours=lambda: arrival_speed(10.0 * FOOT_A_SECOND) / FOOT_A_SECOND,
        source="14 CFR 25.723, as it stood",
        place="limit and reserve descent velocity",
        status="published",
        relative=1e-9,
        why="the same number",
        unit="ft/s",
    ),
    reserve(
        what="reserve over limit contact speed, rotorcraft",
        theirs=1.2247,
        source="14 CFR 27.727",
        place="reserve energy, 1.5 × the drop height",
        relative=0.0205,
        why="ours is the 1.2 of aeroplanes, 2 % below: give speed_reserve where 27.727 applies",
    ),
    Outside(
        what="ultimate over limit load, metallic structures",
        theirs=1.4,
        ours=lambda: strength(1),
        source="NASA-STD-5001",
        place="minimum design factors, metallic",
        status="from memory",
        relative=1e-9,
        why="the same number",
    ),
    Outside(
        what="factor on the load of a column, metallic structures",
        theirs=1.4,
        ours=lambda: Factors().column,
        source="NASA-STD-5001",
        place="minimum design factors, metallic, ultimate",
        status="from memory",
        relative=1e-9,
        why="the same number",
    ),
)


@each(VALUES)
def test_14_cfr_and_nasa_std_5001_factors_of_safety(value: Outside) -> None:
    value.check()


def test_14_cfr_27_501_a_reserve_case_has_no_factor_beside_its_speed() -> None:
    """Limit case: the limit load itself. Both loads are those of the crush, times nothing."""
    assert strength(0) == pytest.approx(1.0)
    limit, higher = checked().landings
    for landed, speed in ((limit, 3.0), (higher, 3.6)):
        assert landed.arrival.vertical == pytest.approx(speed)
    loads = [one for one in checked().margins if one.check == "leg_load"]
    for landed, found in zip((limit, higher), loads, strict=True):
        assert found.demand is not None
        assert found.demand[0] == pytest.approx(landed.peak.max())
