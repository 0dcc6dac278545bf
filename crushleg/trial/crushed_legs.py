r"""What legs took up to the crush that stays in them.

A leg that keeps a crush s had come to s + F/K at the bottom; F/K sprang back, and with it F²/2K.
Energy and travel are those at the bottom. A leg without crush counts nothing: what it took came
back, and how much that was is not known.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.girder.crush import Crush
    from crushleg.landing.leg import LegForces


class OneLeg(NamedTuple):
    """Curve of one leg on its crush.

    ``crush`` (N,) [m], ``force`` and ``energy`` (L, N) of the girder [N, J], axial ``stiffness``
    [N/m], vertical ``reaction`` per force and vertical ``travel`` per stroke [-].
    """

    crush: FloatArray
    force: FloatArray
    energy: FloatArray
    stiffness: float
    reaction: float
    travel: float


class Taken(NamedTuple):
    """What each leg took, shape (L, ..., n): levels of force first, legs last.

    ``force`` of the girder at the stop [N], ``energy`` that folded it and ``spring`` energy that
    came back [J], vertical ``work`` of the leg with both and its friction [J], vertical
    ``travel`` to the bottom [m].
    """

    force: FloatArray
    energy: FloatArray
    spring: FloatArray
    work: FloatArray
    travel: FloatArray


def one_leg(crush: Crush, forces: LegForces) -> OneLeg:
    """Curve of the first girder between foot and vehicle.

    Parameters
    ----------
    crush : Crush
    forces : LegForces

    Returns
    -------
    OneLeg
        Low, nominal, high.
    """
    curve = crush.curve
    return OneLeg(
        curve.stroke[0],
        curve.force[:, 0],
        curve.energy[:, 0],
        float(crush.stiffness[0]),
        float(forces.reaction),
        float(forces.travel),
    )


def taken(leg: OneLeg, crush: FloatArray) -> Taken:
    """Energy and travel that stand behind a crush.

    Parameters
    ----------
    leg : OneLeg
    crush : ndarray, shape (..., n)
        Crush that stays [m]; beyond the curve its end counts.

    Returns
    -------
    Taken

    Notes
    -----
    Formula: W = V/F × z/s × (E(s) + F²/(2K))
    Formula: z = z/s × (s + F/K)

    References
    ----------
    [D]
    """
    force, energy = _on_curve(leg, crush)
    force = np.where(crush > 0.0, force, 0.0)
    spring = 0.5 * force**2 / leg.stiffness
    work = leg.reaction * leg.travel * (energy + spring)
    travel = leg.travel * (np.maximum(crush, 0.0) + force / leg.stiffness)
    return Taken(force, energy, spring, work, travel)


def _on_curve(leg: OneLeg, crush: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Force and energy (L, ..., n), exact between points; at a jump the force met first."""
    s = leg.crush
    at = np.clip(crush, s[0], s[-1])
    i = np.clip(np.searchsorted(s, at, side="left") - 1, 0, s.size - 2)
    run = s[i + 1] - s[i]
    u = np.divide(at - s[i], run, out=np.zeros_like(at), where=run > 0.0)
    rise = leg.force[:, i + 1] - leg.force[:, i]
    gain = leg.energy[:, i + 1] - leg.energy[:, i]
    energy = leg.energy[:, i] + u * gain - 0.5 * rise * run * u * (1.0 - u)
    return leg.force[:, i] + u * rise, energy
