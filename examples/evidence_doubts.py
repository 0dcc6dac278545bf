"""Doubts of the evidence page that no margin of the leg's check shows, and how any is written."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from evidence_laws import girders_of

import crushleg
from crushleg.girder.crush import crush
from crushleg.landing.motion.assemble import Landing, assemble, curves_for
from crushleg.landing.motion.outcome import outcome
from crushleg.landing.motion.run import run

if TYPE_CHECKING:
    from crushleg.case.records import Case
    from crushleg.landing.motion.outcome import Outcome

HERE = Path(__file__).parent
SOFT_GROUND = "godwit-soft-ground.toml"


class Moved(NamedTuple):
    """An input as it is or changed, with the lowest margins of leg load and stroke then."""

    input: str
    leg_load: str
    stroke: str
    note: str = ""


class Doubt(NamedTuple):
    """What is not validated, why it matters, and what it moves; no rows where not computed."""

    what: str
    why: str
    moved: tuple[Moved, ...] = ()


def splits() -> Doubt:
    """Say whether an alloy tears at the holes."""
    of = Counter(crushleg.find_material(name, HERE).crushing for name in crushleg.datasheet_names())
    counts = ", ".join(f"{count} of {of.total()} “{word}”" for word, count in sorted(of.items()))
    return Doubt(
        "Splitting of hardened alloys at the holes",
        "Whether a fold tears open is not computed, and a torn fold takes less than any curve here "
        f"says. The datasheets say how an alloy is known to crush, no more ({counts}); T4 and "
        "annealed stainless steel are taken as ductile.",
    )


def ground() -> Doubt:
    """Say what the ground does, as far as it is modelled."""
    soft = crushleg.read_case(HERE / SOFT_GROUND)
    rows = []
    for case, name in ((soft, "ground that gives"), (replace(soft, ground=None), "hard ground")):
        landed = _landed(case)
        rows.append(
            Moved(
                name,
                "–",
                "–",
                f"longest stroke {1e3 * landed.stroke.max():.0f} mm, pads sink "
                f"{1e3 * landed.sunk.max():.0f} mm, leg load {landed.axial.max() / 1e3:.1f} kN",
            )
        )
    return Doubt(
        "Landing on real ground",
        "Ground is a plane, hard or of one bearing law; friction is one number; no stones, craters "
        "or edges. Rows: the Godwit on soft ground, motion in time.",
        tuple(rows),
    )


def _landed(case: Case) -> Outcome:
    """First touchdown of a case in motion, legs of nominal force."""
    found = crush(girders_of(case))
    plan = Landing(case.touchdowns[0], (1,) * case.vehicle.legs, case.leg.pad_friction)
    setup, start = assemble(case, found, [plan])
    curves = curves_for(found)
    return outcome(found, curves, setup, run(setup, curves, start))


def bending(case: Case) -> Doubt:
    """Say whether a column stays straight while it folds."""
    girder = case.girder
    slender = girder.length / (0.5 * (girder.width + girder.depth) - girder.wall)
    return Doubt(
        "Overall bending once folds tilt the column",
        "Not computed: plain tubes have folded progressively up to L/C of about 8 to 10 (from "
        f"memory), and the Dunlin's girder has {slender:.1f}. A girder that buckles sideways takes "
        "a small part of its crush energy.",
    )
