"""Effective widths and buckling coefficients of a wall in compression.

Plain: AISI S100 and EN 1993-1-5 with ψ = 1, which agree (published). With round holes: AISI
S100, from memory. Outstand strip k = 0.425: EN 1993-1-5, table 4.2 with ψ = 1 (0.43), and
S. P. Timoshenko, J. M. Gere, Theory of Elastic Stability (0.425 for a long strip, from memory).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.girder.buckling import (
    FREE_EDGE,
    STIFFENED,
    critical_stress,
    holed_width,
    plain_width,
    stagger_factor,
    strips_width,
)

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray, FloatArray


@pytest.mark.parametrize(("slenderness", "width"), [(0.673, 1.0), (1.0, 0.780), (1.495, 0.5705)])
def test_a_plain_wall_has_its_published_width(slenderness: float, width: float) -> None:
    assert_allclose(plain_width(slenderness), width, atol=3e-4 if width == 1.0 else 5e-5)


@pytest.mark.parametrize(
    ("slenderness", "removed", "width"),
    [
        (1.0, 0.2, 0.637),
        (1.0, 0.4, 0.494),
        (1.495, 0.2, 0.471),
        (1.495, 0.4, 0.3716),
        (0.6, 0.3, 0.7),
    ],
)
def test_a_wall_with_round_holes_has_its_width(
    slenderness: float, removed: float, width: float
) -> None:
    """(1 − 0.22/λ − 0.8x + 0.085x/λ)/λ, at most 1 − x (from memory)."""
    assert_allclose(holed_width(slenderness, removed), width, atol=5e-4)


def test_without_holes_both_forms_agree() -> None:
    lam = np.linspace(0.1, 4.0, 200)
    assert_allclose(holed_width(lam, 0.0), plain_width(lam), rtol=1e-12)


def test_the_euler_stress_of_a_wall_is_the_handbook_one() -> None:
    """4 π² E/(12(1 − ν²)) (t/b)² = 3.615 E (t/b)² at ν 0.3 (from memory)."""
    assert_allclose(critical_stress(200e9, 0.3, 1.0, 50.0), 3.615 * 200e9 / 2500, rtol=2e-4)


def test_strips_beside_a_long_slot_are_outstands_on_their_own_width() -> None:
    """Side 100, slot 40: two strips of 30, k 0.425.

    λ of the whole wall 1.0, so a strip has λ √(4/0.425) 30/100 = 0.92036 and
    ρ (1 − 0.22/0.92036)/0.92036 = 0.82680; 2 × 30 × 0.82680/100 = 0.49608.
    """
    gaps = np.array([0.03, 0.03])
    width = strips_width(gaps, np.zeros(2), np.array(0.2), np.array(0.1), np.array(1.0), 0.3)
    assert_allclose(width, 0.49608, atol=2e-5)


@pytest.mark.parametrize(("net", "factor"), [(0.5, 0.8665), (0.3, 0.7947), (0.9, 1.0)])
def test_a_staggered_pattern_keeps_its_share(net: float, factor: float) -> None:
    """min(μ, 0.687μ + 0.359μ²)/μ: perforated-sheet practice (from memory)."""
    assert_allclose(stagger_factor(net), factor, atol=5e-5)


def plate_coefficient(aspect: float, cells: int, *, free: bool) -> float:
    """Least k of a plate pushed at its ends, simply supported; one long edge free if ``free``."""
    from scipy.sparse.linalg import eigsh
    from skfem import Basis, BilinearForm, ElementTriMorley, MeshTri
    from skfem.helpers import dd, ddot, eye, grad, trace

    nu = 0.3
    along = np.linspace(0.0, aspect, int(cells * aspect) + 1)
    mesh = MeshTri.init_tensor(along, np.linspace(0.0, 1.0, cells + 1))
    basis = Basis(mesh, ElementTriMorley(), intorder=4)
    bending = BilinearForm(
        lambda u, v, _: ddot((1.0 - nu) * dd(u) + nu * eye(trace(dd(u)), 2), dd(v))
    )
    membrane = BilinearForm(lambda u, v, _: grad(u)[0] * grad(v)[0])

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
