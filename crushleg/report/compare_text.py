"""The printed report of a comparison: verdict first, then tables, then what they say."""

from __future__ import annotations

from importlib.metadata import version
from typing import TYPE_CHECKING

from rich.console import Console

from crushleg.cautions import NOT_JUDGED, SCREENING
from crushleg.report import compare_slopes, compare_tables
from crushleg.report.compare_words import findings
from crushleg.report.layout import Heading, Items, Paragraph, items, plain_text, print_blocks
from crushleg.report.notes import shown_cautions
from crushleg.report.sources import sources
from crushleg.report.text import BAD, GOOD, HASH_DIGITS
from crushleg.units import show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.design.compare import Comparison
    from crushleg.report.layout import Block

TUBE_SOURCE = (
    "Round tube: mean force 72.3 (D/t)^0.32 s0 t²/4, S. R. Guillow, G. Lu, R. H. Grzebieta, Int. "
    "J. Mech. Sci. 43 (2001) 2103, 70 tests [published, abstract; D/t 10 to 450 from memory]; D is "
    "the mean diameter of equal mass at the girder's mean wall and length, s0 the nominal flow "
    "stress, usable stroke that of the plain column [judgement]"
)
IDEAL_SOURCE = (
    "Constant force: Wn + m v²/(2 S) of all legs, S the stroke that may be used [derived]"
)


def print_comparison(
    comparison: Comparison, console: Console | None = None, units: str = "si"
) -> None:
    """Print the report of a comparison on a console, standard output when left out.

    Parameters
    ----------
    comparison : Comparison
        From :func:`crushleg.design.compare.compare`.
    console : Console, optional
    units : str
        "si" or "us".
    """
    print_blocks(render(comparison, units), Console() if console is None else console)


def comparison_text(comparison: Comparison, units: str = "si") -> str:
    """Return the report as plain text, as it goes into a pipe or a file."""
    return plain_text(render(comparison, units))


def render(comparison: Comparison, units: str = "si") -> list[Block]:
    """Blocks of the report in their order."""
    return [
        *_header(comparison),
        *_verdict(comparison),
        *_conditions(comparison, units),
        *compare_tables.girders(comparison, units),
        *compare_tables.landing(comparison, units),
        *compare_tables.margins(comparison),
        *compare_slopes.against(comparison),
        *compare_slopes.sensitivities(comparison),
        Heading(_said(comparison)),
        Items(findings(comparison, units)),
        Heading("Cautions"),
        items(comparison_cautions(comparison), units),
        Heading("Sources of these numbers"),
        Items(comparison_sources(comparison)),
        Heading("Before you use this"),
        Paragraph(SCREENING, "bold"),
    ]


def _said(comparison: Comparison) -> str:
    varied = comparison.lineup.varied
    return f"What {varied.key} moves" if varied else "What the schemes buy and cost"


def _header(comparison: Comparison) -> Iterator[Block]:
    case = comparison.first.case
    varied, many = comparison.lineup.varied, len(comparison.compared)
    what = f"{many} values of {varied.key}" if varied else f"comparison of {many} girders"
    yield Paragraph(f"{case.title}: {what}", "bold")
    said = [f"revision {case.revision}", f"author {case.author}" if case.author else ""]
    digest = f"input {case.input_sha256[:HASH_DIGITS]}"
    yield Paragraph(", ".join(x for x in [*said, digest, f"crushleg {version('crushleg')}"] if x))


def _verdict(comparison: Comparison) -> Iterator[Block]:
    passing = [one.name for one in comparison.compared if one.checked.passes]
    failing = [one.name for one in comparison.compared if not one.checked.passes]
    if not failing:
        text = f"ALL {len(passing)} PASS this screening check: no counted margin is negative."
        yield Paragraph(text, GOOD)
        return
    count = f"{len(failing)} of {len(comparison.compared)}"
    passed = f" Pass: {', '.join(passing)}." if passing else ""
    yield Paragraph(f"{count} FAIL: {', '.join(failing)}.{passed}", BAD)


def _conditions(comparison: Comparison, units: str) -> Iterator[Block]:
    landed = comparison.landed
    speed = show(landed.arrival.vertical, "speed", units)
    mass = show(landed.arrival.mass, "mass", units)
    reserve = " (RESERVE)" if landed.reserve else ""
    yield Paragraph(
        f"Strokes and loads are compared at the touchdown {landed.name}: {mass}, vertical {speed}"
        f"{reserve}; margins count every touchdown, the girder and standing."
    )
    if comparison.lineup.notes:
        yield Items(comparison.lineup.notes)


def comparison_cautions(comparison: Comparison) -> list[str]:
    """Cautions of every girder, equal ones once, with the names they hold for."""
    every = [one.name for one in comparison.compared]
    found: dict[str, list[str]] = {}
    for one in comparison.compared:
        for text in shown_cautions(one.checked):
            if not text.startswith(NOT_JUDGED):
                found.setdefault(text, []).append(one.name)
    said = [
        text if names == every else f"{', '.join(names)}: " + text for text, names in found.items()
    ]
    tubes = [one.name for one in comparison.compared if not one.tube.in_range]
    if tubes:
        said.append(f"Round tube beside {', '.join(tubes)}: D/t outside 10 to 450, not tested.")
    return said


def comparison_sources(comparison: Comparison) -> list[str]:
    """List the references behind the numbers of all girders and yardsticks, each once."""
    every = (text for one in comparison.compared for text in sources(one.checked))
    return [*dict.fromkeys(every), TUBE_SOURCE, IDEAL_SOURCE]
