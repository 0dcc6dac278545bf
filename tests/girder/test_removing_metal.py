"""Removing metal never strengthens: bigger, longer or more holes, or more rows."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings

from crushleg.case.records import Correlation, Row, WallStep
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.start import start_force
from tests.girder.strategies import cuts, drilled_on, girders
from tests.samples import EXACT, assert_not_above, crushed, girder, mm

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Girder


def starts(records: list[Girder], heights: FloatArray) -> FloatArray:
    """Start forces of a batch at the same heights, shape (3, G, M)."""
    arrays = girder_arrays(records, [0.0] * len(records))
    return start_force(arrays, np.broadcast_to(heights, (len(records), heights.size)))


@settings(max_examples=150, deadline=None, derandomize=True)
@given(cuts())
def test_a_row_with_less_metal_starts_no_later(pair: tuple[Girder, Girder]) -> None:
    heights = np.array([row.height for row in pair[1].holes.rows])
    force = starts(list(pair), heights)
    assert_not_above(force[:, 1], force[:, 0])


@settings(max_examples=60, deadline=None, derandomize=True)
@given(cuts())
def test_mean_forces_and_energies_do_not_grow_with_less_metal(pair: tuple[Girder, Girder]) -> None:
    result = crushed(*pair)
    mean, total = result.front.force, result.curve.energy[:, :, -1]
    assert_not_above(mean[:, 1], mean[:, 0])
    assert_not_above(total[:, 1], total[:, 0])


@settings(max_examples=30, deadline=None, derandomize=True)
@given(girders(least_rows=1))
def test_two_drilled_faces_lie_between_none_and_four(record: Girder) -> None:
    batch = [
        drilled_on(record, "all"),
        drilled_on(record, "front-back"),
        drilled_on(record, "left-right"),
        replace(record, holes=girder().holes),
    ]
    result = crushed(*batch)
    mean = result.front.force
    start = starts(batch, np.array([row.height for row in record.holes.rows]))
    for force in (mean, start):
        for two in (force[:, 1], force[:, 2]):
            assert_not_above(force[:, 0], two)
            assert_not_above(two, force[:, 3])


SLOT_SIDE = 140 * mm


@pytest.mark.parametrize("offset", [0.0, 45.0])
@pytest.mark.parametrize("slenderness", [15.0, 35.0, 60.0, 99.0])
@pytest.mark.parametrize("along", [22.0, 50.0, 90.0])
def test_a_slot_widened_step_by_step_never_starts_later(
    slenderness: float, along: float, offset: float
) -> None:
    """Off centre one strip beside the slot is wide and weak."""
    wall = SLOT_SIDE / (slenderness + 1.0)
    slot = Row(height=0.5, size=1 * mm, size_along=along * mm, shape="slot", offset=offset * mm)
    batch = [
        girder(replace(slot, size=size * mm), wall=wall)
        for size in np.linspace(4.0, 120.0 - 2.0 * offset, 117)
    ]
    force = starts(batch, np.array([0.5]))[:, :, 0]
    assert_not_above(force[:, 1:], force[:, :-1])


@pytest.mark.parametrize("slenderness", [15.0, 35.0, 60.0, 99.0])
@pytest.mark.parametrize("size", [8.0, 30.0, 60.0])
def test_a_slot_lengthened_step_by_step_never_starts_later(slenderness: float, size: float) -> None:
    wall = SLOT_SIDE / (slenderness + 1.0)
    batch = [
        girder(Row(height=0.5, size=size * mm, size_along=along * mm, shape="slot"), wall=wall)
        for along in np.linspace(size, 180.0, 120)
    ]
    force = starts(batch, np.array([0.5]))[:, :, 0]
    assert_not_above(force[:, 1:], force[:, :-1])


@pytest.mark.parametrize("yields", [0.6, 1.0, 1.6])
def test_a_round_hole_grown_step_by_step_never_starts_later(yields: float) -> None:
    """Walls around λ 0.673, where the width of a holed wall changes its formula."""
    strength = EXACT.yield_strength.nominal * yields
    datasheet = replace(
        EXACT,
        yield_strength=replace(
            EXACT.yield_strength, low=0.5 * strength, nominal=strength, high=1.1 * strength
        ),
    )
    batch = [
        girder(Row(height=0.5, size=size * mm), material=datasheet)
        for size in np.linspace(2.0, 115.0, 200)
    ]
    force = starts(batch, np.array([0.5]))[:, :, 0]
    assert_not_above(force[:, 1:], force[:, :-1])


def test_a_hole_between_staggered_rows_does_not_undo_their_stagger() -> None:
    """One small hole more, midway between two rows that weaken each other."""
    rows = [
        Row(height=0.5 + i * 48 * mm, size=24 * mm, per_face=3, spacing=40 * mm, offset=i * 14 * mm)
        for i in (0, 1)
    ]
    between = Row(height=524 * mm, size=4 * mm, offset=-50 * mm)
    batch = [girder(*rows), girder(rows[0], between, rows[1])]
    force = starts(batch, np.array([row.height for row in rows]))
    assert_not_above(force[:, 1], force[:, 0])


@pytest.mark.parametrize("width", [80.0, 140.0, 200.0])
def test_small_holes_beside_a_row_at_the_corner_do_not_raise_the_high_force(width: float) -> None:
    """Mean force varies much with phase here, and the hole share widens the model's band."""
    corner = Row(height=0.5, size=44 * mm, offset=0.5 * width * mm - 28 * mm)
    batch = [
        girder(
            corner,
            Row(height=0.5 + corner.size, size=size * mm, size_along=15 * mm, shape="rectangle"),
            width=width * mm,
            depth=width * mm,
            material=EXACT,
            wall_tolerance=0.0,
        )
        for size in np.linspace(1.0, 30.0, 30)
    ]
    force = crushed(*batch).front.force
    assert_not_above(force[:, 1:], force[:, :-1])


