"""Random valid landings on random valid girders, sized so that most of them stop."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
from hypothesis import Phase, settings
from hypothesis import strategies as st

from crushleg.case.records import (
    Case,
    Factors,
    Leg,
    Limits,
    Standing,
    Touchdown,
    Vehicle,
)
from crushleg.landing.touchdown import Landed, land
from crushleg.margins import Margin, margins
from tests.girder.strategies import girders, share
from tests.samples import crushed

if TYPE_CHECKING:
    from crushleg.case.records import Girder
    from crushleg.girder.crush import Crush

SIDES = ("guide", "girder")


def lawful(examples: int) -> settings:
    """So many examples, the same on every run; the first that fails is shown as it is."""
    return settings(
        max_examples=examples,
        derandomize=True,
        deadline=None,
        database=None,
        phases=(Phase.explicit, Phase.generate),
        report_multiple_bugs=False,
    )


@dataclass(frozen=True, kw_only=True, repr=False)
class Drawn:
    """A case with one touchdown, its crush and its landing."""

    case: Case
    crush: Crush
    landed: Landed

    def _repr_pretty_(self, printer: Any, _: bool) -> None:
        """Show what was drawn, without the arrays that came of it."""
        case = self.case
        printer.text(f"{case.vehicle}, {case.leg}, {case.touchdowns}, {case.girder}")

    @cached_property
    def margins(self) -> dict[str, Margin]:
        """Margins by their check."""
        return judged(self.case, self.crush, self.landed)

    def changed(self, **fields: Any) -> Drawn:
        """Return the case with other fields, on the same girder, landed anew."""
        case = replace(self.case, **fields)
        return replace(self, case=case, landed=landed_on(case, self.crush))

    def regirdered(self, record: Girder) -> Drawn:
        """Return the case with another girder."""
        crush = crushed(record)
        case = replace(self.case, girder=record)
        return Drawn(case=case, crush=crush, landed=landed_on(case, crush))


def landed_on(case: Case, crush: Crush, touchdown: Touchdown | None = None) -> Landed:
    """Land the first touchdown of a case, or another."""
    return land(crush, case.vehicle, case.leg, touchdown or case.touchdowns[0], case.factors)


def judged(case: Case, crush: Crush, landed: Landed) -> dict[str, Margin]:
    """Margins by their check."""
    return {margin.check: margin for margin in margins(case, crush, (landed,))}


@st.composite
def landings(draw: st.DrawFn, most: float = 1.3, contacts: tuple[str, ...] = ("all",)) -> Drawn:
    """Draw a case whose landing asks for 0.05 to ``most`` of the energy of its low curve.

    Every limit is given and every margin applies: the ground slopes, the leg has friction, the
    vehicle moves sideways and stands on a slope of loads.
    """
    record = draw(girders(least_rows=1))
    crush = crushed(record)
    speed, gravity = draw(share(2.0, 6.0)), draw(st.sampled_from((9.80665, 1.62, 3.71)))
    legs = draw(st.integers(3, 8))
    usable, energy = float(crush.usable[0]), float(crush.curve.energy[0, 0, -1])
    mass = draw(share(0.05, most)) * legs * energy / (0.5 * speed**2 + gravity * usable)
    radius = draw(share(1.0, 4.0))
    free_length = record.length * draw(share(1.0, 1.5))
    vehicle = Vehicle(
        mass=mass,
        legs=legs,
        gravity=gravity,
        centre_of_gravity_height=radius * draw(share(0.5, 1.6)) + free_length,
        pad_circle_radius=radius,
        radius_of_gyration=radius * draw(share(0.4, 1.2)),
        clearance=free_length * draw(share(0.9, 1.3)),
        clearance_radius=radius * draw(share(0.0, 0.5)),
    )
    leg = Leg(
        side_load="girder",
        cant=draw(share(0.0, 0.3)),
        pad_friction=draw(share(0.1, 0.6)),
        pad_area=draw(share(0.05, 0.5)),
        free_length=free_length,
    )
    touchdown = Touchdown(
        name="law",
        vertical_speed=speed,
        horizontal_speed=draw(share(0.1, 1.0)),
        slope=draw(share(0.0, 0.1)),
        first_contact=draw(st.sampled_from(contacts)),
        attitude=draw(share(0.0, 0.05)),
    )
    peak = float(crush.first_peak[2, 0])
    limits = Limits(
        leg_limit_load=peak * draw(share(0.8, 2.0)),
        deceleration_max=draw(share(20.0, 100.0)),
        clearance_min=draw(share(0.02, 0.2)),
        lean_max=draw(share(0.02, 0.1)),
        stroke_fraction=draw(share(0.7, 1.0)),
        pad_pressure_max=draw(share(0.5, 6.0)) * 1e6,
    )
    factors = Factors(speed_reserve=1.2, ultimate=1.4, column=draw(share(1.0, 2.0)))
    push = draw(share(0.0, 0.3)) * gravity * radius / (radius + free_length)
    standing = Standing(name="law", mass=mass * draw(share(0.8, 2.0)), side_acceleration=push)
    case = Case(
        title="",
        revision="",
        author="",
        vehicle=vehicle,
        leg=leg,
        girder=record,
        touchdowns=(touchdown,),
        standings=(standing,),
        limits=limits,
        factors=factors,
        input_sha256="",
        assumed=(),
    )
    return Drawn(case=case, crush=crush, landed=landed_on(case, crush))


def drives_through(drawn: Drawn) -> bool:
    """Whether the weight comes near the least force of the low curve.

    Where a crest may let the vehicle through the trough behind it, stroke jumps with the crest:
    that is no fault.
    """
    case, curve = drawn.case, drawn.landed.curve
    weight = drawn.landed.arrival.net_weight / case.vehicle.legs
    begun = curve.travel > drawn.landed.at_stop[..., None] / curve.stiffness[:, None]
    least = np.where(begun, curve.reaction, np.inf).min()
    return bool(least < 1.5 * weight)
