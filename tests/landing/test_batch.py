"""Many girders land through one call: none may feel what stands beside it in the batch."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.case.records import Factors, Leg, Touchdown, Vehicle, WallStep
from crushleg.landing.afterwards import settle, tip_over
from crushleg.landing.members import bending_moments, column_loads
from crushleg.landing.touchdown import Landed, land
from tests.samples import STAINLESS, band, crushed, dunlin, girder, mm

if TYPE_CHECKING:
    from crushleg.case.records import Girder
    from crushleg.girder.crush import Crush

STAGE = Vehicle(
    mass=40e3,
    legs=6,
    centre_of_gravity_height=9.0,
    pad_circle_radius=3.4,
    radius_of_gyration=5.2,
    clearance=0.8,
    clearance_radius=0.9,
)
LEG = Leg(side_load="girder", cant=0.1, pad_friction=0.3, free_length=1.1)
TOUCHDOWNS = (
    Touchdown(name="all", vertical_speed=3.5, horizontal_speed=0.3, slope=0.05),
    Touchdown(name="one", vertical_speed=2.0, attitude=0.03, first_contact="one"),
    Touchdown(name="two", vertical_speed=2.0, attitude=0.05, first_contact="two", reserve=True),
    Touchdown(name="hard", vertical_speed=9.0),
)
SOFTER = replace(STAINLESS, yield_strength=band(180e6, 220e6, 260e6))
ALIKE = (dunlin(), dunlin(material=SOFTER), dunlin(first_peak_fraction=0.5), girder())
MIXED = (
    dunlin(),
    girder(length=0.3),
    girder(wall=2 * mm),
    dunlin(wall_steps=(WallStep(start=0.5, wall=3 * mm),)),
)


def landed(crush: Crush, touchdown: Touchdown) -> Landed:
    return land(crush, STAGE, LEG, touchdown, Factors())


def numbers(crush: Crush, touchdown: Touchdown, record: Girder) -> dict[str, np.ndarray[Any, Any]]:
    """Every array that comes of a landing, girders on the last axis."""
    found = landed(crush, touchdown)
    arrays = {f.name: getattr(found, f.name) for f in fields(found)}
    arrays = {name: v for name, v in arrays.items() if isinstance(v, np.ndarray)}
    settled = settle(STAGE, found)
    tips = tip_over(STAGE, LEG, found, settled)
    arrays |= settled._asdict() | {f"tip {name}": v for name, v in tips._asdict().items()}
    for name, pair in (
        ("column", column_loads(crush, found, LEG, record)),
        ("bending", bending_moments(crush, found, LEG, record)),
    ):
        arrays |= {f"{name} demand": pair[0], f"{name} capability": pair[1]}
    return arrays


def assert_same(records: tuple[Girder, ...], touchdown: Touchdown) -> None:
    batch = numbers(crushed(*records), touchdown, records[0])
    for place, record in enumerate(records):
        for name, alone in numbers(crushed(record), touchdown, record).items():
            message = f"{name} of girder {place}"
            beside = batch[name][..., place]
            assert_allclose(beside, alone[..., 0], rtol=1e-9, atol=1e-12, err_msg=message)


@pytest.mark.parametrize("touchdown", TOUCHDOWNS, ids=lambda touchdown: touchdown.name)
def test_girders_with_as_many_folds_land_together_as_alone(touchdown: Touchdown) -> None:
    assert_same(ALIKE, touchdown)


@pytest.mark.parametrize("touchdown", TOUCHDOWNS, ids=lambda touchdown: touchdown.name)
def test_girders_with_unlike_numbers_of_folds_land_together_as_alone(touchdown: Touchdown) -> None:
    assert_same(MIXED, touchdown)


@pytest.mark.parametrize("touchdown", TOUCHDOWNS, ids=lambda touchdown: touchdown.name)
def test_a_landing_of_real_girders_is_finite_and_its_energy_closes(touchdown: Touchdown) -> None:
    """Where nothing bottoms, the legs took what was asked: demand = Σ work to the stop."""
    found = landed(crushed(*ALIKE), touchdown)
    for field in fields(found):
        values = getattr(found, field.name)
        if isinstance(values, np.ndarray):
            assert not np.isnan(values).any(), field.name
    curve, n, first = found.curve, STAGE.legs, found.first
    for level, index in zip(*np.nonzero(~found.bottomed), strict=True):
        path, work = curve.travel[level, index], curve.work[level, index]
        ends = np.array([found.stroke[level, index], found.others[level, index]])
        legs = np.interp(ends * curve.forces.travel, path, work)
        took = first * legs[0] + (n - first) * legs[1]
        assert_allclose(took, found.demand[level, index], rtol=2e-3)


@pytest.mark.parametrize("touchdown", TOUCHDOWNS, ids=lambda touchdown: touchdown.name)
def test_weaker_levels_travel_farther(touchdown: Touchdown) -> None:
    found = landed(crushed(*ALIKE), touchdown)
    assert np.all(found.stroke_needed[0] >= found.stroke_needed[1])
    assert np.all(found.stroke_needed[1] >= found.stroke_needed[2])
    assert np.all(found.bottomed[0] >= found.bottomed[2])
