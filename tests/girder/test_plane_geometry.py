"""Chords, areas, webs and mass against general-purpose plane geometry (shapely)."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.case.records import Row
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.holes import area_below, chord, corner_radius
from crushleg.girder.ligaments import ligaments
from crushleg.girder.net import girder_mass, net_area
from tests.samples import girder, mm

shapely = pytest.importorskip("shapely")

SHAPES = [
    ("circle", 0.08, 0.08),
    ("slot", 0.03, 0.09),
    ("slot", 0.09, 0.03),
    ("slot", 0.05, 0.05),
    ("rectangle", 0.05, 0.02),
    ("rectangle", 0.01, 0.1),
]
FINE = 256
"""Segments a quarter circle: area to 2e-6."""


def outline(shape: str, across: float, along: float, x: float = 0.0, z: float = 0.0) -> Any:
    """Hole as drawn: a circle, the hull of two circles, or a box."""
    if shape == "rectangle":
        return shapely.box(x - across / 2, z - along / 2, x + across / 2, z + along / 2)
    radius = min(across, along) / 2
    dx, dz = across / 2 - radius, along / 2 - radius
    ends = (shapely.Point(x + i * dx, z + i * dz).buffer(radius, quad_segs=FINE) for i in (-1, 1))
    return shapely.union_all(list(ends)).convex_hull


@pytest.mark.evidence
@pytest.mark.parametrize(("shape", "across", "along"), SHAPES)
def test_chords_and_areas_match_the_outline(shape: str, across: float, along: float) -> None:
    hole = outline(shape, across, along)
    size = (0.0, across, along, corner_radius(shape, across, along))
    for z in np.linspace(-0.53, 0.53, 22) * along:
        line = shapely.LineString([(-1.0, z), (1.0, z)])
        assert_allclose(chord(z, *size), hole.intersection(line).length, atol=1e-4 * across)
        below = hole.intersection(shapely.box(-1.0, -1.0, 1.0, z)).area
        assert_allclose(
            area_below(z, *size) - area_below(-1.0, *size), below, atol=1e-4 * hole.area
        )


ROWS = (
    Row(height=0.09, size=60 * mm, offset=15 * mm),
    Row(height=0.2, size=20 * mm, per_face=4, spacing=31 * mm),
    Row(height=0.232, size=20 * mm, per_face=3, spacing=31 * mm, offset=4 * mm),
    Row(height=0.33, size=25 * mm, size_along=80 * mm, shape="slot", offset=-30 * mm),
    Row(height=0.34, size=40 * mm, size_along=30 * mm, shape="rectangle", offset=30 * mm),
    Row(height=0.45, size=70 * mm, size_along=30 * mm, shape="slot", faces="front-back"),
    Row(height=0.45, size=40 * mm, size_along=50 * mm, shape="rectangle", faces="left-right"),
    Row(height=0.62, size=44 * mm),
)
RECORD = girder(*ROWS, length=0.7)


def drawn(face: str) -> list[Any]:
    return [
        outline(
            row.shape,
            row.size,
            row.along,
            row.offset + (i - (row.per_face - 1) / 2) * row.spacing,
            row.height,
        )
        for row in ROWS
        if row.faces in ("all", face)
        for i in range(row.per_face)
    ]


@pytest.mark.evidence
def test_net_area_matches_cut_faces() -> None:
    """Perimeter of a box with rounded corners, its faces cut by a line across."""
    corners = 8.0 * 4 * mm - 2.0 * np.pi * 4 * mm
    heights = np.linspace(0.01, 0.69, 69)
    area = net_area(girder_arrays([RECORD], [0.0]), heights[None, :])[0]
    for z, found in zip(heights, area, strict=True):
        line = shapely.LineString([(-1.0, z), (1.0, z)])
        cut = sum(
            2.0 * hole.intersection(line).length
            for face in ("front-back", "left-right")
            for hole in drawn(face)
        )
        assert_allclose(found, 4 * mm * (4.0 * 136 * mm - corners - cut), rtol=1e-4)


@pytest.mark.evidence
def test_webs_and_corner_distances_match_the_drawing() -> None:
    found = ligaments(girder_arrays([RECORD], [0.0]))
    index = 0
    for row in ROWS:
        faces = ("front-back", "left-right") if row.faces == "all" else (row.faces,)
        for i in range(row.per_face):
            x = row.offset + (i - (row.per_face - 1) / 2) * row.spacing
            hole = outline(row.shape, row.size, row.along, x, row.height)
            others = [
                other
                for face in faces
                for other in drawn(face)
                if other.centroid.distance(hole.centroid) > 1e-6
            ]
            ends = [shapely.LineString([(-1, z), (1, z)]) for z in (0.0, RECORD.length)]
            web = min(hole.distance(other) for other in (*others, *ends))
            sides = [shapely.LineString([(s * 70 * mm, 0), (s * 70 * mm, 1)]) for s in (-1, 1)]
            assert_allclose(found.web[0, index], web, atol=1e-6)
            assert_allclose(found.corner[0, index], min(map(hole.distance, sides)), atol=1e-6)
            index += 1


@pytest.mark.evidence
def test_mass_is_that_of_the_cut_sheet() -> None:
    face = shapely.box(-68 * mm, 0.0, 68 * mm, 0.7)
    sheet = sum(
        2.0 * face.difference(shapely.union_all(drawn(name))).area
        for name in ("front-back", "left-right")
    )
    sheet -= 0.7 * (8.0 - 2.0 * np.pi) * 4 * mm
    assert_allclose(girder_mass(girder_arrays([RECORD], [0.0])), 7900.0 * 4 * mm * sheet, rtol=1e-5)
