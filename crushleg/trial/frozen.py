"""What records are held against: the curve of a case, or of a prediction issued earlier."""

from __future__ import annotations

import hashlib
import json
import re
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import numpy as np

from crushleg.arrays import FloatArray, lock
from crushleg.case.source import first_bytes
from crushleg.errors import InputError, Problem
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.crush import crush
from crushleg.girder.pattern import LEVELS
from crushleg.landing.elastic import with_elastic
from crushleg.trial.issued import SCHEMA as ISSUED
from crushleg.trial.issued import SEAL, unsealed
from crushleg.trial.record_time import ABSURD

if TYPE_CHECKING:
    from crushleg.case.records import Case

RESULT = "crushleg-result-1"
LARGEST = 100_000_000
"""Bytes; a prediction has a few hundred thousand."""
SEAL_DIGITS = 12
"""Of the hash, as the sheet prints it."""
FACTOR_SAID = re.compile(r"Force factor ([0-9.e+-]+) and scatter")
"""How the cautions of a result name the correlation behind it (:mod:`crushleg.girder.cautions`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Predicted:
    """Curve of one girder, low nominal high.

    ``stroke`` (3, n), elastic shortening included where the stiffness is known, ``force`` and
    ``energy`` (3, n); ``usable`` crush stroke [m]; ``folds`` crush strokes at which folds begin, or
    None. ``factor`` is the force factor of earlier tests that is already in it, 1 where there are
    none. ``input_sha256``: of the case behind it.
    """

    name: str
    sha256: str
    input_sha256: str
    stroke: FloatArray
    force: FloatArray
    energy: FloatArray
    usable: float
    folds: FloatArray | None
    elastic: bool
    factor: float
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        lock(self)

    def energy_at(self, stroke: float) -> FloatArray:
        """Energy of one girder at a stroke, low nominal high [J]."""
        pairs = zip(self.stroke, self.energy, strict=True)
        return np.array([np.interp(stroke, s, e) for s, e in pairs])

    def peak_to(self, stroke: float) -> FloatArray:
        """Largest force up to a stroke, low nominal high [N]."""
        pairs = zip(self.stroke, self.force, strict=True)
        return np.array([f[s <= stroke].max() for s, f in pairs])

    @property
    def first_peak(self) -> FloatArray:
        """Force that begins the crush, low nominal high [N]."""
        return self.force[:, 1] if self.elastic else self.force[:, 0]

    @property
    def end(self) -> float:
        """Stroke at which the nominal curve ends [m]."""
        return float(self.stroke[1, -1])


def uncorrelated(case: Case) -> Case:
    """Return the case without what tests said before: force factor 1, the model's own band."""
    return replace(case, girder=replace(case.girder, correlation=None))


def of_case(case: Case, speed: float | None = None) -> Predicted:
    """Curve of a case's girder without any correlation.

    Parameters
    ----------
    case : Case
    speed : float, optional
        For the strain-rate factor [m/s]; the largest of the case when left out.

    Returns
    -------
    Predicted
    """
    fastest = max(touchdown.vertical_speed for touchdown in case.touchdowns)
    girder = uncorrelated(case).girder
    found = crush(girder_arrays([girder], [fastest if speed is None else speed]))
    curve = found.curve
    stiffness = np.full(3, float(found.stiffness[0]))
    stroke, force, energy = with_elastic(
        np.broadcast_to(curve.stroke, curve.force[:, 0].shape),
        curve.force[:, 0],
        curve.energy[:, 0],
        stiffness,
    )
    lengths = found.folds.length[0]
    return Predicted(
        name="this case",
        sha256="",
        input_sha256=case.input_sha256,
        stroke=stroke,
        force=force,
        energy=energy,
        usable=float(found.usable[0]),
        folds=found.folds.stroke[0, :-1][lengths > 0.0],
        elastic=True,
        factor=1.0,
    )


