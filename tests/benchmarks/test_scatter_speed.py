"""How fast many landings are judged, in ratios within one run; -m benchmark -s shows the table.

Every ratio is that of the shortest of several runs taken in turn.
"""

from __future__ import annotations

import os
import platform
import sys
import time
import tracemalloc
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
import pytest

from crushleg.case.reader import read_case_text
from crushleg.case.templates import template
from crushleg.check import check_case
from crushleg.girder.front import plain_walls, window_centre
from crushleg.girder.shares import mean_shares
from crushleg.girder.windows import cell_centres
from crushleg.landing.arrival import leg_curve, leg_forces
from crushleg.landing.energy import stop
from crushleg.scatter.chain import BLOCK, evaluate
from crushleg.scatter.chain_girders import drawn_girders
from crushleg.scatter.chain_values import Many, beside_girder
from crushleg.scatter.records import Draws
from crushleg.scatter.sample import sampled_case, values_of
from crushleg.scatter.sampling import draws
from crushleg.scatter.study import study

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case

pytestmark = pytest.mark.benchmark
TOUCHDOWNS = 1_000_000
STOPPED = 32768
LANDINGS = 512
MASS, SPEED, THRUST = (
    "vehicle.mass",
    "touchdown.nominal.vertical_speed",
    "touchdown.nominal.thrust_to_weight",
)


@pytest.fixture(scope="module")
def dunlin() -> Case:
    return read_case_text(template("test-stage"), "case.toml")


@pytest.fixture(scope="module")
def touchdowns(dunlin: Case) -> tuple[Case, Draws]:
    """One touchdown of one girder; its mass, speed and thrust scatter."""
    case = replace(dunlin, touchdowns=dunlin.touchdowns[:1])
    rng = np.random.default_rng(1)
    values = {
        MASS: case.vehicle.mass * (1.0 + 0.02 * rng.standard_normal(TOUCHDOWNS)),
        SPEED: case.touchdowns[0].vertical_speed * rng.uniform(0.6, 1.2, TOUCHDOWNS),
        THRUST: rng.uniform(0.0, 0.4, TOUCHDOWNS),
    }
    return case, Draws(0, values, TOUCHDOWNS)


def shortest(works: dict[str, Callable[[], object]], runs: int) -> dict[str, float]:
    """Shortest time of each work [s], all run in turn."""
    best = dict.fromkeys(works, float("inf"))
    for _ in range(runs):
        for name, work in works.items():
            began = time.perf_counter()
            work()
            best[name] = min(best[name], time.perf_counter() - began)
    return best


def told(*lines: str) -> None:
    machine = f"{platform.machine()}, {os.cpu_count()} cores, numpy {np.__version__}"
    sys.stdout.write("\n".join(("", machine, *lines)) + "\n")


def test_a_million_touchdowns_stop_on_one_curve_about_as_fast_as_interp(
    touchdowns: tuple[Case, Draws],
) -> None:
    case, drawn = touchdowns
    mass, speed, thrust = (drawn.values[key] for key in (MASS, SPEED, THRUST))
    kinetic, weight = 0.5 * mass * speed**2, mass * case.vehicle.gravity * (1.0 - thrust)
    alone = replace(case, girder=replace(case.girder, band=False))
    curve = leg_curve(check_case(alone).crush, leg_forces(case.leg))
    legs = case.vehicle.legs
    travel, force, work = (field[0, 0] for field in (curve.travel, curve.reaction, curve.work))

    def stopped() -> None:
        for at in range(0, TOUCHDOWNS, STOPPED):
            place = slice(at, at + STOPPED)
            stop(travel, legs * force, legs * work, weight[place], kinetic[place])

    def interpolated() -> FloatArray:
        return np.interp(kinetic, legs * work, travel)

    judged = partial(evaluate, case, drawn)
    best = shortest({"interp": interpolated, "stop": stopped, "judged": judged}, 5)
    ratio = {name: value / best["interp"] for name, value in best.items()}
    told(
        f"np.interp, 1e6: {1e3 * best['interp']:.0f} ms",
        f"stop of 1e6 touchdowns: {ratio['stop']:.1f} x",
        f"all margins of 1e6 touchdowns: {ratio['judged']:.1f} x",
    )
    assert ratio["stop"] <= 2.5
    assert ratio["judged"] <= 25.0


