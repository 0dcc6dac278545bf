"""What drives each margin: variance shares of the inputs, and one input moved at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from scipy.special import ndtr, ndtri

from crushleg.case.scatter_rules import cholesky, correlation_rows
from crushleg.scatter.plan import plan_of
from crushleg.scatter.sampling import columns, dimensions, draws_at, groups, points
from crushleg.scatter.study import Design, run

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case
    from crushleg.scatter.plan import Plan
    from crushleg.scatter.records import Draws, Evaluate, StudyResult

LOW, HIGH = 0.05, 0.95
RESAMPLES = 200


class Indices(NamedTuple):
    """Shares of the variance of Q results: first order and total, (Q, G), of G groups of inputs.

    ``first_spread`` and ``total_spread`` are half widths of their 95 % intervals (bootstrap);
    NaN where a result does not vary or does not apply.
    """

    groups: tuple[str, ...]
    results: tuple[str, ...]
    first: FloatArray
    total: FloatArray
    first_spread: FloatArray
    total_spread: FloatArray


class Tornado(NamedTuple):
    """Results with one input at its 5 % or 95 % value, all others at their medians.

    ``inputs`` are K keys, ``at`` (2, K) their values there; ``results`` Q names, ``centre`` (Q,)
    with all at their medians, ``ends`` (2, Q, K).
    """

    inputs: tuple[str, ...]
    at: FloatArray
    results: tuple[str, ...]
    centre: FloatArray
    ends: FloatArray


def sobol_indices(
    first: FloatArray, second: FloatArray, mixed: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """First-order and total indices from two samples and their mixtures.

    First order is the share of the variance that an input makes alone, total with all it does
    together with others.

    Parameters
    ----------
    first, second : ndarray
        f of the points A and B, shape (..., N).
    mixed : ndarray
        f of A with the columns of group g from B, shape (..., G, N).

    Returns
    -------
    tuple of ndarray
        S and T [-], shape (..., G).

    Notes
    -----
    Means: Share of the variance of a result that each input makes, alone and with others.
    Formula: S_g = mean[f_B (f_ABg − f_A)]/V
    Formula: T_g = mean[(f_A − f_ABg)²]/(2 V)
    Range: Independent groups of inputs: correlated ones are one group. 95 % half widths by
    bootstrap.
    Band: The scatter of the inputs, nothing else: each landing is one girder without a band.
    Limits: [scatter]: inputs and correlations

    f is counted from its mean, which changes no index and steadies S.

    References
    ----------
    A. Saltelli et al., Comput. Phys. Commun. 181 (2010) 259, table 2 (b) and (f); T from M. J. W.
    Jansen (1999) [from memory]
    """
    both = np.concatenate([first, second], axis=-1)
    mean = both.mean(axis=-1, keepdims=True)
    variance = both.var(axis=-1)[..., None]
    with np.errstate(invalid="ignore", divide="ignore"):
        change = mixed - first[..., None, :]
        share = ((second - mean)[..., None, :] * change).mean(axis=-1) / variance
        total = (change * change).mean(axis=-1) / (2.0 * variance)
    return share, total


def indices(case: Case, evaluate: Evaluate, base: int = 512, **how: Any) -> Indices:
    """Compute the indices of every margin and quantity, correlated inputs as one group.

    Parameters
    ----------
    case : Case
    evaluate : callable
        As for :func:`crushleg.scatter.study.study`.
    base : int
        Points of each sample, a power of two; base × (groups + 2) landings are judged.
    **how
        ``executor``, ``workers``, ``chunk``, ``partial``, ``told`` of a study.

    Returns
    -------
    Indices
        After Ctrl-C, of the base points that are whole.
    """
    plan = plan_of(case)
    named = groups(plan)
    each = len(named) + 2

    def draw(start: int, count: int) -> Draws:
        return draws_at(plan, mixed_points(plan, start, count), start)

    found = run(case, evaluate, Design("indices", base * each, draw), **how)
    names, values = _stacked(found)
    rows = np.full((len(names), base * each), np.nan)
    rows[:, found.number] = values
    by_point = rows.reshape(len(names), base, each)
    return _indices(tuple(named), names, np.moveaxis(by_point, 1, 2))


def mixed_points(plan: Plan, start: int, count: int) -> FloatArray:
    """Points A, B and A with one group of B, in turn for every base point; (count, columns)."""
    named = list(groups(plan).values())
    each, wide = len(named) + 2, dimensions(plan)
    first, last = start // each, -(-(start + count) // each)
    pair = points("sobol", plan.scatter.seed, 0, 2 * wide, first, last)
    a, b = pair[:, :wide], pair[:, wide:]
    rows = np.repeat(a[:, None, :], each, axis=1)
    rows[:, 1] = b
    for g, at in enumerate(named):
        rows[:, g + 2, list(at)] = b[:, list(at)]
    rows = rows.reshape(len(rows) * each, wide)
    return rows[start - first * each : start - first * each + count]


def _stacked(found: StudyResult) -> tuple[tuple[str, ...], FloatArray]:
    """Names and values of all margins and quantities."""
    margins = tuple(" ".join(name).strip() for name in found.names)
    return (*margins, *found.quantities), np.vstack([found.margin, *found.quantities.values()])


def _indices(named: tuple[str, ...], names: tuple[str, ...], rows: FloatArray) -> Indices:
    """Compute indices and their spreads of values (Q, groups + 2, N)."""
    random = np.random.default_rng(0)
    found = np.full((4, len(names), len(named)), np.nan)
    for q, values in enumerate(rows):
        kept = values[:, ~np.isnan(values).any(axis=0)]
        if kept.shape[1] < 2 or np.ptp(kept[:2]) == 0.0:
            continue
        found[:2, q] = sobol_indices(kept[0], kept[1], kept[2:])
        again = random.integers(kept.shape[1], size=(RESAMPLES, kept.shape[1]))
        spread = [
            sobol_indices(one[0], one[1], one[2:]) for one in (kept[:, pick] for pick in again)
        ]
        found[2:, q] = 1.96 * np.std(spread, axis=0)
    return Indices(named, names, *found)


def tornado(case: Case, evaluate: Evaluate, **how: Any) -> Tornado:
    """Move one input at a time to its 5 % and 95 % values.

    Parameters
    ----------
    case, evaluate, **how
        As for :func:`indices`.

    Returns
    -------
    Tornado
        Inputs correlated with the moved one follow to their conditional medians; of an input that
        differs from leg to leg that of leg 1 moves.

    Notes
    -----
    Means: What one input does to a result when it goes from its 5 % to its 95 % value.
    Formula: result at the 5 % and 95 % value of one input, all others at their medians
    Range: No interaction of inputs: for that see sobol_indices.
    Band: The scatter of the inputs, nothing else: each landing is one girder without a band.
    Limits: [scatter]: inputs and correlations

    References
    ----------
    One at a time [common practice]
    """
    plan = plan_of(case)
    cube = tornado_points(plan)

    def draw(start: int, count: int) -> Draws:
        return draws_at(plan, cube[start : start + count], start)

    found = run(case, evaluate, Design("tornado", len(cube), draw), **how)
    if not found.complete:
        raise KeyboardInterrupt
    names, values = _stacked(found)
    drawn = draws_at(plan, cube).values
    keys, at = [], []
    for k, (one, _) in enumerate(columns(plan)):
        value = drawn[one.key] if drawn[one.key].ndim == 1 else drawn[one.key][:, 0]
        keys.append(one.key + (", leg to leg" if one.part == "leg" else ""))
        at.append(value[1 + 2 * k : 3 + 2 * k])
    ends = values[:, 1:].reshape(len(names), -1, 2)
    return Tornado(
        tuple(keys), np.array(at).T.reshape(2, -1), names, values[:, 0], np.moveaxis(ends, 2, 0)
    )


def tornado_points(plan: Plan) -> FloatArray:
    """Middle of the cube, then the low and the high point of every input; (1 + 2 K, columns)."""
    rows = [np.full(dimensions(plan), 0.5)]
    there = {(one.key, one.part): at[0] for one, at in columns(plan)}
    for one, at in columns(plan):
        keys, matrix = correlation_rows(plan.correlations, one.part)
        for level in (LOW, HIGH):
            row = np.full(dimensions(plan), 0.5)
            row[at[0]] = level
            if one.key in keys:
                factors = (cholesky(matrix) or [])[keys.index(one.key)]
                for key, factor in zip(keys, factors, strict=True):
                    row[there[key, one.part]] = ndtr(factor * ndtri(level))
            rows.append(row)
    return np.array(rows)
