"""Points and draws: the same in any chunks, spread as their method says, correlated as asked."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pytest
from scipy.stats import norm

from crushleg.scatter.plan import plan_of
from crushleg.scatter.sampling import columns, correlated, dimensions, draws, groups, points
from tests.scatter.conftest import WALL_AND_MASS

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.case.records import Case
    from tests.scatter.conftest import Scattered

METHODS = ("sobol", "latin hypercube", "random")
PARTS = """
[scatter]
samples = 64
defaults = false
[[scatter.input]]
key = "girder.wall"
distribution = "normal"
deviation = "0.04 mm"
[[scatter.input]]
key = "girder.wall"
part = "leg"
distribution = "normal"
deviation = "0.03 mm"
[[scatter.input]]
key = "model"
[[scatter.input]]
key = "model"
part = "leg"
distribution = "lognormal"
cov = 0.05
[[scatter.input]]
key = "vehicle.mass"
distribution = "normal"
cov = 0.02
"""
STRENGTHS = """
[scatter]
samples = 64
defaults = false
[[scatter.input]]
key = "girder.material.yield_strength"
[[scatter.input]]
key = "vehicle.mass"
distribution = "normal"
cov = 0.02
[[scatter.input]]
key = "girder.material.ultimate_strength"
[[scatter.correlation]]
inputs = ["girder.material.yield_strength", "girder.material.ultimate_strength"]
value = 0.7
"""


@pytest.mark.parametrize("method", METHODS)
def test_points_do_not_depend_on_the_chunks_they_come_in(method: str) -> None:
    whole = points(method, 7, 3000, 5, 0, 3000)
    edges = [0, 1, 700, 1024, 1025, 2048, 3000]
    parts = [points(method, 7, 3000, 5, a, b) for a, b in pairwise(edges)]
    assert np.concatenate(parts).tobytes() == whole.tobytes()
    assert np.all((whole >= 0.0) & (whole <= 1.0))


@pytest.mark.parametrize("method", METHODS)
def test_another_seed_gives_other_points(method: str) -> None:
    one, other = (points(method, seed, 64, 3, 0, 64) for seed in (1, 2))
    assert not np.any(one == other)


def test_sobol_points_are_balanced_in_every_column() -> None:
    counts = [np.bincount((u * 64).astype(int)) for u in points("sobol", 3, 4096, 6, 0, 4096).T]
    assert all(count.tolist() == [64] * 64 for count in counts)


def test_a_latin_hypercube_has_one_point_in_every_stratum() -> None:
    cube = points("latin hypercube", 3, 1000, 4, 0, 1000)
    assert all(sorted((u * 1000).astype(int)) == list(range(1000)) for u in cube.T)


def test_random_points_are_uniform_and_independent() -> None:
    cube = points("random", 3, 0, 3, 0, 20_000)
    assert cube.mean(axis=0) == pytest.approx(0.5, abs=0.01)
    assert np.asarray(np.corrcoef(cube.T))[np.triu_indices(3, 1)] == pytest.approx(0.0, abs=0.03)


def test_draws_do_not_depend_on_the_chunks_they_come_in(scattered: Scattered) -> None:
    case = scattered(PARTS)
    whole = draws(case, 0, 64)
    parts = [draws(case, a, b - a) for a, b in pairwise([0, 5, 6, 40, 64])]
    assert [part.start for part in parts] == [0, 5, 6, 40]
    for key, value in whole.values.items():
        joined = np.concatenate([part.values[key] for part in parts])
        assert joined.tobytes() == value.tobytes()


def test_a_case_without_scatter_draws_what_is_toleranced(scattered: Scattered) -> None:
    case = scattered()
    plan = plan_of(case)
    assert plan.scatter.samples == 4096
    assert [one.key for one in plan.inputs] == [
        "girder.wall",
        "girder.material.yield_strength",
        "girder.material.ultimate_strength",
        "girder.hole_size",
        "vehicle.mass",
        "touchdown.nominal.vertical_speed",
        "model",
    ]
    values = draws(case, 0, 4096).values
    assert values["girder.wall"].std() == pytest.approx(0.09e-3 / 1.96, rel=0.03)
    limits = np.percentile(values["girder.material.yield_strength"], [2.5, 50.0, 97.5])
    assert limits == pytest.approx([220e6, 295e6, 350e6], rel=0.002)
    assert np.median(values["model"]) == pytest.approx(1.0, abs=0.001)
    assert np.log(values["model"]).std() == pytest.approx(0.1, rel=0.01)
    assert all(one.source for one in plan.inputs)
    strengths = ("girder.material.yield_strength", "girder.material.ultimate_strength")
    assert [(pair.inputs, pair.value) for pair in plan.correlations] == [(strengths, 0.75)]
    ranks = [values[key].argsort().argsort() for key in strengths]
    spearman = np.asarray(np.corrcoef(ranks))[0, 1]
    assert spearman == pytest.approx(6.0 / np.pi * np.arcsin(0.75 / 2.0), abs=0.01)


def test_a_listed_input_replaces_its_default_and_leaves_the_others(scattered: Scattered) -> None:
    case = scattered(WALL_AND_MASS.replace("defaults = false", "defaults = true"))
    inputs = {one.key: one for one in plan_of(case).inputs}
    assert len(inputs) == 7
    assert inputs["girder.wall"].deviation == 0.05e-3
    assert inputs["vehicle.mass"].source == "the case"


def test_without_defaults_only_what_is_listed_is_drawn(small: Case) -> None:
    assert set(draws(small, 0, 4).values) == {"girder.wall", "vehicle.mass"}


def test_parts_add_up_about_the_case_and_factors_multiply(scattered: Scattered) -> None:
    case = scattered(PARTS.replace("samples = 64", "samples = 4096"))
    values = draws(case, 0, 4096).values
    wall = values["girder.wall"]
    assert wall.shape == (4096, 6)
    assert wall.mean() == pytest.approx(4e-3, rel=1e-4)
    assert wall.std(axis=0) == pytest.approx(0.05e-3, rel=0.03)
    shared = np.asarray(np.corrcoef(wall.T))[np.triu_indices(6, 1)]
    assert shared == pytest.approx((0.04 / 0.05) ** 2, abs=0.03)
    logs = np.log(values["model"]).std(axis=0)
    assert logs == pytest.approx(np.hypot(0.1, np.sqrt(np.log1p(0.05**2))), rel=0.03)
    assert values["vehicle.mass"].shape == (4096,)


def test_normal_scores_have_the_correlation_asked_for(scattered: Scattered) -> None:
    plan = plan_of(scattered(STRENGTHS))
    scores = norm.ppf(correlated(plan, points("sobol", 1, 0, 3, 0, 8192)))
    assert np.corrcoef(scores.T)[0, 2] == pytest.approx(0.7, abs=0.01)
    assert np.corrcoef(scores.T)[0, 1] == pytest.approx(0.0, abs=0.01)
    assert scores.std(axis=0) == pytest.approx(1.0, abs=0.01)


def test_an_uncorrelated_column_is_left_bit_by_bit(scattered: Scattered) -> None:
    plan = plan_of(scattered(STRENGTHS))
    cube = points("sobol", 1, 0, 3, 0, 64)
    assert correlated(plan, cube)[:, 1].tobytes() == cube[:, 1].tobytes()


def test_correlated_inputs_are_one_group_and_legs_of_one_input_too(scattered: Scattered) -> None:
    strengths = "girder.material.yield_strength + girder.material.ultimate_strength"
    assert groups(plan_of(scattered(STRENGTHS))) == {strengths: (0, 2), "vehicle.mass": (1,)}
    plan = plan_of(scattered(PARTS))
    assert dimensions(plan) == 15
    assert groups(plan)["girder.wall, leg to leg"] == tuple(range(1, 7))
    assert [len(one.columns) for one in columns(plan)] == [1, 6, 1, 6, 1]


LEG_PAIR = """
[[scatter.input]]
key = "girder.material.yield_strength"
part = "leg"
distribution = "normal"
cov = 0.01
[[scatter.correlation]]
inputs = ["girder.wall", "girder.material.yield_strength"]
part = "leg"
value = 0.5
"""


def test_a_correlation_leg_to_leg_ties_the_parts_of_the_legs_alone(scattered: Scattered) -> None:
    batch = '[[scatter.input]]\nkey = "girder.material.yield_strength"\n'
    plan = plan_of(scattered(PARTS + LEG_PAIR + batch))
    found = groups(plan)
    both = "girder.wall + girder.material.yield_strength, leg to leg"
    assert len(found[both]) == 2 * plan.legs
    assert {"girder.wall", "girder.material.yield_strength", "vehicle.mass"} <= set(found)
    scores = norm.ppf(correlated(plan, points("sobol", 1, 0, dimensions(plan), 0, 4096)))
    table = np.asarray(np.corrcoef(scores.T))
    at = {(one.input.key, one.input.part): one.columns for one in columns(plan)}
    walls, yields = (at[key, "leg"] for key in ("girder.wall", "girder.material.yield_strength"))
    assert table[walls[2], yields[2]] == pytest.approx(0.5, abs=0.03)
    assert table[walls[2], yields[3]] == pytest.approx(0.0, abs=0.03)


def test_two_parts_of_the_model_multiply_about_the_factor_of_the_tests(
    scattered: Scattered, tmp_path: Path
) -> None:
    (tmp_path / "tests.toml").write_text(
        'force_factor = 1.2\nscatter = 0.04\ntests = 3\nsource = "three drops"\n'
    )
    text = """
[scatter]
samples = 4096
defaults = false
[[scatter.input]]
key = "model"
[[scatter.input]]
key = "model"
part = "leg"
distribution = "lognormal"
cov = 0.03
"""
    case = scattered(text, tmp_path, "girder.correlation=tests.toml")
    logs = np.log(draws(case, 0, 4096).values["model"])
    assert np.median(logs, axis=0) == pytest.approx(np.log(1.2), abs=2e-3)
    assert logs.std(axis=0) == pytest.approx(np.hypot(0.04, 0.03), rel=0.03)


def test_a_certified_strength_scatters_as_coupons_over_their_certificates(
    scattered: Scattered,
) -> None:
    """Coefficient of variation 0.044 of 207 coupons (published, second-hand)."""
    case = scattered("", None, "girder.measured.yield_strength=301 MPa")
    drawn = draws(case, 0, 4096).values["girder.measured.yield_strength"]
    assert drawn.mean() == pytest.approx(301e6, rel=1e-3)
    assert drawn.std() / drawn.mean() == pytest.approx(0.044, rel=0.02)
