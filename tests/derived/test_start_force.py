"""Force that starts a fold, worked by hand [D].

Box 140 × 4 mm: C 136; E 200 GPa, ν 0.27, yield 220/295/350, ultimate 520/650/700 MPa.
σcr = 4π² E/(12(1 − ν²)) (4/136)² = 613.9 MPa. Nominal: λ = √(295/613.9) = 0.69318, no
hardening (λ > 0.68), so the squash stress is the yield.

Dunlin row 1, d 82, x = 82/136 = 0.60294, four walls:
effective (1 − 0.22/λ − 0.8x + 0.085x/λ)/λ = 0.395573 → 4·136·4·295 × 0.395573 = 253.926 kN;
squash of the net section 4·136·4·295 × 0.397059 = 254.880 kN; mean 254.403 kN.
Rows of 74, 64, 52, 38, 20 by the same two forms: 291.733, 338.395, 394.389, 459.715, 543.707.
Low: λ = √(220/613.9) = 0.5986 ≤ 0.673, so 1 − x: 4·136·4·220 × 0.397059 = 190.080 kN. High:
λ = √(350/613.9) = 0.7550: 4·136·4·350 × 0.397059 = 302.400 kN.
Plain: widths 0.984765 and 1: 632.141 and 641.920, mean 637.030 kN.
Two faces drilled, two plain: (253.926 + 632.141)/2 = 443.034 and 448.400, mean 445.717 kN.
Slot 20 × 200, longer than a fold, in a wall of 2 mm: C 138, σcr 149.07 MPa, λ 1.406757; strips of
59 mm with one free edge as long as the slot, k 0.425 + (59/200)² = 0.512025, λ √(4/k) 59/138 =
1.681034, width 0.517020 each, together 2 × 59/138 of it = 0.442090 (as a round hole 0.523492);
squash 1 − 20/138; 4·138·2·295 × their mean = 211.230 kN. The same 29 mm beside the middle: strips
of 88 and 30, k 0.618600 and 0.447500, λ 2.281118 and 0.914313, widths 0.396102 × 88/138 +
0.830550 × 30/138 = 0.433141: 209.7727 kN. Slot 20 × 90 in 4 mm: strips not weaker than a round
hole, 0.841060 and 0.852941: 543.707 kN.
Three holes of 20 at 40, rows staggered by 20 at a pitch of 34.64 (60°): x = 60/136, widths
0.553649 and 0.558824, mean 357.059 kN, times 0.687 + 0.359·0.5 = 0.8665: 309.392 kN.
Stocky 60 × 4 (C 56): λ 0.285429, strain ratio 0.25/λ^3.6 = 22.8 held at 15; less 1.002093 times
ε_y 0.001475 over 0.16(1 − 295/650) − 0.001475 = 0.0859096: lift 0.240332, stress 380.318 MPa;
widths 1: 4·56·4·295 = 264.320 and 4·56·4·380.318 = 340.765, mean 302.542 kN.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from numpy.testing import assert_allclose

from crushleg.case.records import Row
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.start import start_force
from crushleg.girder.walls import cut_holes
from tests.outside import Outside, each
from tests.samples import dunlin, girder, mm

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Girder

ROW_1 = Row(height=0.3, size=82 * mm)
THREE = Row(height=0.3, size=20 * mm, per_face=3, spacing=40 * mm)


def start(record: Girder, height: float = 0.3) -> FloatArray:
    """Low, nominal, high [kN]."""
    return start_force(girder_arrays([record], [0.0]), np.array([[height]]))[:, 0, 0] / 1e3


def slot(along: float) -> Row:
    return Row(height=0.3, size=20 * mm, size_along=along * mm, shape="slot")


SIDE = replace(slot(200), offset=29 * mm)


def staggered(shift: float, pitch: float) -> Girder:
    rows = (
        Row(height=0.3 + i * pitch, size=20 * mm, per_face=3, spacing=40 * mm, offset=i * shift)
        for i in (0, 1)
    )
    return girder(*rows)


derived = partial(
    Outside,
    source="start force, effective width and net squash",
    place="worked by hand in the docstring",
    status="derived",
    relative=3e-6,
    why="half a unit of the last digit given",
    unit="kN",
)


def at_level(record: Girder, level: int = 1, height: float = 0.3) -> float:
    return float(start(record, height)[level])


BARE = girder(ROW_1, wall_tolerance=0.0, hole_tolerance=0.0)
VALUES = (
    *(
        derived(what=f"nominal start force, {name}", theirs=force, ours=partial(at_level, record))
        for name, record, force in (
            ("82 mm holes in four walls", girder(ROW_1), 254.403),
            ("plain", girder(), 637.030),
            ("82 mm in front and back", girder(replace(ROW_1, faces="front-back")), 445.717),
            ("82 mm left and right", girder(replace(ROW_1, faces="left-right")), 445.717),
            ("long slots in a 2 mm wall", girder(slot(200), wall=2 * mm), 211.230),
            ("long slots beside the middle", girder(SIDE, wall=2 * mm), 209.7727),
            ("short slots", girder(slot(90)), 543.707),
            ("three holes a face", girder(THREE), 357.059),
            ("three holes a face, staggered at 60°", staggered(20 * mm, 34.64 * mm), 309.392),
            ("stocky plain wall", girder(width=60 * mm, depth=60 * mm), 302.542),
        )
    ),
    *(
        derived(
            what=f"{name} start force, 82 mm holes, no tolerances",
            theirs=force,
            ours=partial(at_level, BARE, level),
        )
        for level, (name, force) in enumerate(
            (("low", 190.080), ("nominal", 254.403), ("high", 302.400))
        )
    ),
    *(
        derived(
            what=f"nominal start force of the test stage's row of {size} mm",
            theirs=force,
            ours=partial(at_level, dunlin(), 1, 0.08 + 0.13 * i),
            relative=1e-5,
        )
        for i, (size, force) in enumerate(
            (
                (82, 254.403),
                (74, 291.733),
                (64, 338.395),
                (52, 394.389),
                (38, 459.715),
                (20, 543.707),
            )
        )
    ),
)


@each(VALUES)
def test_the_start_force_is_the_one_worked_by_hand(value: Outside) -> None:
    value.check()


def test_tolerances_join_by_root_sum_square_of_logs() -> None:
    """Each level's own form at wall 3.91 / 4.09 and at hole 82.2 / 81.8.

    Low, λ at most 0.613 and so 1 − x: 4 (C − d) t · 220; high, λ at least 0.738 and so no
    hardening: 4 (C − d) t · 350.
    """

    def apart(strength: float, wall: float, hole: float) -> float:
        form = 4.0 * (136.0 - 82.0) * 4.0 * strength
        others = (
            4.0 * (140.0 - wall - 82.0) * wall * strength,
            4.0 * (136.0 - hole) * 4 * strength,
        )
        parts = (form / 254.403e3, others[0] / form, others[1] / form)
        return math.exp(math.hypot(*(math.log(part) for part in parts)))

    low, _, high = start(girder(ROW_1))
    assert_allclose(low, 254.403 / apart(220.0, 3.91, 82.2), rtol=5e-6)
    assert_allclose(high, 254.403 * apart(350.0, 4.09, 81.8), rtol=5e-6)


def test_the_hole_tolerance_rounds_the_ends_of_a_slot_with_it() -> None:
    """Slot 40 × 60 mm grown by 4: 44 × 64, ends of 22 mm round centres 10 mm off its middle.

    At 27 mm above the middle, 17 above a centre: 2 √(22² − 17²) = 27.92848 mm.
    """
    hole = Row(height=0.3, size=40 * mm, size_along=60 * mm, shape="slot")
    cut = cut_holes(girder_arrays([girder(hole)], [0.0]), np.array([[0.327]]), 4 * mm)
    assert_allclose(cut.chord[0, 0, 0] / mm, 27.92848, rtol=2e-6)


def test_a_slot_no_longer_than_wide_is_a_round_hole() -> None:
    short = Row(height=0.3, size=40 * mm, size_along=40 * mm, shape="slot")
    assert_allclose(start(girder(short)), start(girder(Row(height=0.3, size=40 * mm))), rtol=1e-12)


def test_rows_far_apart_or_in_line_are_not_staggered() -> None:
    assert_allclose(start(staggered(20 * mm, 80 * mm))[1], 357.059, rtol=3e-6)
    assert_allclose(start(staggered(0.0, 34.64 * mm))[1], 357.059, rtol=3e-6)
