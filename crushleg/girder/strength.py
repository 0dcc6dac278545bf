r"""Strengths as they enter the equations: datasheet, certificate, temperature, seam, rate."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.arrays import FloatArray, floats
from crushleg.case.records import Measured
from crushleg.girder.rate import crush_rate, rate_factor

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from crushleg.case.material import Material, StrengthAtTemperature
    from crushleg.case.records import Band, Girder

CERTIFICATE_BAND = 1.96 * 0.044
RATE_SHARE = (1.0 / 3.0, 2.0 / 3.0, 1.0)
ROOM = 293.15
ROOM_WITHIN = 8.0


class Strengths(NamedTuple):
    """Low, nominal, high [Pa], shape (3,)."""

    yield_compression: FloatArray
    yield_tension: FloatArray
    ultimate: FloatArray
    flow_stress: FloatArray


def flow_stress(yield_strength: ArrayLike, ultimate: ArrayLike) -> FloatArray:
    """Flow stress [Pa]: the stress that the plastic hinges of a fold work at.

    Notes
    -----
    Means: Stress s0 at which the plastic hinges of a fold work, strain hardening in the mean.
    Formula: s0 = (s_y + s_u)/2, s_u engineering
    Range: Ductile sheet that folds. It moves the force more than the mode does.
    Band: Low and high of yield and ultimate strength in the datasheet, as 95 % limits; ± 8.6 % on
    certified values.
    Limits: girder.material, girder.measured, girder.temperature, girder.seam and girder.rate make
    the strengths

    References
    ----------
    For crush of ductile columns [common practice], [from memory]

    Examples
    --------
    >>> float(flow_stress(295e6, 650e6)) / 1e6
    472.5
    """
    sy, su = floats(yield_strength, ultimate)
    return 0.5 * (sy + su)


def hardening_flow_stress(
    yield_strength: ArrayLike, ultimate: ArrayLike, exponent: ArrayLike
) -> FloatArray:
    """Second common flow stress [Pa], printed beside the other one.

    Notes
    -----
    Means: A second common flow stress, printed beside the other to compare; nothing is computed
    with it.
    Formula: s0 = √(s_y s_u/(1 + n))
    Band: Nominal strengths only; nothing is computed with it.

    References
    ----------
    Power-law hardening [from memory]

    Examples
    --------
    >>> round(float(hardening_flow_stress(80e6, 145e6, 0.23)) / 1e6, 2)
    97.11
    """
    sy, su, n = floats(yield_strength, ultimate, exponent)
    return np.sqrt(sy * su / (1.0 + n))


def girder_strengths(girder: Girder, speed: float) -> Strengths:
    """Strengths of a girder record touching down at ``speed`` [m/s].

    Certificate values replace the datasheet, with the ± 8.6 % a certificate still carries
    (coefficient of variation 0.044 of measured over certified yield, published second-hand).
    The rate factor is taken at a third, two thirds (the mean over the stroke at constant
    deceleration) and all of the speed.

    Parameters
    ----------
    girder : Girder
    speed : float
        Vertical speed the rate factor is taken at [m/s].

    Returns
    -------
    Strengths
    """
    return in_use(girder, speed, *parent_strengths(girder))


def parent_strengths(girder: Girder) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Yield in compression and tension and ultimate, as delivered; low, nominal, high [Pa]."""
    material = girder.material
    measured = girder.measured or Measured()
    tension = _certified(material.yield_strength, measured.yield_strength)
    ultimate = _certified(material.ultimate_strength, measured.ultimate_strength)
    squeeze = material.compressive_yield
    compression = (
        tension
        if squeeze is None
        else tension * _levels(squeeze) / _levels(material.yield_strength)
    )
    return compression, tension, ultimate


def in_use(
    girder: Girder,
    speed: ArrayLike,
    compression: FloatArray,
    tension: FloatArray,
    ultimate: FloatArray,
) -> Strengths:
    """Strengths of the girder at its temperature, with its seam, at the rate of its touchdown.

    Parameters
    ----------
    girder : Girder
        Its wall may be an array (G,).
    speed : array_like
        Vertical speed the rate factor is taken at [m/s], one or (G,).
    compression, tension, ultimate : ndarray
        As delivered [Pa], shape (3,) or (3, G).

    Returns
    -------
    Strengths

    Notes
    -----
    Formula: s = s_delivered × ratio(temperature) × seam factor × rate factor
    Formula: s_u at least s_y

    References
    ----------
    Product of independent effects [judgement]; the ratios with temperature are those of the
    datasheet
    """
    warm = _temperature(girder.material, girder.temperature)
    warm_yield, warm_ultimate = (part.reshape(-1, *(1,) * (tension.ndim - 1)) for part in warm)
    factor = seam_factor(girder) * _rate(girder, speed)
    tension, compression = tension * warm_yield * factor, compression * warm_yield * factor
    ultimate = np.maximum(ultimate * warm_ultimate * factor, tension)
    return Strengths(compression, tension, ultimate, flow_stress(tension, ultimate))


def _levels(band: Band) -> FloatArray:
    return np.array([band.low, band.nominal, band.high])


def _certified(datasheet: Band, value: float | None) -> FloatArray:
    if value is None:
        return _levels(datasheet)
    return value * np.array([1.0 - CERTIFICATE_BAND, 1.0, 1.0 + CERTIFICATE_BAND])


def _temperature(material: Material, temperature: float) -> tuple[FloatArray, FloatArray]:
    table: tuple[StrengthAtTemperature, ...] = material.strength_with_temperature
    if abs(temperature - ROOM) <= ROOM_WITHIN or not table:
        return np.ones(3), np.ones(3)
    at = [row.temperature for row in table]
    ratios = []
    for bands in ([row.yield_ratio for row in table], [row.ultimate_ratio for row in table]):
        levels = np.array([_levels(band) for band in bands])
        ratios.append(np.array([np.interp(temperature, at, levels[:, k]) for k in range(3)]))
    return ratios[0], ratios[1]


def seam_factor(girder: Girder) -> FloatArray:
    """Strength of the whole section over the parent metal's when part of it is softened [-].

    Notes
    -----
    Means: Strength of a section with a softened seam over that of the parent metal.
    Formula: factor = 1 − b/U × (1 − strength_factor), b at most U = 2 (width + depth − 2 wall)
    Range: Part b of the perimeter U softened by a weld, all the way along; the whole where b is not
    given.
    Band: The same for low, nominal and high.
    Limits: girder.seam: strength_factor and affected_width

    References
    ----------
    Mean over the perimeter [D]
    """
    seam = girder.seam
    if seam is None:
        return np.ones(())
    around = 2.0 * (girder.width + girder.depth - 2.0 * girder.wall)
    width = around if seam.affected_width is None else seam.affected_width
    return np.asarray(1.0 - np.minimum(width / around, 1.0) * (1.0 - seam.strength_factor))


def _rate(girder: Girder, speed: ArrayLike) -> FloatArray:
    pair = girder.material.rate
    if not girder.rate or pair is None:
        return np.ones(())
    side = 0.5 * (girder.width + girder.depth) - girder.wall
    rate = crush_rate(np.multiply.outer(RATE_SHARE, speed), side)
    return rate_factor(rate, pair.D, pair.q, pair.test_rate)