def test_a_test_scatter_does_not_change_with_holes() -> None:
    """With a correlation the model part of the band is the tests' own."""
    test = Correlation(force_factor=1.0, scatter=0.03, tests=4, source="sample")
    batch = [girder(Row(height=0.5, size=d * mm), correlation=test) for d in (10.0, 60.0, 110.0)]
    force = crushed(*batch).front.force
    assert_not_above(force[:, 1:], force[:, :-1])


def test_a_rectangle_lengthened_step_by_step_never_strengthens() -> None:
    """Its edges lie within H of the corners: hinges, corner and sweep all lose."""
    batch = [
        girder(Row(height=0.5, size=100 * mm, size_along=along * mm, shape="rectangle"))
        for along in np.linspace(20.0, 120.0, 51)
    ]
    force = crushed(*batch).front.force
    assert_not_above(force[:, 1:], force[:, :-1])


def test_a_rectangle_longer_than_a_fold_takes_ever_more_of_the_mean_force() -> None:
    batch = [
        girder(
            Row(height=0.2, size=69.4 * mm, size_along=along * mm, shape="rectangle"),
            width=103.4 * mm,
            depth=103.4 * mm,
            wall=2.58 * mm,
            length=0.4,
        )
        for along in np.linspace(60.0, 160.0, 41)
    ]
    ratio = crushed(*batch).front.ratio
    assert_not_above(ratio[1:], ratio[:-1])


@pytest.mark.parametrize("above", [3.0, 5.0, 6.0])
def test_a_hole_lengthened_across_a_wall_step_takes_no_strength_back(above: float) -> None:
    """The part in one wall weighs with that wall; more of the other part changes nothing there."""
    batch = [
        girder(
            Row(height=0.5, size=100 * mm, size_along=along * mm, shape="rectangle"),
            wall_steps=(WallStep(start=0.53, wall=above * mm),),
        )
        for along in np.linspace(20.0, 120.0, 51)
    ]
    force = crushed(*batch).front.force
    assert_not_above(force[:, 1:], force[:, :-1])


def test_the_other_two_faces_of_a_short_stocky_girder_do_not_raise_its_high_force() -> None:
    record = girder(
        Row(height=40.5 * mm, size=15.2 * mm, offset=5.1 * mm, faces="front-back"),
        material=EXACT,
        width=60 * mm,
        depth=84 * mm,
        wall=6.667 * mm,
        length=112 * mm,
        wall_tolerance=0.0,
        hole_tolerance=0.0,
    )
    result = crushed(record, drilled_on(record, "all"))
    assert_not_above(result.front.force[:, 1], result.front.force[:, 0])


def test_a_slot_longer_than_a_fold_never_raises_the_high_mean_force() -> None:
    """Above a wall step, where the better of the single folds decides."""
    batch = [
        girder(
            Row(
                height=107.09 * mm, size=36.5 * mm, size_along=along, shape="slot", offset=-5.4 * mm
            ),
            material=EXACT,
            width=70 * mm,
            depth=70 * mm,
            wall=1.648 * mm,
            length=269.3 * mm,
            wall_tolerance=0.0,
            hole_tolerance=0.0,
            corner_radius=0.0,
            wall_steps=(WallStep(start=26.9 * mm, wall=1.3364 * mm),),
        )
        for along in np.linspace(92.5, 96.2, 38) * mm
    ]
    force = crushed(*batch).front.force
    assert_not_above(force[:, 1:], force[:, :-1])
