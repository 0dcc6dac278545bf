"""Drilling schedule: where holes lie on each face, and the metal left round them."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crushleg.case.records import Row, WallStep
from crushleg.design.drill import Schedule, ligaments, schedule_of, thickest_wall
from crushleg.design.stock import Stock, hole_tools
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.ligaments import ligaments as least_ligaments
from tests.samples import girder, mm

TOOLS = Stock(tools=hole_tools(), sheets=())


def row(height: float, size: float, **more: Any) -> Row:
    lengths = {
        key: value * mm for key, value in more.items() if key not in ("shape", "per_face", "faces")
    }
    return Row(height=height * mm, size=size * mm, **(more | lengths))


def schedule(*rows: Row, **changes: Any) -> Schedule:
    return schedule_of(girder(*rows, **changes), TOOLS)


def places(plan: Schedule, face: str) -> list[tuple[float, float]]:
    """Offset and height of the holes of a face [mm]."""
    holes = next(one.holes for one in plan.faces if one.name == face)
    return [(round(h.offset / mm, 9), round(h.height / mm, 9)) for h in holes]


def test_opposite_faces_are_mirror_images_so_that_one_setting_drills_both() -> None:
    plan = schedule(row(80, 20, offset=15), row(200, 10, per_face=2, spacing=30, offset=-5))
    front, back = places(plan, "front"), places(plan, "back")
    assert front == [(15.0, 80.0), (-20.0, 200.0), (10.0, 200.0)]
    assert sorted(back) == sorted((-x, z) for x, z in front)
    assert places(plan, "right") == front
    assert places(plan, "left") == back


def test_holes_of_a_row_are_listed_left_to_right_on_every_face() -> None:
    plan = schedule(row(80, 10, per_face=4, spacing=20, offset=7))
    for face in plan.faces:
        offsets = [hole.offset for hole in face.holes]
        assert offsets == sorted(offsets)


def test_a_row_of_one_pair_is_on_its_two_faces_alone() -> None:
    plan = schedule(row(80, 20, faces="front-back"), row(200, 10, faces="left-right"))
    assert [len(face.holes) for face in plan.faces] == [1, 1, 1, 1]
    assert [one.faces for one in plan.rows] == [("front", "back"), ("right", "left")]
    assert [one.holes for one in plan.rows] == [2, 2]


def test_corner_distance_is_that_of_the_face_a_hole_is_in() -> None:
    plan = schedule(row(80, 20, offset=5), width=120 * mm, depth=80 * mm)
    corner = {face.name: face.holes[0].to_corner for face in plan.faces}
    assert corner["front"] == corner["back"] == pytest.approx(45 * mm)
    assert corner["right"] == corner["left"] == pytest.approx(25 * mm)
    assert plan.rows[0].to_corner == pytest.approx(25 * mm)


def test_distance_to_the_end_is_that_to_the_nearer_end() -> None:
    plan = schedule(row(30, 20, size_along=40, shape="slot"), row(970, 20))
    assert [one.to_end / mm for one in plan.rows] == pytest.approx([10.0, 20.0])


def test_one_hole_alone_has_no_ligament() -> None:
    assert schedule(row(80, 20)).rows[0].ligament == math.inf


@pytest.mark.parametrize(
    ("rows", "left"),
    [
        ((row(80, 20), row(180, 40)), 70.0),
        ((row(80, 20, offset=-30), row(120, 30, offset=0)), 25.0),
        ((row(80, 10, per_face=3, spacing=14),), 4.0),
        ((row(100, 10, size_along=40, shape="slot"), row(150, 20)), 20.0),
        ((row(100, 10, shape="rectangle", offset=-8), row(115, 10, shape="rectangle")), 5.0),
        ((row(100, 10, shape="rectangle", offset=-13), row(114, 10, shape="rectangle")), 5.0),
    ],
    ids=["apart along", "3-4-5 circles", "beside", "slot", "corner over", "3-4-5 rectangles"],
)
def test_ligament_is_the_metal_between_outlines(rows: tuple[Row, ...], left: float) -> None:
    """By hand: centres 3-4-5 apart (30, 40 mm) less both radii, and the like."""
    assert schedule(*rows).rows[0].ligament / mm == pytest.approx(left)


def test_every_hole_of_a_row_has_its_own_ligament() -> None:
    """Left hole: 20 mm below a hole; right one: 40 mm below one, nearer than its neighbour."""
    rows = [row(100, 10, per_face=2, spacing=60), row(120, 10, offset=-30), row(140, 10, offset=30)]
    assert ligaments(rows)[0] / mm == pytest.approx([10.0, 30.0])


@given(
    st.lists(
        st.tuples(
            st.floats(20.0, 60.0),
            st.floats(3.0, 18.0),
            st.floats(3.0, 18.0),
            st.sampled_from(["slot", "rectangle"]),
            st.integers(1, 3),
            st.floats(-20.0, 20.0),
        ),
        min_size=1,
        max_size=6,
    )
)
def test_ligaments_agree_with_those_of_the_margins(drawn: list[tuple[Any, ...]]) -> None:
    """Two ways to the same distances: row by row here, all holes at once in the girder's room."""
    heights = np.cumsum([one[0] for one in drawn])
    rows = [
        row(z, s, size_along=a, shape=shape, per_face=n, spacing=20.0, offset=x)
        for z, (_, s, a, shape, n, x) in zip(heights, drawn, strict=True)
    ]
    box = girder(*rows)
    web = least_ligaments(girder_arrays([box], [3.0])).web[0]
    ends = [min(r.height - r.along / 2, box.length - r.height - r.along / 2) for r in rows]
    found = [np.minimum(w, e) for w, e in zip(ligaments(rows), ends, strict=True)]
    assert np.concatenate(found) == pytest.approx(web)


def test_a_hole_across_a_wall_step_has_the_thicker_wall() -> None:
    stepped = girder(wall_steps=(WallStep(start=0.5, wall=5 * mm),))
    assert thickest_wall(stepped, 0.4, 0.5) == 4 * mm
    assert thickest_wall(stepped, 0.4, 0.51) == 5 * mm
    assert thickest_wall(stepped, 0.5, 0.6) == 5 * mm


@pytest.mark.parametrize(
    ("hole", "makes"),
    [
        (row(80, 12.7), "12.7 mm twist drill"),
        (row(80, 60.325), "2 3/8 in hole saw"),
        (row(80, 61.5), None),
        (row(80, 60.5), "2 3/8 in hole saw"),
        (row(80, 20, size_along=40, shape="slot"), None),
        (row(80, 20, size_along=20, shape="slot"), "20 mm twist drill"),
        (row(80, 20, size_along=20, shape="rectangle"), None),
    ],
    ids=["drill", "inch saw", "no tool", "near", "slot", "round slot", "rectangle"],
)
def test_only_round_holes_of_a_stock_size_have_a_tool(hole: Row, makes: str | None) -> None:
    found = schedule(hole).rows[0].tool
    assert (found and found.name) == makes


def test_a_girder_without_holes_has_four_plain_faces() -> None:
    plan = schedule(width=100 * mm, depth=60 * mm)
    assert not plan.rows
    assert not plan.holes
    assert [(face.name, face.width) for face in plan.faces] == [
        ("front", 100 * mm),
        ("right", 60 * mm),
        ("back", 100 * mm),
        ("left", 60 * mm),
    ]
