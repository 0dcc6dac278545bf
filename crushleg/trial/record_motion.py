r"""From force or acceleration to motion: inertia below the cell, double integration, drift.

An accelerometer on a falling block reads nothing in free fall: it reads the contact force over
the mass. The block slows down by that less gravity.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

G0 = 9.80665
TAIL = 0.1
"""Part of the time after contact, at the end, that is looked at for rest."""
STILL = 0.5 * G0
"""Reading this near gravity, and as steady, is rest [m/s2]; judgement."""
FEWEST = 20


class Motion(NamedTuple):
    """Speed at contact, stroke from contact (n,), speed (n,).

    ``drift`` is the speed left at rest before it was taken off, NaN where no rest is seen.
    """

    impact_speed: float
    stroke: FloatArray
    speed: FloatArray
    drift: float


def girder_force(cell: ArrayLike, mass: float, below: float) -> FloatArray:
    """Force on the girder from that in the cell, all masses moving alike [N].

    Parameters
    ----------
    cell : array_like
        Force in the load cell, zero in free fall [N].
    mass, below : float
        Whole falling mass and its part below the cell [kg].

    Notes
    -----
    Formula: F = F_c m/(m − m_b)

    References
    ----------
    The mass above the cell reads F_c/(m − m_b), the mass below as well [D]

    Examples
    --------
    >>> float(girder_force(19e3, 100.0, 5.0))
    20000.0
    """
    (force,) = floats(cell)
    return force * (mass / (mass - below))


def with_inertia(cell: ArrayLike, reading: ArrayLike, below: float) -> FloatArray:
    """Force on the girder from cell and accelerometer [N].

    Parameters
    ----------
    cell, reading : array_like
        Force in the cell [N]; accelerometer, zero in free fall [m/s2].
    below : float
        Moving mass between cell and girder [kg].

    Notes
    -----
    Formula: F = F_c + m_b a

    References
    ----------
    [D]

    Examples
    --------
    >>> float(with_inertia(19e3, 200.0, 5.0))
    20000.0
    """
    force, a = floats(cell, reading)
    return force + below * a


def rest_begins(reading: FloatArray, contact: int, gravity: float) -> int | None:
    """Index from which the block is at rest at the end of the record; None if it is not.

    Parameters
    ----------
    reading : ndarray
        Contact force over mass (n,) [m/s2].
    contact : int
    gravity : float
        [m/s2]
    """
    after = len(reading) - contact
    tail = max(FEWEST, int(TAIL * after))
    if after < 3 * tail:
        return None
    last = reading[-tail:]
    still = abs(float(last.mean()) - gravity) < STILL and float(last.std()) < STILL
    return len(reading) - tail if still else None


def motion(
    reading: FloatArray,
    step: float,
    contact: int,
    impact_speed: float | None,
    gravity: float,
) -> Motion | None:
    """Integrate twice; take off the drift where the record shows rest.

    Parameters
    ----------
    reading : ndarray
        Contact force over mass, even samples (n,) [m/s2].
    step : float
        Between samples [s].
    contact : int
        Index of contact.
    impact_speed : float or None
        [m/s]; None: from the momentum up to rest.
    gravity : float
        [m/s2]

    Returns
    -------
    Motion or None
        None where there is neither impact speed nor rest. The drift is taken off as that of
        a constant offset of the acceleration since contact.

    References
    ----------
    [D]; trapezoids.
    """
    slowing = reading - gravity
    gone = integral(slowing, step)
    gone = gone - gone[contact]
    rest = rest_begins(reading, contact, gravity)
    since = step * (np.arange(len(reading)) - contact)
    if rest is None and impact_speed is None:
        return None
    drift = float("nan")
    if impact_speed is None:
        impact_speed = float(gone[rest:].mean())
        speed = impact_speed - gone
    else:
        speed = impact_speed - gone
        if rest is not None:
            drift = float(speed[rest:].mean())
            speed = speed - drift * since / float(since[rest:].mean())
    stroke = integral(speed, step)
    return Motion(impact_speed, stroke - stroke[contact], speed, drift)


def integral(values: FloatArray, step: float) -> FloatArray:
    """Integral from the first sample by trapezoids, shape (n,).

    >>> import numpy as np
    >>> integral(np.array([0.0, 1.0, 2.0]), 2.0).tolist()
    [0.0, 1.0, 4.0]
    """
    parts = 0.5 * step * (values[1:] + values[:-1])
    return np.concatenate([[0.0], np.cumsum(parts)])
