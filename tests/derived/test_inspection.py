"""Back-calculation by hand: one constant force, four legs, the parts of the band.

10 kN × (0.12 + 0.15 + 0.18 + 0.15) m = 6000 J; Δz = 0.15 m;
v = √(2 (6000 − 1000·9.80665·0.15)/1000) = √(2·4529.0025/1000) = 3.009652 m/s. One leg of 40 kN,
1 t: v² = 2 (40 000 − 9806.65) S/1000.
"""

from __future__ import annotations

from functools import partial

import numpy as np
import pytest

from crushleg.landing.back_calculation import speed_from_crush
from crushleg.landing.crush_plane import plane_of_legs
from crushleg.landing.energy_band import root_sum_square
from crushleg.landing.settle import crush_tilt
from crushleg.trial.crushed_legs import OneLeg, taken
from crushleg.trial.speed_band import OWN, SpeedBand, Stopped, Unsure, back_calculate
from tests.outside import Outside, each

G0 = 9.80665
RIGID = 1e30


def constant(force: float, spread: float = 0.0, stiffness: float = RIGID) -> OneLeg:
    """Leg of constant force, low and high by a factor e^∓spread."""
    levels = force * np.exp(np.array([-spread, 0.0, spread]))
    crush = np.linspace(0.0, 0.5, 11)
    return OneLeg(
        crush, levels[:, None] * np.ones(11), levels[:, None] * crush, stiffness, 1.0, 1.0
    )


def stopped(legs: int, mass: float = 1000.0) -> Stopped:
    return Stopped(mass, mass * G0, np.full(legs, 1.0 / legs))


FOUR = np.array([0.12, 0.15, 0.18, 0.15])
derived = partial(
    Outside,
    source="energy balance read backward",
    status="derived",
    why="half a unit of the last digit given",
)


def four() -> SpeedBand:
    return back_calculate(constant(10e3), stopped(4), Unsure(np.zeros(4), 0.0), FOUR)


def one(crush: float) -> float:
    """Speed of one leg of 40 kN [m/s]."""
    unsure = Unsure(np.zeros(1), 0.0)
    return float(back_calculate(constant(40e3), stopped(1), unsure, np.array([crush])).speed[1])


def leaned(index: int) -> float:
    """Lean [°] and whither [°] of the four legs, opposite pads 4 m apart."""
    _, east, north = plane_of_legs(np.arange(4) * np.pi / 2.0, 2.0) @ FOUR
    lean = np.degrees(np.arctan(np.hypot(east, north)))
    return float((lean, np.degrees(np.arctan2(north, east)) % 360.0)[index])


def deviation() -> float:
    """Return σ of the speed of one leg, force 8 %, reading 3 mm, mass 2 % [m/s]."""
    unsure = Unsure(np.array([0.003]), 0.02)
    leg = constant(40e3, spread=0.08)
    found = back_calculate(leg, stopped(1), unsure, np.array([0.14904]))
    return float(root_sum_square(found.parts.mean(axis=0)[:, None])[0]) / (1000.0 * 3.0)


VALUES = (
    *(
        derived(
            what=f"speed of one leg, {crush:.2f} m of crush at 40 kN",
            theirs=theirs,
            ours=partial(one, crush),
            place="v² = 2 (F − m g) S/m",
            absolute=5e-7,
            unit="m/s",
        )
        for crush, theirs in ((0.10, 2.457371), (0.16, 3.108355))
    ),
    derived(
        what="energy of four legs of 10 kN, 0.12, 0.15, 0.18, 0.15 m",
        theirs=6000.0,
        ours=lambda: float(four().energy[1]),
        place="Σ F s",
        relative=1e-9,
        unit="J",
        why="exact",
    ),
    derived(
        what="travel of those four legs",
        theirs=0.15,
        ours=lambda: float(four().travel[1]),
        place="mean",
        relative=1e-9,
        unit="m",
        why="exact",
    ),
    derived(
        what="speed of those four legs",
        theirs=3.009652,
        ours=lambda: float(four().speed[1]),
        place="√(2 (6000 − m g 0.15)/m)",
        absolute=5e-7,
        unit="m/s",
    ),
    derived(
        what="lean of those four legs, opposite pads 4 m apart",
        theirs=0.8594,
        ours=partial(leaned, 0),
        place="atan((0.18 − 0.12)/4)",
        absolute=5e-5,
        unit="°",
    ),
    derived(
        what="direction of that lean, third leg lowest",
        theirs=180.0,
        ours=partial(leaned, 1),
        place="from the first leg to the third",
        relative=1e-9,
        unit="°",
        why="exact",
    ),
    derived(
        what="σ of the speed: force 8 %, crush 3 mm, mass 2 %",
        theirs=0.1666,
        ours=deviation,
        place="½ v √Σ of parts, first order",
        absolute=4e-4,
        unit="m/s",
        why="8 % is a factor of e^±0.08: 0.1 % of curvature",
    ),
)


