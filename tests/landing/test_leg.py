"""One leg: statics of the pad solved directly, virtual work, limits."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose, assert_array_equal

from crushleg.landing.leg import linkage_leg, pad_slip, sliding_leg

CANTS = st.floats(0.0, 0.7)
FRICTIONS = st.floats(0.0, 0.6)


def test_an_upright_leg_without_friction_passes_its_force_on() -> None:
    leg = sliding_leg(0.0, 0.0, 0.0)
    assert_array_equal([leg.travel, leg.axial, leg.reaction, leg.side], [1.0, 1.0, 1.0, 0.0])


def test_an_upright_leg_still_feels_the_friction_of_its_pad() -> None:
    leg = sliding_leg(0.0, 0.4, 0.0)
    assert_allclose([leg.reaction, leg.side], [1.0, 0.4], rtol=1e-15)


@given(cant=CANTS, friction=FRICTIONS, guide=st.floats(0.0, 0.3))
def test_forces_solve_the_equilibrium_of_the_lower_part(
    cant: float, friction: float, guide: float
) -> None:
    """Unknown A, T, V per F; ground: V up, μV outward; axis: up and inward.

    Along it A = V cos γ - μ V sin γ; across it T = V sin γ + μ V cos γ; girder: A = F + μg T.
    """
    c, s = np.cos(cant), np.sin(cant)
    matrix = np.array(
        [
            [1.0, 0.0, -(c - friction * s)],
            [0.0, 1.0, -(s + friction * c)],
            [1.0, -guide, 0.0],
        ]
    )
    solved = np.linalg.solve(matrix, [0.0, 0.0, 1.0])
    leg = sliding_leg(cant, friction, guide)
    assert_allclose([leg.axial, leg.side, leg.reaction], solved, rtol=1e-9)


@given(cant=CANTS, friction=FRICTIONS, guide=st.floats(0.0, 0.3))
def test_the_vehicle_s_work_is_crush_pad_friction_and_guide_friction(
    cant: float, friction: float, guide: float
) -> None:
    leg = sliding_leg(cant, friction, guide)
    slip = pad_slip(leg.travel, cant)
    spent = 1.0 + friction * leg.reaction * slip + guide * leg.side
    assert_allclose(leg.reaction * leg.travel, spent, rtol=1e-9)


def test_a_leg_that_friction_locks_is_infinitely_stiff_never_negative() -> None:
    steep = np.radians(60.0)
    pad, guide = sliding_leg(steep, 1.5, 0.0), sliding_leg(steep, 0.4, 0.6)
    for leg in (pad, guide):
        assert [leg.axial, leg.reaction, leg.side] == [np.inf] * 3
        assert leg.travel > 0.0


def test_a_linkage_obeys_virtual_work() -> None:
    leg = linkage_leg([0.5, 1.0, 2.0])
    assert_allclose(leg.reaction * leg.travel, 1.0, rtol=1e-15)
    assert_allclose([leg.axial, leg.side], [[1.0] * 3, [0.0] * 3])


def test_slip_is_the_horizontal_part_of_the_shortening() -> None:
    assert_allclose(pad_slip(0.3 * np.cos(0.35), 0.35), 0.3 * np.sin(0.35), rtol=1e-12)
