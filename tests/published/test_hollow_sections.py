"""Cold-formed square hollow sections, undrilled: mass, area, second moment, plastic modulus.

EN 10219-2, tables of section properties, outside corner radius 2 t (from memory). Area and mass
are ours to the digits given. Second moment and plastic modulus are those of a mid-line box with
sharp corners: 3 to 5.5 % more than the table with its round ones, so that Euler load and plastic
moment of a cold-formed tube are that much too large: stated, not tuned.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np
import pytest

from crushleg.girder.assemble import girder_arrays
from crushleg.girder.net import axial_stiffness, girder_mass, net_section
from tests.outside import Outside, each
from tests.samples import STAINLESS, girder, mm

STEEL = replace(STAINLESS, density=7850.0)
TABLE = {
    (60.0, 3.0): (5.19, 6.61, 35.1, 14.0),
    (100.0, 4.0): (11.7, 14.9, 226.0, 53.3),
    (150.0, 5.0): (22.3, 28.4, 982.0, 153.0),
}
"""Outside width and wall [mm]: kg/m, cm2, cm4, cm3."""
BIASES = {
    (60.0, 3.0): (0.055, 0.045),
    (100.0, 4.0): (0.044, 0.037),
    (150.0, 5.0): (0.035, 0.031),
}
"""Ours over the table, less one: second moment, plastic modulus."""
SIZES = tuple(TABLE)
QUANTITIES = (
    ("mass per length", "kg/m"),
    ("area", "cm2"),
    ("second moment of area", "cm4"),
    ("plastic modulus", "cm3"),
)


def properties(width: float, wall: float) -> tuple[float, float, float, float]:
    """Properties of a girder 1 m long, in the units of the table."""
    record = girder(
        material=STEEL,
        width=width * mm,
        depth=width * mm,
        wall=wall * mm,
        corner_radius=2.0 * wall * mm,
    )
    arrays = girder_arrays([record], [0.0])
    net = net_section(arrays, np.array([[0.5]]))
    return (
        float(girder_mass(arrays)[0]),
        float(net.area[0, 0]) * 1e4,
        float(net.inertia[0, 0, 0]) * 1e8,
        float(net.modulus[0, 0, 0]) * 1e6,
    )


def ours(size: tuple[float, float], index: int) -> float:
    return properties(*size)[index]


def named(size: tuple[float, float], quantity: str) -> str:
    return f"{quantity}, square hollow section {size[0]:g} by {size[0]:g} by {size[1]:g} mm"


table = partial(
    Outside,
    source="EN 10219-2",
    place="section properties of cold-formed square hollow sections",
    status="from memory",
)
VALUES = (
    *(
        table(
            what=named(size, quantity),
            theirs=TABLE[size][index],
            ours=partial(ours, size, index),
            relative=0.005,
            why="three digits given",
            unit=unit,
        )
        for size in SIZES
        for index, (quantity, unit) in enumerate(QUANTITIES[:2])
    ),
    *(
        table(
            what=named(size, quantity),
            theirs=TABLE[size][index + 2],
            ours=partial(ours, size, index + 2),
            relative=BIASES[size][index] + 0.005,
            why=f"bias {BIASES[size][index]:+.1%}: mid-line with sharp corners",
            unit=unit,
        )
        for size in SIZES
        for index, (quantity, unit) in enumerate(QUANTITIES[2:])
    ),
    table(
        what="axial stiffness of 1 m, square hollow section 100 by 100 by 4 mm, E 200 GPa",
        theirs=2.0e11 * 14.9e-4 / 1e6,
        ours=lambda: (
            float(
                axial_stiffness(
                    girder_arrays(
                        [girder(width=0.1, depth=0.1, wall=4 * mm, corner_radius=8 * mm)], [0.0]
                    )
                )[0]
            )
            / 1e6
        ),
        relative=0.005,
        why="three digits given for the area",
        unit="MN/m",
    ),
)


@each(VALUES)
def test_en_10219_2_square_hollow_sections(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]:g} by {size[1]:g}")
def test_en_10219_2_bias_of_sharp_corners(size: tuple[float, float]) -> None:
    found = np.divide(properties(*size)[2:], TABLE[size][2:]) - 1.0
    assert found == pytest.approx(BIASES[size], abs=0.004)
