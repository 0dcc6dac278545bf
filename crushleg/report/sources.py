"""The references behind the numbers of a case, each with how well it is known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.case.assume import CREST_RATIO
from crushleg.girder.strength import ROOM, ROOM_WITHIN

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.case.records import Case, Girder
    from crushleg.check import Checked

DATASHEET_FIELDS = (
    "density",
    "youngs_modulus",
    "poisson_ratio",
    "yield_strength",
    "ultimate_strength",
    "compressive_yield",
    "hardening_exponent",
)

PLAIN = (
    (
        "Mean folding force, fold length and crushed fraction of the plain column: W. Abramowicz, "
        "N. Jones, Int. J. Impact Eng. 2 (1984) 179 and 4 (1986) 243 [coefficients from memory; "
        "ranges of C/t published, abstract]"
    ),
    (
        "Flow stress (s_y + s_u)/2, s_u engineering [common practice, from memory]; "
        "√(s_y s_u/(1+n)) beside it [from memory]"
    ),
    (
        "Force that starts a fold, low: effective width, AISI S100 and EN 1993-1-5 [published]; "
        "high: squash of the net section, continuous strength method for stocky walls [from "
        "memory]; sum over the walls, nominal between the two [derived]"
    ),
    "Wave of force within a fold, mean exactly one [derived]; its trough 0.6 [judgement]",
    (
        "Scatter between neighbouring zones: start force 2 % each (standard deviation), wall in "
        "one sheet ± 1 % [judgement]; collapse sequence [derived]"
    ),
)
HOLES = (
    (
        "Mean force of a drilled fold, R = [(1 - φc)(1 - φh)(1 - φs)]^(1/3): our own derivation, "
        "not yet checked by any test of a drilled square column [derived]"
    ),
    (
        "Effective width of a wall with round holes: AISI S100, d/C to 0.5, C/t to 70, spacing "
        "from 3 d [from memory]"
    ),
    (
        "Web 2 t and 5 mm to be kept [judgement]; hole edge to corner 2 t + R, laser-cut "
        "[published, second-hand]"
    ),
)
SLOTS = (
    "Strips beside slots: outstand element k = 0.425, EN 1993-1-5 [published]; inner strips and "
    "blend from the round hole [derived]"
)
STAGGER = "Staggered rows: practice of perforated sheet, 60° pattern [from memory]"
CREST = (
    "Crest of later folds over their mean, 1.2 / 1.35 / 1.55: measured plain tubes [from memory]"
)
OWN_CREST = "Crest of later folds over their mean [given by the case]"
MODEL = (
    "Scatter of the mean-force model 0.075 plain to 0.10 drilled (standard deviation of the "
    "logarithm) [judgement]"
)
RATE = (
    "Strain rate: G. R. Cowper, P. S. Symonds (1957) [from memory]; rate in a fold 0.33 V/C, "
    "Abramowicz and Jones [from memory]"
)
LANDING = (
    (
        "Touchdown by energy balance, the leg's forces, elastic shortening, rest after the stop "
        "[derived]"
    ),
    "Column: Euler, on the length left [common practice]",
    (
        "Standard gravity 9.80665 m/s2: 3rd General Conference on Weights and Measures, 1901 "
        "[published]"
    ),
)
RESERVE = (
    "Reserve: speed times a factor, the precedent is 1.2 in the former 14 CFR 23.723 [published]; "
    "ultimate factor 1.4 for metal, NASA-STD-5001 [from memory]"
)


def sources(checked: Checked) -> list[str]:
    """List the references behind the numbers of a case, their status in brackets.

    Parameters
    ----------
    checked : Checked

    Returns
    -------
    list of str
        Equations, factors and scatter, then the values of the datasheet; what was assumed is in
        the cautions.
    """
    case = checked.case
    return [
        *PLAIN,
        *_girder(case.girder),
        *LANDING,
        *_reserve(case),
        *_datasheet(case.girder),
    ]


def _girder(girder: Girder) -> Iterator[str]:
    rows = girder.holes.rows
    if rows:
        yield from HOLES
    if any(row.along != row.size for row in rows):
        yield SLOTS
    if any(row.per_face > 1 for row in rows):
        yield STAGGER
    yield CREST if girder.crest_ratio == CREST_RATIO else OWN_CREST
    if girder.correlation is None:
        yield MODEL
    else:
        tests = girder.correlation
        yield (
            f"Force factor {tests.force_factor:g}, scatter {tests.scatter:g}: "
            f"{tests.tests} test(s), {tests.source} [your test]"
        )
    if girder.rate and girder.material.rate is not None:
        yield RATE


def _reserve(case: Case) -> Iterator[str]:
    if any(touchdown.reserve for touchdown in case.touchdowns):
        yield RESERVE


def _datasheet(girder: Girder) -> Iterator[str]:
    """Say where the datasheet's values that enter this case come from, and what replaced them."""
    material, measured = girder.material, girder.measured
    replaced = {
        name
        for name in ("wall", "yield_strength", "ultimate_strength")
        if measured is not None and getattr(measured, name) is not None
    }
    if replaced:
        yield f"Measured or certified: {', '.join(sorted(replaced))} [given by the case]"
    wanted = set(DATASHEET_FIELDS) - replaced
    if material.compressive_yield is not None:
        wanted.add("yield_strength")
    if girder.rate:
        wanted.add("rate")
    if abs(girder.temperature - ROOM) > ROOM_WITHIN:
        wanted.add("strength_with_temperature")
    for value in material.sources:
        if value.field in wanted:
            yield f"Datasheet {material.key}, {value.field}: {value.source} [{value.status}]"
