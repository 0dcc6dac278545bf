"""The search: differential evolution over everything, then steps to better neighbours."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import differential_evolution

from crushleg.design.moves import decoded, neighbours

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.arrays import FloatArray, IntArray
    from crushleg.design.archive import Archive
    from crushleg.design.choice import Choice

SHARES = 4
POPULATION, GENERATIONS = 64, 10
STARTS = 2
MOST_LOOKS = 600
HANDFUL = 24
COARSEST = 4
SLIGHT = 1e-7
NEVER = 1e6
"""Cost of a candidate that lacks something, besides what it lacks: more than any other's."""


def explore(archive: Archive, seed: int) -> None:
    """Fill the archive by differential evolution; sheet, length and rows are whole numbers.

    Parameters
    ----------
    archive : Archive
    seed : int
        The same seed gives the same candidates.
    """
    space = archive.space
    ends = [(0, len(space.walls) - 1), (0, len(space.lengths) - 1), space.rows]
    bounds = [*ends, *[(0.0, 1.0)] * SHARES]
    free = [low < high for low, high in bounds]
    fixed = np.array([float(low) for low, _ in bounds])
    whole = [True, True, True, *[False] * SHARES]

    def cost(points: FloatArray) -> FloatArray:
        """Cost of points (free dimensions, S) or of one (free dimensions,)."""
        columns = points.reshape(len(points), -1)
        full = np.repeat(fixed[:, None], columns.shape[1], axis=1)
        full[free] = columns
        full[:3] = np.rint(full[:3])
        choices = [decoded(space, archive.chains, point) for point in full.T]
        found = cost_where_fit(archive, choices)
        return found if points.ndim > 1 else found[0]

    dimensions = sum(free)
    differential_evolution(
        cost,
        [pair for pair, on in zip(bounds, free, strict=True) if on],
        integrality=[one for one, on in zip(whole, free, strict=True) if on],
        popsize=max(POPULATION // dimensions, 1),
        maxiter=GENERATIONS,
        init="sobol",
        tol=0.0,
        polish=False,
        vectorized=True,
        updating="deferred",
        seed=seed,
    )


def cost_where_fit(archive: Archive, choices: Sequence[Choice]) -> FloatArray:
    """Cost of candidates; those that leave the ranges or break a ligament are not computed."""
    space = archive.space
    fit = np.array([space.allows(choice) and space.keeps(choice) for choice in choices])
    places = archive.look([choice for choice, on in zip(choices, fit, strict=True) if on])
    found = np.full(len(choices), NEVER**2)
    if fit.any():
        found[fit] = cost_of(archive, places, 0)
    return found


def cost_of(archive: Archive, places: IntArray, value: int) -> FloatArray:
    """Value of candidates where every margin is met, else more than any value, by what lacks."""
    lacks = archive.shortfall[places]
    values = archive.values[places, value]
    return np.where(lacks > 0.0, NEVER * (1.0 + lacks), values)


def descend(
    archive: Archive, start: Choice, value: int, seed: int, most: int = MOST_LOOKS
) -> Choice:
    """Step to better neighbours, a handful at a time; finer steps where none is better.

    Parameters
    ----------
    archive : Archive
    start : Choice
    value : int
        Column of the values to lower; what lacks margins comes first.
    seed : int
        For the order in which neighbours are looked at.
    most : int, optional
        New candidates to look at.

    Returns
    -------
    Choice
        No neighbour at the finest step is better, unless ``most`` was reached.
    """
    order = np.random.default_rng(seed)
    best, step, end = start, COARSEST, len(archive) + most
    while step and len(archive) < end:
        near = lighter_of(
            archive, best, value, neighbours(archive.space, archive.chains, best, step)
        )
        near = [near[k] for k in order.permutation(len(near))]
        better = _first_better(archive, best, value, near)
        step = step // 2 if better is None else step
        best = best if better is None else better
    return best


def _first_better(archive: Archive, best: Choice, value: int, near: list[Choice]) -> Choice | None:
    """Best of the first handful of candidates that holds a better one."""
    lowest = cost_of(archive, archive.look([best]), value)[0] * (1.0 - SLIGHT)
    for i in range(0, len(near), HANDFUL):
        some = near[i : i + HANDFUL]
        cost = cost_of(archive, archive.look(some), value)
        if cost.min() < lowest:
            return some[int(cost.argmin())]
    return None


def lighter_of(archive: Archive, best: Choice, value: int, near: list[Choice]) -> list[Choice]:
    """Leave out what cannot be better: the heavier, when mass is lowered from a design that does.

    Mass needs no crush.
    """
    place = archive.look([best])[0]
    if value != 0 or archive.masses is None or archive.shortfall[place] > 0.0 or not near:
        return near
    mass = archive.masses([archive.space.girder(one) for one in near])
    lowest = archive.values[place, 0] * (1.0 - SLIGHT)
    return [one for one, m in zip(near, mass, strict=True) if m < lowest]


def starts(archive: Archive, value: int) -> list[Choice]:
    """Best candidates so far of different sheet or number of rows, the best first."""
    order = np.argsort(cost_of(archive, np.arange(len(archive)), value), kind="stable")
    found: dict[tuple[int, int], Choice] = {}
    for i in order.tolist():
        choice = archive.choices[i]
        found.setdefault((choice.wall, len(choice.sizes)), choice)
        if len(found) == STARTS:
            break
    return list(found.values())
