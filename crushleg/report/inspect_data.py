"""An inspection as plain data: SI, keys end in their unit, leg 1 first."""

from __future__ import annotations

import math
from importlib.metadata import version
from typing import TYPE_CHECKING, Any

from crushleg.girder.bands import BAND_PROBABILITY
from crushleg.report.inspect_flags import flags
from crushleg.report.inspect_tables import cause_rows, ledger, levels
from crushleg.report.inspect_words import cautions, dominant, method, to_check, why_bound
from crushleg.trial.faces import lowest_face
from crushleg.trial.heights import FACES
from crushleg.trial.judged import judged

if TYPE_CHECKING:
    from crushleg.trial.inspect import Inspection

SCHEMA = "crushleg-inspection-1"


def inspection_data(found: Inspection) -> dict[str, Any]:
    """Everything an inspection found.

    Parameters
    ----------
    found : Inspection

    Returns
    -------
    dict
        Schema "crushleg-inspection-1", ready for JSON. Levels low, nominal, high are those of
        the girder's force for energies, of the whole band for the speed.
    """
    case, heights, band, rest = found.case, found.heights, found.band, found.rest
    speed = {**levels(band.speed)}
    return {
        "schema": SCHEMA,
        "title": case.title,
        "revision": case.revision,
        "author": case.author,
        "version": version("crushleg"),
        "input_sha256": case.input_sha256,
        "readings": heights.source,
        "readings_sha256": heights.sha256 or None,
        "touchdown": found.touchdown.name,
        "mass_kg": found.arrival.mass,
        "net_weight_N": found.arrival.net_weight,
        "height_before_m": found.before,
        "speed_m_s": {**speed, "high": None} if found.lower_bound else speed,
        "speed_is_lower_bound": found.lower_bound,
        "lower_bound_because": list(why_bound(found, "si")),
        "band_probability": BAND_PROBABILITY,
        "dominates": dominant(found),
        "causes": [_cause(row) for row in cause_rows(found)],
        "travel_to_bottom_m": levels(band.travel),
        "energy_J": [
            {"entry": name} | (levels(value) if value is not None else _unknown())
            for name, value in ledger(found)
        ],
        "other_energy_J": found.asked.other,
        "other_energy_error_J": None if found.asked.other is None else found.unsure.other_error,
        "legs": [_leg(found, i) for i in range(found.faces.crush.size)],
        "lean_rad": rest.lean,
        "lean_error_rad": rest.lean_error,
        "lean_direction_rad": rest.direction,
        "clearance_m": rest.clearance,
        "clearance_error_m": rest.clearance_error,
        "standing_load_N": rest.load,
        "limit_exceeded": judged(found).exceeded,
        "released": False,
        "flags": flags(found, "si"),
        "check": to_check(found),
        "how_it_was_read": method(found, "si"),
        "cautions": list(map(str, cautions(found))),
    }


def _unknown() -> dict[str, None]:
    return {"low": None, "nominal": None, "high": None}


def _cause(row: tuple[str, Any, Any, float]) -> dict[str, Any]:
    name, energy, speed, share = row
    return {
        "cause": name,
        "energy_down_J": float(energy[0]),
        "energy_up_J": float(energy[1]),
        "speed_down_m_s": float(speed[0]),
        "speed_up_m_s": float(speed[1]),
        "share_of_squares": share,
    }


def _leg(found: Inspection, i: int) -> dict[str, Any]:
    """One leg; energies are those of its girder."""
    faces, left, legs, heights = found.faces, found.left, found.band.legs, found.heights
    seen = judged(found)
    counted = float(heights.folds[i])
    return {
        "leg": i + 1,
        **{f"height_{name}_m": float(heights.faces[i, k]) for k, name in enumerate(FACES)},
        "reading_error_m": float(faces.error[i]),
        "crush_m": float(faces.crush[i]),
        "tilt_rad": float(faces.tilt[i]),
        "lowest_face": lowest_face(faces, i),
        "tilted": bool(faces.tilted[i]),
        "folds_by_crush": float(left.folds[i]),
        "folds_counted": None if math.isnan(counted) else counted,
        "folds_apart": bool(seen.folds[i]),
        "energy_J": levels(legs.energy[:, i]),
        "energy_sprung_back_J": levels(legs.spring[:, i]),
        "force_at_stop_N": levels(legs.force[:, i]),
        "stroke_left_m": float(left.stroke[i]),
        "energy_left_J": levels(left.energy[:, i]),
        "mean_force_low_N": float(left.hold[i]),
        "off_plane_m": float(found.rest.off_plane[i]),
        "no_stroke_left": bool(left.solid[i]),
    }
