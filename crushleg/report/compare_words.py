"""What a comparison found, in sentences made from its numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.design.merit import foot_shares, margin_value
from crushleg.report.compare_tables import PER_MASS
from crushleg.report.words import check_name, margin_text
from crushleg.units import express, plain, show

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from crushleg.case.records import Girder
    from crushleg.design.compare import Compared, Comparison
    from crushleg.design.merit import Merit

ALIKE = 0.005
SAME_MARGIN = 5e-4
"""Relative difference, and difference of a margin, below which two girders count as equal."""


class Trait(NamedTuple):
    """A figure of merit: its name, its kind ("" for a ratio), and which way it gets better."""

    name: str
    kind: str
    better: float
    read: Callable[[Merit], float]


LESS, MORE = -1.0, 1.0
"""Which way a figure of merit gets better."""
TRAITS = (
    Trait("first peak", "force", LESS, lambda m: m.first_peak),
    Trait("leg load", "force", LESS, lambda m: m.load),
    Trait("deceleration", "g0", LESS, lambda m: m.deceleration),
    Trait("mass", "mass", LESS, lambda m: m.mass),
    Trait("stroke", "length", LESS, lambda m: m.stroke),
    Trait("mean force", "force", MORE, lambda m: m.mean_force),
    Trait("specific energy", "per mass", MORE, lambda m: m.specific_energy),
    Trait("E/(Fpeak S)", "", MORE, lambda m: m.efficiency),
)
LANDING = ("leg load", "deceleration", "stroke", "E/(Fpeak S)")
"""Figures that mean nothing once a leg bottoms."""
BEST = ("leg load", "stroke", "mass", "specific energy")


def findings(comparison: Comparison, units: str = "si") -> list[str]:
    """Say what was found: for schemes what holes buy and cost, for a varied input its trends.

    Parameters
    ----------
    comparison : Comparison
    units : str
        "si" or "us".

    Returns
    -------
    list of str
        Every number and every direction is that of this comparison.
    """
    if comparison.lineup.kind == "vary":
        return [*_trends(comparison, units), *_governs(comparison)]
    seen: dict[Girder, Compared] = {}
    for one in comparison.compared:
        seen.setdefault(one.checked.case.girder, one)
    return [
        *(text for one in seen.values() for text in _holes(one, comparison, units)),
        *_best(comparison, units),
        *_ideal(comparison, units),
    ]


def _holes(one: Compared, comparison: Comparison, units: str) -> Iterator[str]:
    """Say what the holes of a girder buy and cost against its own plain column."""
    if not one.drilled:
        if max(one.merit.rise, one.merit.ramp) >= 1.0 + ALIKE:
            yield _ramp(one)
        return
    buys: list[str] = []
    costs: list[str] = []
    bottoms = one.merit.bottomed or one.plain_merit.bottomed
    for trait in TRAITS:
        if bottoms and trait.name in LANDING:
            continue
        ours, bare = trait.read(one.merit), trait.read(one.plain_merit)
        change = ours / bare - 1.0 if np.isfinite([ours, bare]).all() else np.nan
        if not abs(change) >= ALIKE:
            continue
        text = (
            f"{trait.name} {100.0 * change:+.0f} % "
            f"({_amount(ours, trait, units)} against {_amount(bare, trait, units)})"
        )
        (buys if change * trait.better > 0.0 else costs).append(text)
    order = one.merit.sequence
    if order is not None:
        which, side = ("an", buys) if order >= 0.0 else ("no sure", costs)
        side.append(f"{which} order from the foot (sequence margin {margin_text(order)})")
    yield (
        f"{one.name}, against its plain column: its holes buy {_listed(buys)}; "
        f"they cost {_listed(costs)}."
    )
    yield _ramp(one)
    if bottoms:
        which = one.name if one.merit.bottomed else f"the plain column of {one.name}"
        yield f"{which} bottoms at {comparison.landed.name}: strokes and loads are not compared."
    else:
        yield from _speeds(one, comparison, units)


def _amount(value: float, trait: Trait, units: str) -> str:
    """Write one figure of merit with its unit."""
    if trait.kind == "g0":
        return f"{express(value, 'g0'):.2f} g0"
    if trait.kind == "per mass":
        energy, mass = PER_MASS[units]
        return f"{plain(express(value, energy) / express(1.0, mass))} {energy}/{mass}"
    return show(value, trait.kind, units) if trait.kind else f"{value:.2f}"


def _listed(texts: Sequence[str]) -> str:
    return ", ".join(texts) or "nothing that can be told apart"


def _ramp(one: Compared) -> str:
    """How strongly start and mean forces are graded, and what a net-area rule would have said."""
    graded = (
        f"{one.name}{'' if one.drilled else ', without holes'}: from the first zone to the "
        f"strongest the force that starts a fold rises {one.merit.rise:.2f} times, from first to "
        f"last fold the mean force {one.merit.ramp:.2f} times."
    )
    if not one.drilled:
        return graded
    net, mean = foot_shares(one.checked, one.plain)
    return (
        f"{graded} Where it folds first, {100.0 * net:.0f} % of the section is left and "
        f"{100.0 * mean:.0f} % of the plain mean force: a rule that scales mean force with net "
        f"area {'overstates' if net < mean else 'understates'} the softening there."
    )


def _speeds(one: Compared, comparison: Comparison, units: str) -> Iterator[str]:
    """How the leg load follows the severity of the touchdown, beside the plain column."""
    landings = one.checked.landings
    kinetic = [landed.arrival.kinetic for landed in landings]
    mild = int(np.argmin(kinetic))
    if kinetic[mild] >= kinetic[comparison.touchdown]:
        return
    loads = [
        [float(of.landings[i].peak[:, 0].max()) for i in (mild, comparison.touchdown)]
        for of in (one.checked, one.plain)
    ]
    ours, bare = (100.0 * (hard / soft - 1.0) for soft, hard in loads)
    low, high = (show(load, "force", units) for load in loads[0])
    yield (
        f"{one.name}: from {landings[mild].name} to {landings[comparison.touchdown].name} the "
        f"leg load goes from {low} to {high} ({ours:+.0f} %; plain column {bare:+.0f} %)."
    )


def _best(comparison: Comparison, units: str) -> Iterator[str]:
    """Which girder leads in what, among those that pass."""
    passing = [one for one in comparison.compared if one.checked.passes]
    if not passing:
        yield "None of them passes: no girder leads."
        return
    said = []
    for trait in TRAITS:
        if trait.name not in BEST:
            continue
        values = [trait.better * trait.read(one.merit) for one in passing]
        best = max(values)
        names = _leaders(passing, values, ALIKE * abs(best))
        amount = _amount(abs(best), trait, units)
        word = "least" if trait.better == LESS else "most"
        said.append(f"{word} {trait.name}, {amount}: {names}")
    lowest = [one.merit.governing for one in passing]
    names = _leaders(passing, lowest, SAME_MARGIN)
    said.append(f"highest governing margin, {margin_text(max(lowest))}: {names}")
    yield f"Of those that pass ({len(passing)} of {len(comparison.compared)}): {'; '.join(said)}."


def _leaders(passing: Sequence[Compared], values: Sequence[float], within: float) -> str:
    """Names of those whose value is the largest, or so near that it does not matter."""
    best = max(values)
    return ", ".join(
        one.name for one, value in zip(passing, values, strict=True) if value >= best - within
    )


def _ideal(comparison: Comparison, units: str) -> Iterator[str]:
    """Say which load no girder of this stroke gets below."""
    first = comparison.compared[0]
    ideal = first.ideal
    if ideal is None:
        yield "No constant-force yardstick: the legs of this touchdown do not touch all at once."
        return
    yield (
        f"With the {show(ideal.stroke, 'length', units)} of stroke that {first.name} may use, no "
        f"leg can do with less than a constant {show(ideal.load, 'force', units)}; the load of "
        f"{first.name} is {first.merit.load / ideal.load:.1f} times that."
    )


def _trends(comparison: Comparison, units: str) -> Iterator[str]:
    """Every figure of merit at both ends of the varied input."""
    first, last = comparison.compared[0], comparison.compared[-1]
    varied = comparison.lineup.varied
    said = []
    for trait in TRAITS:
        ends = [trait.read(one.merit) for one in (first, last)]
        if not np.isfinite(ends).all():
            continue
        change = 100.0 * (ends[1] / ends[0] - 1.0)
        both = " to ".join(_amount(x, trait, units) for x in ends)
        said.append(f"{trait.name} {change:+.0f} % ({both})")
    key = varied.key if varied else ""
    yield f"{key} from {first.name} to {last.name}: {', '.join(said)}."


def _governs(comparison: Comparison) -> Iterator[str]:
    """Which margin governs where, and between which values the lowest one changes sign."""
    names = [_name(one) for one in comparison.compared]
    starts = [i for i in range(len(names)) if i == 0 or names[i] != names[i - 1]]
    runs = [
        f"{names[a]} at {comparison.compared[a].name}"
        + (f" to {comparison.compared[b - 1].name}" if b - a > 1 else "")
        for a, b in zip(starts, [*starts[1:], len(names)], strict=True)
    ]
    yield f"Governing: {'; '.join(runs)}."
    lowest = [margin_value(one.checked, one.checked.governs) for one in comparison.compared]
    crossed = [
        f"{comparison.compared[i].name} and {comparison.compared[i + 1].name}"
        for i in range(len(lowest) - 1)
        if (lowest[i] >= 0.0) != (lowest[i + 1] >= 0.0)
    ]
    if crossed:
        yield f"The governing margin changes sign between {'; between '.join(crossed)}."
    else:
        sign = "zero or more" if lowest[0] >= 0.0 else "below zero"
        yield f"The governing margin is {sign} at every value."


def _name(one: Compared) -> str:
    margin = one.checked.margins[one.checked.governs]
    return f"{check_name(margin)} ({margin.touchdown})"
