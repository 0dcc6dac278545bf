"""Cases with [scatter], read from the Dunlin test stage."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

import pytest

from crushleg.case.reader import read_case_text
from crushleg.case.templates import template

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.case.records import Case


class Scattered(Protocol):
    """Case of the Dunlin with a [scatter] text."""

    def __call__(self, text: str = "", base_dir: Path | None = None, *overrides: str) -> Case: ...


@pytest.fixture(scope="session")
def scattered() -> Scattered:
    dunlin = template("test-stage")

    def read(text: str = "", base_dir: Path | None = None, *overrides: str) -> Case:
        return read_case_text(f"{dunlin}\n{text}", "case.toml", overrides, base_dir)

    return read


WALL_AND_MASS = """
[scatter]
samples = 300
defaults = false
[[scatter.input]]
key = "girder.wall"
distribution = "normal"
deviation = "0.05 mm"
[[scatter.input]]
key = "vehicle.mass"
distribution = "normal"
cov = 0.02
"""


@pytest.fixture(scope="session")
def small(scattered: Scattered) -> Case:
    """300 landings, wall and mass."""
    return scattered(WALL_AND_MASS)
