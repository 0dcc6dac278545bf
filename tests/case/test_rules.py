"""Rules between fields: each violation and its message, and the case just inside."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crushleg.case.hole_rules import min_gap
from crushleg.case.records import Case, Row

if TYPE_CHECKING:
    from tests.case.conftest import Complain, Read

H = "girder.holes."
T = "touchdown.0."

VIOLATIONS = {
    "hole off the face": (
        [f"{H}sizes=['136 mm']"],
        (
            "--set girder.holes.sizes: 0: read row of 136 mm at 80 mm: edge 68 mm from the middle "
            "of the face; write less than 68 mm, the mid-line of the corner"
        ),
    ),
    "hole off the narrower side": (
        ["girder.depth=80 mm"],
        "row of 82 mm at 80 mm: edge 41 mm from the middle of the face; write less than 38 mm",
    ),
    "hole moved off the face": (
        [f"{H}stagger=40 mm"],
        "row of 74 mm at 210 mm: edge 77 mm from the middle of the face",
    ),
    "hole off a thicker wall": (
        [f"{H}sizes=['60 mm', '132 mm']", 'girder.wall_steps=[{from="150 mm", wall="8 mm"}]'],
        "row of 132 mm at 210 mm: edge 66 mm from the middle of the face; write less than 66 mm",
    ),
    "no spacing": (
        [f"{H}per_face=2", f"{H}sizes=['30 mm']"],
        "row of 30 mm at 80 mm: 2 holes on a face and no spacing; write spacing of more than 30 mm",
    ),
    "spacing too small": (
        [f"{H}per_face=2", f"{H}spacing=30 mm", f"{H}sizes=['30 mm']"],
        "2 holes on a face and spacing 30 mm",
    ),
    "rows overlap": (
        [f"{H}row_pitch=77 mm"],
        (
            "girder.holes.sizes.1: read row of 82 mm at 80 mm overlaps row of 74 mm at 157 mm; "
            "write a larger row_pitch (or height), or smaller holes"
        ),
    ),
    "beyond the foot": (
        [f"{H}first=41 mm"],
        "row of 82 mm at 41 mm: beyond the foot end; write a height of more than 41 mm",
    ),
    "beyond the top": (
        [f"{H}row_pitch=445 mm"],
        "row of 64 mm at 970 mm: beyond the top end at 1 m; write a height of less than 968 mm",
    ),
    "size along of a circle": (
        [f"{H}size_along=90 mm"],
        'read size_along of a circle; write shape = "slot" or "rectangle"',
    ),
    "slot without size along": ([f"{H}shape=slot"], "read a slot without size_along; write size_"),
    "wall too thick": (
        ["girder.wall=70 mm", "girder.corner_radius=0 mm"],
        "--set girder.wall: read a wall of 70 mm; write less than 70 mm, half the narrower side",
    ),
    "measured wall too thick": (
        ["girder.measured.wall=80 mm"],
        "--set girder.measured.wall: read a wall of 80 mm; write less than 70 mm",
    ),
    "tolerance eats the wall": (
        ["girder.wall_tolerance=4 mm"],
        "girder.wall_tolerance: read ± 4 mm; write less than the wall, 4 mm",
    ),
    "corner radius below the wall": (
        ["girder.corner_radius=3 mm"],
        'girder.corner_radius: read 3 mm; write "0 mm" (sharp) or 4 mm, the wall, to 70 mm, half',
    ),
    "corner radius above half the side": (["girder.corner_radius=71 mm"], "read 71 mm; write "),
    "wall steps descend": (
        ['girder.wall_steps=[{from="500 mm",wall="5 mm"},{from="400 mm",wall="6 mm"}]'],
        "girder.wall_steps: 1.from: read 400 mm; write more than 500 mm: steps ascend",
    ),
    "wall step beyond the top": (
        ['girder.wall_steps=[{from="1 m",wall="5 mm"}]'],
        "read 1 m; write less than the length, 1 m",
    ),
    "seam of a heat-treated temper": (
        ["girder.material=temper.toml"],
        (
            "case.toml:14: girder.seam: read no seam, though a weld weakens Test steel; "
            'write seam = "none" in [girder], or [girder.seam] with strength_factor = 0.6'
        ),
    ),
    "measured yield above the datasheet's ultimate": (
        ["girder.measured.yield_strength=651 MPa"],
        "girder.measured.yield_strength: read yield 651 MPa above ultimate 650 MPa; write",
    ),
    "measured ultimate below yield": (
        ["girder.measured.ultimate_strength=299 MPa"],
        "girder.measured.ultimate_strength: read yield 300 MPa above ultimate 299 MPa",
    ),
    "temperature without a table": (
        ["girder.temperature=77 K"],
        "girder.temperature: read 77 K, but the datasheet has no [strength_with_temperature]",
    ),
    "temperature outside the table": (
        ["girder.temperature=310 K", "girder.material=warm.toml"],
        "girder.temperature: read 310 K; write 77 K to 294 K, the range of the datasheet",
    ),
    "rate without a pair": (
        ["girder.rate=true"],
        "girder.rate: read true, but Test steel has no [rate]; write rate = false, or",
    ),
    "leg jams on the ground": (
        ["leg.cant=45 deg", "leg.pad_friction=0.95"],
        "leg.cant: read cant 45 deg with pad_friction 0.95: the leg jams; write a smaller cant",
    ),
    "leg jams in its guide": (
        ["leg.cant=30 deg", "leg.pad_friction=0.6", "leg.guide_friction=0.6"],
        (
            "leg.guide_friction: read guide_friction 0.6 times side load 1.80: the leg jams in its "
            "guide; write less than 0.50"
        ),
    ),
    "free length too short": (
        ["leg.free_length=0.9 m"],
        "leg.free_length: read 900 mm; write at least the girder's length, 1 m",
    ),
    "crest below one": (
        ["girder.crest_ratio=[0.9, 1.3, 1.5]"],
        "--set girder.crest_ratio: 0: read 0.9; write at least 1",
    ),
    "crest out of order": (
        ["girder.crest_ratio=[1.4, 1.3, 1.5]"],
        "girder.crest_ratio: read [1.4, 1.3, 1.5]; write low ≤ nominal ≤ high",
    ),
    "crest of two": (
        ["girder.crest_ratio=[1.4, 1.5]"],
        "read a list; write three numbers, low nominal high: [1.2, 1.35, 1.55]",
    ),
    "thrust carries the vehicle": (
        [f"{T}thrust_to_weight=1.0"],
        (
            "read 1; write at least 0 and less than 1 (at 1 thrust carries the vehicle: it does not"
            " settle)"
        ),
    ),
    "one leg first without a gap": (
        [f"{T}first_contact=one"],
        (
            'read "one": the far pads\' gap is not given; write attitude or slope, '
            "which say how high the other pads still are"
        ),
    ),
    "one leg first on a coupon": (
        [f"{T}first_contact=one", f"{T}attitude=2 deg", "vehicle.legs=1"],
        'read "one" on 1 legs; write "all": with fewer than three legs none is apart',
    ),
    "horizontal speed on a coupon": (
        [f"{T}horizontal_speed=1 m/s", "vehicle.legs=2"],
        "read a horizontal speed on 2 legs, which have no tipping edge; write no horizontal_speed",
    ),
    "same name twice": (
        ["touchdown.1.name=nominal"],
        'read "nominal", which is the name of an earlier one; write another name',
    ),
    "pad pressure without area": (
        ["limits.pad_pressure_max=6 MPa"],
        'read pad_pressure_max, without pad_area; write pad_area = "0.16 m2" in [leg]',
    ),
}


@pytest.mark.parametrize(("overrides", "message"), VIOLATIONS.values(), ids=VIOLATIONS)
def test_a_violated_rule_is_reported(
    complain: Complain, overrides: list[str], message: str
) -> None:
    problems = complain(*overrides)
    assert any(message in problem for problem in problems), problems


@pytest.mark.parametrize(
    ("gone", "overrides", "message"),
    [
        (
            "radius_of_gyration",
            [f"{T}first_contact=two", f"{T}attitude=-2 deg"],
            'read "two", without radius_of_gyration; write in [vehicle]: radius_of_gyration = "5',
        ),
        (
            "pad_circle_radius",
            [f"{T}horizontal_speed=1 m/s"],
            "read horizontal_speed above zero (tip-over), without pad_circle_radius; write in",
        ),
        (
            "centre_of_gravity_height",
            [f"{T}slope=1 deg"],
            "read slope above zero (tip-over), without centre_of_gravity_height",
        ),
        (
            "centre_of_gravity_height",
            ["standing.fuelled.side_acceleration=0.1 g0"],
            "read side_acceleration above zero, without centre_of_gravity_height",
        ),
        ("clearance", ["limits.clearance_min=0.1 m"], "read clearance_min, without clearance"),
        ("pad_circle_radius", ["limits.lean_max=3 deg"], "read lean_max, without pad_circle_rad"),
        (
            "pad_circle_radius",
            ["vehicle.clearance_radius=0.5 m"],
            "read clearance_radius above zero, without pad_circle_radius",
        ),
    ],
)
def test_what_a_touchdown_or_limit_needs_is_asked_for(
    read: Read, complain: Complain, case_text: str, gone: str, overrides: list[str], message: str
) -> None:
    text = "\n".join(row for row in case_text.split("\n") if not row.startswith(f"{gone} ="))
    assert any(message in problem for problem in complain(*overrides, text=text))
    assert isinstance(read(*overrides), Case)


@pytest.mark.parametrize(
    "overrides",
    [
        [f"{H}sizes=['135.9 mm']"],
        [f"{H}per_face=2", f"{H}spacing=31 mm", f"{H}sizes=['30 mm']"],
        [f"{H}row_pitch=78.1 mm"],
        [f"{H}first=41.1 mm"],
        ["girder.corner_radius=0 mm"],
        ["girder.corner_radius=4 mm"],
        ["girder.material=temper.toml", "girder.seam=none"],
        ["girder.material=temper.toml", "girder.seam.strength_factor=0.6"],
        ["girder.measured.yield_strength=651 MPa", "girder.measured.ultimate_strength=651 MPa"],
        ["girder.temperature=285.1 K"],
        ["girder.temperature=-100 degC", "girder.material=warm.toml"],
        ["girder.rate=true", "girder.material=warm.toml"],
        ["leg.cant=45 deg", "leg.pad_friction=0.92"],
        ["leg.free_length=1 m"],
        ["leg.travel_ratio=1.2"],
        ["leg.travel_ratio=1.2", "leg.cant=10 deg"],
        [f"{T}first_contact=one", f"{T}slope=1 deg"],
        [f"{T}horizontal_speed=1 m/s"],
        [f"{T}thrust_to_weight=0.99"],
        ["vehicle.legs=1"],
        ["girder.wall_steps=[{from='500 mm',wall='5 mm'},{from='600 mm',wall='4 mm'}]"],
    ],
)
def test_a_case_just_inside_a_rule_is_read(read: Read, overrides: list[str]) -> None:
    assert isinstance(read(*overrides), Case)


def test_a_rule_that_needs_an_unread_field_keeps_silent(complain: Complain) -> None:
    problems = complain("girder.wall=5", "girder.holes.sizes=['139 mm']", "leg.free_length=1 kg")
    assert len(problems) == 2


def test_rows_on_different_faces_may_overlap(
    read: Read, complain: Complain, case_text: str
) -> None:
    head = case_text.index('law = "stepped"')
    rows = """
