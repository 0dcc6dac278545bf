"""The results of a sizing and of a schedule as plain data: SI, keys end in their unit."""

from __future__ import annotations

import math
from importlib.metadata import version
from typing import TYPE_CHECKING, Any

from crushleg.cautions import SCREENING
from crushleg.design.conflict import conflicts
from crushleg.design.judge import LOAD, MASS, STROKE
from crushleg.report.data import result
from crushleg.report.size_words import left_out, reach_items, stops_saving, tools_of

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.design.choice import Choice, Space
    from crushleg.design.settled import Schedule, Sizing

SIZE_SCHEMA, FOLLOW_SCHEMA = "crushleg-size-1", "crushleg-follow-1"


def sizing_result(job: Sizing) -> dict[str, Any]:
    """Everything a sizing found, ready for JSON.

    Parameters
    ----------
    job : Sizing

    Returns
    -------
    dict
        Schema "crushleg-size-1". ``design`` is the girder found, or the one that lacks least
        where ``found`` is false; ``check`` is the result of the written case.
    """
    sized = job.sized
    space = sized.archive.space
    return {
        "schema": SIZE_SCHEMA,
        **_head(job),
        "found": job.written is not None,
        "interrupted": sized.interrupted,
        "girders_looked_at": len(sized.archive),
        "girders_that_fit": int(sized.feasible.sum()),
        "walls_m": list(space.walls),
        "walls_too_weak_m": [t for t in sized.walls_asked if t not in space.walls],
        "design": _design(job, space, job.choice)
        | {"mass_kg": float(sized.archive.values[job.place, MASS])},
        "mass_before_kg": float(sized.before.crush.mass[0]),
        "stops_saving": list(stops_saving(job, "si")) if job.written else [],
        "lighter_neighbours": [
            {"mass_kg": one.mass, **one.label._asdict(), "margin": one.margin}
            for one in sized.lighter
        ],
        "conflicts": [
            {
                **one.label._asdict(),
                "margin": one.margin,
                "met_by": one.met,
                "best_margin": one.best,
                "then_missed": [{**m.label._asdict(), "margin": m.margin} for m in one.then],
            }
            for one in conflicts(sized)
        ],
        "front": [_member(job, space, place) for place in sized.front],
        "check": None if job.written is None else result(job.written.checked),
        "cautions": [SCREENING],
    }


def schedule_result(job: Schedule) -> dict[str, Any]:
    """Everything found about a schedule that follows a line; schema "crushleg-follow-1"."""
    found = job.followed
    curve, reach = found.curve, found.reach
    return {
        "schema": FOLLOW_SCHEMA,
        **_head(job),
        "interrupted": found.interrupted,
        "girders_looked_at": len(found.archive),
        "line": found.line.text,
        "rms_deviation_N": found.rms,
        "largest_deviation_N": found.largest,
        "largest_deviation_at_m": found.where,
        "rms_without_order_N": found.loose,
        "out_of_reach": {
            "share_above": reach.above,
            "most_above_N": reach.over,
            "share_below": reach.below,
            "most_below_N": reach.under,
        },
        "said": reach_items(job, "si"),
        "design": _design(job, found.archive.space, job.choice),
        "curve": {
            "stroke_m": curve.middle[0].tolist(),
            "wanted_N": found.wanted.tolist(),
            "mean_force_low_N": curve.force[0, 0].tolist(),
            "mean_force_nominal_N": curve.force[1, 0].tolist(),
            "mean_force_high_N": curve.force[2, 0].tolist(),
            "least_in_reach_N": reach.least.tolist(),
            "most_in_reach_N": reach.most.tolist(),
        },
        "check": result(job.written.checked),
        "cautions": [SCREENING],
    }


def _head(job: Sizing | Schedule) -> dict[str, Any]:
    case = job.original.case
    return {
        "title": case.title,
        "revision": case.revision,
        "version": version("crushleg"),
        "input_sha256": case.input_sha256,
        "seed": job.seed,
        "case_file": None if job.written is None else str(job.file),
        "not_kept": left_out(job),
    }


def _design(job: Sizing | Schedule, space: Space, choice: Choice) -> dict[str, Any]:
    girder = space.girder(choice)
    return {
        "wall_m": girder.wall,
        "length_m": girder.length,
        "rows": [
            {"height_m": row.height, "size_m": row.size, "size_along_m": row.along, "tool": tool}
            for row, tool in zip(girder.holes.rows, tools_of(job, space, choice), strict=True)
        ],
    }


def _member(job: Sizing, space: Space, place: int) -> dict[str, Any]:
    archive = job.sized.archive
    values: FloatArray = archive.values[place]
    choice = archive.choices[place]
    girder = space.girder(choice)
    return {
        "mass_kg": _number(values[MASS]),
        "leg_load_N": _number(values[LOAD]),
        "stroke_m": _number(values[STROKE]),
        "wall_m": girder.wall,
        "length_m": girder.length,
        "first_m": space.metres(choice.first),
        "row_pitch_m": space.metres(choice.pitch) if len(choice.sizes) > 1 else None,
        "sizes_m": [row.size for row in girder.holes.rows],
    }


def _number(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None
