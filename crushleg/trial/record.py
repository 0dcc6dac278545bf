"""Read a record of a crush test: force against stroke of each girder, and what was done to it."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.arrays import FloatArray, lock
from crushleg.case.source import first_bytes, is_stream
from crushleg.errors import InputError, Problem
from crushleg.trial.record_cut import cut, strokes
from crushleg.trial.record_keys import CHANNELS, read_setup
from crushleg.trial.record_signals import signals
from crushleg.trial.record_table import read_columns, read_head
from crushleg.trial.record_time import ordered
from crushleg.unit_table import UNITS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.arrays import BoolArray, IntArray
    from crushleg.trial.record_cut import Cut
    from crushleg.trial.record_keys import Setup
    from crushleg.trial.record_signals import Signals
    from crushleg.trial.record_table import Columns
    from crushleg.trial.record_time import Samples

LARGEST = 500_000_000
"""Bytes of a CSV; eight million samples have half of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """Crush of one girder as measured, from contact to the largest stroke.

    Arrays (n,): ``stroke`` from contact [m], ``force`` on the girder [N], ``sharp`` the same less
    filtered, for its peaks, ``energy`` [J], ``time`` since contact [s] or None. They begin a
    little before contact where a filter smears it. ``done`` and ``cautions`` say what was found
    and done.
    """

    file: str
    sha256: str
    test: str
    batch: str
    leg: str
    kind: str
    sample_rate: float | None
    filter_class: float | None
    peak_class: float | None
    impact_speed: float | None
    time: FloatArray | None
    stroke: FloatArray
    force: FloatArray
    sharp: FloatArray
    energy: FloatArray
    saturated: bool
    accepted: bool
    done: tuple[str, ...]
    cautions: tuple[str, ...]

    def __post_init__(self) -> None:
        lock(self)

    @property
    def name(self) -> str:
        """Test, and leg where the file has several."""
        return f"{self.test}, leg {self.leg}" if self.leg else self.test

    @property
    def usable(self) -> bool:
        """Whether its energy may enter a factor: not saturated, or accepted as it is."""
        return self.accepted or not self.saturated


def beside(path: str | Path) -> Path | None:
    """TOML beside a record; None where there is none."""
    path = Path(path)
    if is_stream(path):
        return None
    toml = path.with_suffix(".toml")
    return toml if toml.exists() and toml != path else None


def read_record(path: str | Path, options: Sequence[str] = ()) -> tuple[Record, ...]:
    """Read one CSV and the TOML beside it.

    Parameters
    ----------
    path : path
        CSV: a line of column names, then numbers.
    options : sequence of str
        ``key=value`` for keys of its TOML.

    Returns
    -------
    tuple of Record
        One per leg.

    Raises
    ------
    InputError
        Every problem found at one stage, with file, line, column and what to write.
    """
    path = Path(path)
    raw = _bytes(path)
    toml = beside(path)
    if toml is None and not options:
        read = f"no {path.with_suffix('.toml').name} beside it, which names columns and units"
        write = '[columns] with force = { column = "F", unit = "kN" } and the like, or --record'
        raise InputError([Problem(file=str(path), read=read, write=write)])
    setup = read_setup(path, toml, options)
    name = str(path)
    columns = read_columns(name, raw, read_head(name, raw, setup), setup)
    found = [(leg, ordered(name, data, at)) for leg, data, at in _legs(name, columns, setup)]
    worked = [(leg, samples, signals(samples, setup)) for leg, samples in found]
    moves = strokes([(samples, signal) for _, samples, signal in worked], setup)
    alone = len(worked) == 1
    pieces = [
        (leg, samples, signal, cut(samples, signal, move, setup, alone=alone))
        for (leg, samples, signal), move in zip(worked, moves, strict=True)
    ]
    digest = hashlib.sha256(raw).hexdigest()
    return tuple(_record(path, digest, setup, columns, *piece) for piece in pieces)


def _bytes(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise InputError([Problem(file=str(path), read="a folder", write="the path of a CSV")])
        raw = first_bytes(path, LARGEST)
    except FileNotFoundError:
        problem = Problem(file=str(path), read="no such file", write="the path of a CSV")
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        problem = Problem(file=str(path), read=f"nothing ({reason})", write="a readable file")
    else:
        if len(raw) <= LARGEST:
            return raw
        read = f"more than {LARGEST} bytes"
        problem = Problem(file=str(path), read=read, write="the part with the crush")
    raise InputError([problem])


def _legs(
    name: str, columns: Columns, setup: Setup
) -> Iterator[tuple[str, dict[str, FloatArray], IntArray]]:
    """Leg, its numbers in SI and their lines."""
    scales = {k: {u: float(s) for u, s in UNITS[d].items()} for k, d in CHANNELS.items()}
    for leg, rows in _rows(name, columns):
        for wide, channels in setup.legs:
            data = {
                key: columns.values[columns.places[channel.column]][rows]
                * scales[key][channel.unit]
                for key, channel in channels.items()
            }
            yield leg or wide, data, columns.lines[rows]


def _rows(name: str, columns: Columns) -> Iterator[tuple[str, slice | BoolArray]]:
    """Rows of each leg that a column names, in their order; all rows where none does."""
    if columns.legs is None:
        yield "", slice(None)
        return
    texts = columns.legs.fillna("").str.strip()
    named = [str(leg) for leg in texts.unique() if leg]
    if not named:
        problem = Problem(file=name, read="no name in the column of legs", write="one per line")
        raise InputError([problem])
    for leg in named:
        yield leg, (texts == leg).to_numpy()


def _record(
    path: Path,
    digest: str,
    setup: Setup,
    columns: Columns,
    leg: str,
    samples: Samples,
    signal: Signals,
    piece: Cut,
) -> Record:
    keys = setup.keys
    kind = "force" if "force" in samples.channels else "acceleration"
    kind += "-stroke" if "stroke" in samples.channels else "-time"
    return Record(
        file=str(path),
        sha256=digest,
        test=keys.test or path.stem,
        batch=keys.batch or "",
        leg=leg,
        kind=kind,
        sample_rate=samples.rate,
        filter_class=signal.filter_class,
        peak_class=signal.peak_class,
        impact_speed=piece.impact_speed,
        time=piece.time,
        stroke=piece.stroke,
        force=piece.force,
        sharp=piece.sharp,
        energy=piece.energy,
        saturated=signal.saturated,
        accepted=keys.accept_saturated,
        done=(*columns.notes, *signal.done, *piece.done),
        cautions=(*signal.cautions, *piece.cautions),
    )
