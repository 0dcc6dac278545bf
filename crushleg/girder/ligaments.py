"""Metal left between holes, to the girder's ends and to its corners."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.girder.pattern import Girders

LEAST_WALLS = 2.0
LEAST_WEB = 5e-3


class Ligaments(NamedTuple):
    """Per hole (G, N) [m]: least web to another hole or an end; least distance to a corner.

    Infinite for padded holes and where there is no other hole.
    """

    web: FloatArray
    corner: FloatArray


def ligaments(girders: Girders) -> Ligaments:
    """Least webs of every hole on its own face, exact for circles, slots and rectangles.

    A hole is a rectangle grown by its corner radius, so the web between two is the distance of
    the rectangles less both radii. Distance to a corner is from hole edge to the outside face
    of the neighbouring wall.

    Parameters
    ----------
    girders : Girders

    Returns
    -------
    Ligaments

    Notes
    -----
    Formula: web = hypot(Δx, Δz) between rectangles − r_i − r_j
    Formula: to a corner: ½ width − |offset| − ½ size

    References
    ----------
    Plane geometry [D]
    """
    core_x = girders.across - 2.0 * girders.corner
    core_z = girders.along - 2.0 * girders.corner
    apart_x = _apart(girders.offset, core_x)
    apart_z = _apart(girders.height, core_z)
    radii = girders.corner[:, :, None] + girders.corner[:, None, :]
    web = np.hypot(apart_x, apart_z) - radii
    real = girders.across > 0.0
    facing = sum(on[:, :, None] * on[:, None, :] for on in girders.pairs) > 0.0
    other = ~np.eye(real.shape[1], dtype=bool)
    web = np.where(facing & other & real[:, :, None] & real[:, None, :], web, np.inf)
    ends = np.minimum(girders.height, girders.length[:, None] - girders.height)
    least = np.minimum(web.min(axis=2, initial=np.inf), ends - 0.5 * girders.along)
    outside = np.where(girders.pairs[0] > 0.0, girders.width[:, None], np.inf)
    outside = np.minimum(outside, np.where(girders.pairs[1] > 0.0, girders.depth[:, None], np.inf))
    corner = 0.5 * outside - np.abs(girders.offset) - 0.5 * girders.across
    return Ligaments(np.where(real, least, np.inf), np.where(real, corner, np.inf))


def _apart(centre: FloatArray, size: FloatArray) -> FloatArray:
    """Gap along one axis between every two intervals (G, N, N), zero where they overlap."""
    distance = np.abs(centre[:, :, None] - centre[:, None, :])
    return np.maximum(distance - 0.5 * (size[:, :, None] + size[:, None, :]), 0.0)


def least_web(wall: FloatArray) -> FloatArray:
    """Web to keep between holes; ``wall`` t [m].

    Notes
    -----
    Formula: web ≥ max(2 t, 5 mm)

    References
    ----------
    For a crush column [judgement]; fabrication alone asks for one wall [published, second-hand]
    """
    return np.maximum(LEAST_WALLS * wall, LEAST_WEB)


def least_corner(wall: FloatArray, corner_radius: FloatArray) -> FloatArray:
    """Distance to keep from hole edge to corner; wall t and outside radius R [m].

    Notes
    -----
    Formula: distance ≥ 2 t + R

    References
    ----------
    Laser-cut hole to bend [published, second-hand]
    """
    return LEAST_WALLS * wall + corner_radius
