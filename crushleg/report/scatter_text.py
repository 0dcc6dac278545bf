"""The printed report of a study: verdict, inputs, probabilities, limits, drivers, worst landing."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from rich.console import Console

from crushleg.cautions import SCREENING
from crushleg.report import scatter_tables
from crushleg.report.layout import Heading, Items, Pairs, Paragraph, items, plain_text, print_blocks
from crushleg.report.notes import shown_cautions
from crushleg.report.scatter_drivers import drivers
from crushleg.report.scatter_words import named, percent
from crushleg.report.sources import sources
from crushleg.report.text import BAD, GOOD, header
from crushleg.report.words import margin_text
from crushleg.scatter.statistics import failures
from crushleg.units import plain

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.report.layout import Block
    from crushleg.scatter.outcome import Outcome

INPUTS = (
    "A probability is that of the inputs and distributions above and of this model; tails beyond "
    "your data are a guess."
)
NOMINAL = (
    "One landing has one girder, without a band: what is not listed does not scatter and has its "
    "nominal value in every landing."
)
CRESTS = (
    "Crests of later folds are nominal in every landing, {ratio:g} of their mean; measured ones "
    "swing from {low:g} to {high:g}: let girder.crest_ratio.1 scatter, or loads are too even."
)
EVEN = (
    "Every landing crushes its legs evenly, level: one leg low and the rest high, as the check of "
    "the case takes it, is in no clearance here"
)
METHODS = {
    "sobol": "scrambled Sobol sequence",
    "latin hypercube": "Latin hypercube",
    "random": "independent random numbers",
}
STATISTICS = (
    (
        "Interval of a probability: C. J. Clopper, E. S. Pearson, Biometrika 26 (1934) 404 "
        "[from memory]"
    ),
    (
        "Tolerance limits by rank: S. S. Wilks, Ann. Math. Stat. 12 (1941) 91; factors k by the "
        "noncentral t distribution, as tabled in ISO 16269-6 [from memory]"
    ),
    "Correlation by normal scores (Gaussian copula): A. Nataf (1962) [from memory]",
)
SHARES = (
    "Shares of the variance: A. Saltelli et al., Comput. Phys. Commun. 181 (2010) 259; M. J. W. "
    "Jansen (1999) [from memory]"
)


def print_scatter(outcome: Outcome, console: Console | None = None, units: str = "si") -> None:
    """Print the report of a study on a console, standard output when left out."""
    print_blocks(render(outcome, units), Console() if console is None else console)


def scatter_text(outcome: Outcome, units: str = "si") -> str:
    """Return the report as plain text, as it goes into a pipe or a file."""
    return plain_text(render(outcome, units))


def render(outcome: Outcome, units: str = "si") -> list[Block]:
    """Blocks of the report in their order.

    Parameters
    ----------
    outcome : Outcome
    units : str, optional
        "si" or "us".

    Returns
    -------
    list of blocks
    """
    return [
        *header(outcome.checked),
        *_verdict(outcome),
        *_study(outcome),
        *scatter_tables.inputs(outcome, units),
        *scatter_tables.probabilities(outcome),
        *scatter_tables.tolerances(outcome, units),
        *scatter_tables.quantities(outcome, units),
        *drivers(outcome, units),
        *scatter_tables.worst(outcome, units),
        Heading("Cautions"),
        items([*cautions(outcome), *_of_the_case(outcome)], units),
        Heading("Sources of these numbers"),
        Items(study_sources(outcome)),
        Heading("Before you use this"),
        Paragraph(SCREENING, "bold"),
    ]


def _verdict(outcome: Outcome) -> Iterator[Block]:
    study = outcome.study
    found = failures(study)[-1]
    if not study.complete:
        text = f"INTERRUPTED: {len(study.number)} of {study.total} landings; those are shown."
        yield Paragraph(text, BAD)
    if found.failed:
        yield Paragraph(
            f"FAILS in {found.failed} of {found.landings} landings: a counted margin is negative "
            f"with a probability of {percent(found.probability)} %, between {percent(found.low)} "
            f"and {percent(found.high)} % (95 % confidence).",
            BAD,
        )
    else:
        yield Paragraph(
            f"NO FAILURE in {found.landings} landings. That is no proof of none: the probability "
            f"of a negative counted margin may be up to {percent(found.high)} % (upper end of the "
            "95 % interval).",
            GOOD,
        )
    checked = outcome.checked
    governs = checked.margins[checked.governs]
    value = float("nan") if governs.margin is None else float(governs.margin[0])
    yield Paragraph(
        f"The case itself, with its whole band, {'passes' if checked.passes else 'FAILS'} its "
        f"check: {named((governs.check, governs.touchdown))} governs, {margin_text(value)}."
    )


def _study(outcome: Outcome) -> Iterator[Block]:
    scatter, study = outcome.plan.scatter, outcome.study
    yield Pairs(
        [
            ("landings", f"{len(study.number)} of {study.total}, all touchdowns in each"),
            ("drawn by", METHODS[scatter.method]),
            ("seed", str(scatter.seed)),
        ]
    )
    notes = [note for note in study.notes if note != "interrupted"]
    if notes:
        yield Items(notes)


def cautions(outcome: Outcome) -> list[str]:
    """Say what a probability of this study does not hold.

    Parameters
    ----------
    outcome : Outcome

    Returns
    -------
    list of str
    """
    return [
        INPUTS,
        NOMINAL,
        *_steady(outcome),
        *_even(outcome),
        *_judgement(outcome),
        *_together(outcome),
        "Touchdowns are drawn independently of each other.",
        *_resolution(outcome),
    ]


def _steady(outcome: Outcome) -> Iterator[str]:
    """Say which values are the same in every landing that a reader would expect to scatter."""
    keys = {one.key for one in outcome.plan.inputs}
    if not any(key.startswith("girder.crest_ratio") for key in keys):
        ratio = outcome.case.girder.crest_ratio
        yield CRESTS.format(ratio=ratio.nominal, low=ratio.low, high=ratio.high)
    names = [touchdown.name for touchdown in outcome.case.touchdowns]
    steady = [name for name in names if f"touchdown.{name}.vertical_speed" not in keys]
    if steady:
        yield f"Touchdown speed is the same in every landing: {', '.join(steady)}."


def _even(outcome: Outcome) -> Iterator[str]:
    """Say what the check of the case judges of uneven crush and no landing does."""
    judged = [
        (one.check, one.touchdown)
        for one in outcome.checked.margins
        if one.margin is not None and one.counts
    ]
    never = {
        name
        for name, margin in zip(outcome.study.names, outcome.study.margin, strict=True)
        if np.isnan(margin).all()
    }
    alone = "; ".join(named(name) for name in judged if name in never)
    if alone:
        yield f"{EVEN}; judged by the check alone, in no probability: {alone}."
    elif any(check == "clearance" for check, _ in judged):
        yield f"{EVEN}."


def _judgement(outcome: Outcome) -> Iterator[str]:
    guessed = [one.key for one in outcome.plan.inputs if "judgement" in one.source]
    if guessed:
        yield f"Scatter by judgement, to be replaced by your data: {', '.join(guessed)}."


def _together(outcome: Outcome) -> Iterator[str]:
    if outcome.plan.correlations:
        yield "Correlations are assumptions; inputs without one are drawn independently."
    elif len(outcome.plan.inputs) > 1:
        yield "All inputs are drawn independently of each other."


def _resolution(outcome: Outcome) -> Iterator[str]:
    study = outcome.study
    if outcome.plan.scatter.method != "random":
        yield (
            "Intervals and tolerance limits are for independent landings; this method spreads them "
            "more evenly, which usually makes them wider than need be."
        )
    few = plain(1000.0 / len(study.number), 2)
    yield f"Probabilities below about {few} % are not resolved by this many landings."
    if outcome.worst is not None and outcome.worst.leg is not None:
        yield "Legs differ: the case of the worst landing holds the girder of one of them."


def _of_the_case(outcome: Outcome) -> list[str]:
    return [text for text in shown_cautions(outcome.checked) if text != SCREENING]


def study_sources(outcome: Outcome) -> list[str]:
    """List the references behind a study, their status in brackets; those of the check behind."""
    shares = [] if outcome.indices is None else [SHARES]
    return [*STATISTICS, *shares, *sources(outcome.checked)]
