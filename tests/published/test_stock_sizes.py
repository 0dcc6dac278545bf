"""Hole tools taken as in stock, against the two tables of sizes that were read (published).

BS 328 twist drills as an open encyclopaedia quotes it, second-hand: tenths from 3.0 to 13.9 mm,
quarters from 14 to 25 mm; a hardware store keeps halves from 1 to 13 mm. Bi-metal hole saws, 14 to
67 mm: speed table of a saw maker's guide. The other lists are from memory and not held to anything.
"""

from __future__ import annotations

import pytest

from crushleg.design.stock import hole_tools

TENTHS = {round(3.0 + 0.1 * i, 1) for i in range(110)}
QUARTERS = {14.0 + 0.25 * i for i in range(45)}
HALVES = {1.0 + 0.5 * i for i in range(25)}
SAWS = {
    *(14, 16, 17, 19, 21, 22, 25, 27, 29, 30, 32, 33, 35, 37, 38, 40),
    *(41, 43, 44, 46, 48, 51, 52, 54, 57, 59, 60, 64, 65, 67),
}


@pytest.mark.parametrize(
    ("makes", "sizes"),
    [
        pytest.param("twist drill", TENTHS | QUARTERS | HALVES, id="twist drills, BS 328"),
        pytest.param("hole saw", SAWS, id="bi-metal hole saws, saw maker's guide"),
    ],
)
def test_bs_328_and_a_saw_maker_metric_sizes(makes: str, sizes: set[float]) -> None:
    """Those marked published and no others, in mm."""
    found = {
        round(tool.size * 1e3, 3)
        for tool in hole_tools()
        if (tool.makes, tool.system, tool.status) == (makes, "metric", "published")
    }
    assert found == sizes
