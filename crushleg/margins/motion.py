"""Margins of landings in motion: those of the balance with the worst leg, and those of the pose."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from crushleg.margins.loads import (
    bending,
    column,
    deceleration,
    leg_load,
    pad_pressure,
    stroke,
)
from crushleg.margins.margin import UNTESTED, Margin, curve_basis
from crushleg.margins.rest import standing_after_crush

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case
    from crushleg.girder.crush import Crush
    from crushleg.landing.motion.outcome import Outcome
    from crushleg.landing.touchdown import Landed

MOTION = ", motion"
"""Added to the name of a touchdown whose margins come from the motion."""
RESERVE_COUNTS = ("stroke", "leg_load", "clearance", "at_rest")
LEAST_LEAN = 1e-4
"""Below this [rad] a lean is what is left of rocking."""


def motion_margins(case: Case, crush: Crush, landed: Landed, outcome: Outcome) -> list[Margin]:
    """Every margin of one landing in motion, the worst of its columns and legs.

    Parameters
    ----------
    case : Case
    crush : Crush
        One girder.
    landed : Landed
        The same touchdown by energy balance: what does not move is taken from it.
    outcome : Outcome
        One column, or low, nominal, high.

    Returns
    -------
    list of Margin
    """
    basis = curve_basis(case)
    worst = as_landed(landed, outcome)
    each = [
        stroke(case, crush, worst, basis),
        leg_load(case, worst, basis),
        deceleration(case, worst, basis),
        clearance(case, worst, outcome),
        lean(case, worst, outcome),
        tip_over(worst, outcome),
        column(case, crush, worst, basis),
        bending(case, crush, worst, basis),
        pad_pressure(case, worst, basis),
        standing_after_crush(case, worst, basis),
        *at_rest(worst, outcome),
    ]
    return [
        replace(
            margin,
            touchdown=landed.name + MOTION,
            counts=not landed.reserve or margin.check in RESERVE_COUNTS,
        )
        for margin in each
    ]


def as_landed(landed: Landed, outcome: Outcome) -> Landed:
    """Put the worst leg of each column in the place of the balance's, shape (3, 1)."""

    def worst(values: FloatArray) -> FloatArray:
        of_legs = values if values.ndim == 1 else values.max(axis=1)
        return np.resize(of_legs, (3, 1))

    girder = worst(outcome.girder)
    forces = landed.curve.forces
    side = worst(outcome.side)
    ratio = np.asarray(np.divide(side, girder, out=np.zeros_like(side), where=girder > 0.0).max())
    curve = landed.curve._replace(forces=replace(forces, side=np.maximum(forces.side, ratio)))
    return replace(
        landed,
        curve=curve,
        stroke=worst(outcome.stroke),
        stroke_needed=worst(outcome.needed),
        crush=worst(outcome.crush),
        girder_peak=girder,
        peak=worst(outcome.axial),
        side_peak=side,
        pad_peak=worst(outcome.pad),
        deceleration=worst(outcome.deceleration),
        accelerometer=worst(outcome.accelerometer),
        mean_at_stop=np.resize(outcome.mean_at_stop.min(axis=1), (3, 1)),
        bottomed=np.resize(outcome.bottomed.any(axis=1), (3, 1)),
    )


def clearance(case: Case, landed: Landed, outcome: Outcome) -> Margin:
    """Least clearance of the hull during the landing against what must be left.

    Notes
    -----
    Formula: with clearance_min: demand = clearance_min, capability = least clearance
    Formula: without: demand = most clearance used, capability = clearance there is
    Range: Ring of the lowest hard points, at every step of the motion.
    Limits: limits.clearance_min

    Worst of the columns: low, nominal, high, or the forces that the landing has.

    References
    ----------
    [D]
    """
    empty = Margin(check="clearance", touchdown=landed.name, unit="m", basis=UNTESTED)
    whole, least = case.vehicle.clearance, case.limits.clearance_min
    if whole is None:
        return replace(empty, reason="no clearance given")
    left = np.atleast_1d(outcome.clearance.min())
    if least > 0.0:
        note = "least clearance during the landing, lean, sinkage and slope included"
        return replace(empty, demand=np.full(1, least), capability=left, note=note)
    note = "most clearance used during the landing, against the clearance there is"
    return replace(empty, demand=whole - left, capability=np.full(1, whole), note=note)


def lean(case: Case, landed: Landed, outcome: Outcome) -> Margin:
    """Lean against the ground at the end, largest of the columns.

    Notes
    -----
    Formula: demand = lean against the ground's normal at the end
    Formula: capability = lean_max
    Limits: limits.lean_max

    Largest of the columns.

    References
    ----------
    [D]
    """
    empty = Margin(check="lean", touchdown=landed.name, unit="rad", basis=UNTESTED)
    limit = case.limits.lean_max
    if limit is None:
        return replace(empty, reason="no lean_max given")
    most = float(outcome.lean.max())
    if most < LEAST_LEAN:
        return replace(empty, reason="it stands upright on the ground: no lean")
    note = "at the end, against the ground; the slope comes on top"
    return replace(empty, demand=np.full(1, most), capability=np.full(1, limit), note=note)


def at_rest(landed: Landed, outcome: Outcome) -> list[Margin]:
    """Fail a landing that neither tips nor comes to rest in the time it is given; else nothing.

    Notes
    -----
    Means: A landing that neither tips nor comes to rest in its time has failed.
    Formula: demand = time of the landing
    Formula: capability = 0
    Range: It stands only where a landing neither rests nor tips within 30 √(ρ/g), on one or two
    legs 10 √(ρ/g), ρ from pads to centre of gravity.
    Band: Any of the columns that still moves.

    References
    ----------
    A landing that has not ended cannot be judged [judgement]
    """
    moves = ~outcome.rested & np.array([word != "tips" for word in outcome.word])
    if not moves.any():
        return []
    return [
        Margin(
            check="at_rest",
            touchdown=landed.name,
            unit="s",
            basis=UNTESTED,
            demand=np.atleast_1d(outcome.time[moves].max()),
            capability=np.zeros(1),
            note="it still moves at the end of the time it is given",
        )
    ]


def tip_over(landed: Landed, outcome: Outcome) -> Margin:
    """Tilt used up toward the weakest line of pads against the static angle before crush.

    Notes
    -----
    Formula: demand = α_upright − least α during the landing
    Formula: capability = α_upright
    Range: Three legs or more; on one or two it only balances.

    Pads as they are: they slide or stick by friction. Zero is the balance over a line of pads.

    References
    ----------
    [D]
    """
    empty = Margin(check="tip_over", touchdown=landed.name, unit="rad", basis=UNTESTED)
    if np.isnan(outcome.angle_before).any():
        if "tips" in outcome.word:
            note = "it tips over: on one or two legs it only balances"
            tilt = np.atleast_1d(outcome.heel.max())
            return replace(empty, demand=tilt, capability=np.zeros(1), note=note)
        return replace(empty, reason="no tipping edge: fewer than three legs")
    used = outcome.angle_before - outcome.angle_least
    worst = int(np.argmax(used))
    if not used[worst] > LEAST_LEAN:
        return replace(empty, reason="never nearer to tipping than it stands on level ground")
    note = "most tilt toward a line of pads during the landing, slope included, pads as they are"
    return replace(
        empty,
        demand=used[worst : worst + 1],
        capability=outcome.angle_before[worst : worst + 1],
        note=note,
    )
