"""Sensitivity indices of the Ishigami function against their closed form.

f = sin x1 + a sin² x2 + b x3⁴ sin x1, x uniform on −π to π, a = 7, b = 0.1 (Ishigami & Homma,
ISUMA 1990; closed form as in Saltelli et al., Global Sensitivity Analysis (2008), from memory):
first order 0.3139, 0.4424, 0; total 0.5576, 0.4424, 0.2437.
"""

from __future__ import annotations

from functools import cache, partial

import numpy as np
import pytest
from scipy.stats import sobol_indices as scipys

from crushleg.scatter.sampling import points
from crushleg.scatter.sensitivity import sobol_indices
from tests.outside import Outside, each

FIRST = [0.3139, 0.4424, 0.0]
TOTAL = [0.5576, 0.4424, 0.2437]


def ishigami(cube: np.ndarray) -> np.ndarray:
    x, y, z = np.pi * (2.0 * cube - 1.0)
    return np.asarray(np.sin(x) + 7.0 * np.sin(y) ** 2 + 0.1 * z**4 * np.sin(x))


def found(base: int, method: str = "sobol", seed: int = 1) -> tuple[np.ndarray, np.ndarray]:
    pair = points(method, seed, 0, 6, 0, base).T
    a, b = pair[:3], pair[3:]
    mixed = []
    for i in range(3):
        one = a.copy()
        one[i] = b[i]
        mixed.append(ishigami(one))
    return sobol_indices(ishigami(a), ishigami(b), np.array(mixed))


@cache
def estimated(order: int, index: int) -> float:
    """First-order (0) or total (1) index of an input, from 16 384 points."""
    return float(found(2**14)[order][index])


VALUES = tuple(
    Outside(
        what=f"{name} index of x{index + 1}, Ishigami function a 7, b 0.1",
        theirs=theirs,
        ours=partial(estimated, order, index),
        source="T. Ishigami, T. Homma, ISUMA (1990); A. Saltelli et al., Global Sensitivity "
        "Analysis (2008)",
        place="closed form",
        status="from memory",
        absolute=0.002,
        why="sampling error of 16 384 points",
    )
    for order, (name, row) in enumerate((("first-order", FIRST), ("total", TOTAL)))
    for index, theirs in enumerate(row)
)


@each(VALUES)
def test_ishigami_and_homma_1990_sensitivity(value: Outside) -> None:
    value.check()


def test_ishigami_and_homma_1990_sobol_points_come_closer_than_random_ones() -> None:
    """Root mean square over eight seeds."""

    def error(method: str) -> float:
        totals = [found(2**10, method, seed)[1] for seed in range(8)]
        return float(np.sqrt(np.mean((np.array(totals) - TOTAL) ** 2)))

    assert error("sobol") < 0.5 * error("random")


def test_ishigami_and_homma_1990_indices_are_those_of_scipy() -> None:
    """The same estimators over the same points, counted from the same mean."""
    pair = points("sobol", 1, 0, 6, 0, 256).T
    a, b = pair[:3], pair[3:]
    mixed = np.repeat(a[None], 3, axis=0)
    mixed[range(3), range(3)] = b
    values = {
        "f_A": ishigami(a)[None],
        "f_B": ishigami(b)[None],
        "f_AB": np.array([ishigami(one) for one in mixed])[:, None],
    }
    other = scipys(func=values, n=256)
    first, total = sobol_indices(values["f_A"][0], values["f_B"][0], values["f_AB"][:, 0])
    assert first == pytest.approx(np.ravel(other.first_order), abs=1e-9)
    assert total == pytest.approx(np.ravel(other.total_order), abs=1e-9)
