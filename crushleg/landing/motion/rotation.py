r"""Attitude of a rigid body as unit quaternions (w, x, y, z) on the last axis."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.arrays import FloatArray, floats

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def matrix(attitude: ArrayLike) -> FloatArray:
    """Rotation matrix, body to ground.

    Parameters
    ----------
    attitude : array_like, shape (..., 4)
        Unit quaternion [-].

    Returns
    -------
    ndarray, shape (..., 3, 3)
        Its columns are the body axes in the ground frame.

    Examples
    --------
    >>> half = 0.5**0.5
    >>> (matrix([half, 0.0, half, 0.0]).round(6) + 0.0).tolist()
    [[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]]
    """
    (q,) = floats(attitude)
    w, x, y, z = np.moveaxis(q, -1, 0)
    R = np.empty((*q.shape[:-1], 3, 3))
    R[..., 0, 0] = 1.0 - 2.0 * (y * y + z * z)
    R[..., 0, 1] = 2.0 * (x * y - w * z)
    R[..., 0, 2] = 2.0 * (x * z + w * y)
    R[..., 1, 0] = 2.0 * (x * y + w * z)
    R[..., 1, 1] = 1.0 - 2.0 * (x * x + z * z)
    R[..., 1, 2] = 2.0 * (y * z - w * x)
    R[..., 2, 0] = 2.0 * (x * z - w * y)
    R[..., 2, 1] = 2.0 * (y * z + w * x)
    R[..., 2, 2] = 1.0 - 2.0 * (x * x + y * y)
    return R


def turned(attitude: ArrayLike, turn: ArrayLike) -> FloatArray:
    r"""Attitude after a finite turn about a fixed axis of the ground.

    .. math:: q' = \exp(\tfrac12 θ)\, q

    Parameters
    ----------
    attitude : array_like, shape (..., 4)
        Unit quaternion [-].
    turn : array_like, shape (..., 3)
        Axis times angle θ in the ground frame [rad].

    Returns
    -------
    ndarray, shape (..., 4)
        Unit quaternion.

    Examples
    --------
    >>> turned([1.0, 0.0, 0.0, 0.0], [0.0, np.pi, 0.0]).round(6).tolist()
    [0.0, 0.0, 1.0, 0.0]
    """
    q, turn_ = floats(attitude, turn)
    angle = np.sqrt(np.einsum("...i,...i->...", turn_, turn_))[..., None]
    s = 0.5 * np.sinc(angle / (2.0 * np.pi)) * turn_
    c = np.cos(0.5 * angle)
    w, v = q[..., :1], q[..., 1:]
    scalar = c * w - np.einsum("...i,...i->...", s, v)[..., None]
    found = np.concatenate([scalar, c * v + w * s + cross(s, v)], axis=-1)
    return found / np.sqrt(np.einsum("...i,...i->...", found, found))[..., None]


def cross(a: FloatArray, b: FloatArray) -> FloatArray:
    """Vector product on the last axis; several times faster than ``np.cross`` on small arrays."""
    ax, ay, az = a[..., 0], a[..., 1], a[..., 2]
    bx, by, bz = b[..., 0], b[..., 1], b[..., 2]
    out = np.empty(np.broadcast_shapes(a.shape, b.shape))
    out[..., 0] = ay * bz - az * by
    out[..., 1] = az * bx - ax * bz
    out[..., 2] = ax * by - ay * bx
    return out
