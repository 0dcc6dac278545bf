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
from crushleg.errors import InputError, Problem
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.crush import crush
from crushleg.girder.pattern import LEVELS
from crushleg.landing.elastic import with_elastic
from crushleg.trial.issued import SCHEMA as ISSUED
from crushleg.trial.issued import SEAL, unsealed

if TYPE_CHECKING:
    from crushleg.case.records import Case

RESULT = "crushleg-result-1"
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
    except (KeyError, TypeError, ValueError, IndexError) as error:
        _fail(path, f"a prediction without a whole curve ({error})", "the file as it was written")


def _loaded(path: Path) -> tuple[bytes, dict[str, Any]]:
    try:
        raw = path.read_bytes()
        data = json.loads(raw)
    except FileNotFoundError:
        _fail(path, "no such file", "the JSON of `check` or `predict`")
    except OSError as error:
        _fail(path, f"nothing ({(error.strerror or 'an error').lower()})", "a readable file")
    except (ValueError, RecursionError):
        _fail(path, "no JSON", "the JSON of `check` or `predict`")
    if not isinstance(data, dict):
        _fail(path, "JSON that is no prediction", "the JSON of `check` or `predict`")
    return raw, data


def _predicted(path: Path, digest: str, data: dict[str, Any], notes: list[str]) -> Predicted:
    curve, girder = data["curve"], data.get("girder") or {}
    stroke = np.asarray(curve["stroke_m"], dtype=np.float64)
    force = np.array([curve["force_N"][level] for level in LEVELS], dtype=np.float64)
    energy = np.array([curve["energy_J"][level] for level in LEVELS], dtype=np.float64)
    rising = len(stroke) > 1 and np.all(np.diff(stroke) >= 0.0)
    whole = np.isfinite(force).all() and np.isfinite(energy).all() and (energy[:, -1] > 0.0).all()
    if force.shape != (3, len(stroke)) or energy.shape != force.shape or not (rising and whole):
        message = "stroke, force and energy do not fit together"
        raise ValueError(message)
    stiffness = girder.get("axial_stiffness_N_m")
    usable = float(stroke[-1])
    strokes = np.broadcast_to(stroke, force.shape)
    if stiffness:
        strokes, force, energy = with_elastic(strokes, force, energy, np.full(3, float(stiffness)))
    else:
        notes.append("it does not say its stiffness: elastic shortening is left out")
    folds = data.get("folds")
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
        folds=np.array([fold["stroke_from_m"] for fold in folds]) if folds else None,
        elastic=bool(stiffness),
        factor=factor,
        notes=tuple(notes),
    )


def _fail(path: Path, read: str, write: str) -> NoReturn:
    raise InputError([Problem(file=str(path), read=read, write=write)])
