"""From ordered samples of one leg to the force on its girder, with what was done in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, NoReturn

import numpy as np

from crushleg.errors import InputError, Problem
from crushleg.said import Quantity, Said
from crushleg.trial.filters import CLASSES, USUAL_CLASS, filtered, least_rate
from crushleg.trial.record_motion import girder_force, with_inertia
from crushleg.trial.record_time import show_rate
from crushleg.trial.record_zero import flat_top, zeroed
from crushleg.units import plain

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.trial.record_keys import RecordKeys, Setup
    from crushleg.trial.record_time import Samples
    from crushleg.trial.record_zero import Zeroed

LARGE_ZERO = 0.05
"""Zero over the largest reading from which it is a caution."""


class Signals(NamedTuple):
    """Force on the girder (n,) filtered, for its peaks, and as it is; accelerometer (n,) or None.

    Motion is integrated from what is not filtered: a filter moves force to before the contact.
    """

    force: FloatArray
    sharp: FloatArray
    unfiltered: FloatArray
    reading: FloatArray | None
    contact: int
    filter_class: float | None
    peak_class: float | None
    saturated: bool
    done: list[str]
    cautions: list[str]


def signals(samples: Samples, setup: Setup) -> Signals:
    """Zero, sign, contact, filter and inertia of one leg.

    Raises
    ------
    InputError
        A mass that is needed; a filter class the sampling cannot give.
    """
    keys = setup.keys
    main = "force" if "force" in samples.channels else "acceleration"
    if main == "acceleration":
        need_mass(keys, setup, "acceleration alone gives no force")
    done = list(samples.done)
    cautions: list[str] = []
    saturated = [_flat(name, samples, cautions) for name in ("force", "acceleration")]
    found = zeroed(samples.channels[main], keys.sign, _level(keys, main), _instant(samples, setup))
    if not found.values.max() > 0.0:
        _fail(setup, f"columns.{main}", f"no {main} anywhere", "another column")
    _tell_zero(found, main, samples, done, cautions)
    kind = _filter_class(samples, setup, done)
    force, reading = found.values, None
    if main == "acceleration":
        reading, force = found.values, float(keys.mass or 0.0) * found.values
        done.append("force: whole mass times the accelerometer, which reads zero in free fall")
    else:
        if "acceleration" in samples.channels:
            other = zeroed(samples.channels["acceleration"], "found", contact=found.contact)
            _tell_zero(other, "acceleration", samples, done, cautions)
            reading = other.values
        force = _inertia(found.values, reading, setup, done)
    smooth = _smooth(force, kind, samples)
    peaks = _peak_class(kind, samples, setup)
    sharp = smooth if peaks == kind else _smooth(force, peaks, samples)
    if peaks is not None and peaks != kind:
        done.append(f"peaks read with class {peaks:g}")
    values = smooth, sharp, force, reading
    return Signals(*values, found.contact, kind, peaks, any(saturated), done, cautions)


def need_mass(keys: RecordKeys, setup: Setup, why: str) -> float:
    """Whole mass [kg].

    Raises
    ------
    InputError
        It is not said.
    """
    if keys.mass is None:
        read = f"no mass: {why}"
        _fail(setup, "mass", read, 'mass = "120 kg", the whole mass that falls')
    return keys.mass


def _level(keys: RecordKeys, main: str) -> float | None:
    force = keys.trigger_force
    if force is None or main == "force":
        return force
    return force / float(keys.mass or 1.0)


def _instant(samples: Samples, setup: Setup) -> int | None:
    """Index of the time of contact, where that was said."""
    at = setup.keys.trigger_time
    if at is None:
        return None
    time = samples.time
    if time is None or not time[0] <= at <= time[-1]:
        span = "no time" if time is None else f"{time[0]:g} to {time[-1]:g} s"
        read = f"contact at {at:g} s of a record with {span}"
        _fail(setup, "trigger", read, "a time inside the record, or a force")
    return int(np.abs(time - at).argmin())


def _flat(name: str, samples: Samples, cautions: list[str]) -> bool:
    if name not in samples.channels:
        return False
    flat = flat_top(samples.channels[name])
    if flat is None:
        return False
    dimension = "force" if name == "force" else "acceleration"
    cautions.append(
        Said(
            f"{name} is flat at its largest, ",
            Quantity(flat.value, dimension, 5),
            f", over {flat.samples} samples from line {int(samples.lines[flat.begin])}: saturated; "
            "peak and energy are lower bounds",
        )
    )
    return True


def _tell_zero(
    found: Zeroed, name: str, samples: Samples, done: list[str], cautions: list[str]
) -> None:
    dimension = "force" if name == "force" else "acceleration"
    if found.turned:
        done.append(f"{name} is negative in compression: sign turned")
    if np.isnan(found.offset):
        cautions.append(
            f"{name}: fewer than 10 samples before contact, so no zero was taken off; an offset "
            "goes into the energy"
        )
    else:
        done.append(
            Said(
                f"{name}: zero ",
                Quantity(found.offset, dimension),
                f" taken off, the mean of {found.samples} samples before contact; noise ± ",
                Quantity(found.noise, dimension),
            )
        )
        if abs(found.offset) > LARGE_ZERO * float(found.values.max()):
            cautions.append(f"{name}: the zero is more than 5 % of the largest reading")
    line = int(samples.lines[found.contact])
    when = "" if samples.time is None else f" at {_clock(float(samples.time[found.contact]))}"
    done.append(f"contact{when}, line {line}, by {name}: zero of stroke and time")
    share = float(found.values[found.contact] / found.values.max())
    if found.contact == 0 and share > 0.1:
        cautions.append(
            f"the record begins with {plain(100.0 * share, 2)} % of the largest {name} already "
            "there: what came before is not in it"
        )


def _clock(seconds: float) -> str:
    return f"{plain(round(1e3 * seconds, 6), 5)} ms of its clock"


def _filter_class(samples: Samples, setup: Setup, done: list[str]) -> float | None:
    """Class to filter with; None for none."""
    asked = setup.keys.filter_class
    if asked == 0.0:
        done.append("not filtered, as asked")
        return None
    if samples.rate is None:
        if asked is not None:
            _fail(setup, "filter_class", "a class for a record without time", "a time column")
        return None
    wanted = USUAL_CLASS if asked is None else asked
    least = least_rate(wanted)
    if samples.rate >= least * (1.0 - 1e-9):
        name = f"{wanted:g}"
        done.append(f"filtered by class {name} (two-pass, -3 dB at {wanted * 5 / 3:.4g} Hz)")
        return wanted
    needs = f"class {wanted:g} needs {show_rate(least)}, sampled at {show_rate(samples.rate)}"
    if asked is not None:
        most = plain(samples.rate / 10.0, 3)
        _fail(setup, "filter_class", needs, f"a class of at most {most}, or 0 for none")
    done.append(f"not filtered: {needs}")
    return None


def _peak_class(kind: float | None, samples: Samples, setup: Setup) -> float | None:
    """Class for peaks: where none was asked for, the highest the sampling allows, 1000 at most."""
    if kind is None or samples.rate is None or setup.keys.filter_class is not None:
        return kind
    return max(c for c in (kind, *CLASSES) if c == kind or samples.rate >= least_rate(c))


def _smooth(values: FloatArray, kind: float | None, samples: Samples) -> FloatArray:
    if kind is None or samples.rate is None:
        return values
    return filtered(values, kind, samples.rate)


def _inertia(
    cell: FloatArray, reading: FloatArray | None, setup: Setup, done: list[str]
) -> FloatArray:
    keys = setup.keys
    if keys.mass_below == 0.0:
        return cell
    added = Said("inertia of ", Quantity(keys.mass_below, "mass"), " below the cell added, ")
    if reading is not None:
        done.append(added + "by the accelerometer")
        return with_inertia(cell, reading, keys.mass_below)
    mass = need_mass(keys, setup, "the inertia of mass_below needs it")
    done.append(added + "moving as the mass above it")
    return girder_force(cell, mass, keys.mass_below)


def _fail(setup: Setup, field: str, read: str, write: str) -> NoReturn:
    raise InputError([Problem(file=setup.file, field=field, read=read, write=write)])
