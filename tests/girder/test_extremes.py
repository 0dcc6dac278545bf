"""Corners of the input: nothing is ever not a number."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings

from crushleg.case.records import Row, WallStep
from crushleg.girder.modes import plain_fold
from tests.girder.strategies import girders
from tests.samples import crushed, dunlin, girder, mm

if TYPE_CHECKING:
    from crushleg.case.records import Girder
    from crushleg.girder.crush import Crush

HALF = float(plain_fold(136 * mm, 4 * mm, 1.0).half_length)
BIG = Row(height=0.1, size=0.85 * 136 * mm)
TINY = tuple(
    Row(height=(40 + 4 * i) * mm, size=2 * mm, per_face=1 + i % 3, spacing=9 * mm)
    for i in range(40)
)


def sized(slenderness: float) -> Girder:
    wall = 140 * mm / (slenderness + 1.0)
    return dunlin(wall=wall, wall_tolerance=0.02 * wall)


EXTREMES = {
    "C/t 7.5": sized(7.5),
    "C/t 100": sized(100.0),
    "C/t 4": sized(4.0),
    "d/C 0.85": girder(BIG),
    "d/C 0.85, short": girder(BIG, length=0.2),
    "d/C 0.97": girder(Row(height=0.1, size=132 * mm)),
    "shorter than 4H": girder(Row(height=70 * mm, size=60 * mm), length=3.1 * HALF),
    "shorter than 2H": girder(Row(height=35 * mm, size=40 * mm), length=1.9 * HALF),
    "shorter than H": girder(length=0.5 * HALF),
    "just under 4H": girder(length=4.0 * HALF - 1e-9),
    "4H": girder(length=4.0 * HALF),
    "just over 4H": girder(length=4.0 * HALF + 1e-9),
    "wall steps": dunlin(
        wall_steps=(WallStep(start=0.2, wall=6 * mm), WallStep(start=0.27, wall=3 * mm))
    ),
    "step through a hole": dunlin(wall_steps=(WallStep(start=0.21, wall=5 * mm),)),
    "thin wall above a thick one with a hole": girder(
        Row(height=48 * mm, size=24 * mm),
        width=60 * mm,
        depth=42 * mm,
        wall=4.7 * mm,
        length=96 * mm,
        corner_radius=0.0,
        wall_steps=(WallStep(start=24 * mm, wall=5.8 * mm), WallStep(start=54 * mm, wall=3.8 * mm)),
    ),
    "step near the top": dunlin(wall_steps=(WallStep(start=0.9999, wall=5 * mm),)),
    "step near the foot": dunlin(wall_steps=(WallStep(start=0.0001, wall=5 * mm),)),
    "one row": girder(Row(height=0.5, size=50 * mm)),
    "no rows": girder(),
    "forty rows": girder(*TINY),
    "forty holes in a row": girder(Row(height=0.3, size=2 * mm, per_face=40, spacing=3.3 * mm)),
    "holes near the ends": girder(
        Row(height=31 * mm, size=60 * mm), Row(height=0.969, size=60 * mm)
    ),
    "hole at the corner": girder(Row(height=0.3, size=40 * mm, offset=47.9 * mm)),
    "crush initiator": dunlin(first_peak_fraction=0.3),
    "long slot": girder(Row(height=0.5, size=10 * mm, size_along=0.9, shape="slot")),
    "long rectangle": girder(Row(height=0.5, size=110 * mm, size_along=0.9, shape="rectangle")),
    "flat slot": girder(Row(height=0.5, size=120 * mm, size_along=3 * mm, shape="slot")),
    "upside down": girder(
        *(Row(height=(80 + 130 * i) * mm, size=(20 + 12 * i) * mm) for i in range(6))
    ),
    "rows sharing a height": girder(
        Row(height=0.3, size=40 * mm, faces="front-back"),
        Row(height=0.3, size=60 * mm, faces="left-right"),
    ),
    "tall box": dunlin(width=100 * mm, depth=240 * mm, wall=3 * mm),
}


def assert_sound(result: Crush) -> None:
    curve, folds = result.curve, result.folds
    for values in (curve.stroke, curve.force, curve.energy, result.front.ratio, folds.crest):
        assert np.all(np.isfinite(values))
    for values in (result.usable, result.mass, result.stiffness, result.first_peak, folds.force):
        assert np.all(np.isfinite(values))
        assert np.all(values > 0.0)
    assert np.all(np.isfinite(result.largest_start))
    assert np.all(np.isfinite(result.sequence.scatter))
    assert not np.any(np.isnan(result.sequence.ratio))
    assert np.all(result.front.force > 0.0)
    assert np.all((result.front.ratio > 0.0) & (result.front.ratio <= 1.0 + 1e-12))
    assert np.all(curve.force > 0.0)
    assert np.all(np.diff(curve.stroke, axis=-1) >= 0.0)
    assert np.all(np.diff(curve.energy, axis=-1) >= -1e-9)
    assert result.usable[0] <= 0.78 * result.girders.length[0]
    real = folds.length[0] > 1e-6
    assert np.all(np.isfinite(folds.bottom[0, real]))
    assert np.all(folds.bottom[0, real] < folds.top[0, real])
    for values in (result.front.force, curve.energy):
        assert np.all(np.diff(values, axis=0) >= -1e-9 * values[1:])


@pytest.mark.parametrize("name", list(EXTREMES))
def test_extreme_girders_have_a_sound_curve(name: str) -> None:
    assert_sound(crushed(EXTREMES[name]))


@settings(max_examples=60, deadline=None, derandomize=True)
@given(girders())
def test_random_girders_have_a_sound_curve(record: Girder) -> None:
    assert_sound(crushed(record))


def test_all_extremes_in_one_batch_are_finite() -> None:
    curve = crushed(*EXTREMES.values()).curve
    for values in curve:
        assert np.all(np.isfinite(values))


def test_a_girder_just_longer_than_four_half_folds_is_the_same() -> None:
    under, at, over = (crushed(EXTREMES[n]) for n in ("just under 4H", "4H", "just over 4H"))
    for other in (under, over):
        total, same = other.curve.energy[:, 0, -1], at.curve.energy[:, 0, -1]
        np.testing.assert_allclose(total, same, rtol=1e-7)
