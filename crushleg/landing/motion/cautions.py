"""What the motion of the whole vehicle assumes, and which landings leave its ground, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.case.records import Case, Touchdown
    from crushleg.landing.motion.outcome import Outcome

STABLE = 3
"""Legs from which there is a line of pads to tip over."""


def motion_cautions(case: Case, landings: Sequence[tuple[Touchdown, Outcome]]) -> Iterator[str]:
    """Cautions of the model, then of the landings, equal ones joined by their names.

    Parameters
    ----------
    case : Case
    landings : sequence of (Touchdown, Outcome)

    Yields
    ------
    str
    """
    yield (
        "Motion: a rigid body on massless legs and pads. Springing and sloshing of the vehicle, "
        "masses of the legs and steering of the engine are left out."
    )
    yield from _ground(case)
    yield from _legs(case)
    if case.vehicle.clearance is None:
        yield "No clearance given: a hull that strikes the ground is not seen."
    else:
        yield (
            "Contact of the hull is counted and pushes nothing: after a strike the motion is not "
            "what would follow."
        )
    yield from _landings(landings)


def _ground(case: Case) -> Iterator[str]:
    if case.ground is None:
        yield "The ground is a plane that does not give: no stones, holes or sinkage."
        return
    yield (
        "The ground is a plane; a pad sinks where its pressure passes bearing_pressure, does not "
        "rise again, and moves sideways against friction alone, not against what it ploughs up."
    )


def _legs(case: Case) -> Iterator[str]:
    leg, legs = case.leg, case.vehicle.legs
    if leg.damping > 0.0:
        what = f"damping while a leg springs ({leg.damping:g} of critical)"
    else:
        what = "damping = 0, so that legs spring and rock undamped"
    yield (
        f"Judgement: grip of a pad that sticks (half the girder's stiffness) and {what}; they move "
        "rebound, rocking and the time to rest, not the crush."
    )
    if leg.travel_ratio is not None:
        yield (
            "Linkage in motion: its pad moves straight along the vehicle axis with the same "
            "travel_ratio all the way; side load goes into the linkage, not into the strut."
        )
    if legs > 1:
        yield (
            "Low, nominal and high are landings whose legs are all alike; legs that differ "
            "among themselves can lean or tip a vehicle that alike legs do not."
        )
    if legs < STABLE:
        yield (
            f"{'One leg has' if legs == 1 else 'Two legs have'} no line of pads to tip over: "
            "that the vehicle stays upright is not judged."
        )
    if case.girder.rate and legs > 1:
        yield (
            "Strain rate in motion: that of the vertical speed, though a leg that arrives later "
            "may come down up to twice as fast."
        )


def _landings(landings: Sequence[tuple[Touchdown, Outcome]]) -> Iterator[str]:
    said: dict[str, list[str]] = {}
    for touchdown, outcome in landings:
        for text in _landing(touchdown, outcome):
            said.setdefault(text, []).append(touchdown.name)
    for text, names in said.items():
        yield f"In motion ({'; '.join(names)}): {text}"


def _landing(touchdown: Touchdown, outcome: Outcome) -> Iterator[str]:
    if np.isnan(outcome.contact).all(axis=1).any():
        yield "no pad touches: the ground falls away as fast as the vehicle comes down."
    if outcome.bottomed.any():
        yield (
            "a leg bottoms: its load is an elastic estimate on the girder's stiffness, and the "
            "structure above is no longer protected."
        )
    if (outcome.clearance <= 0.0).any():
        yield "the hull strikes the ground."
    if "tips" in outcome.word:
        yield "it tips; the motion ends there, and what it hits is not known."
    still = [word for word, rested in zip(outcome.word, outcome.rested, strict=True) if not rested]
    if any(word != "tips" for word in still):
        yield "neither at rest nor tipped when its time ran out: lean and energies are those then."
    if touchdown.thrust_to_weight > 0.0 and touchdown.shutdown_time is None:
        yield "thrust stays on to the end, as no shutdown_time is given."
