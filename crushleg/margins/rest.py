"""Margins of the vehicle at rest: clearance, lean, tip-over, standing."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from crushleg.landing.afterwards import settle, standing_after, standing_before, tip_over
from crushleg.margins.margin import UNTESTED, Margin, curve_basis, like, where

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case, Standing
    from crushleg.girder.crush import Crush
    from crushleg.landing.touchdown import Landed

LEAST_LEAN = 1e-9
"""Below this [rad] a lean is round-off."""


def after_rest(case: Case, landed: Landed) -> list[Margin]:
    """Clearance, lean and tip-over, even crush and one leg low with the rest high."""
    settled = settle(case.vehicle, landed)
    tips = tip_over(case.vehicle, case.leg, landed, settled)
    name, basis = landed.name, UNTESTED
    return [
        _clearance(case, name, basis, settled.clearance, settled.travel),
        _lean(case, name, basis, settled.lean.max(axis=0)),
        _tip(landed, basis, tips.speed.min(axis=0), tips.angle, tips.tilt),
    ]


def _clearance(case: Case, name: str, basis: str, left: FloatArray, travel: FloatArray) -> Margin:
    """Clearance left at low force against what must be left.

    Notes
    -----
    Means: Room left under the lowest hard point of the vehicle once its legs have crushed.
    Formula: with clearance_min: demand = clearance_min, capability = clearance left
    Formula: without: demand = clearance used, capability = clearance there is
    Range: Vehicle at rest on its crushed legs, level or leaning; no stone, no crater.
    Band: Low force on every leg, or one leg low and the rest high: the worse of the two.
    Limits: limits.clearance_min is what must be left; zero means no contact
    Limits: vehicle.clearance and vehicle.clearance_radius say where the lowest hard point is

    References
    ----------
    [D]
    """
    empty = Margin(check="clearance", touchdown=name, unit="m", basis=basis)
    vehicle, least = case.vehicle, case.limits.clearance_min
    if vehicle.clearance is None:
        return replace(empty, reason="no clearance given")
    worst = left.min(axis=0)
    kept = np.broadcast_to(np.asarray(least) > 0.0, worst.shape)
    note = "clearance left at low force, even or one leg low, against clearance_min"
    if not kept.all():
        note = "clearance used at low force, even or one leg low, against the clearance there is"
    used = (vehicle.clearance - worst > 0.0) & (travel > 0.0).all(axis=0)
    demand = np.where(kept, least, vehicle.clearance - worst)
    capability = np.where(kept, worst, vehicle.clearance)
    return where(replace(empty, note=note), kept | used, demand, capability, "no clearance used")


def _lean(case: Case, name: str, basis: str, lean: FloatArray) -> Margin:
    """Lean at rest against its limit.

    Notes
    -----
    Means: How far the vehicle leans on unequally crushed legs, against what it may.
    Formula: demand = arctan |∇s|
    Formula: capability = lean_max
    Range: Against the ground; the slope comes on top.
    Band: One leg at low force, the rest at high: legs of one batch differ less, so this is an upper
    bound.
    Limits: limits.lean_max

    References
    ----------
    Uneven crush [D]; one leg low and the rest high [judgement]
    """
    empty = Margin(check="lean", touchdown=name, unit="rad", basis=basis)
    limit = case.limits.lean_max
    if limit is None:
        return replace(empty, reason="no lean_max given")
    empty = replace(
        empty, note="one leg low, the rest high; against the ground, the slope comes on top"
    )
    capability = np.full_like(lean, limit)
    return where(empty, lean > LEAST_LEAN, lean, capability, "the legs crush alike: no lean")


def _tip(
    landed: Landed, basis: str, speed: FloatArray, angle: FloatArray, tilt: FloatArray
) -> Margin:
    """Horizontal speed against the speed that just tips the vehicle.

    Notes
    -----
    Means: Whether the vehicle goes over the line between two pads: horizontal speed against the
    speed that just tips it.
    Formula: with horizontal speed: demand = v_h, capability = v_crit
    Formula: on a slope without it: demand = slope + lean, capability = α
    Range: Three legs or more, pads stuck, thrust off, speed straight at the line between two pads;
    no rebound. Level and without horizontal speed it is not judged.
    Band: Lower of before crush, after even crush and after one leg low with the rest high.
    Limits: factors.speed_reserve multiplies the horizontal speed of a reserve case
    Limits: vehicle.pad_circle_radius, centre_of_gravity_height and radius_of_gyration make v_crit

    References
    ----------
    [D]
    """
    empty = Margin(check="tip_over", touchdown=landed.name, unit="m/s", basis=basis)
    if not np.any(angle > 0.0):
        return replace(empty, reason="no tipping edge: fewer than three legs, or no pad circle")
    moving = like(landed.arrival.horizontal, landed)
    sloping = like(landed.touchdown.slope, landed) > 0.0
    demand, capability = moving, speed
    note = "speed that just tips it, pads stuck, thrust off, lower of before and after crush"
    if not (moving > 0.0).all():
        with np.errstate(divide="ignore", invalid="ignore"):
            worst = (angle / tilt).argmin(axis=0)[None]
        used, there = (np.take_along_axis(field, worst, axis=0)[0] for field in (tilt, angle))
        demand = np.where(moving > 0.0, moving, used)
        capability = np.where(moving > 0.0, speed, there)
    if not (moving > 0.0).any():
        empty = replace(empty, unit="rad")
        note = "no horizontal speed: slope and lean against the static angle"
    applies = (moving > 0.0) | sloping
    reason = "no horizontal speed, level ground"
    return where(replace(empty, note=note), applies, demand, capability, reason)


def standing_after_crush(case: Case, landed: Landed, basis: str) -> Margin:
    """Worst share of the weight, thrust off, against the low mean force where it stopped.

    Notes
    -----
    Means: Whether the crushed legs carry the vehicle at rest without folding on.
    Formula: demand = share × W × A/V
    Formula: capability = P_m,low of the fold it stopped in
    Range: Level, thrust off, no side load. A trough of the wave lies lower: it may settle by a part
    of a fold.
    Band: Low mean force, of the weakest fold that a leg stopped in.
    Limits: vehicle.mass or touchdown.mass, vehicle.legs and vehicle.gravity make the load

    References
    ----------
    [D]; stay clear of a vehicle standing on spent legs [judgement]
    """
    return Margin(
        check="standing_after",
        touchdown=landed.name,
        unit="N",
        basis=basis,
        demand=like(standing_after(case.vehicle, case.leg, landed), landed),
        capability=landed.mean_at_stop[0],
        note="thrust off, worst leg, against the low mean force of the weakest fold stopped in",
    )


def standing_on_start(case: Case, crush: Crush, standing: Standing) -> Margin:
    """Worst uncrushed leg against the low force that starts the first fold; zero if it topples.

    Notes
    -----
    Means: Whether the uncrushed legs carry a standing vehicle without beginning to fold.
    Formula: demand = A/V × (W/n + 2 M/(n R))
    Formula: capability = first peak at low force
    Range: Uncrushed legs, alike, equally spaced; zero where the vehicle topples.
    Band: Low force that begins the crush, first_peak_fraction in it.
    Limits: standing.mass and standing.side_acceleration make W and M
    Limits: girder.first_peak_fraction lowers the capability

    References
    ----------
    [D]
    """
    load, over = standing_before(case.vehicle, case.leg, standing)
    topples = "the vehicle topples: moment beyond weight × distance of the tipping line"
    return Margin(
        check="standing_before",
        touchdown=standing.name,
        unit="N",
        basis=curve_basis(case),
        demand=np.broadcast_to(load, np.broadcast_shapes(load.shape, crush.mass.shape)),
        capability=np.where(over, 0.0, crush.first_peak[0]),
        note=topples if over.any() else "even share and overturning, against the low first peak",
    )
