"""Sign, zero and contact of a force channel, and whether it was saturated."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

RISE = 0.1
"""Part of the largest reading at which the girder is surely being pushed."""
LEVEL = 0.02
"""Part of the largest reading at which contact is taken to begin."""
LARGEST_ZERO = 0.25
"""First readings over the largest from which a record begins under load, not with a zero."""
NOISE = 4.0
GUARD = 0.8
"""Part of what lies before the rise that the zero is taken from."""
FEWEST = 10
FLAT = 5
"""Equal samples at the largest reading from which a channel counts as saturated."""


class Zeroed(NamedTuple):
    """Values with compression positive and zero before contact; index of contact.

    ``offset`` is what was taken off, NaN where nothing lies before the contact to take it from;
    ``turned`` says whether the sign was changed.
    """

    values: FloatArray
    contact: int
    offset: float
    noise: float
    samples: int
    turned: bool


class Flat(NamedTuple):
    """A run of equal samples at the largest reading."""

    begin: int
    samples: int
    value: float


def zeroed(
    values: FloatArray, sign: str = "found", level: float | None = None, contact: int | None = None
) -> Zeroed:
    """Take the zero off, turn the sign, find the contact.

    Parameters
    ----------
    values : ndarray
        Force or acceleration (n,).
    sign : str
        "positive" or "negative" for compression; "found": the larger side.
    level : float, optional
        Where contact begins; left out 2 % of the largest, at least four times the noise.
    contact : int, optional
        Index of contact, where it is known.

    Returns
    -------
    Zeroed
    """
    rough = float(np.median(values[: max(3, len(values) // 100)]))
    rough = rough if abs(rough) <= LARGEST_ZERO * float(np.abs(values).max()) else 0.0
    turned = sign == "negative"
    if sign == "found":
        turned = float(values.max()) - rough < rough - float(values.min())
    pushed = -values if turned else values
    start = -rough if turned else rough
    rise = int(np.argmax(pushed - start > RISE * float((pushed - start).max())))
    before = int(GUARD * (rise if contact is None else contact))
    known = before >= FEWEST
    offset = float(pushed[:before].mean()) if known else float("nan")
    noise = float(pushed[:before].std()) if known else 0.0
    pushed = pushed - offset if known else pushed
    if contact is None:
        least = max(LEVEL * float(pushed.max()), NOISE * noise) if level is None else level
        if level is not None:
            above = pushed >= level
            rise = int(np.argmax(above)) if above.any() else rise
        below = np.flatnonzero(pushed[: rise + 1] < least)
        contact = int(below[-1]) if len(below) else 0
    return Zeroed(pushed, contact, -offset if turned else offset, noise, before, turned)


def flat_top(values: FloatArray) -> Flat | None:
    """Longest run of equal samples at the largest reading of either sign; None if short.

    >>> import numpy as np
    >>> flat_top(np.array([0.0, 1.0, 5.0, 5.0, 5.0, 5.0, 5.0, 5.0, 2.0]))
    Flat(begin=2, samples=6, value=5.0)
    """
    found = []
    for top in (float(values.max()), float(values.min())):
        if abs(top) < 0.5 * float(np.abs(values).max()):
            continue
        at = np.flatnonzero(np.diff(np.concatenate([[False], values == top, [False]])))
        runs = at[1::2] - at[::2]
        longest = int(runs.argmax())
        found.append(Flat(int(at[2 * longest]), int(runs[longest]), top))
    best = max(found, key=lambda one: one.samples)
    return best if best.samples >= FLAT else None
