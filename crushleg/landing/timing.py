r"""Speed and time along a crush curve, before and up to the stop.

The energy gives the speed exactly at every grid point; the time between two of them is exact for
a constant force. Otherwise its error falls with the square of the spacing, at the stop, where the
speed runs out, with the power 3/2.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats
from crushleg.landing.energy import energy_at

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def speed_left(
    stroke: ArrayLike, energy: ArrayLike, weight: ArrayLike, mass: ArrayLike, speed: ArrayLike
) -> FloatArray:
    """Downward speed that is left at every grid point.

    Parameters
    ----------
    stroke, energy : array_like, shape (..., n)
        The curve: stroke [m], energy under it [J].
    weight, mass, speed : array_like, shape (...)
        Net weight [N], mass [kg] that this curve stops, speed at zero stroke [m/s].

    Returns
    -------
    ndarray, shape (..., n)
        Speed [m/s], downward positive; zero from the stop onward.

    Notes
    -----
    Formula: v_i = √(v² − 2 (E_i − Wn s_i)/m)

    References
    ----------
    [D]

    Examples
    --------
    >>> speed_left([0.0, 0.06], [0.0, 900.0], 9806.65, 1000.0, 3.0).round(6).tolist()
    [3.0, 2.89427]
    """
    s, e = floats(stroke, energy)
    w, m, v = (case[..., None] for case in floats(weight, mass, speed))
    return np.sqrt(np.maximum(v**2 - 2.0 * (e - w * s) / m, 0.0))


def held(
    stroke: ArrayLike, force: ArrayLike, energy: ArrayLike, at: ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """Stroke and energy of a motion that ends at a stroke: every later grid point repeats it.

    Parameters
    ----------
    stroke, force, energy : array_like, shape (..., n)
        The curve: [m], [N], [J].
    at : array_like, shape (...)
        Stroke at which the motion ends [m].

    Returns
    -------
    stroke, energy : ndarray, shape (..., n)
        [m], [J].

    Examples
    --------
    >>> [a.tolist() for a in held([0.0, 0.5, 1.0], [8.0] * 3, [0.0, 4.0, 8.0], 0.75)]
    [[0.0, 0.5, 0.75], [0.0, 4.0, 6.0]]
    """
    s, f, e, x = floats(stroke, force, energy, at)
    end = energy_at(s, f, e, x)[..., None]
    return np.minimum(s, x[..., None]), np.where(s <= x[..., None], e, end)


def times(
    stroke: ArrayLike,
    force: ArrayLike,
    energy: ArrayLike,
    weight: ArrayLike,
    mass: ArrayLike,
    speed: ArrayLike,
    at: ArrayLike,
) -> FloatArray:
    """Time since contact at every grid point, held at that of stroke ``at`` beyond it.

    Parameters
    ----------
    stroke, force, energy : array_like, shape (..., n)
        The curve: [m], [N], [J].
    weight, mass, speed : array_like, shape (...)
        Net weight [N], mass [kg] that this curve stops, speed at zero stroke [m/s].
    at : array_like, shape (...)
        Stroke [m] at which to stop counting, at most the stroke of the stop.

    Returns
    -------
    ndarray, shape (..., n)
        Time [s].

    Notes
    -----
    Formula: Δt = 2 Δs/(v_i + v_(i+1))

    References
    ----------
    [D]

    Examples
    --------
    >>> times([0.0, 0.1, 0.2], [4e4] * 3, [0.0, 4e3, 8e3], 0.0, 1e3, 3.0, 0.1125).round(6).tolist()
    [0.0, 0.05, 0.075]
    """
    swept, taken = held(stroke, force, energy, at)
    v = speed_left(swept, taken, weight, mass, speed)
    run, both = np.broadcast_arrays(np.diff(swept), v[..., 1:] + v[..., :-1])
    dt = np.divide(2.0 * run, both, out=np.zeros_like(both), where=both > 0.0)
    return np.concatenate([np.zeros_like(dt[..., :1]), np.cumsum(dt, axis=-1)], axis=-1)


def duration(
    stroke: ArrayLike,
    force: ArrayLike,
    energy: ArrayLike,
    weight: ArrayLike,
    mass: ArrayLike,
    speed: ArrayLike,
    at: ArrayLike,
) -> FloatArray:
    """Time from contact to stroke ``at``; parameters as in :func:`times`.

    Returns
    -------
    ndarray, shape (...)
        Time [s].

    Notes
    -----
    Means: Time from contact to the stop.
    Formula: t = Σ 2 Δs/(v_i + v_(i+1))
    Range: Exact for a constant force; otherwise the error falls with the spacing.
    Band: Low, nominal and high force, one stop each; low takes longest.

    References
    ----------
    [D]

    Examples
    --------
    >>> float(duration([0.0, 0.2], [4e4, 4e4], [0.0, 8e3], 0.0, 1e3, 3.0, 0.1125).round(6))
    0.075
    """
    return np.asarray(times(stroke, force, energy, weight, mass, speed, at)[..., -1])
