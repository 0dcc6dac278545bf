"""One landing as a case: what is drawn is put in, and leaves the band."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from crushleg.case.records import Band
from crushleg.check import check_case
from crushleg.errors import InputError
from crushleg.scatter.plan import plan_of
from crushleg.scatter.sample import sampled_case, values_of
from crushleg.scatter.sampling import draws

if TYPE_CHECKING:
    from crushleg.case.records import Case
    from tests.scatter.conftest import Scattered


def listed(*keys: str) -> str:
    rows = "".join(
        f'[[scatter.input]]\nkey = "{key}"\ndistribution = "normal"\ncov = 0.001\n' for key in keys
    )
    return f"[scatter]\ndefaults = false\n{rows}"


DEFAULTED = '[scatter]\ndefaults = false\n[[scatter.input]]\nkey = "{}"\n'


def put(scattered: Scattered, key: str, value: float) -> Case:
    return sampled_case(scattered(listed(key)), {key: value})


def test_nothing_drawn_is_the_case_itself_without_its_band(scattered: Scattered) -> None:
    case = scattered()
    assert sampled_case(case, {}) == replace(case, girder=replace(case.girder, band=False))


def test_plain_keys_go_where_they_belong(scattered: Scattered) -> None:
    assert put(scattered, "vehicle.mass", 39e3).vehicle.mass == 39e3
    speed = put(scattered, "touchdown.reserve.vertical_speed", 3.4).touchdowns[1].vertical_speed
    assert speed == 3.4
    assert put(scattered, "limits.deceleration_max", 80.0).limits.deceleration_max == 80.0
    crest = put(scattered, "girder.crest_ratio.1", 1.4).girder.crest_ratio
    assert crest == Band(low=1.2, nominal=1.4, high=1.55)


@pytest.mark.parametrize(
    ("key", "value", "heights", "sizes"),
    [
        ("girder.holes.sizes.1", 0.07, [0.08, 0.21], [0.082, 0.07]),
        ("girder.holes.row_pitch", 0.14, [0.08, 0.22], [0.082, 0.074]),
        ("girder.holes.first", 0.09, [0.09, 0.22], [0.082, 0.074]),
    ],
)
def test_keys_of_the_grading_law_lay_the_rows_anew(
    scattered: Scattered, key: str, value: float, heights: list[float], sizes: list[float]
) -> None:
    rows = put(scattered, key, value).girder.holes.rows
    assert len(rows) == 6
    assert [row.height for row in rows[:2]] == pytest.approx(heights)
    assert [row.size for row in rows[:2]] == pytest.approx(sizes)


def test_a_hole_deviation_is_added_to_every_hole_and_rows_still_differ_by_the_tolerance(
    scattered: Scattered,
) -> None:
    """What is drawn is common to all holes: the collapse sequence asks how rows differ."""
    case = scattered(DEFAULTED.format("girder.hole_size"))
    girder = sampled_case(case, {"girder.hole_size": 1e-4}).girder
    assert [row.size for row in girder.holes.rows[:2]] == pytest.approx([0.0821, 0.0741])
    assert girder.hole_tolerance == case.girder.hole_tolerance == 0.2e-3
    assert girder.wall_tolerance == case.girder.wall_tolerance


def test_a_drawn_wall_has_no_tolerance_left(scattered: Scattered) -> None:
    girder = put(scattered, "girder.wall", 0.0041).girder
    assert (girder.wall, girder.wall_tolerance) == (0.0041, 0.0)
    assert girder.corner_radius == 0.006


def test_a_tolerance_stays_while_one_wall_is_not_drawn(scattered: Scattered) -> None:
    steps = '[[girder.wall_steps]]\nfrom = "500 mm"\nwall = "5 mm"\n'
    one = sampled_case(scattered(steps + listed("girder.wall")), {"girder.wall": 0.0041}).girder
    assert one.wall_tolerance == 0.09e-3
    keys = ("girder.wall", "girder.wall_steps.0.wall")
    both = sampled_case(scattered(steps + listed(*keys)), dict.fromkeys(keys, 0.0041)).girder
    assert (both.wall_steps[0].wall, both.wall_tolerance) == (0.0041, 0.0)


def test_drawn_strengths_have_no_band_left_and_the_ultimate_is_not_below(
    scattered: Scattered,
) -> None:
    case = scattered(DEFAULTED.format("girder.material.yield_strength"))
    key = "girder.material.yield_strength"
    material = sampled_case(case, {key: 310e6}).girder.material
    assert material.yield_strength == Band(low=310e6, nominal=310e6, high=310e6)
    assert material.ultimate_strength == case.girder.material.ultimate_strength
    material = sampled_case(case, {key: 560e6}).girder.material
    assert material.ultimate_strength.low == 560e6


def test_a_drawn_model_factor_leaves_the_least_scatter(scattered: Scattered) -> None:
    case = scattered(DEFAULTED.format("model"))
    correlation = sampled_case(case, {"model": 1.1}).girder.correlation
    assert correlation is not None
    assert (correlation.force_factor, correlation.scatter) == (1.1, 0.001)


def test_one_landing_has_one_curve_the_nominal_one(scattered: Scattered) -> None:
    case = scattered()
    whole, one = (check_case(c).crush for c in (case, sampled_case(case, {})))
    for level in range(3):
        assert (one.front.force[level] == whole.front.force[1]).all()
        assert (one.curve.force[level] == whole.curve.force[1]).all()
        assert (one.sequence.start[level] == whole.sequence.start[1]).all()


def test_values_of_one_leg_are_those_of_its_column(scattered: Scattered) -> None:
    text = listed("girder.wall").replace("cov", 'part = "leg"\ncov')
    found = draws(scattered(text), 0, 8)
    assert values_of(found, 3, leg=2) == {"girder.wall": found.values["girder.wall"][3, 2]}


def test_the_sequence_of_a_landing_at_the_values_of_the_case_is_that_of_its_check(
    scattered: Scattered,
) -> None:
    case = scattered()
    nominal = case.girder.material
    values = {
        "girder.wall": case.girder.wall,
        "girder.hole_size": 0.0,
        "girder.material.yield_strength": nominal.yield_strength.nominal,
        "girder.material.ultimate_strength": nominal.ultimate_strength.nominal,
        "model": 1.0,
    }
    one, whole = (check_case(c).crush.sequence for c in (sampled_case(case, values), case))
    assert (one.scatter == whole.scatter).all()
    assert (one.ratio == whole.ratio).all()


@pytest.mark.parametrize(
    ("tolerance", "said"),
    [
        ("wall_tolerance=3 mm", "leave nothing of a wall of 4 mm"),
        ("hole_tolerance=15 mm", "leave nothing of a hole of 20 mm"),
    ],
)
def test_a_tolerance_whose_default_scatter_leaves_no_wall_or_hole_is_refused(
    scattered: Scattered, tolerance: str, said: str
) -> None:
    """3 mm / 1.96 × 3 = 4.6 mm of a wall of 4 mm; 15 mm: 23 mm of a hole of 20 mm."""
    key, value = tolerance.split("=")
    changes: dict[str, Any] = {key: float(value.split()[0]) * 1e-3}
    case = replace(scattered(), girder=replace(scattered().girder, **changes))
    with pytest.raises(InputError, match=said) as refused:
        plan_of(case)
    assert refused.value.problems[0].field == f"girder.{key}"
