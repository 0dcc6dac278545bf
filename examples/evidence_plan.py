"""The test that would settle the hole law, as blocks of the evidence page."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from evidence_coupons import (
    CLEAR,
    PLANNED,
    PRIOR,
    Pair,
    after,
    best,
    energy,
    halvings,
    pairs,
    repeats_to_tell,
    window,
)
from evidence_laws import NET_AREA, OURS, RIVALS, WITHOUT_CORNER
from evidence_page import Column, Line, heading, listed, paragraph, table
from evidence_rig import THREE, bands, rig

from crushleg.report.words import fixed, packed
from crushleg.trial.predict import TILT
from crushleg.units import express

if TYPE_CHECKING:
    from collections.abc import Iterator

    from evidence_coupons import Coupon

SERIES = (0, 1, 3, 6, 10, 17)


def plan(coupons: list[Coupon]) -> Iterator[str]:
    """Say what to crush, in what, with what, what it will show, and how often."""
    of = pairs(coupons)
    yield paragraph(verdict(of), "key")
    yield heading(3, "Coupons and what each will show")
    yield paragraph(
        "One alloy, one length of extruded tube cut into all coupons, the same dents at every "
        "foot; mean sizes of holes, graded just enough that the order of folds is sure. The case "
        "files stand beside this script: crushleg check, predict and correlate read them."
    )
    yield bands(coupons)
    yield heading(3, "Rig and instruments")
    yield listed(rig(coupons))
    yield heading(3, "What tells the laws apart")
    yield from _laws(coupons, of)
    yield heading(3, "How many repeats")
    yield from _repeats(coupons, of)
    yield heading(3, "How to read it")
    yield listed(_reading(of))


def verdict(of: list[Pair]) -> str:
    """Which pair discriminates between our law and net area, and by how much."""
    pair = best(of)
    alone, allowed = (pair.sigmas(1, model=model) for model in (False, True))
    least = repeats_to_tell(pair, model=True)
    said = f"{least} of each" if least is not None else "no number"
    return (
        f"The pair {_names(pair)} tells our hole law from the net-area line best: ours says the "
        f"drilled coupon takes {_ratio(pair.ours)} of the energy of the other, net area "
        f"{_ratio(pair.theirs)}. That is {alone:.1f} σ of one test of each (σw {PRIOR.within:g}), "
        f"and {allowed:.1f} σ with phase and model of our law allowed for; {said} puts them "
        f"at least {CLEAR:g} σ apart."
    )


def _ratio(log: float) -> str:
    return f"{math.exp(log):.2f}"


def _names(pair: Pair) -> str:
    return f"{pair.one.name} against {pair.other.name}"


def _laws(coupons: list[Coupon], of: list[Pair]) -> Iterator[str]:
    first, last = window(coupons)
    lines = []
    for coupon in coupons:
        ours = packed([energy(coupon, OURS, (first, last)).tolist()], "kJ")[0]
        rivals = fixed([express(energy(coupon, law, (first, last))[1], "kJ") for law in RIVALS])
        lines.append(Line((coupon.name, ours, *rivals)))
    yield table(
        f"Energy of the folds from {first * 1e3:.1f} to {last * 1e3:.1f} mm of crush (kJ)",
        [
            Column("coupon", number=False),
            Column(f"our law, {THREE}"),
            *(Column(f"{law.name}, nominal") for law in RIVALS),
        ],
        lines,
    )
    yield paragraph(
        "Laws are held to the ratio of two coupons' energies in whole folds that both complete at "
        "nominal force: alloy, wall and what the plain model is off are common to both and drop "
        "out. The first fold is left out for its peak."
    )
    yield table(
        "Ratio of energies by law, and how many σ apart they are with one test of each coupon",
        [
            Column("coupons", number=False),
            Column("rival", number=False),
            Column("ours"),
            Column("rival says"),
            Column("σ of tests alone"),
            Column("σ with our model"),
        ],
        [
            Line(
                (
                    _names(pair),
                    pair.rival.name,
                    _ratio(pair.ours),
                    _ratio(pair.theirs),
                    *(f"{pair.sigmas(1, model=model):.1f}" for model in (False, True)),
                )
            )
            for pair in of
        ],
    )


def _repeats(coupons: list[Coupon], of: list[Pair]) -> Iterator[str]:
    lines = [
        Line(
            (
                half.what,
                f"{half.now:.3f}",
                f"{half.floor:.3f}" if half.floor else "–",
                "never" if half.repeats is None else str(half.repeats),
            )
        )
        for half in halvings(coupons)
    ]
    yield table(
        f"Tests of one batch that halve a scatter (prior σw {PRIOR.within:g}, τ {PRIOR.between:g})",
        [
            Column("scatter, standard deviation of ln(measured/predicted)", number=False),
            Column("before"),
            Column("left at best"),
            Column("tests"),
        ],
        lines,
    )
    yield paragraph(
        "Repeats pin the force factor of a batch fast. They never take the scatter from coupon to "
        "coupon out of the band: what is left at best is σw, and where that is more than half of "
        "what the band has now, no number of tests halves it."
    )
    yield table(
        "After n tests that agree with the prediction",
        [
            Column("n", number=False),
            Column("force factor, 95 %"),
            Column("next coupon, 95 %"),
        ],
        [Line((str(n), *(f"{low:.3f} to {high:.3f}" for low, high in _limits(n)))) for n in SERIES],
    )
    corner = best(of, WITHOUT_CORNER)
    alone, allowed = (repeats_to_tell(corner, model=model) for model in (False, True))
    yield paragraph(
        f"Corner work is harder to see: {_names(corner)}, {_ratio(corner.ours)} against "
        f"{_ratio(corner.theirs)}, takes {_count(alone)} by the scatter of tests alone, and "
        f"{_count(allowed)} once phase and model of our law are allowed for. The plan is "
        f"{PLANNED} of each, the fewest that show their own scatter (judgement)."
    )


def _count(number: int | None) -> str:
    return "more tests than are worth while" if number is None else f"{number} tests of each"


def _limits(n: int) -> list[tuple[float, float]]:
    found = after(n)
    return [found.limits(of_next=of_next) for of_next in (False, True)]


def _reading(of: list[Pair]) -> Iterator[str]:
    pair = best(of)
    middle = 0.5 * (pair.ours + pair.theirs)
    yield (
        f"{_names(pair)}: a ratio of energies above {_ratio(middle)} speaks for our law, below for "
        f"{NET_AREA.name}; far outside both, for neither."
    )
    yield (
        f"A coupon whose crushed end tilts by more than {math.degrees(TILT):.0f}°, that "
        "splits, or that folds in another place than from the foot is reported, and does not count."
    )
    yield (
        "The records go to crushleg correlate with the case of each coupon: its force factor by "
        "d/C is the measured correction of the hole law. Whatever comes out is reported; the law "
        "is not tuned to it."
    )
