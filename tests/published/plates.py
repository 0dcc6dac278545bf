"""Finite elements of thin plates with round holes (scikit-fem), for the tests beside.

A quarter of a square cell with a hole in the middle, repeated along x to a row. Lengths over the
plate width b, which is 1; stress over the mean end stress; ν 0.3. In-plane: quadratic triangles,
plane stress. Bending: Morley triangles, whose eigenvalues err by h², from below on these meshes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from scipy.sparse.linalg import LinearOperator, eigsh, splu

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

try:
    import skfem
    import skfem.helpers as of
except ModuleNotFoundError:  # the tests that come here skip themselves without it
    skfem = of = None

NU = 0.3


def quarter(hole: float, cells: int) -> Any:
    """Quarter of a unit square around a hole of this diameter, ``cells`` from hole to edge."""
    if hole == 0.0:
        ticks = np.linspace(0.0, 0.5, cells + 1)
        return skfem.MeshTri.init_tensor(ticks, ticks)
    plane = skfem.MeshTri.init_tensor(
        np.linspace(0.0, 1.0, cells + 1), np.linspace(0.0, 1.0, 2 * cells + 1)
    )
    out, around = plane.p
    grading = np.log(1.0 / hole)
    outward = np.expm1(grading * out) / np.expm1(grading)
    angle = 0.5 * np.pi * around
    inner = 0.5 * hole * np.array([np.cos(angle), np.sin(angle)])
    outer = 0.5 * np.array([np.minimum(1.0, 2.0 - 2.0 * around), np.minimum(1.0, 2.0 * around)])
    points = np.ascontiguousarray(inner + (outer - inner) * outward)
    return skfem.MeshTri(points, plane.t)


def half_row(hole: float, cells: int, count: int) -> Any:
    """Upper half of ``count`` square cells in a row, a hole in the middle of each."""
    right = quarter(hole, cells)
    cell = (right + right.mirrored((1.0, 0.0), (0.0, 0.0))).translated((0.5, 0.0))
    row = cell
    for index in range(1, count):
        row = row + cell.translated((float(index), 0.0))
    return row


class Edges(NamedTuple):
    """Facets of the symmetry line across, the loaded end, the symmetry axis, the long side."""

    middle: Any
    end: Any
    axis: Any
    side: Any


def edges(mesh: Any) -> Edges:
    """Find the four straight edges of a mesh; what is left is holes."""
    length = float(mesh.p[0].max())
    places = ((0, 0.0), (0, length), (1, 0.0), (1, 0.5))
    return Edges(
        *(
            mesh.facets_satisfying(
                lambda x, axis=axis, at=at: np.isclose(x[axis], at), boundaries_only=True
            )
            for axis, at in places
        )
    )


def stress(u: Any) -> Any:
    """Plane stress of a displacement field over E."""
    strain = of.sym_grad(u)
    return ((1.0 - NU) * strain + NU * of.eye(of.trace(strain), 2)) / (1.0 - NU**2)


def stretching(mesh: Any) -> tuple[Any, Any]:
    """Basis and stiffness of a mesh in its plane."""
    basis = skfem.Basis(mesh, skfem.ElementVector(skfem.ElementTriP2()), intorder=4)
    form = skfem.BilinearForm(lambda u, v, _: of.ddot(stress(u), of.sym_grad(v)))
    return basis, form.assemble(basis)


def end_load(mesh: Any, at: Edges, *, rigid: bool) -> Any:
    """Displacements under a mean end stress of one, even or with ends that stay straight."""
    basis, stiff = stretching(mesh)
    fixed = [basis.get_dofs(at.middle).all(["u^1"]), basis.get_dofs(at.axis).all(["u^2"])]
    if rigid:
        pulled = basis.get_dofs(at.end).all(["u^1"])
        given = np.zeros(basis.N)
        given[pulled] = 1.0
        held = np.concatenate([*fixed, pulled])
        u = skfem.solve(*skfem.condense(stiff, x=given, D=held))
        return basis.interpolate(u / (2.0 * float(u @ (stiff @ u))))
    facets = skfem.FacetBasis(mesh, skfem.ElementVector(skfem.ElementTriP2()), facets=at.end)
    load = skfem.LinearForm(lambda v, _: v[0]).assemble(facets)
    u = skfem.solve(*skfem.condense(stiff, load, D=np.concatenate(fixed)))
    return basis.interpolate(u)


def coefficient(mesh: Any, *, rigid: bool = False, antisymmetric: bool = False) -> float:
    """Least buckling coefficient k of a plate pushed at both ends, all edges simply supported.

    ``mesh`` is a quarter of it, mirrored at x = 0 and y = 0; ``antisymmetric`` about x = 0.
    """
    at = edges(mesh)
    basis = skfem.Basis(mesh, skfem.ElementTriMorley(), intorder=4)
    bending = skfem.BilinearForm(
        lambda u, v, _: of.ddot(
            (1.0 - NU) * of.dd(u) + NU * of.eye(of.trace(of.dd(u)), 2), of.dd(v)
        )
    )
    softening = skfem.BilinearForm(
        lambda u, v, w: np.einsum("ij...,i...,j...", stress(w["pushed"]), of.grad(u), of.grad(v))
    )
    held = [basis.get_dofs(edge).all(["u"]) for edge in (at.end, at.side)]
    held.append(basis.get_dofs(at.axis).all(["u_n"]))
    held.append(basis.get_dofs(at.middle).all(["u" if antisymmetric else "u_n"]))
    free = basis.complement_dofs(np.unique(np.concatenate(held)))
    stiff = bending.assemble(basis)[free][:, free].tocsc()
    pushed = end_load(mesh, at, rigid=rigid)
    soft = softening.assemble(basis, pushed=pushed)[free][:, free]
    inverse = LinearOperator(stiff.shape, splu(stiff).solve, dtype=np.float64)
    largest: FloatArray = eigsh(
        soft, k=1, M=stiff, Minv=inverse, which="LA", return_eigenvectors=False
    )
    return float(1.0 / largest[0]) / np.pi**2


def extrapolated(coarse: float, fine: float) -> float:
    """Value of meshes twice as fine without end, from an error that goes with h² (Richardson)."""
    return fine + (fine - coarse) / 3.0


def square_coefficient(hole: float, cells: int = 16, *, rigid: bool = False) -> float:
    """Extrapolated k of a square plate with a hole in the middle."""
    return extrapolated(*(coefficient(quarter(hole, n), rigid=rigid) for n in (cells, 2 * cells)))


def row_coefficient(hole: float, count: int = 2, cells: int = 8) -> float:
    """Extrapolated k of a plate of twice ``count`` square cells, a hole in each; even stress."""
    return min(
        extrapolated(
            *(
                coefficient(half_row(hole, n, count), antisymmetric=antisymmetric)
                for n in (cells, 2 * cells)
            )
        )
        for antisymmetric in (False, True)
    )


def pattern_stiffness(ligament: float, cells: int = 24) -> float:
    """E*/E of a square pattern of holes in plane stress, pulled along the pitch.

    ``ligament`` is μ = (p − d)/p. Edges of the unit cell stay straight and slide freely; the
    mean stress across is zero.
    """
    mesh = quarter(1.0 - ligament, cells)
    at = edges(mesh)
    basis, stiff = stretching(mesh)
    ends = [basis.get_dofs(edge).all([name]) for edge, name in zip(at, UNKNOWNS, strict=True)]
    held = np.unique(np.concatenate(ends))
    fields = []
    for moved in (ends[1], ends[3]):
        given = np.zeros(basis.N)
        given[moved] = 0.5
        fields.append(skfem.solve(*skfem.condense(stiff, x=given, D=held)))
    energy = np.array([[one @ (stiff @ other) for other in fields] for one in fields]) / 0.25
    return float(1.0 / np.linalg.inv(energy)[0, 0])


UNKNOWNS = ("u^1", "u^1", "u^2", "u^2")
"""Displacement normal to each of :class:`Edges`."""
