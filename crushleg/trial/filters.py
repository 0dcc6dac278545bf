r"""Channel frequency classes of SAE J211 and ISO 6487: a Butterworth low-pass, run both ways."""

from __future__ import annotations

from typing import TYPE_CHECKING

from scipy.signal import butter, filtfilt

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray

CLASSES = (60, 180, 600, 1000)
"""Classes that the standards name."""
USUAL_CLASS = 180.0
CORNER = 2.0775
"""Corner of one pass over the class; two passes are then -3 dB at 5/3 of it: (5/3)/(√2-1)^(1/4)."""
SAMPLES_PER_CLASS = 10.0
"""Least sample rate over the class (SAE J211-1, from memory)."""
PASS_BAND = 5.0 / 3.0


def coefficients(channel_class: float, sample_rate: float) -> tuple[FloatArray, FloatArray]:
    r"""Coefficients of one pass: two poles, bilinear with the corner kept in its place.

    .. math:: y_k = b_0 x_k + b_1 x_{k-1} + b_2 x_{k-2} - a_1 y_{k-1} - a_2 y_{k-2}

    Parameters
    ----------
    channel_class : float
        Any positive class [Hz].
    sample_rate : float
        Samples per second, above 4.155 times the class [Hz].

    Returns
    -------
    tuple of ndarray
        b (3,) and a (3,), a[0] = 1.

    References
    ----------
    SAE J211-1 and ISO 6487, appendix on the digital filter (published algorithm).

    Examples
    --------
    >>> b, a = coefficients(60.0, 20e3)
    >>> round(float(b[0]), 9), round(-float(a[1]), 9), round(-float(a[2]), 9)
    (0.000373001, 1.944633046, -0.946125048)
    """
    b, a = butter(2, CORNER * channel_class, fs=sample_rate)
    return b, a


def least_rate(channel_class: float) -> float:
    """Sample rate that a class needs [Hz].

    >>> least_rate(180.0)
    1800.0
    """
    return SAMPLES_PER_CLASS * channel_class


def filtered(values: FloatArray, channel_class: float, sample_rate: float) -> FloatArray:
    """Evenly sampled values, low-passed forward and backward: no shift in time.

    Parameters
    ----------
    values : ndarray
        Shape (n,), evenly sampled.
    channel_class, sample_rate : float
        [Hz]

    Returns
    -------
    ndarray
        Shape (n,). The ends are continued by reflection through their end point.

    Examples
    --------
    >>> import numpy as np
    >>> filtered(np.full(50, 3.0), 60.0, 20e3).round(9).tolist() == [3.0] * 50
    True
    """
    if len(values) < 3:
        return values
    b, a = coefficients(channel_class, sample_rate)
    reach = min(len(values) - 1, int(sample_rate / channel_class) + 6)
    return filtfilt(b, a, values, padlen=reach)
