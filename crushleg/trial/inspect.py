"""Inspection of crushed legs: from residual heights to speed, rest, and what is left."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from crushleg.errors import InputError, Problem
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.crush import crush as crush_girders
from crushleg.landing.arrival import arrive, leg_forces
from crushleg.trial.at_rest import AtRest, Left, at_rest, before_contact, left_in_legs, plane
from crushleg.trial.crushed_legs import one_leg
from crushleg.trial.faces import Faces, read_faces, refuse_too_short
from crushleg.trial.speed_band import SpeedBand, Stopped, Unsure, back_calculate
from crushleg.units import quoted

if TYPE_CHECKING:
    from crushleg.case.records import Case, Touchdown
    from crushleg.girder.crush import Crush
    from crushleg.landing.arrival import Arrival
    from crushleg.landing.leg import LegForces
    from crushleg.trial.heights import Heights

READING_ERROR = 0.002
"""± on a leg's height [m], a 95 % limit: tape on a folded edge (judgement)."""
MASS_ERROR = 0.02
"""± on the landing mass [-], a 95 % limit: propellant left (judgement)."""
OTHER_SHARE = 0.5
"""± on the energy not in the legs, of that energy, a 95 % limit (judgement)."""


class Asked(NamedTuple):
    """How the readings are taken, SI; ``None`` is unknown, or as the module says.

    ``before`` is what the same reading was before the landing; errors are 95 % limits.
    """

    touchdown: str | None = None
    before: float | None = None
    reading_error: float = READING_ERROR
    mass_error: float = MASS_ERROR
    other: float | None = None
    other_error: float | None = None

    @property
    def other_known(self) -> tuple[float, float]:
        """Energy not in the legs and its ± [J], zero when unknown."""
        other = self.other or 0.0
        return other, OTHER_SHARE * other if self.other_error is None else self.other_error


@dataclass(frozen=True, slots=True, kw_only=True)
class Inspection:
    """Inspection of one landing; arrays have the n legs last, levels of force first.

    Attributes
    ----------
    before : float
        What the readings were before the landing [m].
    faces : Faces
        Crush and tilt of every leg.
    band : SpeedBand
        What the legs took and the speed it stands for.
    sank : bool
        The force at the stop is below the net weight: the legs went on crushing after it, and
        what they took over that way is less than the weight's work.
    lower_bound : bool
        Energy went elsewhere that is not known, a leg is solid, or they sank: the speed was at
        least this.
    left : Left
        Stroke and energy left in every leg.
    rest : AtRest
        Lean, clearance, standing.
    """

    case: Case
    asked: Asked
    heights: Heights
    touchdown: Touchdown
    arrival: Arrival
    forces: LegForces
    crush: Crush
    before: float
    faces: Faces
    stopped: Stopped
    unsure: Unsure
    band: SpeedBand
    sank: bool
    lower_bound: bool
    left: Left
    rest: AtRest


def find_touchdown(case: Case, name: str | None) -> Touchdown:
    """Touchdown by its name; the first that is no reserve case when none is named.

    Raises
    ------
    InputError
        The case has no touchdown of that name.
    """
    if name is None:
        return next((one for one in case.touchdowns if not one.reserve), case.touchdowns[0])
    for one in case.touchdowns:
        if one.name == name:
            return one
    names = " or ".join(quoted(one.name) for one in case.touchdowns)
    raise InputError([Problem(field="--touchdown", read=quoted(name), write=names)])


def inspect_legs(case: Case, heights: Heights, asked: Asked | None = None) -> Inspection:
    """Read a landing from the legs it crushed.

    Parameters
    ----------
    case : Case
    heights : Heights
    asked : Asked, optional

    Returns
    -------
    Inspection

    Raises
    ------
    InputError
        No such touchdown; a face taller than before the landing, a leg shorter than solid metal.

    Notes
    -----
    Where the girder's strength depends on the strain rate, the curve is that at the speed found,
    not at the touchdown's.
    """
    asked = Asked() if asked is None else asked
    touchdown = find_touchdown(case, asked.touchdown)
    speed = touchdown.vertical_speed
    found = _inspect(case, heights, asked, touchdown, speed)
    if case.girder.rate and found.band.speed[1] > 0.0:
        found = _inspect(case, heights, asked, touchdown, float(found.band.speed[1]))
    return found


def _inspect(
    case: Case, heights: Heights, asked: Asked, touchdown: Touchdown, speed: float
) -> Inspection:
    """Inspect with the curve at one speed."""
    crush = crush_girders(girder_arrays([case.girder], [speed]))
    arrival, forces = arrive(case.vehicle, touchdown, case.factors), leg_forces(case.leg)
    before = case.girder.length if asked.before is None else asked.before
    faces = read_faces(case.girder, heights, before, asked.reading_error)
    refuse_too_short(faces, heights, case.girder, float(crush.usable[0]))
    fit = plane(case.vehicle)
    drop = before_contact(case.vehicle, touchdown)
    stopped = Stopped(arrival.mass, arrival.net_weight, fit[0], drop)
    unsure = Unsure(faces.error, asked.mass_error, *asked.other_known)
    band = back_calculate(one_leg(crush, forces), stopped, unsure, faces.crush)
    left = left_in_legs(crush, band.legs, faces)
    reaction = float(forces.reaction) * band.legs.force[1].sum()
    sank = bool((faces.crush > faces.error).any() and reaction < arrival.net_weight)
    return Inspection(
        case=case,
        asked=asked,
        heights=heights,
        touchdown=touchdown,
        arrival=arrival,
        forces=forces,
        crush=crush,
        before=before,
        faces=faces,
        stopped=stopped,
        unsure=unsure,
        band=band,
        sank=sank,
        lower_bound=asked.other is None or sank or bool(left.solid.any()),
        left=left,
        rest=at_rest(case, arrival, forces, faces, (crush, left), fit),
    )
