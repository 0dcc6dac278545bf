"""One leg first: m = 1000 kg, v = 3 m/s unless said otherwise, worked by hand [D].

The vertical impulse J at offset x1 slows the centre of gravity by J/m and turns the vehicle by
ω = J x1/(m k²) without friction, so the pad loses (J/m)(1 + x1²/k²): it stops at J = m_eff v,
m_eff = m k²/(k² + x1²), and takes m_eff v²/2. The opposite pad arrives at v - (J/m)(1 - x1²/k²)
= 2 v x1²/(k² + x1²). A pad that friction holds turns the vehicle about the contact: k² + h² in
place of k² in the rotation, and needs μ = x1 h/(k² + h²). Sliding it pushes μJ inward at h:
ω = J (x1 − μh)/(m k²). With weight the pad falls with g as well: net force on it F − m_eff g.
Three legs, xj = −R/2: v x1 (x1 − xj)/(k² + x1²) = 3 · 2 · 3/8 = 2.25 m/s.
Foot plane turned by φ: a pad d farther up it stands d sin φ higher, 3 m at 30° by 1.5 m.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.landing.contact import first_offset, next_gap, next_offset
from crushleg.landing.first_leg import (
    arrival_speed,
    effective_mass,
    rotation_per_impulse,
    sticks,
)
from crushleg.landing.ideal import constant_force_stop
from tests.outside import Outside, each

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

MASS, SPEED, EARTH = 1000.0, 3.0, 9.80665
HEIGHT = 2.0  # of no effect without friction
derived = partial(
    Outside,
    status="derived",
    source="impulse on one leg of a rigid vehicle",
    why="half a unit of the last digit given",
)


def turn(k: float, x: float) -> FloatArray:
    return rotation_per_impulse(x, HEIGHT, k, 0.0)


def stops(k: float, x: float) -> float:
    """Mass that the first pad stops, no friction [kg]."""
    return float(effective_mass(MASS, x, turn(k, x)))


def arrives(k: float, x: float) -> float:
    """Speed of the opposite pad [m/s]."""
    return float(arrival_speed(SPEED, x, -x, turn(k, x)))


def on_earth(k: float, x: float, index: int) -> float:
    m_eff = stops(k, x)
    return float(constant_force_stop(m_eff, SPEED, 40e3, m_eff * EARTH)[index])


def third_of_three() -> float:
    x1, xj = first_offset(2.0, 3, 1), next_offset(2.0, 3, 1)
    return float(arrival_speed(SPEED, x1, xj, rotation_per_impulse(x1, HEIGHT, 2.0, 0.0)))


def share_with_friction(mu: float) -> float:
    return float(effective_mass(1.0, X, rotation_per_impulse(X, H, K, mu)))


def sticks_from() -> float:
    """Least friction that holds the pad, by bisection."""
    low, high = 0.0, 1.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if sticks(X, H, K, middle) else (middle, high)
    return high


K, H, X = 3.1, 5.4, 2.2
VALUES = (
    *(
        derived(
            what=f"{what}, k {k:g}, x {x:g}",
            theirs=theirs,
            ours=ours,
            place=formula,
            relative=1e-9,
            unit=unit,
            why="exact",
        )
        for k, x, share, far, first, left, second in (
            (2.0, 2.0, 0.5, 3.0, 2250.0, 2250.0, 2250.0),
            (6.0, 3.0, 0.8, 1.2, 3600.0, 900.0, 576.0),
            (1.5, 3.0, 0.2, 4.8, 900.0, 3600.0, 2304.0),
        )
        for what, theirs, ours, formula, unit in (
            ("m_eff/m", share, partial(lambda k, x: stops(k, x) / MASS, k, x), "k²/(k² + x²)", ""),
            ("opposite pad arrives", far, partial(arrives, k, x), "2 v x²/(k² + x²)", "m/s"),
            (
                "energy of the first leg",
                first,
                partial(lambda k, x: 0.5 * stops(k, x) * SPEED**2, k, x),
                "m_eff v²/2",
                "J",
            ),
            (
                "energy left in the vehicle",
                left,
                partial(lambda k, x: 0.5 * (MASS - stops(k, x)) * SPEED**2, k, x),
                "(m − m_eff) v²/2",
                "J",
            ),
            (
                "energy of a plastic second contact",
                second,
                partial(lambda k, x: 0.5 * stops(k, x) * arrives(k, x) ** 2, k, x),
                "m_eff v_j²/2",
                "J",
            ),
        )
    ),
    *(
        derived(
            what=f"{what} of the first leg, Earth, 40 kN, k {k:g}, x {x:g}",
            theirs=theirs,
            ours=partial(on_earth, k, x, index),
            place="F − m_eff g",
            absolute=5e-7,
            unit=unit,
        )
        for k, x, row in ((2.0, 2.0, (0.064109, 0.042739)), (6.0, 3.0, (0.111959, 0.074639)))
        for index, (what, theirs, unit) in enumerate(
            zip(("stroke", "time"), row, ("m", "s"), strict=True)
        )
    ),
    derived(
        what="other pads of three legs arrive, k 2, R 2",
        theirs=2.25,
        ours=third_of_three,
        place="v x1 (x1 − xj)/(k² + x1²)",
        relative=1e-9,
        unit="m/s",
        why="exact",
    ),
    derived(
        what="friction from which the first pad sticks, k 3.1, h 5.4, x 2.2",
        theirs=0.3064,
        ours=sticks_from,
        place="x h/(k² + h²)",
        absolute=5e-5,
    ),
    *(
        derived(
            what=f"m_eff/m on a pad that {how}, k 3.1, h 5.4, x 2.2",
            theirs=theirs,
            ours=partial(share_with_friction, mu),
            place=formula,
            absolute=5e-5,
        )
        for how, mu, theirs, formula in (
            ("sticks", 0.4, 0.8890, "(k² + h²)/(k² + h² + x²)"),
            ("slides at μ 0.2", 0.2, 0.7959, "k²/(k² + x² − μ x h)"),
            ("slides without friction", 0.0, 0.6651, "k²/(k² + x²)"),
        )
    ),
    derived(
        what="height of the next pads, 3 m apart at 30°",
        theirs=1.5,
        ours=lambda: float(next_gap(2.0, -1.0, np.radians(30.0))),
        place="(x1 − xj) sin φ",
        relative=1e-9,
        unit="m",
        why="exact",
    ),
)


@each(VALUES)
def test_one_leg_first_is_as_worked_by_hand(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize(
    ("legs", "together", "first", "following"),
    [
        (2, 1, 1.0, -1.0),
        (3, 1, 1.0, -0.5),
        (4, 1, 1.0, 0.0),
        (6, 1, 1.0, 0.5),
        (3, 2, 0.5, -1.0),
        (4, 2, 0.5**0.5, -(0.5**0.5)),
        (6, 2, 0.75**0.5, 0.0),
    ],
)
def test_offsets_are_the_largest_two_pad_coordinates_along_the_descent(
    legs: int, together: int, first: float, following: float
) -> None:
    """Pads on the unit circle, the lowest direction at a pad (one first) or midway (two)."""
    azimuth = 2.0 * np.pi * np.arange(legs) / legs - (together - 1) * np.pi / legs
    by_height = np.unique(np.cos(azimuth).round(12))[::-1]
    assert_allclose(by_height[:2], [first, following], atol=1e-11)
    assert_allclose(first_offset(1.0, legs, together), first, atol=1e-12)
    assert_allclose(next_offset(1.0, legs, together), following, atol=1e-12)
