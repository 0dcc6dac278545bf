"""Thousands of girders go through one call: padding must change nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from crushleg.case.records import Row, WallStep
from tests.girder.strategies import girders
from tests.samples import crushed, dunlin, girder, mm

if TYPE_CHECKING:
    from crushleg.case.records import Girder
    from crushleg.girder.crush import Crush

SHORT = girder(length=0.1)
STEPPED = girder(
    *(Row(height=(80 + 100 * i) * mm, size=(70 - 15 * i) * mm) for i in range(3)),
    wall_steps=(WallStep(start=0.43, wall=4.5 * mm), WallStep(start=0.7, wall=5.5 * mm)),
)
SLOTTED = girder(Row(height=0.3, size=30 * mm, size_along=80 * mm, shape="slot"), length=0.6)
UPSIDE_DOWN = girder(Row(height=0.1, size=20 * mm), Row(height=0.5, size=80 * mm), length=0.6)
MIXED = (dunlin(), SHORT, STEPPED, SLOTTED, UPSIDE_DOWN, girder())


def assert_same(batch: Crush, index: int, alone: Crush) -> None:
    count, zones = alone.curve.stroke.shape[1], alone.sequence.height.shape[1]
    assert_allclose(batch.curve.stroke[index, :count], alone.curve.stroke[0], rtol=1e-9, atol=1e-12)
    for name in ("force", "energy"):
        together, single = getattr(batch.curve, name), getattr(alone.curve, name)
        assert_allclose(together[:, index, :count], single[:, 0], rtol=1e-9, atol=1e-9)
        assert np.all(np.isfinite(together))
    assert_allclose(batch.curve.stroke[index, count:], alone.usable[0], rtol=1e-9)
    last = np.broadcast_to(
        alone.curve.energy[:, 0, -1:], batch.curve.energy[:, index, count:].shape
    )
    assert_allclose(batch.curve.energy[:, index, count:], last, rtol=1e-9)
    assert_allclose(batch.sequence.start[:, index, :zones], alone.sequence.start[:, 0], rtol=1e-9)
    assert np.all(np.isinf(batch.sequence.start[:, index, zones:]))
    assert batch.sequence.from_foot[index] == alone.sequence.from_foot[0]
    for name in ("usable", "stiffness", "mass"):
        assert_allclose(getattr(batch, name)[index], getattr(alone, name)[0], rtol=1e-9)
    assert_allclose(batch.first_peak[:, index], alone.first_peak[:, 0], rtol=1e-9)
    assert_allclose(batch.largest_start[:, index], alone.largest_start[:, 0], rtol=1e-9)


@pytest.mark.parametrize("order", [(0, 1, 2, 3, 4, 5), (5, 4, 3, 2, 1, 0), (1, 4, 0), (4, 0)])
def test_a_mixed_batch_equals_its_girders_one_at_a_time(order: tuple[int, ...]) -> None:
    batch = crushed(*(MIXED[i] for i in order))
    for place, i in enumerate(order):
        assert_same(batch, place, crushed(MIXED[i]))


@settings(max_examples=20, deadline=None, derandomize=True)
@given(st.lists(girders(), min_size=2, max_size=3))
def test_random_batches_equal_their_girders_one_at_a_time(records: list[Girder]) -> None:
    batch = crushed(*records)
    for place, record in enumerate(records):
        assert_same(batch, place, crushed(record))
