"""Mass of a box, worked by hand [D]."""

from __future__ import annotations

import numpy as np
from numpy.testing import assert_allclose

from crushleg.case.records import Row, WallStep
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.net import girder_mass
from tests.samples import girder, mm


def test_mass_of_a_hole_cut_through_a_wall_step_is_that_of_both_parts() -> None:
    """Rectangle 60 × 100 at 0.5; 4 mm up to 0.52, 5 mm above: 70 and 30 mm of it."""
    row = Row(height=0.5, size=60 * mm, size_along=100 * mm, shape="rectangle")
    step = (WallStep(start=0.52, wall=5 * mm),)
    holed, plain = girder(row, wall_steps=step), girder(wall_steps=step)
    mass = girder_mass(girder_arrays([holed, plain], [0.0, 0.0]))
    lost = 4.0 * 7900.0 * 60 * mm * (70 * mm * 4 * mm + 30 * mm * 5 * mm)
    assert_allclose(mass[1] - mass[0], lost, rtol=1e-6)


def test_mass_of_a_plain_box_is_its_perimeter_times_wall() -> None:
    """4 × 136 mm less what four corners of mid-line radius 4 mm save, 4 mm, 1 m, 7900 kg/m³."""
    around = (4 * 136 - (8 - 2 * np.pi) * 4) * mm
    assert_allclose(
        girder_mass(girder_arrays([girder()], [0.0])), around * 4 * mm * 7900, rtol=1e-12
    )