@each(VALUES)
def test_an_inspection_gives_what_is_worked_by_hand(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize("legs", [2, 3, 4, 6, 24])
def test_the_plane_of_equally_spaced_legs_is_that_of_the_check(legs: int) -> None:
    azimuths = 2.0 * np.pi * np.arange(legs) / legs
    crush = np.random.default_rng(legs).uniform(0.1, 0.2, legs)
    sunk, east, north = plane_of_legs(azimuths, 3.4) @ crush
    assert sunk == pytest.approx(crush.mean(), rel=1e-12)
    assert np.hypot(east, north) == pytest.approx(
        float(crush_tilt(crush, azimuths, 3.4, 1.0)), rel=1e-9
    )


def test_a_rigid_lean_of_legs_at_odd_azimuths_is_found_again() -> None:
    """Z = 0.2 + 0.01 x − 0.02 y on legs at 0, 80, 190, 250°: the plane through them is exact."""
    azimuths = np.radians([0.0, 80.0, 190.0, 250.0])
    travel = 0.2 + 3.0 * (0.01 * np.cos(azimuths) - 0.02 * np.sin(azimuths))
    assert plane_of_legs(azimuths, 3.0) @ travel == pytest.approx([0.2, 0.01, -0.02])


def test_the_band_of_one_constant_leg_is_that_by_hand() -> None:
    """40 kN ± 8 %, S 0.14904 ± 3 mm, m ± 2 %, all as standard deviations.

    v² = 2FS/m − 2gS, v = 3 m/s. dv/v = ½ (F/(F−Wn) · 0.08, 0.003/0.14904, F/(F−Wn) · 0.02)
    with F/(F−Wn) = 40/30.193 = 1.3248: ½ √(0.10598² + 0.02013² + 0.02650²) · 3 = 0.1666 m/s.
    Here 8 % is ln 1.08 or so; first order in all parts, so the mean of down and up is compared.
    """
    leg = constant(40e3, spread=0.08)
    unsure = Unsure(np.array([0.003]), 0.02)
    found = back_calculate(leg, stopped(1), unsure, np.array([0.14904]))
    assert found.speed[1] == pytest.approx(3.0, abs=1e-5)
    assert 0.5 * (found.speed[2] - found.speed[0]) == pytest.approx(0.1666, abs=6e-4)
    parts = found.parts.mean(axis=0)[:, None] / (1000.0 * 3.0)
    assert root_sum_square(parts[2:4])[0] == pytest.approx(
        1.5 * np.hypot(0.02013, 0.02650), rel=1e-3
    )


def test_the_band_of_one_leg_is_whole_and_of_many_legs_mostly_common() -> None:
    """R = 0.2: common √(0.2² − 0.0392²) = 0.1961; with n legs own 0.0392/√n of the energy."""
    for legs in (1, 4):
        leg = constant(10e3, spread=0.2)
        free = Stopped(1000.0, 0.0, np.full(legs, 1.0 / legs))
        crush = np.full(legs, 0.1)
        found = back_calculate(leg, free, Unsure(np.zeros(legs), 0.0), crush)
        common, own = found.parts[:, 0], found.parts[:, 1]
        assert own == pytest.approx([OWN * 1000.0 * np.sqrt(legs)] * 2)
        share = np.sqrt(0.2**2 - OWN**2) / 0.2
        assert common == pytest.approx(legs * 1e3 * share * np.abs(np.expm1([-0.2, 0.2])))
        if legs == 1:
            assert np.hypot(common, own).mean() == pytest.approx(1e3 * np.sinh(0.2), rel=2e-2)


def test_known_energy_elsewhere_adds_to_that_of_the_legs() -> None:
    """6000 J in the legs and 500 J elsewhere: v = √(2 (6500 − 1470.9975)/1000) = 3.171436 m/s."""
    crush = np.array([0.12, 0.15, 0.18, 0.15])
    unsure = Unsure(np.zeros(4), 0.0, 500.0, 100.0)
    found = back_calculate(constant(10e3), stopped(4), unsure, crush)
    assert found.speed[1] == pytest.approx(3.171436, abs=5e-7)
    assert found.parts[:, 4] == pytest.approx([100.0, 100.0])


def test_spring_back_is_put_back_for_the_balance() -> None:
    """F²/2K = 40 000²/(2·4e7) = 20 J, F/K = 1 mm: E = 4000 + 20 J, Δz = 0.101 m."""
    leg = constant(40e3, stiffness=4e7)
    took = taken(leg, np.array([0.1]))
    assert took.spring[1] == pytest.approx(20.0)
    assert took.travel[1] == pytest.approx(0.101)
    found = back_calculate(leg, stopped(1), Unsure(np.zeros(1), 0.0), np.array([0.1]))
    by_hand = np.sqrt(2.0 * (4020.0 - 1000.0 * G0 * 0.101) / 1000.0)
    assert found.speed[1] == pytest.approx(by_hand, rel=1e-12)


def test_a_drop_before_all_pads_touch_is_work_of_the_weight() -> None:
    """0.05 m more: v² less by 2 g 0.05."""
    unsure, crush = Unsure(np.zeros(1), 0.0), np.array([0.1])
    level = back_calculate(constant(40e3), stopped(1), unsure, crush)
    tilted = back_calculate(constant(40e3), stopped(1)._replace(drop=0.05), unsure, crush)
    less = level.speed[1] ** 2 - tilted.speed[1] ** 2
    assert less == pytest.approx(2.0 * G0 * 0.05, rel=1e-12)


def test_a_leg_without_crush_counts_nothing_and_its_reading_error_does() -> None:
    leg = constant(40e3, stiffness=4e7)
    found = back_calculate(leg, stopped(1), Unsure(np.array([0.002]), 0.0), np.zeros(1))
    assert found.speed[1] == 0.0
    assert found.energy[1] == 0.0
    net = 40e3 * 0.002 + 20.0 - 1000.0 * G0 * 0.003
    assert found.speed[2] == pytest.approx(float(speed_from_crush(1000.0, 0.0, net, 0.0)), rel=1e-9)
