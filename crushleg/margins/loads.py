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
    """Energy in the legs up to the end of their usable stroke against what would come, low.

    Beside the margin of stroke it says how much more energy would fit, not how much length is left.

    Notes
    -----
    Means: Energy that all legs take to the end of their usable stroke, against what would come.
    Formula: demand = E_kin + Wn z_end
    Formula: capability = n W(z_end)
    Range: All legs together, z_end the vertical travel at the end of the usable stroke; where legs
    touch one after the other, the first legs on their effective mass, then all.
    Band: Low force: a weak girder takes less energy and crushes further. The band itself is
    explained under band.
    Limits: factors.speed_reserve multiplies every speed of a reserve case, once
    Limits: vehicle.mass, vehicle.legs, vehicle.gravity and thrust_to_weight enter E_kin and Wn

    W is the work of one leg with its elastic shortening and its friction. Nothing is taken by pads,
    soil or sliding.

    References
    ----------
    Energy balance [D]
    """
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
    """Stroke of the most crushed leg against the usable stroke, low force.

    Notes
    -----
    Means: Stroke that the most crushed leg needs, against the part of the usable stroke it may use.
    Formula: demand = stroke needed at low force
    Formula: capability = stroke_fraction × usable stroke
    Range: Elastic shortening is part of the stroke. A leg that bottoms needs the stroke that its
    last force would have stopped it in; one that never stops has the margin −1.
    Band: Low force: a weak girder takes less energy and crushes further.
    Limits: limits.stroke_fraction of the usable stroke may be used
    Limits: factors.speed_reserve multiplies every speed of a reserve case, once

    References
    ----------
    Energy balance [D]
    """
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
    """Axial load at the attachment against the limit load, ultimate in reserve cases.

    Notes
    -----
    Means: Axial load where the leg is attached to the vehicle, against its limit load.
    Formula: demand = max over low, nominal, high of A/F × largest girder force met
    Formula: capability = leg_limit_load; in reserve cases ultimate × leg_limit_load
    Range: Axial load at the attachment, bottoming and out-of-order zones included; the side load is
    a quantity of its own.
    Band: Largest of low, nominal and high: on a rising curve the weak girder travels further and
    can meet the higher force.
    Limits: limits.leg_limit_load is the limit load of the attachment
    Limits: factors.ultimate multiplies it in reserve cases only
    Limits: factors.speed_reserve multiplies every speed of a reserve case, once

    References
    ----------
    Largest of the three curves [D]

    Reserve cases against ultimate: 14 CFR 27.501 accepts a member that yields at limit load
    [published]; factor 1.4 of metal structures, NASA-STD-5001 [from memory]
    """
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
    """Deceleration (F − Wn)/m against its limit, largest of the three curves.

    Notes
    -----
    Means: Deceleration of the vehicle against what it may see.
    Formula: demand = max over low, nominal, high of (F − Wn)/m
    Formula: capability = deceleration_max
    Band: Largest of low, nominal and high: on a rising curve the weak girder travels further and
    can meet the higher force.
    Limits: limits.deceleration_max
    Limits: vehicle.mass, vehicle.gravity and thrust_to_weight enter Wn

    Neither the gear factor F/(m g0) nor what an accelerometer reads, (F + T)/m.

    References
    ----------
    [D]
    """
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
    """Euler load of the length left against the force, largest of the three curves.

    Notes
    -----
    Means: Compression of the girder against the load at which it buckles as a column.
    Formula: demand = F where F ℓ² is largest on the way to the stop
    Formula: capability = π² E I/(K ℓ)², with ℓ = held length − stroke
    Range: A slender column that stays straight; folds that tilt can turn crush into overall
    bending: beyond a length of about ten sides, test.
    Band: Largest of low, nominal and high: on a rising curve the weak girder travels further and
    can meet the higher force. The force at the governing point may be less than the peak force.
    Limits: factors.column multiplies the force
    Limits: girder.effective_length_factor is K
    Limits: leg.free_length is the held length, the girder's own where it is not given

    Local strength of the walls is in the force that starts a fold, not here.

    References
    ----------
    Euler, on the length left [common practice]; worst point of the stroke [D]
    """
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
    """Moment of the side load against the plastic moment left beside the axial force.

    Notes
    -----
    Means: Bending of a girder that carries the side load itself, against what its net section
    bears.
    Formula: demand = T z
    Formula: capability = s_y Z_net (1 − F/S)
    Range: Side load carried by the girder; with a guide, or a linkage, or neither friction nor
    cant, it is not judged.
    Band: Largest of low, nominal and high: on a rising curve the weak girder travels further and
    can meet the higher force. Force, yield strength and start force S are those of the same curve.
    Limits: leg.side_load says whether guide or girder carries the side load
    Limits: leg.free_length, leg.cant and leg.pad_friction make the moment

    References
    ----------
    [D]; plastic moment and linear interaction with the axial force [common practice]
    """
    empty = Margin(check="bending", touchdown=landed.name, unit="N·m", basis=basis)
    if case.leg.side_load == "guide":
        return replace(empty, reason="a guide carries the side load")
    moment, capacity = bending_moments(crush, landed, case.leg, case.girder)
    note = "worst section and curve; plastic moment of the net section less the axial share"
    empty = replace(empty, note=note)
    reason = "no side load: no friction and no cant, or a linkage"
    return where(empty, moment > 0.0, moment, capacity, reason)


def pad_pressure(case: Case, landed: Landed, basis: str) -> Margin:
    """Pressure under one pad against its limit, largest of the three curves.

    Notes
    -----
    Means: Pressure of one pad on the ground against what the ground may see.
    Formula: demand = max over low, nominal, high of V/A_pad
    Formula: capability = pad_pressure_max
    Range: Pressure even under the pad, no side load, no sinkage.
    Band: Largest of low, nominal and high: on a rising curve the weak girder travels further and
    can meet the higher force.
    Limits: limits.pad_pressure_max
    Limits: leg.pad_area is A_pad

    References
    ----------
    [D]
    """
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
