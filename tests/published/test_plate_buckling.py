"""Elastic buckling of plates by finite elements, plain, with one edge free, with round holes.

What is compared with what. Plain: our elements with 4 and 0.425 + (b/a)² of S. P. Timoshenko,
J. M. Gere, Theory of Elastic Stability (from memory); the project's own coefficients are held to
these in test_effective_width.py. Holed, square, simply supported, even end stress: our elements
with an independent computation, k 3.840, 3.227, 2.903 at d/b 0.1, 0.3, 0.5 (derived). The in-plane
stress of the holed plate is solved first, and the geometric stiffness follows from it. Rigid ends
and a row of four holes have no figure from outside: their tests hold the elements to refinement
and to each other, no more.

The project has no elastic k for a holed wall. Its low start force is the width of AISI S100, its
high one the net section; the last tests say where they lie beside k. Nothing was tuned.
"""

from __future__ import annotations

from functools import cache, partial

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.sparse.linalg import eigsh

from crushleg.girder.buckling import holed_width
from tests.outside import Outside, each
from tests.published.plates import (
    NU,
    coefficient,
    extrapolated,
    quarter,
    row_coefficient,
    square_coefficient,
)

skfem = pytest.importorskip("skfem")
of = pytest.importorskip("skfem.helpers")

HOLES = (0.1, 0.3, 0.5)


def free_edge_coefficient(aspect: float, cells: int) -> float:
    """Least k of a plate pushed at its ends, three edges simply supported, one long edge free."""
    along = np.linspace(0.0, aspect, int(cells * aspect) + 1)
    mesh = skfem.MeshTri.init_tensor(along, np.linspace(0.0, 1.0, cells + 1))
    basis = skfem.Basis(mesh, skfem.ElementTriMorley(), intorder=4)
    bending = skfem.BilinearForm(
        lambda u, v, _: of.ddot(
            (1.0 - NU) * of.dd(u) + NU * of.eye(of.trace(of.dd(u)), 2), of.dd(v)
        )
    )
    softening = skfem.BilinearForm(lambda u, v, _: of.grad(u)[0] * of.grad(v)[0])
    edges = mesh.facets_satisfying(
        lambda x: np.isclose(x[0], 0.0) | np.isclose(x[0], aspect) | np.isclose(x[1], 0.0),
        boundaries_only=True,
    )
    inside = basis.complement_dofs(basis.get_dofs(edges).all("u"))
    stiff, load = (form.assemble(basis)[inside][:, inside] for form in (bending, softening))
    return float(eigsh(stiff, k=1, M=load, sigma=0, return_eigenvectors=False)[0]) / np.pi**2


square = cache(partial(square_coefficient))
ended = cache(partial(square_coefficient, rigid=True))


def free_edge() -> float:
    """Buckling coefficient of a strip five times as long as wide."""
    return extrapolated(*(free_edge_coefficient(5.0, cells) for cells in (12, 24)))


handbook = partial(
    Outside,
    source="S. P. Timoshenko, J. M. Gere, Theory of Elastic Stability",
    status="from memory",
    relative=2e-3,
    why="two meshes extrapolated as h²",
)
VALUES = (
    handbook(
        what="buckling k of a square plate, finite elements",
        theirs=4.0,
        ours=lambda: square(0.0),
        place="simply supported, even end stress",
    ),
    handbook(
        what="buckling k of a strip 5 by 1 with one edge free, finite elements",
        theirs=0.465,
        ours=free_edge,
        place="0.425 + (b/a)²",
    ),
    *(
        Outside(
            what=f"buckling k of a square plate with a hole of d/b {hole}, finite elements",
            theirs=theirs,
            ours=partial(square, hole),
            source="independent finite elements (scikit-fem)",
            place="simply supported, even end stress",
            status="derived",
            absolute=2e-3,
            why="digits given, and two meshes extrapolated as h²",
        )
        for hole, theirs in zip(HOLES, (3.840, 3.227, 2.903), strict=True)
    ),
)


@pytest.mark.evidence
@each(VALUES)
def test_timoshenko_and_gere_and_finite_elements_plate_buckling(value: Outside) -> None:
    value.check()


@pytest.mark.evidence
@pytest.mark.parametrize("rigid", [False, True], ids=["even stress", "rigid ends"])
@pytest.mark.parametrize("hole", [0.0, *HOLES])
def test_finite_elements_holed_plate_converges_as_the_square_of_the_mesh(
    hole: float, rigid: bool
) -> None:
    """Each halving leaves a quarter of the change; the finest mesh is within 0.6 % of the limit."""
    coarse, middle, fine = (coefficient(quarter(hole, n), rigid=rigid) for n in (8, 16, 32))
    assert_allclose((fine - middle) / (middle - coarse), 0.25, atol=0.05)
    assert_allclose(fine, extrapolated(middle, fine), rtol=6e-3)


@pytest.mark.evidence
def test_finite_elements_rigid_ends_hold_a_holed_plate_better_than_even_stress() -> None:
    """Near 3.87, 3.52, 3.93: straight ends lead the load past the hole to the held edges."""
    assert ended(0.0) == pytest.approx(square(0.0), rel=1e-6)
    for hole in HOLES:
        assert ended(hole) > square(hole)


@pytest.mark.evidence
@pytest.mark.parametrize("hole", HOLES)
def test_finite_elements_a_row_of_holes_lies_between_even_stress_and_rigid_ends(
    hole: float,
) -> None:
    """Four holes at a pitch of b. Cells inside a row keep their borders nearly straight."""
    assert square(hole) < row_coefficient(hole) < ended(hole)


@pytest.mark.evidence
@pytest.mark.parametrize("slenderness", [0.8, 1.0, 1.5, 2.0])
@pytest.mark.parametrize("hole", HOLES)
def test_low_start_force_lies_under_the_width_of_a_plate_with_the_k_of_its_hole(
    hole: float, slenderness: float
) -> None:
    """Beside (1 − 0.22/λ)/λ at λ √(4/k), at most the net width: ours is 5 to 35 % less, never more.

    AISI S100 takes the hole once more in the ultimate strength; elastic buckling alone does not.
    """
    own = slenderness * np.sqrt(4.0 / square(hole))
    beside = min(1.0 - hole, (1.0 - 0.22 / own) / own)
    ours = float(holed_width(slenderness, hole))
    assert 0.64 < ours / beside < 0.95


@pytest.mark.evidence
@pytest.mark.parametrize(
    ("hole", "slenderness"), [(0.1, 1.27), (0.3, 1.32), (0.5, 1.505)], ids=["0.1", "0.3", "0.5"]
)
def test_low_start_force_passes_elastic_buckling_where_walls_are_slender(
    hole: float, slenderness: float
) -> None:
    """From λ near 1.3 to 1.5 on the low start force is more than the elastic load, k/(4λ²) C t s_y.

    Walls carry on after they buckle: a start force above k is meant, not an error.
    """
    for lam, above in ((slenderness - 0.02, False), (slenderness + 0.02, True)):
        elastic = square(hole) / (4.0 * lam**2)
        assert bool(holed_width(lam, hole) > elastic) is above
