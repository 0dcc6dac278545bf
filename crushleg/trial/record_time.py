"""Samples in order: missing ones left out, time turned, gaps found, even sampling made."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NoReturn

import numpy as np

from crushleg.errors import InputError, Problem
from crushleg.units import plain, show

if TYPE_CHECKING:
    from collections.abc import Mapping

    from crushleg.arrays import FloatArray, IntArray

FEWEST = 10
ABSURD = 1e12
"""No time, stroke, force or acceleration is as large in SI units."""
GAP = 1.5
"""Step over the usual one from which samples are missing."""
EVEN = 0.1
"""Steps this near the usual one, as a part of it, count as even."""
MOST = 8_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Samples:
    """Channels of one leg in SI, one length, with their lines; what was done, in words.

    ``time`` is even where there is one; ``gaps`` are the intervals (begin, end) without samples.
    """

    channels: Mapping[str, FloatArray]
    lines: IntArray
    time: FloatArray | None
    rate: float | None
    gaps: tuple[tuple[float, float], ...]
    done: tuple[str, ...]


def ordered(name: str, channels: Mapping[str, FloatArray], lines: IntArray) -> Samples:
    """Put samples in order.

    Parameters
    ----------
    name : str
        File, for messages.
    channels : mapping
        Name to values (n,), SI; "time" may be one of them.
    lines : ndarray
        Line of each sample in the file.

    Returns
    -------
    Samples

    Raises
    ------
    InputError
        Too few samples, time that runs back, gaps too long to bridge.
    """
    done: list[str] = []
    kept, lines = _complete(name, channels, lines, done)
    if "time" not in kept:
        done.append("no time: not filtered, gaps cannot be seen")
        return Samples(channels=kept, lines=lines, time=None, rate=None, gaps=(), done=tuple(done))
    kept, lines = _rising(name, kept, lines, done)
    return _even(name, kept, lines, done)


def _complete(
    name: str, channels: Mapping[str, FloatArray], lines: IntArray, done: list[str]
) -> tuple[dict[str, FloatArray], IntArray]:
    """Keep samples of which every channel has a number."""
    finite = np.ones(len(lines), dtype=bool)
    for channel, values in channels.items():
        there = np.isfinite(values)
        if not there.any():
            _fail(name, f"no number at all in the column of {channel}", "another column")
        absurd = there & (np.abs(np.where(there, values, 0.0)) > ABSURD)
        if absurd.any():
            read = f"{channel} of {values[absurd][0]:g} in SI units"
            _fail(name, read, "the right unit, or nothing in the cell", int(lines[absurd][0]))
        finite &= there
    out = lines[~finite]
    if len(out):
        share = plain(100.0 * len(out) / len(lines), 2)
        done.append(
            f"{len(out)} of {len(lines)} samples left out ({share} %), a number missing in each; "
            f"the first in line {out[0]}"
        )
    if finite.sum() < FEWEST:
        whole = int(finite.sum())
        _fail(name, f"{whole} whole sample{'s' * (whole != 1)}", f"at least {FEWEST}")
    return {key: values[finite] for key, values in channels.items()}, lines[finite]


def _rising(
    name: str, channels: dict[str, FloatArray], lines: IntArray, done: list[str]
) -> tuple[dict[str, FloatArray], IntArray]:
    """Time rising: all of it turned round, equal instants merged."""
    steps = np.diff(channels["time"])
    if np.all(steps <= 0.0) and np.any(steps < 0.0):
        done.append("time runs backward through the whole file: turned round")
        channels = {key: values[::-1] for key, values in channels.items()}
        lines, steps = lines[::-1], -steps[::-1]
    back = np.flatnonzero(steps < 0.0)
    if len(back):
        at = int(back[0]) + 1
        read = (
            f"time that goes back in {len(back)} place(s), first from "
            f"{show(float(channels['time'][at - 1]), 'time', digits=6)} to "
            f"{show(float(channels['time'][at]), 'time', digits=6)}"
        )
        _fail(name, read, "one recording per file, time rising", int(lines[at]))
    new = np.concatenate([[True], steps > 0.0])
    if not new.all():
        groups = np.cumsum(new) - 1
        many = np.bincount(groups)
        merged = {k: np.bincount(groups, weights=v) / many for k, v in channels.items()}
        done.append(
            f"{int((~new).sum())} samples at the instant of the one before, the first in line "
            f"{int(lines[~new][0])}: merged by their mean"
        )
        merged["time"] = channels["time"][new]
        channels, lines = merged, lines[new]
        if len(lines) < FEWEST:
            _fail(
                name, f"{len(lines)} different instants", f"at least {FEWEST}; time in finer units"
            )
    return channels, lines


def _even(name: str, channels: dict[str, FloatArray], lines: IntArray, done: list[str]) -> Samples:
    """Even sampling: straight between samples where it is not; gaps are told."""
    time = channels["time"]
    steps = np.diff(time)
    step = float(np.median(steps))
    wide = np.flatnonzero(steps > GAP * step)
    gaps = tuple((float(time[i]), float(time[i + 1])) for i in wide)
    done.append(f"{len(time)} samples, {show_rate(1.0 / step)}")
    if len(wide):
        worst = int(wide[np.argmax(steps[wide])])
        missing = int(np.round(steps[wide] / step - 1.0).sum())
        done.append(
            f"{len(wide)} gap(s), {missing} samples missing; the longest "
            f"{show(float(steps[worst]), 'time')} after line {int(lines[worst])}: bridged straight"
        )
    rest = {key: values for key, values in channels.items() if key != "time"}
    if np.all(np.abs(steps - step) <= EVEN * step):
        mean = (time[-1] - time[0]) / (len(time) - 1)
        even = time[0] + mean * np.arange(len(time))
        return Samples(
            channels=rest, lines=lines, time=even, rate=1.0 / mean, gaps=gaps, done=tuple(done)
        )
    count = int(np.floor((time[-1] - time[0]) / step * (1.0 + 1e-12))) + 1
    if count > MOST:
        read = f"{len(time)} samples over {show(float(time[-1] - time[0]), 'time')}, mostly gaps"
        _fail(name, read, "one recording per file")
    even = time[0] + step * np.arange(count)
    done.append(f"sampling is uneven: read off straight between samples, {count} even ones")
    near = np.minimum(np.searchsorted(time, even), len(lines) - 1)
    moved = {key: np.interp(even, time, values) for key, values in rest.items()}
    return Samples(
        channels=moved,
        lines=lines[near],
        time=even,
        rate=1.0 / step,
        gaps=gaps,
        done=tuple(done),
    )


def show_rate(rate: float) -> str:
    """Sample rate in words.

    >>> show_rate(20e3), show_rate(0.5)
    ('20 kHz', '0.5 Hz')
    """
    return f"{plain(rate / 1e3, 4)} kHz" if rate >= 1e3 else f"{plain(rate, 4)} Hz"


def _fail(name: str, read: str, write: str, line: int | None = None) -> NoReturn:
    raise InputError([Problem(file=name, line=line, read=read, write=write)])
