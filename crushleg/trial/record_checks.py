"""Whether the channels of a record fit together: speed, energy, gaps, range of the stroke."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.said import Quantity, Said
from crushleg.units import plain

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.trial.record_keys import RecordKeys
    from crushleg.trial.record_time import Samples

BRIDGED = 0.02
"""Part of the energy that may lie in gaps without a caution."""
COARSE = 0.01
"""Part of the energy that may hang on one step between samples without a caution (judgement)."""
SLOPE, LONG = 0.3, 50
EARLY = 0.05
"""Part of the stroke over which the speed after contact is read."""
OFF = 0.15
"""Part by which speeds and energies may differ without a caution (judgement)."""


def stuck(stroke: FloatArray, samples: Samples) -> int | None:
    """Line from which the stroke is flat without having slowed down."""
    first = int(np.argmax(stroke == stroke.max()))
    flat = stroke[first : first + 5]
    if first < LONG or samples.time is None or len(flat) < 5 or np.ptp(flat) > 0.0:
        return None
    before = float(stroke[first] - stroke[first - 10]) / 10.0
    fastest = float((stroke[10 : first + 1] - stroke[: first - 9]).max()) / 10.0
    return int(samples.lines[first]) if before > SLOPE * fastest else None


def bridged(
    samples: Samples, time: FloatArray | None, energy: FloatArray, contact: int
) -> list[str]:
    """Say how much of the energy lies in gaps of the record."""
    if time is None or samples.time is None:
        return []
    zero = float(samples.time[contact])
    ends = [np.interp(np.array(gap) - zero, time, energy) for gap in samples.gaps]
    share = sum(float(e[1] - e[0]) for e in ends) / float(energy[-1])
    text = f"{plain(100.0 * share, 2)} % of the energy lies in gaps that were bridged straight"
    return [text] if share > BRIDGED else []


def coarse(stroke: FloatArray, force: FloatArray, energy: float) -> list[str]:
    """Say where a jump of the force, at contact or at a crest, lies between two far samples.

    The trapezoid over a step is wrong by at most half the step of the force times that of the
    stroke.
    """
    share = float(np.abs(0.5 * np.diff(force) * np.diff(stroke)).max()) / energy
    text = (
        f"the force jumps between two samples: the energy may be off by {plain(100.0 * share, 2)} "
        "%; sample faster"
    )
    return [text] if share > COARSE else []


def slow(time: FloatArray | None, stroke: FloatArray, impact_speed: float | None) -> list[str]:
    """Compare the stroke's rise after contact with the impact speed that was given."""
    if time is None or impact_speed is None:
        return []
    contact = int(np.argmax(time >= 0.0))
    early = contact + int(np.argmax(stroke[contact:] > EARLY * stroke[-1]))
    if early - contact < 3 or time[early] <= time[contact]:
        return []
    speed = float((stroke[early] - stroke[contact]) / (time[early] - time[contact]))
    if abs(speed - impact_speed) <= OFF * impact_speed:
        return []
    return [
        Said(
            "the stroke rises at ",
            Quantity(speed, "speed"),
            " after contact, impact_speed is ",
            Quantity(impact_speed, "speed"),
            ": a wrong speed, or unit of time or stroke?",
        )
    ]


def balance(
    energy: float, stroke: float, keys: RecordKeys, done: list[str], cautions: list[str]
) -> None:
    """Compare the measured energy with that of the drop, where mass and speed are known."""
    if keys.mass is None or keys.impact_speed is None:
        return
    brought = 0.5 * keys.mass * keys.impact_speed**2 + keys.mass * keys.gravity * stroke
    share = energy / brought
    text = Said(
        "the drop brought ",
        Quantity(brought, "energy"),
        f" (kinetic and weight), the record holds {plain(100.0 * share, 3)} % of it",
    )
    if abs(share - 1.0) <= OFF:
        done.append(text)
    else:
        cautions.append(text + ": mass, speed, units or what else took energy?")
