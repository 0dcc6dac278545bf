"""Perforated sheet by finite elements: stiffness of square patterns of holes in plane stress.

T. Slot, Stress Analysis of Thick Perforated Plates (1972), quoted second-hand: E*/E at ligament
efficiency μ = (p − d)/p (published). What is compared with what: our unit cell (scikit-fem) and the
table, so that the table may be trusted where the project is held to it, test_perforated_sheet.py.
"""

from __future__ import annotations

from functools import partial

import pytest

from tests.outside import Outside, each
from tests.published.plates import pattern_stiffness
from tests.published.test_perforated_sheet import SLOT, slot

pytest.importorskip("skfem")

VALUES = tuple(
    slot(
        what=f"E*/E of a square pattern, ligament {ligament}, finite elements",
        theirs=theirs,
        ours=partial(pattern_stiffness, ligament),
        relative=6e-3,
        why="three digits given",
    )
    for ligament, theirs, _ in SLOT
)


@pytest.mark.evidence
@each(VALUES)
def test_slot_1972_perforated_sheet_by_finite_elements(value: Outside) -> None:
    value.check()


@pytest.mark.evidence
def test_slot_1972_the_unit_cell_converges() -> None:
    """The thinnest ligament, the worst: each halving of the mesh leaves at most half the change."""
    coarse, middle, fine = (pattern_stiffness(0.05, n) for n in (8, 16, 32))
    assert 0.0 < middle - fine < 0.5 * (coarse - middle)
    assert middle - fine < 3e-3 * fine
