"""Buckling coefficients of plates in end compression, by finite elements (scikit-fem).

Simply supported: 4.000; one long edge free: 0.425 + (b/a)² at ν 0.3 (S. P. Timoshenko, J. M. Gere,
Theory of Elastic Stability, from memory).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.sparse.linalg import eigsh

from crushleg.girder.buckling import FREE_EDGE, STIFFENED

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray

skfem = pytest.importorskip("skfem")
of = pytest.importorskip("skfem.helpers")


def plate_coefficient(aspect: float, cells: int, *, free: bool) -> float:
    """Least k of a plate pushed at its ends, simply supported; one long edge free if ``free``."""
    nu = 0.3
    along = np.linspace(0.0, aspect, int(cells * aspect) + 1)
    mesh = skfem.MeshTri.init_tensor(along, np.linspace(0.0, 1.0, cells + 1))
    basis = skfem.Basis(mesh, skfem.ElementTriMorley(), intorder=4)
    bending = skfem.BilinearForm(
        lambda u, v, _: of.ddot(
            (1.0 - nu) * of.dd(u) + nu * of.eye(of.trace(of.dd(u)), 2), of.dd(v)
        )
    )
    membrane = skfem.BilinearForm(lambda u, v, _: of.grad(u)[0] * of.grad(v)[0])

    def held(x: FloatArray) -> BoolArray:
        ends = np.isclose(x[0], 0.0) | np.isclose(x[0], aspect) | np.isclose(x[1], 0.0)
        return ends | (np.isclose(x[1], 1.0) & (not free))

    edges = mesh.facets_satisfying(held, boundaries_only=True)
    inside = basis.complement_dofs(basis.get_dofs(edges).all("u"))
    stiff, load = (form.assemble(basis)[inside][:, inside] for form in (bending, membrane))
    return float(eigsh(stiff, k=1, M=load, sigma=0, return_eigenvectors=False)[0]) / np.pi**2


@pytest.mark.evidence
@pytest.mark.parametrize(
    ("aspect", "cells", "free", "k"),
    [(1.0, 24, False, STIFFENED), (5.0, 12, True, FREE_EDGE + 1.0 / 25.0)],
    ids=["both edges held", "one edge free"],
)
def test_finite_elements_give_the_buckling_coefficients(
    aspect: float, cells: int, free: bool, k: float
) -> None:
    """Morley elements, ν 0.3; two meshes extrapolated as h². Free edge: k = 0.425 + (b/a)²."""
    coarse = plate_coefficient(aspect, cells, free=free)
    fine = plate_coefficient(aspect, 2 * cells, free=free)
    assert_allclose(fine + (fine - coarse) / 3.0, k, rtol=2e-3)
