"""Low, nominal and high never change places."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given, settings

from crushleg.case.records import Correlation, Row
from tests.girder.strategies import girders
from tests.samples import EXACT, assert_not_above, crushed, dunlin, girder, mm

if TYPE_CHECKING:
    from crushleg.case.records import Girder
    from crushleg.girder.crush import Crush

KNOWN = Correlation(force_factor=1.0, scatter=0.001, tests=9, source="sample")


def assert_levels_in_order(result: Crush) -> None:
    """Mean force at every height, first peak, energy at every stroke.

    Not the force at a stroke: the low curve takes the weakest metal first.
    """
    for values in (result.front.force, result.first_peak):
        assert_not_above(values[:-1], values[1:])
    begun = result.curve.stroke[0] > 0.0
    energy = result.curve.energy[:, 0, begun]
    assert_not_above(energy[:-1], energy[1:])


@settings(max_examples=60, deadline=None, derandomize=True)
@given(girders())
def test_low_nominal_and_high_stay_in_order_at_every_stroke(record: Girder) -> None:
    assert_levels_in_order(crushed(record))


def test_the_levels_of_the_dunlin_girder_are_in_order() -> None:
    assert_levels_in_order(crushed(dunlin()))


@pytest.mark.parametrize("fraction", [0.1, 0.3, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0])
@pytest.mark.parametrize("wall", [4.0, 10.0])
@pytest.mark.parametrize("holes", [(), (82, 74, 64, 52, 38, 20), (100, 40)])
def test_a_known_alloy_and_a_crush_initiator_keep_the_order(
    fraction: float, holes: tuple[int, ...], wall: float
) -> None:
    """Mean force known to a thousandth: only first peaks and crests tell the levels apart."""
    rows = [Row(height=(80 + 130 * i) * mm, size=size * mm) for i, size in enumerate(holes)]
    known: dict[str, Any] = {"material": EXACT, "wall_tolerance": 0.0, "correlation": KNOWN}
    result = crushed(girder(*rows, wall=wall * mm, first_peak_fraction=fraction, **known))
    assert_levels_in_order(result)


def test_a_wider_alloy_band_moves_both_ends_apart() -> None:
    narrow, wide = crushed(dunlin(material=EXACT)), crushed(dunlin())
    spread = [r.front.force[2] / r.front.force[0] for r in (narrow, wide)]
    assert np.all(spread[1] > spread[0])
