"""Simulated plain square tubes: an open data set, a trend check (simulation, not test).

[BGS24] Borse, Gulakala & Stoffel, Arch. Mech. 76 (2024), MIT licence: mid-line side 80 mm, length
250 mm, 100 kg at 5 to 10 m/s, aluminium with true stress 80 MPa at first yield and 173 MPa at
plastic strain 0.174 (about 145 MPa engineering), no rate effect. The mean forces are plastic work
over crush between 100 and 180 mm: friction work is left out of them, so they are lower bounds. The
model lies +4, +3 and −2 % from them: its bias is stated, not tuned away. With the other flow
stress, √(s_y s_u/(1 + n)) and n 0.23 (from memory), it lies 10 to 16 % below.

Single runs: ½ m v² + m g S = E(S), all of it given to the girder. Friction between the folds
took part of it in the simulation and is not in E(S), so a run stops earlier than the curve says:
our energy is 9, 14 and 28 % under what the run brought.
"""

from __future__ import annotations

from functools import cache, partial
from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.girder.strength import flow_stress, hardening_flow_stress
from tests.outside import Outside, each
from tests.samples import EXACT, crushed, energy_at, girder, mm

if TYPE_CHECKING:
    from crushleg.girder.crush import Crush

MASS, GRAVITY = 100.0, 9.80665
MEANS = ((1.0, 6.10e3, 8, 0.04), (1.4, 10.73e3, 13, 0.03), (1.8, 17.29e3, 16, -0.02))
"""Wall [mm], simulated mean force [N], number of runs, our bias."""
RUNS = (
    (1.4, 5.8, 149.05, 1828, 0.907),
    (1.8, 7.0, 131.06, 2579, 0.865),
    (1.0, 5.1, 166.17, 1463, 0.725),
)
"""Wall [mm], speed [m/s], crush [mm], energy brought [J], ours over it."""
simulated = partial(
    Outside, source="Borse, Gulakala & Stoffel, Arch. Mech. 76 (2024)", status="simulation"
)


@cache
def tube(wall: float) -> Crush:
    """Crush of a tube of one wall [m]; the alloy is known, so the model alone makes the band."""
    side = 80 * mm + wall
    record = girder(
        material=EXACT,
        width=side,
        depth=side,
        wall=wall,
        length=250 * mm,
        corner_radius=0.0,
        wall_tolerance=0.0,
        hole_tolerance=0.0,
    )
    return crushed(record)


def means(wall: float) -> np.ndarray:
    """Low, nominal and high mean force of a tube [N]; wall [mm]."""
    result = tube(wall * mm)
    return np.asarray(result.curve.energy[:, 0, -1] / result.usable[0])


def nominal_mean(wall: float) -> float:
    """Nominal mean force of a tube [kN]; wall [mm]."""
    return float(means(wall)[1]) / 1e3


def energies(wall: float, crush: float) -> np.ndarray:
    """Low, nominal and high energy of a tube [J]; wall and crush [mm]."""
    return energy_at(tube(wall * mm), np.array([crush * mm]))[:, 0]


def nominal_energy(wall: float, crush: float) -> float:
    return float(energies(wall, crush)[1])


VALUES = (
    *(
        simulated(
            what=f"mean force of a tube 80 by {wall} mm",
            theirs=theirs / 1e3,
            ours=partial(nominal_mean, wall),
            place=f"plastic work over crush, mean of {runs} runs",
            relative=0.045,
            why=f"bias {bias:+.0%}, inside the model's band; friction is left out of theirs",
            unit="kN",
        )
        for wall, theirs, runs, bias in MEANS
    ),
    *(
        simulated(
            what=f"energy to {crush} mm, tube 80 by {wall} mm at {speed} m/s",
            theirs=float(brought),
            ours=partial(nominal_energy, wall, crush),
            place="one run: ½ m v² + m g S",
            relative=1.01 - ratio,
            why=f"bias {ratio - 1.0:+.0%}: friction between folds took part of theirs",
            unit="J",
        )
        for wall, speed, crush, brought, ratio in RUNS
    ),
)


@each(VALUES)
def test_borse_gulakala_and_stoffel_2024_simulated_square_tubes(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize(("wall", "force", "bias"), [(w, f, b) for w, f, _, b in MEANS])
def test_borse_gulakala_and_stoffel_2024_bias_of_the_mean_force(
    wall: float, force: float, bias: float
) -> None:
    """The printed bias to ±0.6 %, and inside the model's band."""
    low, nominal, high = means(wall)
    assert_allclose(nominal / force - 1.0, bias, atol=0.006)
    assert low < force < high


@pytest.mark.parametrize(("wall", "force"), [(w, f) for w, f, _, _ in MEANS])
def test_borse_gulakala_and_stoffel_2024_the_other_flow_stress_lies_below(
    wall: float, force: float
) -> None:
    lower = hardening_flow_stress(80e6, 145e6, 0.23) / flow_stress(80e6, 145e6)
    assert 0.84 < means(wall)[1] * float(lower) / force < 0.905


@pytest.mark.parametrize(("wall", "speed", "crush", "brought", "ratio"), RUNS)
def test_borse_gulakala_and_stoffel_2024_bias_of_single_runs(
    wall: float, speed: float, crush: float, brought: float, ratio: float
) -> None:
    """Two runs lie inside the band and the thinnest outside.

    The set's own plastic mean force gives 1014 J of the 1463 J brought in that run, so a third of
    it went elsewhere (friction between folds and platens): the curve, which holds no friction, is
    on the long side of the stroke.
    """
    assert_allclose(0.5 * MASS * speed**2 + MASS * GRAVITY * crush * mm, brought, atol=0.6)
    low, nominal, high = energies(wall, crush)
    assert_allclose(nominal / brought, ratio, atol=0.006)
    assert bool(low < brought < high) is (wall > 1.0)
