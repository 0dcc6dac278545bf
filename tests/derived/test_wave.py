"""Force inside a fold, worked by hand [D].

p > 1: F/Pm = τ + (p − τ) e^(−ξ/w), τ 0.6. Its mean is τ + (p − τ) w (1 − e^(−1/w)) = 1. For
p 1.5 that is w (1 − e^(−1/w)) = 0.4/0.9, met by w 0.52078 (0.52078 × 0.85343 = 0.44445); for
p 2.5, 0.4/1.9 = 0.21053, w 0.21244 (× 0.99098). The trough of p 1.5 is 0.6 + 0.9 × 0.14658 =
0.73192.
p ≤ 1: rises from p, with mean one, and so that energy at any ξ grows with p. With rise 0.2 it is
q − (q − p) e^(−5ξ), q − (q − p) 0.198652 = 1: for p 0.5, q (1 − 0.198652) = 1 − 0.099326,
q 1.123949; at ξ 1 the force is 1.123949 − 0.623949 × 0.006738 = 1.119745.
"""

from __future__ import annotations

from functools import partial

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.integrate import quad
from scipy.optimize import brentq

from crushleg.girder.wave import decay, wave_energy, wave_force
from tests.outside import Outside, each
from tests.samples import crushed, dunlin, girder

CRESTS = [0.05, 0.4, 0.999999, 1.0, 1.000001, 1.01, 1.2, 1.5, 2.5, 6.0, 40.0]


derived = partial(
    Outside,
    source="wave of a fold, mean one",
    status="derived",
    absolute=5e-6,
    why="half a unit of the last digit given",
)


def decay_length(crest: float) -> float:
    return 1.0 / float(decay(crest))


def last_force(crest: float) -> float:
    return float(wave_force(1.0, crest, decay(crest)))


VALUES = (
    *(
        derived(
            what=f"decay length w of a fold's wave, crest ratio {crest:g}",
            theirs=w,
            ours=partial(decay_length, crest),
            place="w (1 − e^(−1/w)) = (1 − τ)/(p − τ)",
        )
        for crest, w in ((1.5, 0.52078), (2.5, 0.21244))
    ),
    derived(
        what="trough of a wave of crest ratio 1.5",
        theirs=0.73192,
        ours=partial(last_force, 1.5),
        place="τ + (p − τ) e^(−1/w)",
        absolute=1e-5,
    ),
    derived(
        what="end of a rising wave, crest ratio 0.5",
        theirs=1.119745,
        ours=partial(last_force, 0.5),
        place="q − (q − p) e^(−5)",
        absolute=1e-6,
    ),
)


@each(VALUES)
def test_a_wave_is_as_worked_by_hand(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize("crest", [1.01, 1.2, 3.0, 12.0])
def test_decay_is_the_root_of_its_equation(crest: float) -> None:
    root = brentq(
        lambda x: (crest - 0.6) * -np.expm1(-x) / x - 0.4, 1e-9, 500.0, xtol=1e-14, rtol=1e-14
    )
    assert_allclose(decay(crest), root, rtol=1e-9)


@pytest.mark.parametrize("crest", CRESTS)
def test_the_mean_of_a_wave_is_one(crest: float) -> None:
    rate = decay(crest)
    mean = quad(lambda xi: float(wave_force(xi, crest, rate)), 0.0, 1.0, epsabs=1e-12)[0]
    assert_allclose(mean, 1.0, rtol=1e-8)
    assert_allclose(wave_energy(1.0, crest, rate), 1.0, rtol=1e-9)


@pytest.mark.parametrize("crest", CRESTS)
def test_wave_energy_is_the_integral_of_its_force(crest: float) -> None:
    rate = decay(crest)
    for xi in (0.1, 0.5, 0.83):
        work = quad(lambda s: float(wave_force(s, crest, rate)), 0.0, xi, epsabs=1e-12)[0]
        assert_allclose(wave_energy(xi, crest, rate), work, rtol=1e-7)


@pytest.mark.parametrize("crest", CRESTS)
def test_a_wave_begins_at_its_crest(crest: float) -> None:
    assert_allclose(wave_force(0.0, crest, decay(crest)), crest, rtol=1e-12)


def test_energy_grows_with_the_crest_everywhere_in_a_fold() -> None:
    crests = np.linspace(0.02, 6.0, 300)[:, None]
    energy = wave_energy(np.linspace(0.0, 1.0, 101), crests, decay(crests))
    assert np.all(np.diff(energy, axis=0) >= -1e-9)


def test_the_wave_does_not_jump_where_the_crest_is_the_mean() -> None:
    xi = np.linspace(0.0, 1.0, 50)
    below, above = (wave_force(xi, p, decay(p)) for p in (1.0 - 1e-7, 1.0 + 1e-7))
    assert_allclose(below, above, atol=1e-6)


def test_a_fold_of_a_plain_girder_takes_its_mean_force_times_its_crushed_length() -> None:
    """Pm η 2H for every whole fold; the last on its own length; all levels."""
    result = crushed(girder())
    half, crushed_part = result.front.walls.half[0, 0], result.front.walls.crushed[0, 0]
    ends = result.curve.energy[:, 0].reshape(3, -1, 33)
    work = ends[..., -1] - ends[..., 0]
    whole = result.folds.force[:, 0] * crushed_part * 2.0 * half
    assert_allclose(work[:, :-1], whole[:, :-1], rtol=1e-6)
    folds = 1.0 / (2.0 * half)
    assert work.shape[1] == np.ceil(folds)
    assert_allclose(work[:, -1], whole[:, -1] * (folds - np.floor(folds)), rtol=1e-6)


def test_the_energy_of_a_drilled_girder_is_the_area_under_its_force() -> None:
    """Trapezia over 33 points a fold, the two forces at a boundary kept."""
    curve = crushed(dunlin()).curve
    steps = np.diff(curve.stroke[0])
    area = np.cumsum(0.5 * (curve.force[:, 0, 1:] + curve.force[:, 0, :-1]) * steps, axis=1)
    assert_allclose(area, curve.energy[:, 0, 1:], rtol=1e-3)
