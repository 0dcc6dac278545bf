"""Judging functions for studies under test: plain sums, in a module that workers can import."""

from __future__ import annotations

import os
import signal
import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from crushleg.check import check_case
from crushleg.scatter.records import Judged
from crushleg.scatter.sample import sampled_case, values_of
from crushleg.scatter.sampling import draws

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.case.records import Case
    from crushleg.scatter.records import Draws, Evaluate


def linear(case: Case, draws: Draws) -> Judged:
    """Margin 1 − wall / 4.1 mm; mass and speed beside it."""
    wall = draws.values["girder.wall"]
    wall = wall if wall.ndim == 1 else wall.max(axis=1)
    margin = 1.0 - wall / 0.0041
    mass = draws.values.get("vehicle.mass", np.full(len(margin), case.vehicle.mass))
    return Judged(
        (("leg_load", "nominal"), ("stroke", "nominal")),
        np.stack([margin, np.where(margin > 0.0, 1.0 - mass / 41e3, np.nan)]),
        np.array([True, False]),
        {"wall": wall, "energy": mass * np.exp(wall)},
    )


def heavy(_: Case, draws: Draws) -> Judged:
    """Margin 1 − mass / 41 t."""
    margin = 1.0 - draws.values["vehicle.mass"] / 41e3
    return Judged((("stroke", "nominal"),), margin[None], np.array([True]), {})


def judge(evaluate: Evaluate, case: Case, place: tuple[int, int]) -> Judged:
    """Draw landings, start and count, and judge them."""
    return evaluate(case, draws(case, *place))


def one_by_one(case: Case, draws: Draws) -> Judged:
    """Check every landing as a case of its own: what a batch must agree with."""
    checked = [check_case(sampled_case(case, values_of(draws, i))) for i in range(draws.landings)]
    margins = checked[0].margins
    nothing = np.full(1, np.nan)
    rows = [
        [float((nothing if m.margin is None else m.margin)[0]) for m in one.margins]
        for one in checked
    ]
    return Judged(
        tuple((m.check, m.touchdown) for m in margins),
        np.array(rows).T,
        np.array([m.counts for m in margins]),
        {},
    )


def slow(case: Case, draws: Draws) -> Judged:
    """As :func:`linear`, long enough to be interrupted."""
    time.sleep(0.02)
    return linear(case, draws)


@dataclass(frozen=True)
class DyingOnce:
    """As :func:`linear`; the first worker that comes to landing 64 ends without a word."""

    sign: Path

    def __call__(self, case: Case, draws: Draws) -> Judged:
        if draws.start >= 64 and not self.sign.exists():
            self.sign.touch()
            os.kill(os.getpid(), signal.SIGKILL)
        return linear(case, draws)


def always_dying(case: Case, draws: Draws) -> Judged:
    """Kill the worker at landing 64."""
    if draws.start <= 64 < draws.start + draws.landings:
        os.kill(os.getpid(), signal.SIGKILL)
    return linear(case, draws)


def wrong(case: Case, draws: Draws) -> Judged:
    """Fail as a faulty function does."""
    message = f"no {case.title}, {draws.start}"
    raise ArithmeticError(message)
