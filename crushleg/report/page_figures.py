"""What each figure of a page is called, and what it says to those who do not see it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping

    from matplotlib.figure import Figure

LEVELS = "A broken line is low force, a full line nominal, a chain line high."
WORDS = (
    (
        r"force-stroke",
        "Crush force against stroke",
        (
            "Force of one girder over its crush stroke, fold by fold, with the stop of every "
            f"touchdown, the usable stroke and the load limit. {LEVELS} The numbers stand under "
            "Folds and Touchdowns."
        ),
    ),
    (
        r"energy-stroke",
        "Energy against stroke",
        (
            "Energy that all legs take over the stroke, and what each touchdown asks for, to its "
            f"stop. {LEVELS} The numbers stand under Touchdowns."
        ),
    ),
    (
        r"force-time",
        "Force against time",
        (
            "Axial load of one leg over the time after contact, a panel for each touchdown. "
            f"{LEVELS} Peaks and times to stop stand under Touchdowns."
        ),
    ),
    (
        r"girder",
        "Faces of the girder",
        (
            "Faces of the girder to scale, foot at the bottom, with the rows of holes, the "
            "ligaments between them and the folds in their order. The numbers stand in the table "
            "of rows."
        ),
    ),
    (
        r"land-(?P<who>.+)-time",
        "{who}: loads and strokes against time",
        (
            "Axial load and stroke of every leg over the time after contact. Largest values of "
            "every leg stand in the table of this landing."
        ),
    ),
    (
        r"land-(?P<who>.+)-side",
        "{who}: side view",
        (
            "The vehicle to scale at contact, at its largest deceleration and at the end. "
            "Outcome, lean and clearance stand in the table of this landing."
        ),
    ),
    (
        r"land-overview",
        "All landings",
        (
            "Strokes and loads of all landings beside their limits. The numbers stand under All "
            "landings."
        ),
    ),
    (
        r"land-stability",
        "Stability map",
        (
            "How a landing ends over vertical and horizontal speed: areas differ by shade, hatch "
            "and name. The same outcomes stand in words under Stability map."
        ),
    ),
    (
        r"compare-curves",
        "Force against stroke of every girder",
        (
            f"A panel for each girder, the others grey behind it. {LEVELS} Forces and strokes "
            "stand in the tables of girders and touchdown."
        ),
    ),
    (
        r"compare-girders",
        "Faces of every girder",
        ("Faces of all girders side by side to one scale, foot at the bottom."),
    ),
    (
        r"compare-margins",
        "Margins against the varied input",
        (
            "Every margin over the input that is varied; below zero is shaded and named. "
            "Governing margins stand under Margins."
        ),
    ),
    (
        r"size-front",
        "Girders looked at",
        (
            "Mass against leg load and stroke of every girder looked at; those that no other "
            "betters have the numbers of their table."
        ),
    ),
    (
        r"follow",
        "Force wanted and found",
        (
            "Mean folding force found over stroke, beside the wanted line and the least and most "
            "that the section reaches. The numbers stand in the table of mean force."
        ),
    ),
    (
        r"nomogram(-\\d+)?",
        "From measured crush to energy and speed",
        (
            "Rulers under each other: crush, work of one leg and speed at low, nominal and high "
            "force, read straight down. The same values stand in the table from crush to speed."
        ),
    ),
    (
        r"measured-curves",
        "Measured over predicted force",
        (
            f"Measured force of every test over the predicted band. {LEVELS} Energies and peaks "
            "stand under Measured against predicted."
        ),
    ),
    (
        r"measured-factors",
        "Measured over predicted energy",
        (
            "Ratio of every test by batch, with the limits of its batch and of the next test. The"
            " numbers stand under Force factor."
        ),
    ),
    (
        r"inspection",
        "Legs on their curve and in plan",
        (
            "Crush force over stroke with a dot where each leg stopped, crush leg by leg, and the"
            " legs in plan with the direction of lean. The numbers stand under Legs as read and "
            "At rest."
        ),
    ),
    (
        r"scatter-histogram",
        "Landings counted by margin and load",
        (
            "Histograms of the governing margin, leg load and stroke of all landings with their "
            "limits. Percentiles stand in their table."
        ),
    ),
    (
        r"scatter-curves",
        "Fan of crush curves",
        ("Percentiles of the load of one leg over stroke among all landings."),
    ),
    (
        r"scatter-convergence",
        "Probability against number of landings",
        (
            "Probability of a negative counted margin, with its 95 % interval, as landings are "
            "added."
        ),
    ),
    (
        r"scatter-speed",
        "Leg load, stroke and failures against speed",
        (
            "Every landing over its touchdown speed, with the share of landings that exceeds each"
            " level."
        ),
    ),
    (
        r"scatter-tornado",
        "What drives the margins",
        (
            "Each margin with one input at its 5 % and 95 % value, largest effect on top. The "
            "numbers stand under What drives the margins."
        ),
    ),
)
"""Pattern of the name, title, and what the figure says."""


class Drawing(NamedTuple):
    """A figure on the page; ``says`` stands for it where it is not seen."""

    name: str
    title: str
    says: str
    figure: Figure


def drawings(figures: Mapping[str, Figure]) -> tuple[Drawing, ...]:
    """Figures of a verb by their names, with their words."""
    return tuple(Drawing(name, *words_of(name), figure) for name, figure in figures.items())


def words_of(name: str) -> tuple[str, str]:
    """Title of a figure and what it says.

    >>> words_of("land-level-side")[0]
    'level: side view'
    """
    for pattern, title, says in WORDS:
        found = re.fullmatch(pattern, name)
        if found:
            return title.format(who=found.groupdict().get("who", "").replace("-", " ")), says
    raise KeyError(name)
