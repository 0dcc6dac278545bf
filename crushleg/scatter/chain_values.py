"""A case whose numbers are arrays: one value per landing, or per leg of every landing."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from crushleg.case.scatter_keys import MODEL
from crushleg.scatter.sample import put

if TYPE_CHECKING:
    from collections.abc import Mapping

    from crushleg.arrays import FloatArray
    from crushleg.case.lines import Path
    from crushleg.case.records import Case, Touchdown

BESIDE = ("length", "effective_length_factor")
"""Numbers of the girder that landing and margins read beside its crush."""
PLURAL = {"touchdown": "touchdowns", "standing": "standings"}


class Many(NamedTuple):
    """Values of B = ``landings`` landings by key, of shape (B,), or (B, legs) where legs differ."""

    values: Mapping[str, FloatArray]
    landings: int

    @property
    def legs(self) -> int:
        """How many legs differ; 1 where all are alike."""
        return max((v.shape[1] for v in self.values.values() if v.ndim == 2), default=1)

    def by_leg(self) -> Many:
        """Every leg as a landing of its own, those of one landing side by side."""
        legs = self.legs
        flat = {
            key: np.repeat(v, legs) if v.ndim == 1 else v.reshape(-1)
            for key, v in self.values.items()
        }
        return Many(flat, self.landings * legs)


def of_girder(key: str) -> bool:
    """Whether a key changes the girder."""
    return key == MODEL or key.startswith("girder.")


def beside_girder(case: Case, many: Many) -> Case:
    """Case whose numbers beside the girder are arrays (B,), where they scatter.

    Records check numbers against their bounds, not arrays: what was drawn was checked when the
    case was read.

    Parameters
    ----------
    case : Case
    many : Many
        Legs alike.

    Returns
    -------
    Case
    """
    changed: Any = replace(case, touchdowns=tuple(_spread(t, many) for t in case.touchdowns))
    for key, value in many.values.items():
        if not of_girder(key):
            changed = put(changed, path_of(case, key), value)
    there = {name: many.values.get(f"girder.{name}") for name in BESIDE}
    drawn: dict[str, Any] = {name: value for name, value in there.items() if value is not None}
    whole: Case = replace(changed, girder=replace(case.girder, **drawn))
    return whole


def _spread(touchdown: Touchdown, many: Many) -> Touchdown:
    """Give a touchdown one speed per landing, so that its results are of that shape (B,)."""
    record: Any = touchdown
    spread: Touchdown = put(
        record, ("vertical_speed",), np.full(many.landings, record.vertical_speed)
    )
    return spread


def path_of(case: Case, key: str) -> Path:
    """Place of a key of the case; touchdowns and standing cases by their names."""
    parts = key.split(".")
    if parts[0] not in PLURAL:
        return tuple(int(part) if part.isdecimal() else part for part in parts)
    names = [one.name for one in getattr(case, PLURAL[parts[0]])]
    name, field = ".".join(parts[1:-1]), parts[-1]
    return (parts[0], names.index(name) if name in names else int(name), field)
