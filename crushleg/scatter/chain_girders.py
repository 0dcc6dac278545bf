"""Arrays of girders as they were drawn.

Wall, hole size, strengths, modulus, density and the factor of the model are put into the arrays
of the case's girder; any other number of the girder makes a record of its own per landing.
"""

from __future__ import annotations

from dataclasses import fields, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

import numpy as np

from crushleg.case.scatter_keys import HOLE_SIZE, MODEL
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.pattern import LEVELLED, nominal, nominal_alone
from crushleg.girder.strength import in_use, parent_strengths
from crushleg.scatter.chain_values import of_girder
from crushleg.scatter.sample import STRENGTHS, sampled_case, walls_drawn

if TYPE_CHECKING:
    from collections.abc import Mapping

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case, Girder
    from crushleg.girder.pattern import Girders
    from crushleg.scatter.chain_values import Many

KEPT = 8
FIRST_WALLS = ("girder.wall", "girder.measured.wall")
CONSTANTS = ("youngs_modulus", "density")
SECOND_AXIS = (*LEVELLED, "pairs")


def girder_varies(case: Case, values: Mapping[str, Any]) -> bool:
    """Whether landings differ in their girder; by the rate factor also where speeds do."""
    rated = case.girder.rate and any(key.endswith(".vertical_speed") for key in values)
    return rated or any(of_girder(key) for key in values)


class Same:
    """A girder and the speed its rate factor is taken at, as a key of a cache."""

    def __init__(self, girder: Girder, speed: float) -> None:
        self.girder, self.speed = girder, speed

    def __hash__(self) -> int:
        return hash((self.girder.width, self.girder.wall, self.girder.length, self.speed))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Same):
            return NotImplemented
        return self.speed == other.speed and self.girder == other.girder


@lru_cache(maxsize=KEPT)
def one_girder(same: Same) -> Girders:
    """Put the girder of the case, without its band, alone into arrays."""
    return nominal_alone(girder_arrays([replace(same.girder, band=False)], [same.speed]))


def drawn_girders(case: Case, whole: Case, many: Many) -> Girders:
    """One girder per landing, without a band.

    Parameters
    ----------
    case : Case
        Of the study.
    whole : Case
        The same with arrays beside the girder, of :func:`beside_girder`.
    many : Many
        Legs alike.

    Returns
    -------
    Girders
        Nominal alone.
    """
    speeds = np.zeros(many.landings)
    for touchdown in whole.touchdowns:
        speeds = np.maximum(speeds, touchdown.vertical_speed)
    drawn = {key: value for key, value in many.values.items() if of_girder(key)}
    base = one_girder(Same(case.girder, 0.0))
    if not all(_into_arrays(key, base) for key in drawn):
        cases = [
            sampled_case(case, {key: float(v[i]) for key, v in drawn.items()})
            for i in range(many.landings)
        ]
        return nominal_alone(girder_arrays([one.girder for one in cases], speeds.tolist()))
    return _filled(case.girder, repeated(base, many.landings), drawn, speeds)


def _into_arrays(key: str, base: Girders) -> bool:
    """Whether a drawn value is put into the arrays as it is."""
    if key == HOLE_SIZE:
        return bool((base.stagger == 1.0).all())
    stepped = key.startswith("girder.wall_steps.") and key.endswith(".wall")
    plain = key in FIRST_WALLS or stepped or _strength(key) in (*STRENGTHS, *CONSTANTS)
    return plain or key == MODEL


def _strength(key: str) -> str:
    return key.removeprefix("girder.material.").removeprefix("girder.measured.")


def repeated(girders: Girders, count: int) -> Girders:
    """One girder ``count`` times."""
    found: dict[str, Any] = {}
    for field in fields(girders):
        value = getattr(girders, field.name)
        if isinstance(value, np.ndarray):
            found[field.name] = np.repeat(value, count, axis=int(field.name in SECOND_AXIS))
    return replace(girders, **found)


def _filled(
    girder: Girder, girders: Girders, drawn: Mapping[str, FloatArray], speeds: FloatArray
) -> Girders:
    """Girders with drawn values put in."""
    found: dict[str, Any] = {"wall": girders.wall}
    for key, value in drawn.items():
        name = _strength(key)
        if key == MODEL:
            found["force_factor"] = value
        elif name in CONSTANTS:
            found[name] = value
        elif key == HOLE_SIZE:
            found |= _bored(girders, value)
        elif name not in STRENGTHS:
            at = 0 if key in FIRST_WALLS else 1 + int(key.split(".")[2])
            found["wall"][:, at] = value
    if walls_drawn(girder, drawn):
        found["wall_tolerance"] = np.zeros(girders.count)
    found |= _strengths(girder, drawn, speeds)
    return replace(girders, **found)


def _bored(girders: Girders, larger: FloatArray) -> dict[str, FloatArray]:
    """Holes that are all that much larger [m]; round corners stay full rounds."""
    bigger = np.where(girders.across > 0.0, larger[:, None], 0.0)
    across, along = girders.across + bigger, girders.along + bigger
    corner = np.where(girders.corner > 0.0, 0.5 * np.minimum(across, along), 0.0)
    return {"across": across, "along": along, "corner": corner}


def _strengths(
    girder: Girder, drawn: Mapping[str, FloatArray], speeds: FloatArray
) -> dict[str, FloatArray]:
    """Drawn strengths as they are at work, nominal alone, shape (1, B)."""
    compression, tension, ultimate = (
        np.repeat(level[:, None], len(speeds), axis=1) for level in parent_strengths(girder)
    )
    squeeze = compression / tension
    by_name = {_strength(key): value for key, value in drawn.items()}
    if STRENGTHS[0] in by_name:
        tension = np.broadcast_to(by_name[STRENGTHS[0]], tension.shape)
        compression = tension * nominal(squeeze)
    if STRENGTHS[1] in by_name:
        ultimate = np.broadcast_to(by_name[STRENGTHS[1]], ultimate.shape)
    wall = drawn.get("girder.wall")
    changes: dict[str, Any] = {} if wall is None else {"wall": wall}
    found = in_use(replace(girder, **changes), speeds, compression, tension, ultimate)
    return {name: nominal(level)[None] for name, level in found._asdict().items()}
