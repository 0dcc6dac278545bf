"""Margins of energy, stroke and loads of a touchdown."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from crushleg.landing.members import bending_moments, column_loads
from crushleg.margins.margin import Margin, like, shown, where

if TYPE_CHECKING:
    from crushleg.case.records import Case
    from crushleg.girder.crush import Crush
    from crushleg.landing.touchdown import Landed


def energy(landed: Landed, basis: str) -> Margin:
    """Energy in the legs up to the end of their usable stroke against what would come, low."""
    return Margin(
        check="energy",
        touchdown=landed.name,
        unit="J",
        basis=basis,
        demand=landed.asked[0],
        capability=landed.capacity[0],
        note="low force; all legs to the end of the usable stroke",
    )


def stroke(case: Case, crush: Crush, landed: Landed, basis: str) -> Margin:
    """Stroke of the most crushed leg against the usable stroke, low force."""
    return Margin(
        check="stroke",
        touchdown=landed.name,
        unit="m",
        basis=basis,
        demand=landed.stroke_needed[0],
        capability=case.limits.stroke_fraction * crush.usable,
        note="low force, elastic shortening included; "
        f"{shown(case.limits.stroke_fraction)} of the usable stroke",
    )


def leg_load(case: Case, landed: Landed, basis: str) -> Margin:
    """Axial load at the attachment against the limit load, ultimate in reserve cases."""
    empty = Margin(check="leg_load", touchdown=landed.name, unit="N", basis=basis)
    limit = case.limits.leg_limit_load
    if limit is None:
        return replace(empty, reason="no leg_limit_load given")
    factor = case.factors.ultimate if landed.reserve else 1.0
    strength = f"{shown(factor)} × leg_limit_load" if landed.reserve else "leg_limit_load"
    return replace(
        empty,
        demand=landed.peak.max(axis=0),
        capability=like(factor * limit, landed),
        note=f"largest of low, nominal and high; capability {strength}",
    )


def deceleration(case: Case, landed: Landed, basis: str) -> Margin:
    """Deceleration (F − Wn)/m against its limit, largest of the three curves."""
    empty = Margin(check="deceleration", touchdown=landed.name, unit="m/s2", basis=basis)
    limit = case.limits.deceleration_max
    if limit is None:
        return replace(empty, reason="no deceleration_max given")
    return replace(
        empty,
        demand=landed.deceleration.max(axis=0),
        capability=like(limit, landed),
        note="(F − Wn)/m, largest of low, nominal and high",
    )


def column(case: Case, crush: Crush, landed: Landed, basis: str) -> Margin:
    """Euler load of the length left against the force, largest of the three curves."""
    load, carries = column_loads(crush, landed, case.leg, case.girder)
    return Margin(
        check="column",
        touchdown=landed.name,
        unit="N",
        basis=basis,
        demand=load,
        capability=carries,
        factor=case.factors.column,
        note="Euler on the length left, least net inertia, worst point of the stroke",
    )


def bending(case: Case, crush: Crush, landed: Landed, basis: str) -> Margin:
    """Moment of the side load against the plastic moment left beside the axial force."""
    empty = Margin(check="bending", touchdown=landed.name, unit="N·m", basis=basis)
    if case.leg.side_load == "guide":
        return replace(empty, reason="a guide carries the side load")
    moment, capacity = bending_moments(crush, landed, case.leg, case.girder)
    note = "worst section and curve; plastic moment of the net section less the axial share"
    empty = replace(empty, note=note)
    reason = "no side load: no friction and no cant, or a linkage"
    return where(empty, moment > 0.0, moment, capacity, reason)


def pad_pressure(case: Case, landed: Landed, basis: str) -> Margin:
    """Pressure under one pad against its limit, largest of the three curves."""
    empty = Margin(check="pad_pressure", touchdown=landed.name, unit="Pa", basis=basis)
    limit, area = case.limits.pad_pressure_max, case.leg.pad_area
    if limit is None or area is None:
        return replace(empty, reason="no pad_pressure_max or no pad_area given")
    return replace(
        empty,
        demand=landed.pad_peak.max(axis=0) / area,
        capability=like(limit, landed),
        note="largest of low, nominal and high",
    )
