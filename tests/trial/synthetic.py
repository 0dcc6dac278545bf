"""Synthetic drops: a block on a girder of known force, integrated in small steps.

Independent of the reader: explicit midpoint steps, no filter, no zero taking. After the stop the
girder springs back elastically with a damper, until the block rests on it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from crushleg.arrays import FloatArray

G = 9.80665


class Drop(NamedTuple):
    """Time from contact [s], stroke [m], force on the girder [N]; before contact and to rest."""

    time: FloatArray
    stroke: FloatArray
    force: FloatArray


def drop(
    law: Callable[[float], float],
    mass: float = 120.0,
    speed: float = 3.96,
    rate: float = 20e3,
    before: float = 0.02,
    after: float = 0.15,
    stiffness: float = 3e6,
) -> Drop:
    """Drop a block on a girder whose force at stroke x is ``law(x)`` while x grows."""
    finer = 10
    step = 1.0 / rate / finer
    x, v, top, force_top = 0.0, speed, 0.0, 0.0
    damper = 1.2 * np.sqrt(stiffness * mass)
    stopped = False
    rows = [(0.0, 0.0, 0.0)]
    for k in range(1, int(after * rate) * finer + 1):
        if stopped:
            force = max(force_top + stiffness * (x - top) + damper * v, 0.0)
        else:
            force = law(x + 0.5 * step * v)
        v += step * (G - force / mass)
        x += step * v
        if not stopped and v <= 0.0:
            stopped, top, force_top = True, x, force
        if k % finer == 0:
            rows.append((k * step, x, force))
    found = np.array(rows)
    t = np.arange(-round(before * rate), 0) / rate
    early = np.column_stack([t, speed * t + 0.5 * G * t * t, np.zeros_like(t)])
    return Drop(*np.vstack([early, found]).T)


def wavy(mean: float, pitch: float = 0.0225, swing: float = 0.25) -> Callable[[float], float]:
    """Force that begins at its crest and waves about its mean with the pitch of the folds."""
    return lambda x: mean * (1.0 + swing * float(np.cos(2.0 * np.pi * x / pitch)))


def write_record(
    path: Path, columns: Mapping[str, FloatArray], toml: str, delimiter: str = ","
) -> Path:
    """Write columns as CSV and the TOML beside it."""
    table = np.column_stack(list(columns.values()))
    lines = [delimiter.join(columns), *(delimiter.join(f"{x:.9g}" for x in row) for row in table)]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    path.with_suffix(".toml").write_text(toml, encoding="utf-8")
    return path


FORCE_STROKE = """\
mass = "120 kg"
impact_speed = "3.96 m/s"
[columns]
time = { column = "t", unit = "ms" }
stroke = { column = "x", unit = "mm" }
force = { column = "F", unit = "kN" }
"""
FORCE_TIME = """\
mass = "120 kg"
impact_speed = "3.96 m/s"
[columns]
time = { column = "t", unit = "ms" }
force = { column = "F", unit = "kN" }
"""
ACCELERATION_TIME = """\
mass = "120 kg"
impact_speed = "3.96 m/s"
[columns]
time = { column = "t", unit = "ms" }
acceleration = { column = "a", unit = "g0" }
"""
