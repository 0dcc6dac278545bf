"""Points of the unit cube and the inputs they stand for, the same in whatever chunks.

Every point depends on seed, method and its own number alone; a Latin hypercube on how many there
are as well. Sums go term by term, never through a matrix product, whose rounding depends on how
many points go in.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from scipy.special import ndtr, ndtri
from scipy.stats import qmc

from crushleg.case.scatter_keys import MODEL
from crushleg.case.scatter_records import BATCH, LEG, PARTS
from crushleg.case.scatter_rules import cholesky, correlation_rows
from crushleg.case.scatter_span import TAIL
from crushleg.scatter.distributions import quantile
from crushleg.scatter.plan import plan_of
from crushleg.scatter.records import Draws

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case, ScatterInput
    from crushleg.scatter.plan import Plan

BLOCK = 1024
"""Points are made in blocks of this many, so that a Sobol sequence starts balanced."""


class Columns(NamedTuple):
    """One input part and its columns of the cube, as many as legs where they differ."""

    input: ScatterInput
    columns: tuple[int, ...]


def draws(case: Case, start: int, count: int) -> Draws:
    """Draw the inputs of landings ``start`` to ``start + count`` of the study of a case.

    Parameters
    ----------
    case : Case
    start, count : int

    Returns
    -------
    Draws
    """
    plan = plan_of(case)
    scatter = plan.scatter
    cube = points(
        scatter.method, scatter.seed, scatter.samples, dimensions(plan), start, start + count
    )
    return draws_at(plan, cube, start)


def columns(plan: Plan) -> tuple[Columns, ...]:
    """Pair inputs with their columns of the cube, in order."""
    found, at = [], 0
    for one in plan.inputs:
        wide = plan.legs if one.part == LEG else 1
        found.append(Columns(one, tuple(range(at, at + wide))))
        at += wide
    return tuple(found)


def dimensions(plan: Plan) -> int:
    """Columns of the cube."""
    return sum(len(one.columns) for one in columns(plan))


def points(method: str, seed: int, total: int, wide: int, start: int, stop: int) -> FloatArray:
    """Points ``start`` to ``stop`` of a sample of ``total`` in the unit cube.

    Parameters
    ----------
    method : str
        "sobol" (scrambled), "latin hypercube" or "random".
    seed, total, wide : int
        Seed, points in all, columns.
    start, stop : int

    Returns
    -------
    ndarray
        Shape (stop − start, wide), 0 to 1.

    Notes
    -----
    A Latin hypercube is made whole, ``total`` × ``wide`` numbers, and kept for the next chunk.
    """
    if wide == 0:
        return np.zeros((stop - start, 0))
    if method == "latin hypercube":
        return _hypercube(seed, total, wide)[start:stop]
    block = _sobol if method == "sobol" else _random
    first, last = start // BLOCK, -(-stop // BLOCK)
    blocks = [block(seed, wide, number) for number in range(first, last)]
    joined = np.concatenate(blocks) if blocks else np.zeros((0, wide))
    return joined[start - first * BLOCK : stop - first * BLOCK]


def _sobol(seed: int, wide: int, number: int) -> FloatArray:
    engine = qmc.Sobol(wide, scramble=True, seed=np.random.default_rng(seed))
    if number:
        engine.fast_forward(number * BLOCK)
    return engine.random(BLOCK)


def _random(seed: int, wide: int, number: int) -> FloatArray:
    sequence = np.random.SeedSequence(seed, spawn_key=(number,))
    return np.random.Generator(np.random.Philox(sequence)).random((BLOCK, wide))


@lru_cache(maxsize=1)
def _hypercube(seed: int, total: int, wide: int) -> FloatArray:
    return qmc.LatinHypercube(wide, seed=np.random.default_rng(seed)).random(total)


def draws_at(plan: Plan, cube: FloatArray, start: int = 0) -> Draws:
    """Turn points of the unit cube into the inputs they stand for.

    Parameters
    ----------
    plan : Plan
    cube : ndarray
        Shape (B, columns), independent.
    start : int
        Number of the first point.

    Returns
    -------
    Draws
        An input with two parts is the sum of both less the case's own value; the two factors of
        the model multiply.
    """
    together = correlated(plan, cube)
    values: dict[str, FloatArray] = {}
    for one, at in columns(plan):
        found = quantile(one, together[:, list(at)])
        found = found[:, 0] if one.part == BATCH else found
        if one.key in values:
            found = _joined(one, values[one.key], found)
        values[one.key] = found
    return Draws(start, values, len(cube))


def _joined(one: ScatterInput, first: FloatArray, second: FloatArray) -> FloatArray:
    first, second = (v[:, None] if v.ndim == 1 else v for v in (first, second))
    centre = one.centre or 0.0
    return first * second / centre if one.key == MODEL else first + second - centre


def correlated(plan: Plan, cube: FloatArray) -> FloatArray:
    """Points whose normal scores are correlated.

    Parameters
    ----------
    plan : Plan
    cube : ndarray
        Independent points, shape (B, columns).

    Returns
    -------
    ndarray
        Same shape; columns that are not correlated as they were.

    Notes
    -----
    Means: How inputs that belong together are drawn together.
    Formula: u' = Φ(L Φ⁻¹(u)), L Lᵀ = R
    Range: Correlation of the normal scores; positive definite matrices.
    Band: The scatter of the inputs, nothing else: each landing is one girder without a band.
    Limits: [[scatter.correlation]]

    References
    ----------
    Gaussian copula; A. Nataf (1962) [from memory]
    """
    found = np.array(cube)
    for part in PARTS:
        keys, rows = correlation_rows(plan.correlations, part)
        lower = cholesky(rows)
        if lower is None:
            message = "correlations that are not positive definite"
            raise ValueError(message)
        there = {one.key: at for one, at in columns(plan) if one.part == part}
        for leg in range(plan.legs if part == LEG else 1):
            at = [there[key][leg] for key in keys]
            scores = [ndtri(np.clip(cube[:, k], TAIL, 1.0 - TAIL)) for k in at]
            for k, row in zip(at, lower, strict=True):
                mixed = np.zeros(len(cube))
                for factor, score in zip(row, scores, strict=True):
                    mixed = mixed + factor * score
                found[:, k] = ndtr(mixed)
    return found


def groups(plan: Plan) -> dict[str, tuple[int, ...]]:
    """Columns that vary together, by name: an input, or inputs that are correlated.

    Returns
    -------
    dict
        Name (keys joined by " + ", ", leg to leg" behind those of that part) -> columns.
    """
    found: list[tuple[set[str], str, list[int]]] = []
    for one, at in columns(plan):
        pairs = [pair.inputs for pair in plan.correlations if pair.part == one.part]
        tied = {key for pair in pairs if one.key in pair for key in pair}
        old = [g for g in found if g[1] == one.part and g[0] & (tied | {one.key})]
        keys = {one.key, *tied}.union(*(g[0] for g in old))
        at_all = sorted([*at, *(k for g in old for k in g[2])])
        found = [g for g in found if g not in old] + [(keys, one.part, at_all)]
    names = {k: one.key for one, at in columns(plan) for k in at}
    named = {}
    for _, part, at_all in sorted(found, key=lambda g: g[2]):
        name = " + ".join(dict.fromkeys(names[k] for k in at_all))
        named[name + (", leg to leg" if part == LEG else "")] = tuple(at_all)
    return named
