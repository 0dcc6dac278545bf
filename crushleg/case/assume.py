"""Values taken where a case leaves a field out, and the sentences that say so."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from crushleg.case.records import STANDARD_GRAVITY, Band
from crushleg.said import Quantity, Said

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.case.drafts import Drafts
    from crushleg.case.tables import Draft

WALL_TOLERANCE = 0.045
HOLE_TOLERANCE = 0.3e-3
CORNER_WALLS = 2.0
CREST_RATIO = Band(low=1.2, nominal=1.35, high=1.55)
"""Measured curves of plain tubes swing about so (from memory)."""
ROOM_TEMPERATURE = 293.15

GRAVITY = f"gravity left out: {STANDARD_GRAVITY} m/s2, standard gravity."
SHEET = (
    "4.5 % of the wall, for every alloy: cold-rolled stainless sheet has 3.3 to 4.5 % from 2 to "
    "4 mm and up to 6 % at 1 mm, EN ISO 9445-2 (published, second-hand); the wall of a cold-formed "
    "tube may have 10 %, EN 10219-2 (published, second-hand)."
)
HOLES = "± 0.3 mm, ISO 2768-1 m, 30 to 120 mm (published, second-hand)."
CORNERS = "2 × wall; EN 10219-2: 1.6 to 2.4 × wall (published, second-hand)."

FIXED: dict[str, Any] = {
    "hole_tolerance": HOLE_TOLERANCE,
    "crest_ratio": CREST_RATIO,
    "temperature": ROOM_TEMPERATURE,
}
DERIVED: dict[str, tuple[str, Callable[[float], float]]] = {
    "depth": ("width", lambda width: width),
    "wall_tolerance": ("wall", lambda wall: WALL_TOLERANCE * wall),
    "corner_radius": ("wall", lambda wall: CORNER_WALLS * wall),
}
"""Girder field -> the field it follows from, and how."""

GIRDER_DEFAULTS = FIXED | dict.fromkeys(DERIVED)


def derive(girder: Draft) -> None:
    """Fill the girder fields that follow from another and were left out."""
    for key, (base, rule) in DERIVED.items():
        if key in girder.given or key in girder.unread:
            continue
        if base in girder.unread:
            girder.unread.add(key)
            del girder[key]
        else:
            girder[key] = rule(girder[base])


def assumptions(drafts: Drafts) -> tuple[str, ...]:
    """Sentences on the values that the case left out and that move the answer."""
    vehicle, leg, girder = drafts.vehicle.given, drafts.leg.given, drafts.girder.given
    length, tolerance, radius = (
        Quantity(drafts.girder[key], "length")
        for key in ("length", "wall_tolerance", "corner_radius")
    )
    guided = drafts.leg["side_load"] != "girder"
    said = (
        ("gravity" in vehicle, GRAVITY),
        ("pad_friction" in leg, "pad_friction left out: 0.4 (common practice)."),
        (
            "free_length" in leg or guided,
            Said("free_length left out: the girder's length, ", length, "."),
        ),
        ("wall_tolerance" in girder, Said("wall_tolerance left out: ± ", tolerance, ", ", SHEET)),
        ("hole_tolerance" in girder or not drafts.drilled(), f"hole_tolerance left out: {HOLES}"),
        ("corner_radius" in girder, Said("corner_radius left out: ", radius, ", ", CORNERS)),
        ("effective_length_factor" in girder, "effective_length_factor left out: 1.0, pinned."),
    )
    return tuple(sentence for given, sentence in said if not given)
