"""What is not validated, and what each doubt moves: one input changed, everything else as it is.

Of :mod:`evidence`. The leg's margins are those of the Dunlin test stage.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from evidence_doubts import Doubt, Moved, bending, ground, splits
from evidence_laws import OURS, RIVALS, crushed, girders_of, judged

import crushleg
from crushleg.girder.bands import HOLED_SCATTER, PLAIN_SCATTER
from crushleg.girder.crush import crush
from crushleg.girder.curve import fold_curve
from crushleg.girder.folds import cut_folds
from crushleg.girder.strength import flow_stress, hardening_flow_stress
from crushleg.report.words import margin_text
from crushleg.trial.posterior import WITHIN

if TYPE_CHECKING:
    from collections.abc import Sequence

    from crushleg.case.records import Case
    from crushleg.girder.crush import Crush
    from crushleg.girder.pattern import Girders
    from crushleg.margins import Margin

HERE = Path(__file__).parent
LEG = "dunlin.toml"
JUDGED = ("leg_load", "stroke")
AS_IT_IS = "as it is"
PLAIN_OFF, WIDE_SCATTER = 0.10, 0.15
"""Share by which the plain column is moved, and a wide scatter of the model: examples, no claim."""


def lowest(found: Sequence[Margin], check: str) -> tuple[str, str]:
    """Lowest counted margin of a check, as it is printed, and its note."""
    of = [
        (float(m.margin[0]), m.note)
        for m in found
        if m.check == check and m.counts and m.margin is not None
    ]
    value, note = min(of)
    return margin_text(value), note


def doubts(friction: tuple[float, float]) -> list[Doubt]:
    """Everything that is not validated; ``friction`` is the range of ours over simulated energy."""
    case = crushleg.read_case(HERE / LEG)
    girders = girders_of(case)
    return [
        _holes(case, girders),
        _start(case, girders),
        _plain(case, girders, friction),
        _crest(case, girders),
        _scatter(case, girders),
        _flow(case, girders),
        _order(case, girders),
        splits(),
        ground(),
        bending(case),
    ]


def _row(case: Case, of: Crush, text: str, note: str = "") -> Moved:
    found = judged(case, of)
    leg, stroke = (lowest(found, check)[0] for check in JUDGED)
    return Moved(text, leg, stroke, note)


def _factor(girders: Girders, factor: float) -> Crush:
    """Crush with every mean force times a factor."""
    return crush(replace(girders, force_factor=girders.force_factor * factor))


def _holes(case: Case, girders: Girders) -> Doubt:
    rows = [_row(case, crushed(girders, law), law.name) for law in (OURS, *RIVALS)]
    return Doubt(
        "The hole law: mean force of a drilled square column",
        "Derived twice, from one folding element; no test of a drilled square column is at hand. "
        "If holes cost as much as their net area, the leg is softer: it travels farther.",
        tuple(rows),
    )


def _start(case: Case, girders: Girders) -> Doubt:
    peak = crush(girders).first_peak[:, 0]
    rows = []
    for name, factor in zip(("low", AS_IT_IS, "high"), peak / peak[1], strict=True):
        moved = replace(
            girders,
            yield_compression=girders.yield_compression * factor,
            ultimate=girders.ultimate * factor,
        )
        of = crush(moved)
        standing = lowest(judged(case, of), "standing_before")[0]
        note = f"first peak {of.first_peak[1, 0] / 1e3:.0f} kN nominal, standing before {standing}"
        text = (
            name if name == AS_IT_IS else f"strengths in it × {factor:.2f}, nominal at its {name}"
        )
        rows.append(_row(case, of, text, note))
    return Doubt(
        "The force that starts a fold of a drilled wall",
        "Low is an effective width, high the squash of the net section, nominal the mean of the "
        "two: where the truth lies between them is not known. The mean force is left as it is.",
        tuple(rows),
    )


def _plain(case: Case, girders: Girders, friction: tuple[float, float]) -> Doubt:
    rows = [
        _row(case, _factor(girders, factor), f"mean force × {factor:g}")
        for factor in (1.0 - PLAIN_OFF, 1.0, 1.0 + PLAIN_OFF)
    ]
    rows += [
        _row(case, _factor(girders, 1.0 / ratio), f"mean force × {1.0 / ratio:.2f}", "as simulated")
        for ratio in sorted(friction, reverse=True)
    ]
    return Doubt(
        "The plain column: coefficients from memory, friction between folds left out",
        f"Simulated plain tubes took {1.0 / friction[1]:.2f} to {1.0 / friction[0]:.2f} times the "
        "energy of the nominal curve up to where they stopped: with friction between folds "
        "strokes are shorter and loads higher than nominal.",
        tuple(rows),
    )


def _crest(case: Case, girders: Girders) -> Doubt:
    low, middle, high = girders.crest_ratio[:, 0]
    three = f"{low:g} / {middle:g} / {high:g}"
    rows = [_row(case, crush(girders), f"{three}, {AS_IT_IS}")]
    for value in (low, high):
        same = replace(girders, crest_ratio=np.full_like(girders.crest_ratio, value))
        rows.append(_row(case, crush(same), f"{value:g} at every force"))
    return Doubt(
        "The crest ratio of later folds",
        "Crest over mean of a later fold, from measured curves of plain tubes (from memory); of "
        "drilled ones none is at hand.",
        tuple(rows),
    )


def _scatter(case: Case, girders: Girders) -> Doubt:
    rows = [
        _row(
            case,
            crush(girders),
            f"σ {PLAIN_SCATTER:g} to {HOLED_SCATTER:g} with the holes, as it is",
        )
    ]
    for sigma in (WITHIN, WIDE_SCATTER):
        tested = replace(girders, test_scatter=np.full_like(girders.test_scatter, sigma))
        rows.append(_row(case, crush(tested), f"σ {sigma:g}"))
    return Doubt(
        "The scatter of the model",
        "A judgement, on simulated tubes. It makes a large part of the band between low and high.",
        tuple(rows),
    )


def _flow(case: Case, girders: Girders) -> Doubt:
    metal = case.girder.material
    rows = [_row(case, crush(girders), "(s_y + s_u)/2, as it is")]
    if metal.hardening_exponent is not None:
        sy, su = metal.yield_strength.nominal, metal.ultimate_strength.nominal
        other = hardening_flow_stress(sy, su, metal.hardening_exponent)
        factor = float(other / flow_stress(sy, su))
        rows.append(
            _row(case, _factor(girders, factor), f"√(s_y s_u/(1 + n)): force × {factor:.2f}")
        )
    if metal.rate is not None:
        speed = max(touchdown.vertical_speed for touchdown in case.touchdowns)
        fast = replace(case, girder=replace(case.girder, rate=True))
        rows.append(_row(fast, crush(girders_of(fast)), f"with strain rate at {speed:g} m/s"))
    return Doubt(
        "The flow stress, and strain rate",
        "Two flow stresses are common; rate constants are from memory, and rate is off unless the "
        "case asks for it.",
        tuple(rows),
    )


def _order(case: Case, girders: Girders) -> Doubt:
    found = crush(girders)
    sequence = found.sequence._replace(from_foot=np.zeros_like(found.sequence.from_foot))
    folds = cut_folds(girders, found.front, sequence)
    astray = found._replace(sequence=sequence, folds=folds, curve=fold_curve(folds))
    margin, note = lowest(judged(case, found), "collapse_sequence")
    return Doubt(
        "The order of folding",
        f"Collapse sequence {margin} ({note}); the "
        "scatter between neighbouring zones is a judgement. Out of order, loads take the largest "
        "start force of all zones.",
        (
            _row(case, found, "from the foot, as it is"),
            _row(case, astray, "not from the foot"),
        ),
    )
