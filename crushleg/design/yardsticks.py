r"""What a girder is measured against: a round tube of its mass, and a constant force.

[GLG01] S. R. Guillow, G. Lu, R. H. Grzebieta, Int. J. Mech. Sci. 43 (2001) 2103: mean force of 70
axially crushed aluminium tubes, abstract [published]; its range of D/t [from memory]
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.arrays import FloatArray, floats
from crushleg.girder.modes import plastic_moment
from crushleg.landing.ideal import constant_force_stop

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from crushleg.check import Checked
    from crushleg.landing.touchdown import Landed

TUBE_FACTOR, TUBE_EXPONENT = 72.3, 0.32
TUBE_RANGE = (10.0, 450.0)
"""D/t of the tests behind the law (from memory)."""
ALL_AT_ONCE = "all"


class Stopped(NamedTuple):
    """A leg of constant force at a touchdown: stroke [m], axial load [N], deceleration [m/s2]."""

    stroke: float
    load: float
    deceleration: float


class Tube(NamedTuple):
    """Round tube of a girder's mass, length, alloy and mean wall; nominal.

    Mean diameter and wall [m], mean force [N], usable stroke [m], energy per mass [J/kg], and
    where a touchdown stops on its mean force; None where legs touch one after the other.
    """

    diameter: float
    wall: float
    force: float
    usable: float
    specific_energy: float
    stopped: Stopped | None

    @property
    def in_range(self) -> bool:
        """Whether D/t lies where the law was tested."""
        return TUBE_RANGE[0] <= self.diameter / self.wall <= TUBE_RANGE[1]


def circular_tube_force(diameter: ArrayLike, wall: ArrayLike, flow_stress: ArrayLike) -> FloatArray:
    """Mean force that crushes a round tube along its axis.

    Parameters
    ----------
    diameter : array_like
        Diameter D [m].
    wall : array_like
        Wall t [m].
    flow_stress : array_like
        Flow stress s0 [Pa].

    Returns
    -------
    ndarray
        Mean force [N]; tested for D/t 10 to 450 (from memory).

    Notes
    -----
    Means: Yardstick: a round tube of the girder's mass, length, alloy and wall.
    Formula: Pm = 72.3 (D/t)^0.32 s0 t²/4
    Range: D/t 10 to 450.
    Band: Nominal flow stress only.
    Limits: mass, length, alloy and mean wall of the girder

    References
    ----------
    [GLG01]

    Examples
    --------
    >>> round(float(circular_tube_force(0.1, 0.001, 4.0 / 0.001**2)), 1)
    315.6
    """
    d, t, s0 = floats(diameter, wall, flow_stress)
    return TUBE_FACTOR * (d / t) ** TUBE_EXPONENT * plastic_moment(s0, t)


def equal_mass_diameter(
    mass: ArrayLike, length: ArrayLike, wall: ArrayLike, density: ArrayLike
) -> FloatArray:
    """Mean diameter of a round tube of given mass.

    Parameters
    ----------
    mass, length, wall, density : array_like
        m [kg], L [m], t [m], ρ [kg/m3].

    Returns
    -------
    ndarray
        D [m].

    Notes
    -----
    Formula: D = m/(π ρ t L)

    References
    ----------
    Plane geometry [D]

    Examples
    --------
    >>> round(float(equal_mass_diameter(7900.0 * 3.14159265 * 0.1 * 0.002, 1.0, 0.002, 7900.0)), 6)
    0.1
    """
    m, length_, t, rho = floats(mass, length, wall, density)
    return m / (np.pi * rho * t * length_)


def tube_of(checked: Checked, usable: float, touchdown: int) -> Tube:
    """Round tube of the mass, length, alloy and mean wall of a girder.

    Parameters
    ----------
    checked : Checked
        Its girder.
    usable : float
        Usable stroke of the tube [m]; the comparison takes that of the plain column (judgement).
    touchdown : int
        Number of the touchdown to stop.

    Returns
    -------
    Tube
    """
    girders, mass = checked.crush.girders, float(checked.crush.mass[0])
    length = float(girders.length[0])
    wall = mean_wall(checked)
    diameter = float(equal_mass_diameter(mass, length, wall, girders.density[0]))
    force = float(circular_tube_force(diameter, wall, girders.flow_stress[1, 0]))
    stopped = stopped_by(force, checked, checked.landings[touchdown])
    return Tube(diameter, wall, force, usable, force * usable / mass, stopped)


def mean_wall(checked: Checked) -> float:
    """Wall of a girder averaged over its length [m]."""
    start, wall = checked.crush.girders.wall_start[0], checked.crush.girders.wall[0]
    ends = np.append(start[1:], np.inf)
    length = float(checked.crush.girders.length[0])
    span = np.clip(ends, 0.0, length) - np.clip(start, 0.0, length)
    return float((wall * span).sum() / length)


def stopped_by(force: float, checked: Checked, landed: Landed) -> Stopped | None:
    """Stop a touchdown on a constant girder force [N]; None where legs touch one by one."""
    if landed.touchdown.first_contact != ALL_AT_ONCE:
        return None
    arrival, forces = landed.arrival, landed.curve.forces
    total = force * float(forces.reaction) * checked.case.vehicle.legs
    speed = np.sqrt(2.0 * arrival.kinetic / arrival.mass)
    travel, _, _ = constant_force_stop(arrival.mass, speed, total, arrival.net_weight)
    slowing = (total - arrival.net_weight) / arrival.mass
    return Stopped(float(travel / forces.travel), force * float(forces.axial), slowing)


def ideal_stop(checked: Checked, landed: Landed) -> Stopped | None:
    """Least constant force that stops a touchdown within the stroke that may be used.

    Parameters
    ----------
    checked : Checked
    landed : Landed

    Returns
    -------
    Stopped or None
        No leg with this stroke can do with less; None where legs touch one after the other.

    Notes
    -----
    Means: Yardstick: the least constant force that stops the touchdown in the stroke there is.
    Formula: F = Wn + m v²/(2 S)
    Formula: S = stroke_fraction × usable stroke
    Range: All legs at once; no leg with this stroke can do with less.
    Band: None: it is a bound.
    Limits: limits.stroke_fraction

    References
    ----------
    [D]
    """
    if landed.touchdown.first_contact != ALL_AT_ONCE:
        return None
    arrival, forces = landed.arrival, landed.curve.forces
    stroke = checked.case.limits.stroke_fraction * float(checked.crush.usable[0])
    total = arrival.net_weight + arrival.kinetic / (stroke * float(forces.travel))
    one = total / (checked.case.vehicle.legs * float(forces.reaction))
    slowing = (total - arrival.net_weight) / arrival.mass
    return Stopped(stroke, one * float(forces.axial), slowing)
