"""The girder as a column and as a beam, by hand on sections of 140 × 4 mm (C 136 mm) [D].

Mid-line model: I = 2 t [C (C/2)² + C³/12], Z = 2 t [C²/2 + C²/4] = 1.5 C² t. A hole d in the
middle of all four walls takes 2 t [d (C/2)² + d³/12] and 2 t [d C/2 + d²/4].
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.arrays import floats
from crushleg.case.records import Leg, Row
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.start import start_force
from crushleg.landing.members import bending_moments, column_loads, euler_load, held_length
from tests.landing.test_touchdown import LEVELS, flat, invented, touch
from tests.samples import girder, mm

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Girder
    from crushleg.landing.touchdown import Landed

C, T, E = 136 * mm, 4 * mm, 200e9
HOLE = 60 * mm
YIELD = np.array([220e6, 295e6, 350e6])
PLAIN_I = 2.0 * T * (C * (C / 2.0) ** 2 + C**3 / 12.0)
HOLED_I = PLAIN_I - 2.0 * T * (HOLE * (C / 2.0) ** 2 + HOLE**3 / 12.0)
PLAIN_Z = 1.5 * C**2 * T
HOLED_Z = PLAIN_Z - 2.0 * T * (HOLE * C / 2.0 + HOLE**2 / 4.0)
GUIDED = Leg(side_load="guide", pad_friction=0.0)
BARE = Leg(side_load="girder", pad_friction=0.4)
DRILLED = girder(Row(height=0.1, size=HOLE), Row(height=0.5, size=HOLE))


def at_end(landed: Landed, stroke: float) -> Landed:
    return replace(landed, stroke=np.full((3, 1), stroke))


def test_euler_with_a_free_end() -> None:
    """K 2 quarters the load: π² 200e9 1e-6/(2·1.5)²."""
    modulus, inertia, length = floats(E, 1e-6, 1.5)
    load = euler_load(modulus, inertia, 2.0, length)
    assert_allclose(load, 219_324.5, atol=0.05)


def test_the_column_is_held_over_its_free_length_or_its_own() -> None:
    assert held_length(GUIDED, girder()) == 1.0
    assert held_length(replace(GUIDED, free_length=0.7), girder()) == 0.7


def test_a_level_force_is_worst_on_the_whole_length() -> None:
    """11.5 kN of the high curve on 1 m, π² E I/L²."""
    crush = flat()
    load, carries = column_loads(crush, touch(crush), GUIDED, girder())
    assert_allclose(load, 11.5e3, rtol=1e-9)
    assert_allclose(carries, np.pi**2 * E * PLAIN_I, rtol=1e-7)


def test_the_weakest_row_gives_the_inertia_of_the_whole_column() -> None:
    crush = invented([0.0, 0.3], [10e3, 10e3], record=DRILLED)
    for factor in (1.0, 2.0):
        record = replace(DRILLED, effective_length_factor=factor)
        _, carries = column_loads(crush, touch(crush), replace(GUIDED, free_length=0.8), record)
        assert_allclose(carries, np.pi**2 * E * HOLED_I / (factor * 0.8) ** 2, rtol=1e-7)


def test_a_force_that_rises_faster_than_the_column_shortens_is_worst_late() -> None:
    """10, then 20 kN from 0.1 m on: 20 (1 - 0.1)² = 16.2 beats 10; 11, it does not beat 10."""
    for later, length, force in ((20e3, 0.9, 20e3), (11e3, 1.0, 10e3)):
        crush = invented([0.0, 0.1, 0.1, 0.4], [10e3, 10e3, later, later])
        landed = touch(crush, speed=3.0)
        assert landed.stroke.min() > 0.1
        load, carries = column_loads(crush, landed, GUIDED, girder())
        assert_allclose(load, force * LEVELS[2], rtol=1e-9)
        assert_allclose(carries, np.pi**2 * E * PLAIN_I / length**2, rtol=1e-7)


def test_force_beyond_the_stop_is_not_met() -> None:
    crush = invented([0.0, 0.1, 0.1, 0.4], [10e3, 10e3, 90e3, 90e3])
    load, _ = column_loads(crush, touch(crush, speed=1.0), GUIDED, girder())
    assert_allclose(load, 11.5e3, rtol=1e-9)


def starts(record: Girder, height: float) -> FloatArray:
    """Force that starts a fold at a height, low nominal high; its own tests are elsewhere."""
    return start_force(girder_arrays([record], [3.0]), np.array([[height]]))[:, 0, 0]


def left(force: FloatArray, modulus: float, start: FloatArray, lever: float) -> FloatArray:
    """Capacity over moment, s_y Z (1 - F/S)/(0.4 F z), on the three curves."""
    return YIELD * modulus * np.maximum(1.0 - force / start, 0.0) / (0.4 * force * lever)


@pytest.mark.parametrize("free", [1.0, 1.4])
def test_a_plain_girder_bends_where_it_is_held(free: float) -> None:
    """200 kN, μ 0.4: M = 80 kN·m per metre of lever; force, yield and start of the same curve."""
    crush = flat(200e3, 0.3)
    leg = replace(BARE, free_length=free)
    moment, capacity = bending_moments(crush, touch(crush, leg=leg), leg, girder())
    force = 200e3 * LEVELS
    ratio = left(force, PLAIN_Z, starts(girder(), 1.0), free)
    worst = int(np.argmin(ratio))
    assert_allclose(moment, 0.4 * force[worst] * free, rtol=1e-9)
    assert_allclose(capacity / moment, ratio[worst], rtol=1e-9)


def test_a_row_halfway_up_bends_first_when_its_net_section_is_nearly_at_its_start_force() -> None:
    """Force 240 kN, rows of 60 mm: Z 71·10³ mm³ at 0.5 m against 111·10³ mm³ at 1 m."""
    crush = invented([0.0, 0.9], [240e3, 240e3], record=DRILLED)
    moment, capacity = bending_moments(crush, touch(crush, leg=BARE), BARE, DRILLED)
    force = 240e3 * LEVELS
    row = left(force, HOLED_Z, starts(DRILLED, 0.5), 0.5)
    assert row.min() < left(force, PLAIN_Z, starts(DRILLED, 1.0), 1.0).min()
    assert_allclose(capacity / moment, row.min(), rtol=1e-9)
    assert_allclose(moment, 0.4 * force[int(np.argmin(row))] * 0.5, rtol=1e-9)


def test_a_row_that_has_begun_to_fold_bends_no_more() -> None:
    """Usable 0.7 of 1 m: the row at 0.5 m begins at 0.7 (0.5 - H), H 36 to 42 mm, so at 0.32 m.

    A step at 0.30 m counts on the row, one at 0.34 m only where the girder is held.
    """
    ratios = []
    for step in (0.30, 0.34):
        crush = invented([0.0, step, step, 0.7], [160e3, 160e3, 240e3, 240e3], record=DRILLED)
        landed = at_end(touch(crush, leg=BARE), 0.6)
        moment, capacity = bending_moments(crush, landed, BARE, DRILLED)
        ratios.append(float((capacity / moment)[0]))
    early, late = (
        float(left(force * LEVELS, HOLED_Z, starts(DRILLED, 0.5), 0.5).min())
        for force in (160e3, 240e3)
    )
    held = float(left(240e3 * LEVELS, PLAIN_Z, starts(DRILLED, 1.0), 1.0).min())
    assert late < held < early
    assert_allclose(ratios, [late, held], rtol=1e-9)


def test_a_rectangle_bends_and_buckles_about_its_weaker_axis() -> None:
    """136 × 96 mm mid-line: I = 2 t [b (d/2)² + d³/12], Z = 2 t (b d/2 + d²/4), d = 96 mm."""
    record = girder(depth=100 * mm)
    crush = invented([0.0, 0.3], [10e3, 10e3], record=record)
    d = 96 * mm
    inertia = 2.0 * T * (C * (d / 2.0) ** 2 + d**3 / 12.0)
    modulus = 2.0 * T * (C * d / 2.0 + d**2 / 4.0)
    _, carries = column_loads(crush, touch(crush), GUIDED, record)
    assert_allclose(carries, np.pi**2 * E * inertia, rtol=1e-7)
    moment, capacity = bending_moments(crush, touch(crush, leg=BARE), BARE, record)
    ratio = left(10e3 * LEVELS, modulus, starts(record, 1.0), 1.0)
    assert_allclose(capacity / moment, ratio.min(), rtol=1e-9)
