"""Net section of girders at a height, and what follows from it: mass, stiffness, bending."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.girder.holes import area_below, chord, mean_chord
from crushleg.girder.section import perimeter, plastic_modulus, wall_inertia, web_moments
from crushleg.girder.short_axis import total
from crushleg.girder.windows import cell_centres

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.girder.pattern import Girders


class NetSection(NamedTuple):
    """Net area (G, M) [m2]; inertia [m4] and plastic modulus [m3] about both axes (2, G, M)."""

    area: FloatArray
    inertia: FloatArray
    modulus: FloatArray


def net_area(girders: Girders, z: FloatArray) -> FloatArray:
    """Net area at heights ``z`` (G, M) [m2], rounded corners, every hole cut.

    Notes
    -----
    Means: Metal of the whole section at a height, holes taken off.
    Formula: A = t (U − 2 Σ chords)
    Range: Walls of one height; corners rounded.
    Band: None: it is geometry, as drawn or measured.

    References
    ----------
    Plane geometry [D]
    """
    wall = girders.wall_at(z)
    around = perimeter(
        girders.width[:, None], girders.depth[:, None], wall, girders.corner_radius[:, None]
    )
    removed = 2.0 * total(hole_chords(girders, z) * girders.pairs.sum(axis=0)[:, None, :])
    return wall * (around - removed)


def band_area(girders: Girders, z: FloatArray) -> FloatArray:
    """Net area over a band of ± one wall at heights ``z`` (G, M) [m2], sharp corners."""
    wall = girders.wall_at(z)
    outline = (girders.height, girders.across, girders.along, girders.corner)
    cut = mean_chord(z[:, :, None], wall[:, :, None], *(part[:, None, :] for part in outline))
    sides = girders.sides_at(wall)
    removed = total(cut * girders.pairs.sum(axis=0)[:, None, :])
    return 2.0 * wall * (sides[0] + sides[1] - removed)


def hole_chords(girders: Girders, z: FloatArray) -> FloatArray:
    """Chord of every hole at heights ``z`` (G, M) [m], shape (G, M, N)."""
    shape = (girders.height, girders.across, girders.along, girders.corner)
    return chord(z[:, :, None], *(part[:, None, :] for part in shape))


def net_section(girders: Girders, z: FloatArray) -> NetSection:
    """Net area, second moments and plastic moduli at heights ``z`` (G, M) [m].

    First axis: bending about the axis along the width (front and back walls are flanges), then
    about the axis along the depth.

    References
    ----------
    [D] mid-line model, sharp corners for inertia and modulus.
    """
    wall = girders.wall_at(z)
    sides = girders.sides_at(wall)
    cut = hole_chords(girders, z)
    flange = [total(cut * on[:, None, :]) for on in girders.pairs]
    inertia, modulus = [], []
    for axis in (0, 1):
        side, other = sides[axis], sides[1 - axis]
        web = cut * girders.pairs[1 - axis][:, None, :]
        first, second = web_moments(other[..., None], girders.offset[:, None, :], web)
        lost = flange[axis] * (0.5 * other) ** 2 + total(second)
        inertia.append(wall_inertia(side, other, wall) - 2.0 * wall * lost)
        lost = flange[axis] * 0.5 * other + total(first)
        modulus.append(plastic_modulus(side, other, wall) - 2.0 * wall * lost)
    floor = (np.maximum(np.stack(part), 0.0) for part in (inertia, modulus))
    return NetSection(np.maximum(net_area(girders, z), 0.0), *floor)


def least_inertia(girders: Girders) -> FloatArray:
    """Least second moment of the net sections of all zones, about either axis [m4], shape (G,).

    Notes
    -----
    Formula: I = min over zones and axes of I_net

    References
    ----------
    [D]
    """
    zones = np.where(np.isfinite(girders.zones), girders.zones, 0.0)
    return np.asarray(net_section(girders, zones).inertia.min(axis=(0, 2)))


def girder_mass(girders: Girders) -> FloatArray:
    """Mass of each girder [kg], shape (G,): wall volume less holes.

    Notes
    -----
    Means: Mass of one girder, holes taken off.
    Formula: m = ρ ∫ A_net dz
    Range: The box alone: no pad, fitting or weld.
    Band: None: nominal sizes and density.

    References
    ----------
    Plane geometry [D]
    """
    around = perimeter(
        girders.width[:, None], girders.depth[:, None], girders.wall, girders.corner_radius[:, None]
    )
    shape = (girders.height, girders.across, girders.along, girders.corner)
    volume = np.zeros(girders.count)
    for index in range(girders.wall.shape[1]):
        low, high = (np.clip(z, 0.0, girders.length) for z in girders.segment(index))
        holes = area_below(high[:, None], *shape) - area_below(low[:, None], *shape)
        lost = 2.0 * (holes * girders.pairs.sum(axis=0)).sum(axis=1)
        volume += girders.wall[:, index] * (around[:, index] * (high - low) - lost)
    return girders.density * volume


def axial_stiffness(girders: Girders) -> FloatArray:
    """Elastic stiffness K of the whole girder [N/m], shape (G,).

    Notes
    -----
    Means: Elastic stiffness K of the girder along its axis, net sections in series.
    Formula: 1/K = ∫ dz/(E A_net)
    Range: Uncrushed; the spread of stress beside a hole would lower it further.
    Band: None: nominal modulus and sizes.

    References
    ----------
    Net sections in series [D]
    """
    z = cell_centres(girders.length)
    soft = (1.0 / net_area(girders, z)).mean(axis=1)
    return girders.youngs_modulus / (soft * girders.length)
