"""The prediction of a test: what each leg will show, what to set, and when to reject."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.trial.cautions import prediction_cautions
from crushleg.trial.crests_shown import crests_shown
from crushleg.trial.drops import Drop, Standin, drops, standins
from crushleg.trial.instruments import Instruments, fold_frequency, instruments
from crushleg.trial.readings import Readings, Stopped, folds_used, read_back
from crushleg.trial.rig import release_height

if TYPE_CHECKING:
    import datetime as dt

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Vehicle
    from crushleg.check import Checked
    from crushleg.landing.touchdown import Landed

TILT = math.radians(5.0)
"""Of the crushed end, beyond which the load left the tested range (from memory)."""


class Group(NamedTuple):
    """Legs that crush alike: numbers from 1; low, nominal, high force, shape (3,).

    Crush that stays [m], folds used, height left of what may fold [m], as `inspect` reads it.
    """

    legs: tuple[int, ...]
    crush: FloatArray
    folds: FloatArray
    height: FloatArray


class Event(NamedTuple):
    """One landing or drop that is predicted; ``drop`` is None for a touchdown of the vehicle.

    ``speed_limit`` [m/s] takes a leg of low force to the crush at which it is rejected, all legs
    alike; ``height_limit`` [m] is the fall for it in the rig.
    """

    name: str
    vehicle: Vehicle
    landed: Landed
    drop: Drop | None
    groups: tuple[Group, ...]
    stopped: Stopped
    speed_limit: float
    height_limit: float | None


class Rejects(NamedTuple):
    """Limits of every leg, whatever the event [m].

    Crush beyond which it is rejected, height left there, difference between two opposite faces.
    """

    crush: float
    height: float
    faces: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Prediction:
    """Everything on the sheet: ``events`` are drops where the case has a rig, else touchdowns."""

    checked: Checked
    date: dt.date
    events: tuple[Event, ...]
    standins: tuple[Standin, ...]
    rejects: Rejects
    instruments: Instruments
    cautions: tuple[str, ...]


def predict(checked: Checked, date: dt.date) -> Prediction:
    """Predict the drops of a case with a rig, the touchdowns of one without.

    Parameters
    ----------
    checked : Checked
    date : date
        Of issue.

    Returns
    -------
    Prediction
    """
    rig = checked.case.rig
    rejects = _rejects(checked)
    if rig is None:
        vehicle = checked.case.vehicle
        events = [_event(checked, vehicle, landed, rejects) for landed in checked.landings]
    else:
        events = [
            _event(checked, drop.vehicle, drop.landed, rejects, drop)
            for drop in drops(checked, rig)
        ]
    landings = [event.landed for event in events]
    settings = _instruments(checked, events)
    over = [x.name for x in events if float(x.groups[0].crush.max()) > rejects.crush]
    return Prediction(
        checked=checked,
        date=date,
        events=tuple(events),
        standins=() if rig is None else standins(checked, rig),
        rejects=rejects,
        instruments=settings,
        cautions=tuple(prediction_cautions(checked, landings, settings, over)),
    )


def back(prediction: Prediction, event: Event, at: FloatArray) -> Readings:
    """Energy and speed of an event from crush ``at`` [m] that stays on every leg alike."""
    return read_back(prediction.checked.crush, event.landed.curve, event.stopped, at)


def distinct(prediction: Prediction) -> list[tuple[Event, tuple[str, ...]]]:
    """One event for each mass and net weight, with the names of all that share them."""
    found: dict[Stopped, list[Event]] = {}
    for event in prediction.events:
        found.setdefault(event.stopped, []).append(event)
    return [(same[0], tuple(event.name for event in same)) for same in found.values()]


def _rejects(checked: Checked) -> Rejects:
    case, girder = checked.case, checked.case.girder
    crush = case.limits.stroke_fraction * float(checked.crush.usable[0])
    side = min(girder.width, girder.depth) - girder.wall
    return Rejects(crush, girder.length - crush, side * math.tan(TILT))


def _event(
    checked: Checked,
    vehicle: Vehicle,
    landed: Landed,
    rejects: Rejects,
    drop: Drop | None = None,
) -> Event:
    arrival, rig = landed.arrival, checked.case.rig
    stopped = Stopped(vehicle.legs, arrival.mass, arrival.net_weight)
    end = read_back(checked.crush, landed.curve, stopped, np.array([rejects.crush]))
    limit = float(end.speed[0, 0])
    height = None
    if drop is not None and rig is not None:
        height = float(release_height(limit, rig.mass, rig.gravity, rig.friction))
    groups = _groups(checked, landed, vehicle.legs)
    return Event(landed.name, vehicle, landed, drop, groups, stopped, limit, height)


def _groups(checked: Checked, landed: Landed, legs: int) -> tuple[Group, ...]:
    """All legs alike, or the first ones and the others."""
    numbers = tuple(range(1, legs + 1))
    first = _group(checked, numbers[: landed.first], landed.crush[:, 0])
    if landed.first == legs:
        return (first,)
    crush = checked.crush
    spring = landed.at_stop[:, 0] / crush.stiffness[0]
    others = np.clip(landed.others[:, 0] - spring, 0.0, crush.usable[0])
    return first, _group(checked, numbers[landed.first :], others)


def _group(checked: Checked, legs: tuple[int, ...], crush: FloatArray) -> Group:
    height = checked.case.girder.length - crush
    return Group(legs, crush, folds_used(checked.crush, crush), height)


def _instruments(checked: Checked, events: list[Event]) -> Instruments:
    """Ranges from the largest of all events and levels, fold frequency from the fastest."""
    landings = [event.landed for event in events]
    cells = [float(event.drop.cell.max()) for event in events if event.drop is not None]
    folds = checked.crush.folds.length[0]
    real = folds[folds > 0.0]
    whole = real[:-1] if len(real) > 1 else real
    travel = float(landings[0].curve.forces.travel)
    return instruments(
        leg=max(float(x.peak.max()) for x in landings),
        cell=max(cells) if cells else None,
        accelerometer=max(float(x.accelerometer.max()) for x in landings),
        displacement=max(float(x.stroke.max()) for x in landings) * travel,
        frequency=fold_frequency(
            max(x.arrival.closing for x in landings), float(whole.min()), travel
        ),
        shown=crests_shown([(event.landed, event.stopped.legs) for event in events]),
    )
