"""Margins of the girder itself: collapse sequence and ligaments."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from crushleg.girder.ligaments import least_corner, least_web, ligaments
from crushleg.girder.pattern import nominal
from crushleg.girder.sequence import Z_ONE_SIDED
from crushleg.margins.margin import GIRDER, UNTESTED, Margin, where

if TYPE_CHECKING:
    from crushleg.arrays import BoolArray
    from crushleg.girder.crush import Crush
    from crushleg.landing.touchdown import Landed


def collapse_sequence(crush: Crush, landings: tuple[Landed, ...]) -> Margin:
    """Least start force of the zones above against the zone that should fold, neighbours' scatter.

    Zones that no touchdown reaches do not count as demand.

    Notes
    -----
    Means: Whether the zones fold in order from the foot, against the scatter between neighbours.
    Formula: demand = start force of zone i, nominal
    Formula: capability = demand × min over zones above (S_j/S_i) × exp(−1.645 σ_ij)
    Range: Zones that some touchdown reaches at low force; alloy, sheet and rate are common to all
    zones of a girder and drop out of the ratio.
    Band: Nominal ratio less the scatter between neighbours, one-sided 95 %.
    Limits: girder.hole_tolerance enters the scatter
    Limits: girder.first_peak_fraction lowers the first zone

    References
    ----------
    [D]; scatter of neighbours [judgement]
    """
    empty = Margin(check="collapse_sequence", touchdown=GIRDER, unit="N", basis=UNTESTED)
    counted = counted_zones(crush, landings)
    ratio = np.where(counted, crush.sequence.ratio, np.inf)
    sure = ratio * np.exp(-Z_ONE_SIDED * crush.sequence.scatter)
    zone = sure.argmin(axis=1)[:, None]
    demand = np.take_along_axis(nominal(crush.sequence.start), zone, axis=1)[:, 0]
    least = np.take_along_axis(sure, zone, axis=1)[:, 0]
    next_zone = float(np.take_along_axis(ratio, zone, axis=1)[0, 0])
    chance = out_of_order(crush, counted)
    note = (
        f"nominal ratio {next_zone:.3f} of the next zone; chance of folding out of order "
        f"{_percent(chance)}; one-sided 95 % of the scatter between neighbours"
    )
    reason = "one zone: nothing to fold out of order"
    return where(replace(empty, note=note), np.isfinite(least), demand, demand * least, reason)


def _percent(chance: float) -> str:
    if chance < 1e-4:
        return "below 0.01 %"
    return f"{100.0 * chance:.0f} %" if chance >= 0.1 else f"{100.0 * chance:.2g} %"


def counted_zones(crush: Crush, landings: tuple[Landed, ...]) -> BoolArray:
    """Zones whose own fold begins in some touchdown, the first always, shape (G, Z)."""
    reached = np.max([landed.crush[0] for landed in landings], axis=0) / crush.usable
    height = crush.sequence.height
    folded = height - crush.front.walls.half[:, :1] <= (reached * crush.girders.length)[:, None]
    return np.asarray((folded | (np.arange(height.shape[1]) == 0)) & np.isfinite(height))


def out_of_order(crush: Crush, counted: BoolArray) -> float:
    """Largest chance, over counted zones of the first girder, that a zone above starts first.

    Notes
    -----
    Formula: p = max over zones of ½ erfc[ln(ratio)/(σ √2)]

    References
    ----------
    Normal scatter of the logarithm [D]
    """
    ratio = np.where(counted[0], crush.sequence.ratio[0], np.inf)
    with np.errstate(divide="ignore"):
        away = np.log(ratio) / crush.sequence.scatter[0]
    return max(0.5 * math.erfc(z / math.sqrt(2.0)) for z in away)


def ligament(crush: Crush) -> Margin:
    """Least web between holes and distance to the corner against what is to be kept.

    Notes
    -----
    Means: Metal left between holes, to the ends and to the corners, against what a crush column
    keeps.
    Formula: demand = max(2 t, 5 mm) between holes and to the ends; 2 t + R to a corner
    Formula: capability = metal left, the worst of all holes
    Range: As drawn, without tolerance.
    Band: None: it is geometry, the same at low, nominal and high.
    Limits: girder.corner_radius is R

    References
    ----------
    [D]; what is to be kept [judgement]
    """
    empty = Margin(check="ligament", touchdown=GIRDER, unit="m", basis=UNTESTED)
    girders = crush.girders
    left = ligaments(girders)
    wall = girders.wall_at(girders.height)
    keep = (least_web(wall), least_corner(wall, girders.corner_radius[:, None]))
    demand = np.concatenate(keep, axis=1)
    there = np.concatenate(left, axis=1)
    worst = (there / demand).argmin(axis=1)[:, None]
    keep_there, left_there = (
        np.take_along_axis(field, worst, axis=1)[:, 0] for field in (demand, there)
    )
    note = "webs at least 2 t and 5 mm, hole edge to corner 2 t + R; the worst of them"
    drilled = np.asarray((girders.across > 0.0).any(axis=1))
    return where(replace(empty, note=note), drilled, keep_there, left_there, "no holes")
