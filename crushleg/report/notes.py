"""Cautions as the report lists them, and the symbols it uses."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from crushleg.report.words import NEVER_STOPS, touchdown_names
from crushleg.said import without

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.case.records import Case
    from crushleg.check import Checked

SYMBOLS = (
    ("C/t", "side between the middles of its walls, mean of both, over the wall thickness"),
    ("d/C", "hole size across the face over C"),
    ("F, T, Wn", "force of all legs, residual thrust, net weight m g - T"),
    ("m, g0", "landing mass, standard gravity"),
    ("s_y, s_u, n", "yield strength, ultimate strength (engineering), hardening exponent"),
    ("least work", "order in which the zone that takes the least work to fold goes next"),
    ("alternative", "another common flow stress, to compare; nothing is computed with it"),
)


def shown_cautions(checked: Checked) -> list[str]:
    """Cautions of a check, equal ones of several touchdowns joined; a case that never stops.

    Parameters
    ----------
    checked : Checked

    Returns
    -------
    list of str
    """
    return [*_joined(checked.cautions, checked.case), *_never_stops(checked)]


def _joined(cautions: Sequence[str], case: Case) -> list[str]:
    """Join "name: text" of several touchdowns to "name, name: text", in the first one's place."""
    names = [touchdown.name for touchdown in case.touchdowns]
    found: dict[tuple[str, bool], list[str]] = {}
    for caution in cautions:
        name = next((name for name in names if caution.startswith(f"{name}: ")), None)
        text = caution if name is None else without(caution, f"{name}: ")
        found.setdefault((text, name is None), []).append(name or "")
    return [
        text if general else f"{touchdown_names(who, case)}: " + text
        for (text, general), who in found.items()
    ]


def _never_stops(checked: Checked) -> Iterator[str]:
    who = [
        landed.name
        for landed in checked.landings
        if not all(map(math.isfinite, landed.stroke_needed[:, 0]))
    ]
    if who:
        yield f"{touchdown_names(who, checked.case)}: {NEVER_STOPS}."
