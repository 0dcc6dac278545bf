"""Figures of merit of one checked girder: what a comparison sets side by side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from crushleg.girder.net import net_area
from crushleg.landing.energy import energy_at

if TYPE_CHECKING:
    from crushleg.check import Checked
    from crushleg.landing.touchdown import Landed


@dataclass(frozen=True, slots=True, kw_only=True)
class Merit:
    """Figures of one girder and of where a touchdown stops on it.

    Attributes
    ----------
    mass : float
        Of one girder [kg].
    first_peak, mean_force : float
        Nominal force that begins the crush, and mean over the usable stroke [N].
    ramp : float
        Mean force of the last fold over that of the first, nominal order [-].
    rise : float
        Largest start force of all zones over that of the first [-].
    usable : float
        Usable stroke [m].
    specific_energy : float
        Nominal energy to the end of the usable stroke over the mass [J/kg].
    efficiency : float
        E/(F_peak S) of a most crushed leg up to its nominal stop, elastic shortening in it [-].
    stroke, load, deceleration : float
        Stroke needed at low force [m], infinite if it never stops; largest axial load [N] and
        deceleration [m/s2] of low, nominal, high.
    bottomed : bool
        The leg bottoms at one of the three forces.
    sequence : float or None
        Margin of the collapse sequence, None for a girder of one zone.
    from_foot : bool
        Whether the nominal sequence runs from the foot.
    governing : float
        Lowest counted margin [-].
    """

    mass: float
    first_peak: float
    mean_force: float
    ramp: float
    rise: float
    usable: float
    specific_energy: float
    efficiency: float
    stroke: float
    load: float
    deceleration: float
    bottomed: bool
    sequence: float | None
    from_foot: bool
    governing: float


def merit(checked: Checked, touchdown: int) -> Merit:
    """Figures of merit of a checked case at one of its touchdowns.

    Specific energy is the nominal energy to the end of the usable stroke over the girder's mass.

    Parameters
    ----------
    checked : Checked
    touchdown : int
        Number of the touchdown.

    Returns
    -------
    Merit

    Notes
    -----
    Means: Energy that a girder takes over its mass.
    Formula: specific energy = E(usable stroke)/mass
    Formula: mean force = E(usable stroke)/usable stroke
    Formula: ramp = mean force of the last fold/that of the first
    Formula: rise = largest start force/start force of the first zone
    Range: The girder alone: no pad, fitting or guide.
    Band: Nominal force; stroke at low force, load and deceleration from the largest of the three.
    Limits: the touchdown compared

    References
    ----------
    Definitions [common practice]
    """
    crush, landed = checked.crush, checked.landings[touchdown]
    mass, usable = float(crush.mass[0]), float(crush.usable[0])
    energy = float(crush.curve.energy[1, 0, -1])
    means = crush.folds.force[1, 0][crush.folds.length[0] > 0.0]
    first = float(crush.sequence.start[1, 0, 0])
    return Merit(
        mass=mass,
        first_peak=float(crush.first_peak[1, 0]),
        mean_force=energy / usable,
        ramp=float(means[-1] / means[0]),
        rise=float(crush.largest_start[1, 0]) / first,
        usable=usable,
        specific_energy=energy / mass,
        efficiency=efficiency(landed),
        stroke=float(landed.stroke_needed[0, 0]),
        load=float(landed.peak[:, 0].max()),
        deceleration=float(landed.deceleration[:, 0].max()),
        bottomed=bool(landed.bottomed[:, 0].any()),
        sequence=margin_of(checked, "collapse_sequence"),
        from_foot=bool(crush.sequence.from_foot[0]),
        governing=margin_value(checked, checked.governs),
    )


def efficiency(landed: Landed) -> float:
    """Energy of a most crushed leg over its largest force times its stroke, nominal.

    Parameters
    ----------
    landed : Landed
        One girder.

    Returns
    -------
    float
        1 for a constant force, ½ for a ramp from zero.

    Notes
    -----
    Means: How near a leg comes to a constant force: energy over largest force times stroke.
    Formula: η_E = E/(F_peak S)
    Range: Nominal, up to the stop; nothing once the leg bottoms.
    Band: Nominal force only.
    Limits: the touchdown compared: the reserve case of the largest energy

    References
    ----------
    [D]
    """
    curve = landed.curve
    end = landed.stroke[1, 0] * curve.forces.travel
    work = energy_at(curve.travel[1, 0], curve.reaction[1, 0], curve.work[1, 0], end)
    return float(work / (landed.girder_peak[1, 0] * curve.forces.reaction * end))


def margin_of(checked: Checked, check: str) -> float | None:
    """Lowest margin of a check over all touchdowns; None where it is not judged."""
    found = [
        margin_value(checked, i)
        for i, margin in enumerate(checked.margins)
        if margin.check == check and margin.margin is not None
    ]
    return min(found, default=None)


def margin_value(checked: Checked, index: int) -> float:
    """One margin of a case, NaN where it is not judged."""
    margin = checked.margins[index].margin
    return float("nan") if margin is None else float(margin[0])


def foot_shares(checked: Checked, plain: Checked) -> tuple[float, float]:
    """Net area of the weakest section, and mean force of the first fold, over the plain column's.

    Parameters
    ----------
    checked, plain : Checked
        A girder, and its section without holes.

    Returns
    -------
    tuple of float
        Shares [-]; both at the zone that folds first.
    """
    crush = checked.crush
    zone = int(crush.sequence.start[1, 0].argmin())
    height = crush.sequence.height[:, zone : zone + 1]
    net = net_area(crush.girders, height) / net_area(plain.crush.girders, height)
    first = crush.folds.force[1, 0, 0] / plain.crush.folds.force[1, 0, 0]
    return float(net[0, 0]), float(first)
