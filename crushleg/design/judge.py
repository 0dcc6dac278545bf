"""Mass, load, stroke and margins of many girders on the legs of one case."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from crushleg.design.archive import Scores
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.crush import crush
from crushleg.girder.net import girder_mass
from crushleg.landing.touchdown import land
from crushleg.margins import margins

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case, Girder
    from crushleg.margins import Margin

MASS, LOAD, STROKE = range(3)
"""Columns of the values: mass of one girder [kg], largest axial load of a leg at any touchdown
[N], largest stroke at low force [m]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LegJudge:
    """Judge of girders on the legs of a case.

    ``held`` says that the case gives the free length of its legs; else it is the girder's length.
    """

    case: Case
    held: bool

    def __call__(self, girders: Sequence[Girder]) -> Scores:
        """Score a batch; girders of one length go together, as the free length may be theirs."""
        lengths = np.array([girder.length for girder in girders])
        each = np.zeros(1) if self.held else np.unique(lengths)
        groups = [(lengths == x) | self.held for x in each]
        found: list[Scores] = [
            self._score([girders[i] for i in np.flatnonzero(group).tolist()]) for group in groups
        ]
        order = np.argsort(np.concatenate([np.flatnonzero(group) for group in groups]))
        values = np.concatenate([scores.values for scores in found])[order]
        return Scores(
            values, np.concatenate([scores.margins for scores in found], axis=1)[:, order]
        )

    def _score(self, girders: Sequence[Girder]) -> Scores:
        case = self.case
        if not self.held:
            case = replace(case, leg=replace(case.leg, free_length=girders[0].length))
        speed = max(touchdown.vertical_speed for touchdown in case.touchdowns)
        crushed = crush(girder_arrays(girders, [speed] * len(girders)))
        landings = tuple(
            land(crushed, case.vehicle, case.leg, touchdown, case.factors)
            for touchdown in case.touchdowns
        )
        load = np.max([landed.peak.max(axis=0) for landed in landings], axis=0)
        stroke = np.max([landed.stroke_needed[0] for landed in landings], axis=0)
        found = margins(case, crushed, landings)
        values = np.stack([crushed.mass, load, stroke], axis=1)
        return Scores(values, np.stack([_values(margin, len(girders)) for margin in found]))


def masses(girders: Sequence[Girder]) -> FloatArray:
    """Mass of each girder [kg], without its crush."""
    return girder_mass(girder_arrays(girders, [0.0] * len(girders)))


def _values(margin: Margin, count: int) -> FloatArray:
    """Return the counted margin of every girder; NaN where it does not apply or count."""
    found = margin.margin
    if found is None or not margin.counts:
        return np.full(count, np.nan)
    return found