[[girder.holes.row]]
height = "80 mm"
size = "60 mm"
faces = "front-back"
[[girder.holes.row]]
height = "90 mm"
size = "60 mm"
faces = "{faces}"

"""
    text = case_text[:head] + rows + case_text[case_text.index("[[touchdown]]") :]
    assert len(read(text=text.format(faces="left-right")).girder.holes.rows) == 2
    (problem,) = complain(text=text.format(faces="all"))
    assert problem.startswith("case.toml:26: girder.holes.row.1: read row of 60 mm at 80 mm over")


def test_the_gap_of_circles_slots_and_rectangles_is_the_true_distance() -> None:
    """Hand values: 3-4-5 triangle between centres, less the radii; boxes by their corners."""
    circle = Row(height=0.1, size=0.02)
    assert min_gap(circle, Row(height=0.14, size=0.02, offset=0.03)) == pytest.approx(0.03)
    slot = Row(height=0.14, size=0.02, size_along=0.06, shape="slot", offset=0.03)
    assert min_gap(circle, slot) == pytest.approx((0.03**2 + 0.02**2) ** 0.5 - 0.02)
    box = Row(height=0.15, size=0.02, size_along=0.02, shape="rectangle", offset=0.04)
    assert min_gap(circle, box) == pytest.approx(0.04)
    pair = Row(height=0.1, size=0.02, per_face=2, spacing=0.1)
    assert min_gap(circle, pair) == pytest.approx(0.03)


shapes = st.builds(
    Row,
    height=st.floats(0.01, 0.5),
    size=st.floats(0.001, 0.1),
    size_along=st.floats(0.001, 0.1),
    shape=st.sampled_from(["slot", "rectangle"]),
    offset=st.floats(-0.05, 0.05),
)


@given(shapes, shapes)
def test_the_gap_is_the_same_both_ways_and_a_bound_of_the_bounding_boxes(
    one: Row, other: Row
) -> None:
    gap = min_gap(one, other)
    assert gap == pytest.approx(min_gap(other, one), abs=1e-12)
    apart = max(
        abs(one.height - other.height) - (one.along + other.along) / 2,
        abs(one.offset - other.offset) - (one.size + other.size) / 2,
    )
    assert gap >= apart - 1e-12
