"""Perforated sheet: stiffness of square patterns of holes, strength of a 60° pattern.

[S72] T. Slot, Stress Analysis of Thick Perforated Plates (1972), plane stress, quoted second-hand:
E*/E at ligament efficiency μ = (p − d)/p (published). Finite elements meet it, see
test_perforated_sheet_elements.py. The project puts net sections in series, 1/K = ∫ dz/(E A_net),
which lets stress spread beside a hole at once: it comes out 11 to 22 % stiffer on a wall drilled
all over, and elastic shortening that much too small. That is 0.3 mm at most of a leg that shortens
by 1.2 mm under its largest force: stated, not tuned.

60° pattern along the rows: min(μ, 0.687μ + 0.359μ²)/μ, practice of perforated sheet, from memory.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import pytest

from crushleg.case.records import Row
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.buckling import stagger_factor
from crushleg.girder.net import axial_stiffness
from tests.outside import Outside, each
from tests.samples import STAINLESS, girder, mm

if TYPE_CHECKING:
    from collections.abc import Callable

SLOT = (
    (0.05, 0.120, 0.11),
    (0.1, 0.186, 0.14),
    (0.2, 0.300, 0.19),
    (0.3, 0.407, 0.22),
    (0.4, 0.512, 0.22),
    (0.5, 0.617, 0.20),
    (0.7, 0.824, 0.11),
)
"""Ligament efficiency, E*/E, our bias."""
PITCH, WALL, ACROSS, ROWS = 35 * mm, 2 * mm, 4, 20


def drilled_stiffness(ligament: float) -> float:
    """Axial stiffness of a girder drilled all over, over that of its gross section."""
    rows = (
        Row(height=(i + 0.5) * PITCH, size=(1.0 - ligament) * PITCH, per_face=ACROSS, spacing=PITCH)
        for i in range(ROWS)
    )
    side, length = ACROSS * PITCH, ROWS * PITCH
    record = girder(
        *rows, width=side + WALL, depth=side + WALL, wall=WALL, length=length, corner_radius=0.0
    )
    gross = STAINLESS.youngs_modulus * 4.0 * side * WALL / length
    return float(axial_stiffness(girder_arrays([record], [0.0]))[0]) / gross


def strength(ligament: float) -> Callable[[], float]:
    return lambda: float(stagger_factor(ligament))


slot = partial(
    Outside,
    source="T. Slot, Stress Analysis of Thick Perforated Plates (1972), second-hand",
    place="square pattern, plane stress, load along the pitch",
    status="published",
)
stagger = partial(
    Outside,
    source="practice of perforated sheet",
    place="60° pattern: min(μ, 0.687μ + 0.359μ²)",
    status="from memory",
    absolute=5e-5,
    why="half a unit of the last digit given",
)
GIRDERS = tuple(
    slot(
        what=f"E*/E of a square pattern, ligament {ligament}, axial stiffness of a drilled girder",
        theirs=theirs,
        ours=partial(drilled_stiffness, ligament),
        relative=bias + 0.01,
        why=f"bias {bias:+.0%}: net sections in series, no spread of stress beside a hole",
    )
    for ligament, theirs, bias in SLOT
)
STAGGERS = tuple(
    stagger(
        what=f"strength of a 60 degree pattern over its net width, ligament {ligament}",
        theirs=theirs,
        ours=strength(ligament),
    )
    for ligament, theirs in ((0.3, 0.7947), (0.5, 0.8665), (0.9, 1.0))
)
VALUES = (*GIRDERS, *STAGGERS)


@each(GIRDERS)
def test_slot_1972_perforated_sheet_beside_net_sections_in_series(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize(("ligament", "theirs", "bias"), SLOT)
def test_slot_1972_bias_of_net_sections_in_series(
    ligament: float, theirs: float, bias: float
) -> None:
    assert drilled_stiffness(ligament) / theirs - 1.0 == pytest.approx(bias, abs=0.006)


@each(STAGGERS)
def test_practice_of_perforated_sheet_60_degree_pattern(value: Outside) -> None:
    value.check()
