"""The result of a comparison as plain data: SI, keys end in their unit."""

from __future__ import annotations

import math
from importlib.metadata import version
from typing import TYPE_CHECKING, Any

from crushleg.report.compare_text import comparison_cautions, comparison_sources
from crushleg.report.compare_words import findings
from crushleg.report.data import result

if TYPE_CHECKING:
    from crushleg.check import Checked
    from crushleg.design.compare import Compared, Comparison
    from crushleg.design.merit import Merit
    from crushleg.design.yardsticks import Stopped

SCHEMA = "crushleg-comparison-1"
LONG = ("folds", "curve")
HEAD = ("schema", "title", "revision", "author", "version", "sources")


def comparison_result(comparison: Comparison) -> dict[str, Any]:
    """Everything a comparison found.

    Parameters
    ----------
    comparison : Comparison
        From :func:`crushleg.design.compare.compare`.

    Returns
    -------
    dict
        Schema "crushleg-comparison-1", ready for JSON. ``girders`` are those compared, each with
        its figures of merit at ``compared_at``, its yardsticks and, under ``check``, what the
        verb `check` gives for it (without folds and curve where one input is varied). ``None``
        where a thing does not apply or has no end.
    """
    case, varied = comparison.first.case, comparison.lineup.varied
    return {
        "schema": SCHEMA,
        "title": case.title,
        "revision": case.revision,
        "author": case.author,
        "version": version("crushleg"),
        "input_sha256": case.input_sha256,
        "kind": comparison.lineup.kind,
        "varied": None if varied is None else {"key": varied.key, "kind": varied.dimension},
        "compared_at": comparison.landed.name,
        "passes": comparison.passes,
        "girders": [_girder(one, whole=varied is None) for one in comparison.compared],
        "findings": findings(comparison),
        "notes": list(comparison.lineup.notes),
        "cautions": list(map(str, comparison_cautions(comparison))),
        "sources": comparison_sources(comparison),
    }


def _girder(one: Compared, *, whole: bool) -> dict[str, Any]:
    slopes = one.sensitivity
    return {
        "name": one.name,
        "value": one.entry.value,
        "text": one.name if one.entry.value is not None else None,
        "passes": one.checked.passes,
        **merits(one.merit),
        "governs": governs(one.checked),
        "sensitivity": None if slopes is None else {"stroke": slopes.stroke, "load": slopes.load},
        "yardsticks": {
            "plain_column": merits(one.plain_merit),
            "round_tube": {
                "diameter_m": one.tube.diameter,
                "wall_m": one.tube.wall,
                "mass_kg": one.merit.mass,
                "mean_force_N": one.tube.force,
                "usable_stroke_m": one.tube.usable,
                "specific_energy_J_kg": one.tube.specific_energy,
                "in_tested_range": one.tube.in_range,
                **_stopped(one.tube.stopped),
            },
            "constant_force": _stopped(one.ideal),
        },
        "check": _check(one.checked, whole=whole),
    }


def merits(merit: Merit) -> dict[str, Any]:
    """Figures of merit with their units in the keys."""
    return {
        "mass_kg": merit.mass,
        "first_peak_N": merit.first_peak,
        "mean_force_N": merit.mean_force,
        "last_over_first_fold": merit.ramp,
        "strongest_over_first_zone": merit.rise,
        "usable_stroke_m": merit.usable,
        "specific_energy_J_kg": merit.specific_energy,
        "efficiency": merit.efficiency,
        "stroke_needed_m": number(merit.stroke),
        "leg_load_N": merit.load,
        "deceleration_m_s2": merit.deceleration,
        "bottomed": merit.bottomed,
        "sequence_margin": number(merit.sequence),
        "from_the_foot": merit.from_foot,
        "governing_margin": number(merit.governing),
    }


def number(value: float | None) -> float | None:
    """Return the value; None where there is none or no end."""
    return value if value is not None and math.isfinite(value) else None


def governs(checked: Checked) -> dict[str, str]:
    """Check and touchdown of the lowest counted margin."""
    margin = checked.margins[checked.governs]
    return {"check": margin.check, "touchdown": margin.touchdown}


def _stopped(stopped: Stopped | None) -> dict[str, float | None]:
    stroke, load, slowing = stopped or (None, None, None)
    return {
        "stroke_m": number(stroke),
        "leg_load_N": number(load),
        "deceleration_m_s2": number(slowing),
    }


def _check(checked: Checked, *, whole: bool) -> dict[str, Any]:
    left_out = HEAD if whole else (*HEAD, *LONG)
    return {key: value for key, value in result(checked).items() if key not in left_out}
