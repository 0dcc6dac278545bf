"""A micrometre changes energy by parts per million, at any stroke.

Each case varies one length. The range is searched for its largest change of energy between
neighbours, at any stroke and level, zooming in four times, to a millionth of the range (0.1 to
5 nm). A jump stays as large as it was; a smooth change has become too small to see. What is left
must be below 20 parts per million.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.case.records import WallStep
from crushleg.girder.modes import plain_fold
from tests.samples import crushed, dunlin, energy_at, girder, mm

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.case.records import Girder

    Build = Callable[[float], Girder]


def worst_change(build: Build, low: float, high: float) -> tuple[float, float]:
    """Largest relative change of energy after four zooms, and where it is."""
    change = 0.0
    for _ in range(4):
        values = np.linspace(low, high, 33)
        result = crushed(*(build(v) for v in values))
        stroke = np.linspace(0.002, 1.0, 400) * result.usable.min()
        energy = np.stack([energy_at(result, stroke, i) for i in range(values.size)])
        steps = np.abs(np.diff(np.log(energy), axis=0)).max(axis=(1, 2))
        worst = int(np.argmax(steps))
        change, low, high = float(steps[worst]), float(values[worst]), float(values[worst + 1])
    return change, low


def in_row(index: int, **changes: float | str) -> Girder:
    rows = list(dunlin().holes.rows)
    rows[index] = replace(rows[index], **changes)  # type: ignore[arg-type]
    return girder(*rows)


def slotted(along: float, size: float, shape: str) -> Girder:
    return in_row(2, size=size * mm, size_along=along * mm, shape=shape)


def stepped(start: float, below: float, above: float) -> Girder:
    rows = dunlin().holes.rows[:4]
    steps = (WallStep(start=start * mm, wall=above * mm),)
    return girder(*rows, wall=below * mm, wall_steps=steps)


CASES: dict[str, tuple[Build, float, float]] = {
    "foot hole": (lambda v: in_row(0, size=v * mm), 80.0, 83.2),
    "hole in a later fold": (lambda v: in_row(3, size=v * mm), 50.0, 53.2),
    "hole edge at H from the corner": (lambda v: in_row(2, size=v * mm), 58.0, 61.2),
    "small hole": (lambda v: in_row(5, size=v * mm), 16.0, 19.2),
    "row height": (lambda v: in_row(2, height=v * mm), 340.0, 344.0),
    "row offset": (lambda v: in_row(2, size=40 * mm, offset=v * mm), 8.0, 11.0),
    "slot longer": (lambda v: slotted(v, 30.0, "slot"), 60.0, 64.0),
    "slot across longer": (lambda v: slotted(v, 64.0, "slot"), 20.0, 24.0),
    "rectangle longer": (lambda v: slotted(v, 60.0, "rectangle"), 40.0, 44.0),
    "wall step up": (lambda v: stepped(v, 4.0, 4.5), 600.0, 604.0),
    "wall step down": (lambda v: stepped(v, 4.2, 4.0), 600.0, 604.0),
    "wall": (lambda v: dunlin(wall=v * mm), 3.6, 3.7),
    "wall across the mode crossing": (lambda v: dunlin(wall=v * mm), 3.3, 3.4),
    "wall across slenderness 0.673": (lambda v: dunlin(wall=v * mm), 4.10, 4.14),
    "length": (lambda v: dunlin(length=v), 0.985, 1.0),
    "length of a short girder": (lambda v: girder(length=v), 0.15, 0.155),
    "width": (lambda v: dunlin(width=v * mm, depth=v * mm), 139.0, 141.0),
}


@pytest.mark.parametrize("name", list(CASES))
def test_energy_does_not_jump(name: str) -> None:
    build, low, high = CASES[name]
    change, at = worst_change(build, low, high)
    assert change < 2e-5, f"jump of {change:.2e} at {at:.9g}"


@pytest.mark.parametrize("size", [20.0, 38.0, 52.0, 59.9, 60.0, 64.0, 74.0, 82.0])
def test_a_hole_one_micrometre_larger_changes_energy_by_parts_per_million(size: float) -> None:
    result = crushed(in_row(0, size=size * mm), in_row(0, size=(size + 0.001) * mm))
    energy = result.curve.energy[:, :, 1:]
    assert_allclose(energy[:, 1], energy[:, 0], rtol=2e-5)


def test_a_nanometre_of_wall_changes_energy_by_parts_per_million() -> None:
    """Usable stroke with it; at C/t 40.8, where the mode changes, as elsewhere."""
    for wall in (2.0, 3.349, 3.35, 3.3495, 4.0, 6.0):
        result = crushed(dunlin(wall=wall * mm), dunlin(wall=(wall + 1e-6) * mm))
        stroke = np.linspace(0.01, 0.999, 300) * result.usable.min()
        assert_allclose(energy_at(result, stroke, 1), energy_at(result, stroke, 0), rtol=5e-6)
        assert_allclose(result.usable[1], result.usable[0], rtol=2e-6)


@pytest.mark.parametrize("slenderness", [5.0, 7.4, 7.52, 7.6, 30.0, 40.0, 40.7, 40.78, 40.9, 45.0])
def test_fold_length_and_crushed_fraction_do_not_jump_where_modes_cross(slenderness: float) -> None:
    """One micrometre of wall, a share e of it: H by at most 20 e, η by at most 10 e."""
    wall = 140 * mm / slenderness
    one, other = (plain_fold(140 * mm, t, 1.0) for t in (wall, wall + 1e-6))
    share = 1e-6 / wall
    assert_allclose(other.half_length, one.half_length, rtol=20.0 * share)
    assert_allclose(other.crushed, one.crushed, rtol=10.0 * share)