def test_drawn_girders_are_judged_within_three_times_their_front(dunlin: Case) -> None:
    drawn = draws(dunlin, 0, LANDINGS)
    blocks = []
    for at in range(0, LANDINGS, BLOCK):
        values = {key: value[at : at + BLOCK] for key, value in drawn.values.items()}
        many = Many(values, len(values[MASS]))
        girders = drawn_girders(dunlin, beside_girder(dunlin, many), many)
        z = cell_centres(girders.length)
        walls = plain_walls(girders, z)
        blocks.append((girders, window_centre(z, walls.half, girders.length), walls))

    def front() -> None:
        for block in blocks:
            mean_shares(*block)

    some = range(0, LANDINGS, LANDINGS // 8)
    cases = [sampled_case(dunlin, values_of(drawn, i)) for i in some]
    banded = [replace(c, girder=replace(c.girder, band=True)) for c in cases]
    works: dict[str, Callable[[], object]] = {
        "front": front,
        "judged": partial(evaluate, dunlin, drawn),
        "single": lambda: [check_case(case) for case in cases],
        "banded": lambda: [check_case(case) for case in banded],
    }
    best = shortest(works, 8)
    each = {name: best[name] / LANDINGS for name in ("front", "judged")}
    each |= {name: best[name] / len(cases) for name in ("single", "banded")}
    over = {name: each[name] / each["judged"] for name in each}
    told(
        *(f"{name}: {1e6 * value:.0f} us a landing" for name, value in each.items()),
        f"judged / front: {1.0 / over['front']:.2f}",
        f"check with its band / judged: {over['banded']:.0f}",
        f"check without band / judged: {over['single']:.0f}",
    )
    assert over["front"] >= 1.0 / 3.0
    assert over["banded"] >= 25.0
    assert over["single"] >= 8.0


def test_two_workers_are_nearly_twice_as_fast(dunlin: Case) -> None:
    """Start of the processes included."""
    assert dunlin.scatter is None
    text = template("test-stage") + "\n[scatter]\nsamples = 65536\n"
    case = read_case_text(text, "case.toml")
    found = {}
    for workers in (1, 2):
        began = time.perf_counter()
        digest = study(case, evaluate, workers=workers).digest
        found[workers] = (time.perf_counter() - began, digest)
    ratio = found[1][0] / found[2][0]
    told(f"65536 landings: {found[1][0]:.1f} s on one process, two {ratio:.2f} x faster")
    assert found[1][1] == found[2][1]
    assert ratio >= 1.7


def test_memory_does_not_grow_with_the_number_of_landings(
    touchdowns: tuple[Case, Draws], dunlin: Case
) -> None:
    """Beyond what is given and what comes back."""

    def beyond(case: Case, drawn: Draws, count: int) -> int:
        few = Draws(0, {key: value[:count] for key, value in drawn.values.items()}, count)
        tracemalloc.start()
        judged = evaluate(case, few)
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        values = (judged.margin, *judged.quantities.values())
        return peak - sum(value.nbytes for value in values)

    case, drawn = touchdowns
    evaluate(case, Draws(0, {key: value[:9] for key, value in drawn.values.items()}, 9))
    fixed = [beyond(case, drawn, count) for count in (250_000, 1_000_000)]
    some = draws(dunlin, 0, 1024)
    scattered = [beyond(dunlin, some, count) for count in (256, 1024)]
    told(f"memory beyond results, MB: {[round(v / 1e6, 1) for v in (*fixed, *scattered)]}")
    assert fixed[1] < 1.2 * fixed[0]
    assert scattered[1] < 1.2 * scattered[0]
