"""What is said of a study beside its statistics: its case, what drives it, its worst landing."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from crushleg.check import check_case
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.crush import crush
from crushleg.landing.arrival import leg_forces
from crushleg.scatter.sample import sampled_case, values_of
from crushleg.scatter.sampling import draws
from crushleg.scatter.sensitivity import indices, tornado
from crushleg.scatter.worst import worst_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from pathlib import Path

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case
    from crushleg.check import Checked
    from crushleg.scatter.plan import Plan
    from crushleg.scatter.records import Draws, Evaluate, Progress, StudyResult
    from crushleg.scatter.sensitivity import Indices, Tornado
    from crushleg.scatter.worst import Worst

BASE = 512
"""Points of each sample for the indices."""
CURVES, BATCH = 256, 32
"""Curves of a fan, and how many are crushed at once."""
POINTS = 400
BLOCK = 4096


class WorstLanding(NamedTuple):
    """The worst landing: what was drawn, for which leg, and the case file it was written to.

    ``leg`` is None where no input differs from leg to leg; ``again`` is the margin that a check
    of the file gives, None before it is written.
    """

    worst: Worst
    values: Mapping[str, float]
    leg: int | None
    file: Path
    again: float | None = None


class Drivers(NamedTuple):
    """What drives the margins; ``whole`` is False where Ctrl-C ended it."""

    tornado: Tornado | None
    indices: Indices | None
    whole: bool


class Curves(NamedTuple):
    """Axial load of a leg (C, n) [N] on crush strokes (n,) [m], to the end of the shortest."""

    stroke: FloatArray
    load: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """A study and what is said of it; ``checked`` is the case itself, with its whole band."""

    checked: Checked
    plan: Plan
    study: StudyResult
    tornado: Tornado | None = None
    indices: Indices | None = None
    worst: WorstLanding | None = None

    @property
    def case(self) -> Case:
        """The case of the study."""
        return self.checked.case

    @property
    def indices_landings(self) -> int:
        """Landings that the indices asked for."""
        return 0 if self.indices is None else BASE * (len(self.indices.groups) + 2)

    @property
    def lowest(self) -> FloatArray:
        """Lowest counted margin of every landing, NaN where none applies, shape (N,)."""
        counted = self.study.margin[self.study.counts]
        filled = np.where(np.isnan(counted), np.inf, counted)
        least = filled.min(axis=0, initial=np.inf)
        return np.where(np.isfinite(least), least, np.nan)

    @property
    def passes(self) -> bool:
        """Whether no landing has a negative counted margin."""
        return not bool((self.lowest < 0.0).any())


def drivers(
    case: Case,
    evaluate: Evaluate,
    partial: Path | None,
    told: Callable[[Progress], None],
    **how: Any,
) -> Drivers:
    """Move one input at a time, and find the indices where they are asked for.

    Parameters
    ----------
    case, evaluate, told, **how
        As for :func:`crushleg.scatter.study.study`.
    partial : path or None
        File of the landings for the indices; None: no indices.

    Returns
    -------
    Drivers
        Without a bar or a share where nothing scatters.
    """
    moved: Tornado | None = None
    done = [False]

    def heard(progress: Progress) -> None:
        done[0] = progress.done == progress.total
        told(progress)

    try:
        moved = tornado(case, evaluate, **how)
        if partial is None:
            return Drivers(moved, None, whole=True)
        shares = indices(case, evaluate, BASE, partial=partial, told=heard, **how)
    except KeyboardInterrupt:
        return Drivers(moved, None, whole=False)
    return Drivers(moved, shares if done[0] else None, whole=done[0])


def drawn_blocks(outcome: Outcome, block: int = BLOCK) -> Iterator[tuple[slice, Draws]]:
    """Draw the inputs of the landings that are done again, in blocks.

    Yields
    ------
    slice, Draws
        Place among the results, and what was drawn; blocks end where landings are missing.
    """
    number = outcome.study.number
    breaks = np.flatnonzero(np.diff(number) != 1) + 1
    edges = [0, *breaks.tolist(), len(number)]
    for start, stop in pairwise(edges):
        for at in range(start, stop, block):
            count = min(block, stop - at)
            yield slice(at, at + count), draws(outcome.case, int(number[at]), count)


def drawn(outcome: Outcome, key: str) -> FloatArray | None:
    """Values of one input at the landings that are done, of leg 1; None if it does not scatter."""
    if key not in {one.key for one in outcome.plan.inputs}:
        return None
    found = np.zeros(len(outcome.study.number))
    for place, block in drawn_blocks(outcome):
        values = block.values[key]
        found[place] = values if values.ndim == 1 else values[:, 0]
    return found


def worst_landing(case: Case, result: StudyResult, file: Path) -> WorstLanding | None:
    """Landing with the lowest counted margin, of the leg whose own check comes nearest to it.

    Parameters
    ----------
    case : Case
    result : StudyResult
    file : Path
        Where its case will be written.

    Returns
    -------
    WorstLanding or None
        None where no margin counts.
    """
    worst = worst_of(result)
    if worst is None:
        return None
    one = draws(case, worst.number, 1)
    wide = max((v.shape[1] for v in one.values.values() if v.ndim == 2), default=0)
    if not wide:
        return WorstLanding(worst, values_of(one, 0), None, file)
    legs = [values_of(one, 0, leg) for leg in range(wide)]
    away = [
        abs(_margin(check_case(sampled_case(case, values)), worst.name) - worst.margin)
        for values in legs
    ]
    leg = int(np.argmin(np.where(np.isnan(away), np.inf, away)))
    return WorstLanding(worst, legs[leg], leg, file)


def checked_again(landing: WorstLanding, checked: Checked) -> WorstLanding:
    """Put in what a check of the written case gives for the margin of a worst landing."""
    return landing._replace(again=_margin(checked, landing.worst.name))


def _margin(checked: Checked, name: tuple[str, str]) -> float:
    for margin in checked.margins:
        if (margin.check, margin.touchdown) == name and margin.margin is not None:
            return float(margin.margin[0])
    return float("nan")


def sampled_curves(case: Case, landings: int) -> Curves:
    """Nominal crush curves of the first landings of a study, of leg 1.

    Parameters
    ----------
    case : Case
    landings : int
        Of the study; at most :data:`CURVES` are taken.

    Returns
    -------
    Curves
    """
    count = min(landings, CURVES)
    block = draws(case, 0, count)
    cases = [sampled_case(case, values_of(block, i)) for i in range(count)]
    found = [part for at in range(0, count, BATCH) for part in _curves(cases[at : at + BATCH])]
    grid = np.linspace(0.0, min(float(stroke[-1]) for stroke, _ in found), POINTS)
    return Curves(grid, np.array([np.interp(grid, *one) for one in found]))


def _curves(cases: list[Case]) -> Iterator[tuple[FloatArray, FloatArray]]:
    speeds = [max(t.vertical_speed for t in case.touchdowns) for case in cases]
    crushed = crush(girder_arrays([case.girder for case in cases], speeds))
    for g, case in enumerate(cases):
        axial = float(leg_forces(case.leg).axial)
        yield crushed.curve.stroke[g], axial * crushed.curve.force[1, g]