def read_issued(path: str | Path) -> Predicted:
    """Read a prediction issued earlier: the JSON of `check` or of `predict`.

    Parameters
    ----------
    path : path

    Returns
    -------
    Predicted

    Raises
    ------
    InputError
        No such file, no such JSON, or not as it was issued: its hash does not fit.
    """
    path = Path(path)
    raw, data = _loaded(path)
    schema = data.get("schema")
    notes = []
    if schema == ISSUED:
        sealed = str(data.get(SEAL))
        try:
            data = unsealed(data)
        except InputError as error:
            raise InputError(replace(one, file=str(path)) for one in error.problems) from None
        day = f" on {data['date']}" if "date" in data else ""
        notes.append(
            f"issued by `predict`{day} as prediction {sealed[:SEAL_DIGITS]}; it is as it was "
            "issued, its hash fits"
        )
    elif schema == RESULT:
        notes.append("written by `check`: it carries no hash of itself; keep the one printed here")
    else:
        read = f"schema {schema!r}" if schema else "JSON without a schema"
        _fail(path, read, "the JSON of `check` or `predict`")
    try:
        return _predicted(path, hashlib.sha256(raw).hexdigest(), data, notes)
    except (KeyError, TypeError, ValueError, IndexError, OverflowError) as error:
        _fail(path, f"a prediction without a whole curve ({error})", "the file as it was written")


def _loaded(path: Path) -> tuple[bytes, dict[str, Any]]:
    write = "the JSON of `check` or `predict`"
    try:
        raw = first_bytes(path, LARGEST)
        data = json.loads(raw) if len(raw) <= LARGEST else None
    except FileNotFoundError:
        _fail(path, "no such file", write)
    except OSError as error:
        _fail(path, f"nothing ({(error.strerror or 'an error').lower()})", "a readable file")
    except (ValueError, RecursionError):
        _fail(path, "no JSON", write)
    if not isinstance(data, dict):
        _fail(path, "JSON that is no prediction", write)
    return raw, data


def _predicted(path: Path, digest: str, data: dict[str, Any], notes: list[str]) -> Predicted:
    girder = data.get("girder")
    given = girder.get("axial_stiffness_N_m") if isinstance(girder, dict) else None
    stroke, force, energy = _curve(data["curve"])
    usable = float(stroke[-1])
    strokes = np.broadcast_to(stroke, force.shape)
    if given is not None:
        stiffness = np.full(3, _numbers(given))
        _need(bool((stiffness > 0.0).all()), "a stiffness that is none")
        strokes, force, energy = with_elastic(strokes, force, energy, stiffness)
    else:
        notes.append("it does not say its stiffness: elastic shortening is left out")
    folds = _numbers([fold["stroke_from_m"] for fold in data.get("folds") or []])
    follow = folds.ndim == 1 and _rises(folds) and bool((folds >= 0.0).all())
    _need(follow, "folds that do not follow each other")
    said = (FACTOR_SAID.match(str(text)) for text in data.get("cautions") or [])
    factor = next((float(found.group(1)) for found in said if found), 1.0)
    return Predicted(
        name=path.name,
        sha256=digest,
        input_sha256=str(data.get("input_sha256") or ""),
        stroke=strokes,
        force=force,
        energy=energy,
        usable=usable,
        folds=folds if folds.size else None,
        elastic=given is not None,
        factor=factor,
        notes=tuple(notes),
    )


def _curve(curve: Any) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Stroke (n,), force and energy (3, n) of an issued curve, such as a girder can have."""
    stroke = _numbers(curve["stroke_m"])
    force, energy = (
        _numbers([curve[name][level] for level in LEVELS]) for name in ("force_N", "energy_J")
    )
    fits = stroke.ndim == 1 and len(stroke) > 1 and force.shape == energy.shape == (3, len(stroke))
    _need(fits, "stroke, force and energy do not fit together")
    _need(stroke[0] == 0.0 and _rises(stroke), "stroke that does not rise")
    _need(bool((force > 0.0).all()), "force that does not push")
    _need(_rises(energy) and bool((energy[:, -1] > 0.0).all()), "energy that does not rise")
    return stroke, force, energy


def _numbers(values: Any) -> FloatArray:
    """Array of numbers, none larger than a girder can have."""
    found = np.asarray(values, dtype=np.float64)
    _need(bool((np.abs(found) <= ABSURD).all()), "a number that is none")
    return found


def _rises(values: FloatArray) -> bool:
    return bool((np.diff(values) >= -1e-9 * np.abs(values[..., -1:])).all())


def _need(true: bool, what: str) -> None:  # noqa: FBT001 - reads as a sentence
    if not true:
        raise ValueError(what)


def _fail(path: Path, read: str, write: str) -> NoReturn:
    raise InputError([Problem(file=str(path), read=read, write=write)])
