"""In which order the zones fold, and what that does to the curve."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.case.records import Row, WallStep
from tests.samples import assert_not_above, crushed, dunlin, girder, mm

if TYPE_CHECKING:
    from crushleg.girder.crush import Crush

SIZES = (82, 74, 64, 52, 38, 20)


def graded(*sizes: float) -> Crush:
    return crushed(
        *[
            girder(
                *(Row(height=(80 + 130 * i) * mm, size=size * mm) for i, size in enumerate(sizes))
            )
        ]
    )


def test_holes_larger_toward_the_foot_fold_from_the_foot() -> None:
    result = graded(*SIZES)
    assert result.sequence.from_foot.tolist() == [True]
    assert np.all(result.sequence.ratio[0] > 1.0)
    bottom = result.folds.bottom[0]
    assert np.all(np.diff(bottom) > 0.0)
    assert bottom[0] == 0.0


def test_grading_upside_down_folds_in_the_order_of_least_work() -> None:
    result = graded(*SIZES[::-1])
    assert result.sequence.from_foot.tolist() == [False]
    assert_not_above(result.folds.force[:, :, :-1], result.folds.force[:, :, 1:])


def test_even_holes_fold_from_the_foot() -> None:
    """Ties go to the foot: nothing above is weaker."""
    assert graded(50, 50, 50).sequence.from_foot.tolist() == [True]


def test_one_row_out_of_order_is_found() -> None:
    result = graded(82, 60, 70, 40)
    assert result.sequence.from_foot.tolist() == [False]
    assert (result.sequence.ratio[0] < 1.0).tolist() == [False, True, False, False]


def test_a_weak_plain_segment_above_the_rows_is_found() -> None:
    rows = [Row(height=0.08 + 0.1 * i, size=(40 - 10 * i) * mm) for i in range(3)]
    thin = girder(*rows, wall_steps=(WallStep(start=0.5, wall=2 * mm),))
    thick = girder(*rows, wall_steps=(WallStep(start=0.5, wall=5 * mm),))
    result = crushed(thin, thick)
    assert result.sequence.from_foot.tolist() == [False, True]


def test_the_ratio_is_the_least_start_force_above_over_the_own() -> None:
    sequence = graded(*SIZES).sequence
    start = sequence.start[1, 0]
    assert_allclose(sequence.ratio[0, :-1], start[1:] / start[:-1], rtol=1e-12)
    assert np.isinf(sequence.ratio[0, -1])


def test_a_crush_initiator_weakens_the_foot_alone() -> None:
    plain, begun = crushed(dunlin()), crushed(dunlin(first_peak_fraction=0.5))
    assert_allclose(begun.sequence.start[:, 0, 0], 0.5 * plain.sequence.start[:, 0, 0], rtol=1e-12)
    assert_allclose(begun.sequence.start[:, 0, 1:], plain.sequence.start[:, 0, 1:], rtol=1e-12)
    assert_allclose(begun.first_peak, 0.5 * plain.first_peak, rtol=1e-12)
    assert_allclose(begun.curve.energy[:, 0, -1], plain.curve.energy[:, 0, -1], rtol=1e-9)


def test_the_curve_begins_at_the_first_peak() -> None:
    result = crushed(dunlin())
    assert_allclose(result.curve.force[:, 0, 0], result.first_peak[:, 0], rtol=1e-12)


@pytest.mark.parametrize("sizes", [SIZES, SIZES[::-1], (30, 90, 20, 80)])
def test_the_low_curve_takes_less_than_any_other_order(sizes: tuple[float, ...]) -> None:
    """Increasing rearrangement: the least work at every stroke of all orders of the cells."""
    result = graded(*sizes)
    force, crushed_part = result.front.force[0, 0], result.front.walls.crushed[0]
    step = crushed_part * result.girders.length[0] / force.size
    ends = result.folds.stroke[0, 1:]
    taken = result.curve.energy[0, 0].reshape(-1, 33)[:, -1]
    chance = np.random.default_rng(0)
    orders = [np.arange(force.size), np.argsort(-force)]
    for order in [*orders, *(chance.permutation(force.size) for _ in range(200))]:
        stroke = np.concatenate([[0.0], np.cumsum(step[order])])
        energy = np.concatenate([[0.0], np.cumsum((step * force)[order])])
        assert np.all(taken <= np.interp(ends, stroke, energy) * (1.0 + 1e-9))
        assert_allclose(taken[-1], energy[-1], rtol=1e-9)


def test_later_crests_stay_below_the_crest_ratio() -> None:
    result = crushed(dunlin())
    ratio = np.array([1.2, 1.35, 1.55])[:, None]
    assert_not_above(result.folds.crest[:, 0, 1:], ratio * result.folds.force[:, 0, 1:])
    assert_not_above(result.folds.crest[:, 0], result.folds.start[:, 0])
