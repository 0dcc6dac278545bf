"""Scale and mirror."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from hypothesis import given, settings
from numpy.testing import assert_allclose

from tests.girder.strategies import girders, mirrored, scaled, with_rows
from tests.samples import crushed, dunlin

if TYPE_CHECKING:
    from crushleg.case.records import Girder


@settings(max_examples=30, deadline=None, derandomize=True)
@given(girders())
def test_twice_the_size_has_four_times_the_force_and_eight_times_the_energy(
    record: Girder,
) -> None:
    """Tolerances doubled too: stresses are the same, areas four times, volumes eight."""
    small, large = crushed(record), crushed(scaled(record, 2.0))
    assert_allclose(large.usable, 2.0 * small.usable, rtol=1e-9)
    assert_allclose(large.curve.stroke, 2.0 * small.curve.stroke, rtol=1e-9, atol=1e-12)
    assert_allclose(large.first_peak, 4.0 * small.first_peak, rtol=1e-9)
    assert_allclose(large.front.force, 4.0 * small.front.force, rtol=1e-9)
    assert_allclose(large.curve.force, 4.0 * small.curve.force, rtol=1e-6)
    assert_allclose(large.curve.energy, 8.0 * small.curve.energy, rtol=1e-6, atol=1e-9)
    assert_allclose(large.mass, 8.0 * small.mass, rtol=1e-9)
    assert_allclose(large.stiffness, 2.0 * small.stiffness, rtol=1e-9)


@settings(max_examples=30, deadline=None, derandomize=True)
@given(girders(least_rows=1))
def test_a_girder_and_its_mirror_image_crush_alike(record: Girder) -> None:
    result = crushed(record, mirrored(record))
    for values in (result.curve.force, result.curve.energy, result.sequence.start):
        assert_allclose(values[:, 0], values[:, 1], rtol=1e-9)
    assert_allclose(result.mass[0], result.mass[1], rtol=1e-12)


def test_a_girder_and_the_same_upside_down_take_the_same_energy_in_all() -> None:
    record = dunlin()
    turned = [
        type(row)(height=record.length - row.height, size=row.size) for row in record.holes.rows
    ]
    result = crushed(record, with_rows(record, turned))
    assert result.sequence.from_foot.tolist() == [True, False]
    total = result.curve.energy[:, :, -1]
    assert_allclose(total[:, 0], total[:, 1], rtol=1e-9)


def test_a_box_turned_by_a_right_angle_crushes_alike() -> None:
    tall = dunlin(width=0.12, depth=0.16)
    wide = dunlin(width=0.16, depth=0.12)
    result = crushed(tall, wide)
    assert_allclose(result.curve.energy[:, 0], result.curve.energy[:, 1], rtol=1e-12)
    assert np.all(np.isfinite(result.curve.energy))
