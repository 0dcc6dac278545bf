"""Verb ``compare``: hole schemes, several cases, or one input varied, side by side."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from crushleg.verbs.outputs import FOLDERS, NEGATIVE, PASSED, add_case, add_outputs, outputs
from crushleg.verbs.page_files import kept, writing

if TYPE_CHECKING:
    import argparse
    from collections.abc import Mapping
    from pathlib import Path

    from matplotlib.figure import Figure

    from crushleg.design.compare import Comparison
    from crushleg.design.schemes import Lineup
    from crushleg.report.page import Page
    from crushleg.report.page_verbs import Kept

SAYS = "hole schemes, several cases, or one input varied, side by side"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "Which girder is better, and at what price. Side by side at the same touchdowns: the "
        "girder of a case and its [[scheme]] list; the girders of several cases under the "
        "conditions of the first; or one case with one input varied. Exit code 0: every counted "
        "margin of every girder compared is zero or more, 3: one is negative; yardsticks are not"
        " judged. Plots and tables go into " + FOLDERS
    )
    verb.epilog = "example: crushleg compare stage.toml --vary girder.wall=3mm:5mm:9"
    add_case(verb, several=True)
    verb.add_argument(
        "--vary",
        metavar="KEY=FROM:TO:POINTS",
        action="append",
        default=[],
        help="vary one case key, 2 to 101 values: girder.wall=1.5mm:3mm:7",
    )
    add_outputs(verb)


def run(arguments: argparse.Namespace) -> int:
    """Compare; text first, then files, then plots."""
    from crushleg.design.compare import compare
    from crushleg.report.compare_data import comparison_result
    from crushleg.report.compare_text import print_comparison

    to = outputs(arguments, arguments.case[0])
    lineup = _lineup(arguments)
    beside = {path for entry in lineup.entries for path in entry.case.beside}
    inputs = (*arguments.case, *sorted(beside))
    to.check(inputs)
    comparison = compare(lineup)
    to.report(lambda: print_comparison(comparison, units=to.units))
    to.data(lambda: comparison_result(comparison))
    to.tables(lambda folder: _tables(comparison, folder))
    drawn = cache(lambda: _figures(comparison, to.units))
    to.figures(writing(drawn))
    to.page(lambda: _page(comparison, kept(arguments, inputs, _digests(lineup), drawn())))
    return PASSED if comparison.passes else NEGATIVE


def _lineup(arguments: argparse.Namespace) -> Lineup:
    """Read what is to be compared."""
    from crushleg.case.reader import case_reader
    from crushleg.design.schemes import cases_lineup, read_cases, scheme_lineup, vary_lineup
    from crushleg.design.vary import one_varied, varied_cases

    varied = one_varied(arguments.vary, len(arguments.case))
    if varied is not None:
        read = case_reader(arguments.case[0])
        return vary_lineup(varied_cases(read, arguments.set, varied), varied)
    cases = read_cases(arguments.case, arguments.set)
    if len(cases) == 1:
        return scheme_lineup(cases[0], arguments.case[0])
    return cases_lineup(cases, arguments.case)


def _tables(comparison: Comparison, folder: Path) -> list[Path]:
    from crushleg.report.compare_csv import write_comparison_csv

    return write_comparison_csv(comparison, folder)


def _digests(lineup: Lineup) -> list[str]:
    """Input hash of each case file; a value that is varied is in the hash of its case."""
    if lineup.varied is not None:
        return []
    return list(dict.fromkeys(entry.case.input_sha256 for entry in lineup.entries))


def _figures(comparison: Comparison, units: str) -> Mapping[str, Figure]:
    from crushleg.report.plot_compare import comparison_figures

    return comparison_figures(comparison, units)


def _page(comparison: Comparison, beside: Kept) -> Page:
    from crushleg.report.page_verbs import compare_page

    return compare_page(comparison, beside)
