"""Demand against capability: margin = capability/(factor × demand) − 1.

Stroke, energy, standing and clearance are judged on the low curve; loads and decelerations on
the largest of the three. Each margin is one function of this room; arrays have shape (G,).
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from crushleg.margins.girder import collapse_sequence, ligament
from crushleg.margins.loads import (
    bending,
    column,
    deceleration,
    energy,
    leg_load,
    pad_pressure,
    stroke,
)
from crushleg.margins.margin import Margin, curve_basis
from crushleg.margins.rest import after_rest, standing_after_crush, standing_on_start

if TYPE_CHECKING:
    from crushleg.arrays import IntArray
    from crushleg.case.records import Case
    from crushleg.girder.crush import Crush
    from crushleg.landing.touchdown import Landed

__all__ = ["Margin", "governing", "margins"]

RESERVE_COUNTS = ("energy", "stroke", "leg_load", "clearance")


def margins(case: Case, crush: Crush, landings: tuple[Landed, ...]) -> tuple[Margin, ...]:
    """Every margin of a case.

    Parameters
    ----------
    case : Case
    crush : Crush
    landings : tuple of Landed
        One per touchdown of the case.

    Returns
    -------
    tuple of Margin
        By touchdown, then those of the girder, then standing.
    """
    basis = curve_basis(case)
    found: list[Margin] = []
    for landed in landings:
        each = [
            energy(landed, basis),
            stroke(case, crush, landed, basis),
            leg_load(case, landed, basis),
            deceleration(case, landed, basis),
            *after_rest(case, landed),
            column(case, crush, landed, basis),
            bending(case, crush, landed, basis),
            pad_pressure(case, landed, basis),
            standing_after_crush(case, landed, basis),
        ]
        judged = [replace(m, counts=not landed.reserve or m.check in RESERVE_COUNTS) for m in each]
        found.extend(judged)
    found.extend([collapse_sequence(crush, landings), ligament(crush)])
    found.extend(standing_on_start(case, crush, standing) for standing in case.standings)
    return tuple(found)


def governing(found: tuple[Margin, ...]) -> IntArray:
    """Which counted margin is lowest: its index, shape (G,).

    Notes
    -----
    Formula: governs = argmin margin over all that count

    A margin that is null or only shown does not govern. Of a reserve case energy, stroke, leg_load
    and clearance count; in motion stroke, leg_load, clearance and at_rest.

    References
    ----------
    Reserve cases show what a harder landing does to strength and stroke [judgement]
    """
    values = [
        np.full(1, np.inf)
        if m.margin is None or not m.counts
        else np.where(np.isnan(m.margin), np.inf, m.margin)
        for m in found
    ]
    return np.argmin(np.stack(np.broadcast_arrays(*values)), axis=0)
