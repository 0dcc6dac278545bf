"""The grid of heights: finer cells change energy little, and ever less."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import numpy as np
import pytest

from crushleg.case.records import Row, WallStep
from crushleg.girder import front, windows
from tests.samples import crushed, dunlin, energy_at, girder, mm

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Girder

STEPPED = dunlin(wall_steps=(WallStep(start=0.6, wall=4.6 * mm),))
MIXED = girder(
    Row(height=90 * mm, size=70 * mm, size_along=100 * mm, shape="rectangle"),
    Row(height=0.25, size=60 * mm, size_along=90 * mm, shape="slot"),
    Row(height=0.4, size=25 * mm, per_face=3, spacing=35 * mm),
    Row(height=0.5, size=30 * mm, offset=20 * mm),
)
UPSIDE_DOWN = girder(*(Row(height=(80 + 130 * i) * mm, size=(20 + 12 * i) * mm) for i in range(6)))


def energies(record: Girder, cells: int, patch: pytest.MonkeyPatch) -> FloatArray:
    patch.setattr(windows, "CELLS", cells)
    patch.setattr(front, "CELLS", cells, raising=False)
    patch.setattr(windows.cell_centres, "__defaults__", (cells,))
    result = crushed(record)
    assert result.front.z.shape[1] == cells
    return energy_at(result, np.linspace(0.01, 1.0, 200) * result.usable[0])


RECORDS = {"dunlin": dunlin(), "stepped": STEPPED, "mixed": MIXED, "upside down": UPSIDE_DOWN}


@pytest.mark.parametrize("level", [0, 1, 2], ids=["low", "nominal", "high"])
@pytest.mark.parametrize("name", list(RECORDS))
def test_twice_the_cells_change_energy_by_less_than_a_thousandth(
    name: str, level: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    usual = windows.CELLS
    counts = (usual // 2, usual, 2 * usual, 4 * usual)
    found = [energies(RECORDS[name], n, monkeypatch)[level] for n in counts]
    changes = [np.abs(b / a - 1.0).max() for a, b in itertools.pairwise(found)]
    assert changes[1] < 1e-3
    assert changes[2] < changes[0]
