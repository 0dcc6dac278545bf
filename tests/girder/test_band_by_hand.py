r"""What low and high are made of, worked by hand [D].

Box 140 × 4 mm ± 0.09 mm, 1 m: C 136 mm, fold half length H from the published mode; flow stress
(220 + 520)/2 = 370, 472.5, 525 MPa: ln(472.5/370) = 0.244534741, ln(525/472.5) = 0.105360516.
Wall (5/3) · 0.09/4 = 0.0375; model 1.96 · 0.075 = 0.147.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.testing import assert_allclose

from crushleg.case.records import Correlation, Row, WallStep
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.bands import mean_force_band
from crushleg.girder.crests import strongest_window, weak_spots
from crushleg.girder.crossing import Hole
from crushleg.girder.front import folding_front, phase_extremes, plain_walls, window_centre
from crushleg.girder.hinges import corner_share, sweep_share
from crushleg.girder.start import start_force
from crushleg.girder.windows import cell_centres
from tests.samples import crushed, dunlin, girder, mm

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Girder

ALLOY_DOWN, ALLOY_UP = math.log(472.5 / 370.0), math.log(525.0 / 472.5)
WALL = 5.0 / 3.0 * 0.09 / 4.0
ROW = Row(height=0.5, size=0.6 * 136 * mm, faces="front-back")


def mean_force(record: Girder) -> FloatArray:
    """Mean of the front over the height, low, nominal, high [N]."""
    return folding_front(girder_arrays([record], [0.0])).force[:, 0].mean(axis=1)


def test_the_band_of_an_undrilled_girder() -> None:
    """Down, r = √(0.244534741² + 0.147² + 0.0375²) = 0.287771593, exp(−r) = 0.749932863.

    Up, r = √(0.105360516² + 0.147² + 0.0375²) = 0.184705409, exp(r) = 1.20286404. No phase part.
    """
    low, nominal, high = mean_force(girder())
    assert_allclose(low / nominal, math.exp(-math.hypot(ALLOY_DOWN, 0.147, WALL)), rtol=1e-9)
    assert_allclose(high / nominal, math.exp(math.hypot(ALLOY_UP, 0.147, WALL)), rtol=1e-9)
    assert_allclose([low / nominal, high / nominal], [0.749932863, 1.20286404], rtol=1e-8)


def test_a_correlation_multiplies_the_force_and_replaces_the_model_part() -> None:
    """Scatter 0.05: 1.96 · 0.05 = 0.098 in place of 0.147: 0.766364965 and 1.16032249."""
    tests = Correlation(force_factor=1.1, scatter=0.05, tests=3, source="sample")
    low, nominal, high = mean_force(girder(correlation=tests))
    assert_allclose(nominal, 1.1 * mean_force(girder())[1], rtol=1e-12)
    assert_allclose([low / nominal, high / nominal], [0.766364965, 1.16032249], rtol=1e-8)


def half_widths(scatter: float) -> list[float]:
    """Log half widths, down and up, at φh 0.15, R 0.4, 0.6, 0.8."""
    flow = np.array([[370.0], [472.5], [525.0]])
    cells = [np.array([[value]]) for value in (0.4, 0.6, 0.8)]
    found = mean_force_band(
        flow,
        np.array([0.09]),
        np.array([[4.0]]),
        np.array([[0.15]]),
        np.array([scatter]),
        (cells[0], cells[1], cells[2]),
    )
    return [float(part[0, 0]) for part in found]


def test_the_band_of_a_drilled_fold() -> None:
    """σ = 0.1 − 0.025 · 0.5² = 0.09375; down: with it, and ln(0.6/0.4) for the phase.

    Up: the plain 0.075; what holes add, 1.96² (0.09375² − 0.075²), times c/(√(c² + y²) + y) with
    y = −ln 0.6 and c the wall, alloy and plain parts; ln(0.8/0.6) for the phase.
    """
    down, up = half_widths(math.nan)
    asked = math.hypot(1.96 * 0.09375, WALL, ALLOY_DOWN, math.log(1.5))
    assert_allclose(down, asked, rtol=1e-12)
    c, y = math.hypot(0.147, WALL, ALLOY_UP), -math.log(0.6)
    more = 1.96**2 * (0.09375**2 - 0.075**2) * c / (math.hypot(c, y) + y)
    assert_allclose(up**2, c**2 + more + math.log(0.8 / 0.6) ** 2, rtol=1e-12)


def test_tests_replace_the_scatter_of_plain_and_drilled_alike() -> None:
    """σ 0.05 with or without holes: nothing that holes add, 0.098 in both directions."""
    down, up = half_widths(0.05)
    assert_allclose(down, math.hypot(0.098, WALL, ALLOY_DOWN, math.log(1.5)), rtol=1e-12)
    assert_allclose(up, math.hypot(0.098, WALL, ALLOY_UP, math.log(0.8 / 0.6)), rtol=1e-12)


def test_the_band_uses_the_wall_of_the_height() -> None:
    """2 mm from mid-height: (5/3) · 0.09/2 = 0.075 there, 0.0375 below."""
    arrays = girder_arrays([girder(wall_steps=(WallStep(start=0.5, wall=2 * mm),))], [0.0])
    low, nominal, _ = folding_front(arrays).force[:, 0]
    asked = [math.exp(-math.hypot(ALLOY_DOWN, 0.147, part)) for part in (WALL, 0.075)]
    assert_allclose((low / nominal)[[0, -1]], asked, rtol=1e-9)


def single_folds(p: FloatArray, half: float) -> tuple[FloatArray, FloatArray]:
    """R of folds centred ``p`` above the row, of the drilled pair swept and of the plain one.

    Lines are bands of ± 4 mm, by midpoints. Hinges: two of four walls drilled, so half the mean
    chord over C; √(r² − z²) is the half chord of the circle.
    """
    radius, side = 0.3 * 136 * mm, 136 * mm
    band = ((np.arange(400) + 0.5) / 200 - 1.0) * 4 * mm
    hole = Hole(*(np.array(v) for v in (0.0, 0.0, 2 * radius, 2 * radius, radius, side)))
    h = np.array(half)
    corner = corner_share(p[:, None] + band, h, hole).mean(axis=-1)
    sweep = sweep_share(p, h, hole)
    hinge = np.zeros(p.shape)
    for shift, weight in ((-half, 0.25), (0.0, 0.5), (half, 0.25)):
        z = p[:, None] + shift + band
        chord = 2.0 * np.sqrt(np.maximum(radius**2 - z**2, 0.0))
        hinge += weight * 0.5 * chord.mean(axis=-1) / side
    return np.cbrt((1 - corner) * (1 - hinge) * (1 - sweep)), np.cbrt(1 - hinge)


def test_the_worst_phase_sweeps_the_worse_pair_of_walls_and_the_best_the_better() -> None:
    """Two faces drilled at d/C 0.6, window centred on the row: any fold within ± H.

    Least: a fold on the row, φh = ½ · ½ · 0.6, and φs, φc of the drilled pair. Most: the drilled
    pair not swept, hinges missing the hole best.
    """
    arrays = girder_arrays([girder(ROW)], [0.0])
    z = cell_centres(arrays.length)
    walls = plain_walls(arrays, z)
    centre = window_centre(z, walls.half, arrays.length)
    ratio = folding_front(arrays).ratio
    least, most = phase_extremes(arrays, centre, walls, ratio)
    half = float(walls.half[0, 192])
    worse, better = single_folds(z[0, 192] - 0.5 + np.linspace(-half, half, 801), half)
    assert_allclose(least[0, 192], worse.min(), rtol=1e-4)
    assert_allclose(most[0, 192], better.max(), rtol=1e-4)
    assert worse.min() < 0.9 * better.min()


def test_a_rectangle_longer_than_all_windows_leaves_only_the_choice_of_the_pair() -> None:
    """0.6 C × 400 mm in two faces: every fold in its middle is alike, φh = ½ · 0.6 = 0.3.

    Least ∛(0.7 (1 − φs)(1 − φc)), the drilled pair swept; most ∛0.7, the plain one.
    """
    size, along, side = 0.6 * 136 * mm, 400 * mm, 136 * mm
    row = Row(height=0.5, size=size, size_along=along, shape="rectangle", faces="front-back")
    arrays = girder_arrays([girder(row)], [0.0])
    z = cell_centres(arrays.length)
    walls = plain_walls(arrays, z)
    least, most = phase_extremes(arrays, z, walls, folding_front(arrays).ratio)
    hole = Hole(*(np.array(v) for v in (0.0, 0.0, size, along, 0.0, side)))
    p, half = np.array(0.0), walls.half[0, 192]
    swept = 0.7 * (1.0 - sweep_share(p, half, hole)) * (1.0 - corner_share(p, half, hole))
    assert_allclose(least[0, 192], np.cbrt(swept), rtol=1e-9)
    assert_allclose(most[0, 192], np.cbrt(0.7), rtol=1e-9)


@pytest.mark.parametrize("faces", ["front-back", "left-right"])
def test_either_pair_of_walls_may_be_the_worse(faces: str) -> None:
    one, other = (
        folding_front(girder_arrays([girder(Row(height=0.5, size=80 * mm, faces=f))], [0.0]))
        for f in ("front-back", faces)
    )
    assert_allclose(other.force, one.force, rtol=1e-12)


def start(**changes: float) -> FloatArray:
    """Low, nominal, high at a row of 82 mm [kN]."""
    record = girder(Row(height=0.3, size=82 * mm), **changes)
    return start_force(girder_arrays([record], [0.0]), np.array([[0.3]]))[:, 0, 0] / 1e3


def test_low_has_the_larger_holes_and_high_the_smaller() -> None:
    """± 10 mm on 82: net 136 − 92 = 44 and 136 − 72 = 64 of 54 mm.

    Nominal 254.403 kN (start forces by hand); form and alloy 190.080 and 302.400 kN.
    """
    low, nominal, high = start(wall_tolerance=0.0, hole_tolerance=10 * mm)
    assert_allclose(nominal, 254.403, rtol=3e-6)
    down = math.hypot(math.log(190.080 / 254.403), math.log(44.0 / 54.0))
    up = math.hypot(math.log(302.400 / 254.403), math.log(64.0 / 54.0))
    assert_allclose([low, high], [254.403 * math.exp(-down), 254.403 * math.exp(up)], rtol=5e-6)


def test_low_has_the_thinner_wall_and_high_the_thicker() -> None:
    """4 ± 0.4 mm: C 136.4 and 135.6; low λ at most 0.667, 1 − x; high λ 0.684, no hardening.

    4 (136.4 − 82) 3.6 · 220 = 172.3392 kN, 4 (135.6 − 82) 4.4 · 350 = 330.176 kN.
    """
    low, _, high = start(wall_tolerance=0.4 * mm, hole_tolerance=0.0)
    down = math.hypot(math.log(190.080 / 254.403), math.log(172.3392 / 190.080))
    up = math.hypot(math.log(302.400 / 254.403), math.log(330.176 / 302.400))
    assert_allclose([low, high], [254.403 * math.exp(-down), 254.403 * math.exp(up)], rtol=5e-6)


def test_the_scatter_of_the_order_of_two_rows() -> None:
    """Each: neighbours 0.02, sheet ± 1 % at 95 %, holes ± 0.2 mm at 95 % of its own net width.

    Rows of 82 and 74 mm: net 54 and 62, with larger holes 53.8 and 61.8 mm.
    """
    holes = (math.log(net / (net - 0.2)) / 1.96 for net in (54.0, 62.0))
    parts = (0.02, 0.02, 0.01 / 1.96, 0.01 / 1.96, *holes)
    assert_allclose(crushed(dunlin()).sequence.scatter[0, 0], math.hypot(*parts), rtol=1e-9)


def test_the_scatter_of_the_order_takes_the_least_row_above() -> None:
    """Rows of 40, 60, 80 mm: the first is compared with the third, net 96 and 56 mm."""
    rows = [Row(height=(0.1 + 0.2 * i), size=(40 + 20 * i) * mm) for i in range(3)]
    holes = (math.log(net / (net - 0.2)) / 1.96 for net in (96.0, 56.0))
    parts = (0.02, 0.02, 0.01 / 1.96, 0.01 / 1.96, *holes)
    assert_allclose(crushed(girder(*rows)).sequence.scatter[0, 0], math.hypot(*parts), rtol=1e-9)


def test_the_low_curve_takes_the_least_work_though_the_sequence_runs_from_the_foot() -> None:
    """Rows of 80 and 70 mm, plain metal between: the foot order meets it early, least work late.

    Cells are strokes η ΔL; energy at a fold boundary near half stroke, cell by cell: low from the
    weakest cell up, nominal and high from the foot.
    """
    result = crushed(girder(Row(height=0.1, size=80 * mm), Row(height=0.7, size=70 * mm)))
    assert result.sequence.from_foot.tolist() == [True]
    assert np.any(np.diff(result.front.force[0, 0]) < 0.0)
    step = result.front.walls.crushed[0] / 384.0
    fold = int(np.searchsorted(result.folds.stroke[0], 0.5 * result.usable[0]))
    end = result.folds.stroke[0, fold]
    taken = result.curve.energy[:, 0].reshape(3, -1, 33)[:, fold - 1, -1]

    def along(level: int, *, rising: bool) -> float:
        force = result.front.force[level, 0]
        order = np.argsort(force) if rising else np.arange(384)
        stroke, work = (np.cumsum(part[order]) for part in (step, step * force))
        return float(np.interp(end, stroke, work))

    asked = [along(0, rising=True), along(1, rising=False), along(2, rising=False)]
    assert_allclose(taken, asked, rtol=1e-9)
    assert taken[0] < 0.98 * along(0, rising=False)


def test_the_strongest_window_is_at_its_high_level() -> None:
    """Rectangle of 40 × 40, no tolerances, 350 MPa: over the row 4 (136 − 40) 4 · 350 = 537.6 kN.

    Window free of it 4 · 136 · 4 · 350 = 761.6 kN, also when it may lie anywhere between.
    """
    row = Row(height=0.3, size=40 * mm, size_along=40 * mm, shape="rectangle")
    arrays = girder_arrays([girder(row, wall_tolerance=0.0, hole_tolerance=0.0)], [0.0])
    bottom, top = np.array([[0.3, 0.6, 0.3]]), np.array([[0.3, 0.6, 0.6]])
    half = np.full((1, 3), 50 * mm)
    found = strongest_window(arrays, weak_spots(arrays), bottom, top, half)
    assert_allclose(found, [[537.6e3, 761.6e3, 761.6e3]], rtol=1e-9)


def test_the_high_start_of_a_later_fold_of_a_plain_girder_is_its_squash_force() -> None:
    result = crushed(girder(wall_tolerance=0.0))
    assert_allclose(result.folds.start[2, 0, 1:], 761.6e3, rtol=1e-9)
