"""Verb ``check``: report, margins and plots of a case."""

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

    from crushleg.check import Checked
    from crushleg.report.page import Page
    from crushleg.report.page_verbs import Kept

SAYS = "crush force, energy and every margin of a case: the main job"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "The main job: force against stroke of the girder, the energy of every touchdown against"
        " what the legs take, and every margin, the governing one worked through. Plots and "
        "tables go into " + FOLDERS
    )
    verb.epilog = 'example: crushleg check stage.toml --set girder.wall="3.5 mm" --json -'
    add_case(verb)
    add_outputs(verb)


def run(arguments: argparse.Namespace) -> int:
    """Report a case; text first, then files, then plots."""
    from crushleg.case.reader import read_case
    from crushleg.check import check_case
    from crushleg.report.data import result
    from crushleg.report.text import print_report

    to = outputs(arguments, arguments.case)
    case = read_case(arguments.case, arguments.set)
    inputs = (arguments.case, *case.beside)
    to.check(inputs)
    checked = check_case(case)
    to.report(lambda: print_report(checked, units=to.units))
    to.data(lambda: result(checked))
    to.tables(lambda folder: _tables(checked, folder))
    drawn = cache(lambda: _figures(checked, to.units))
    to.figures(writing(drawn))
    to.page(lambda: _page(checked, kept(arguments, inputs, [case.input_sha256], drawn())))
    return PASSED if checked.passes else NEGATIVE


def _tables(checked: Checked, folder: Path) -> list[Path]:
    from crushleg.report.csv_files import write_csv

    return write_csv(checked, folder)


def _figures(checked: Checked, units: str) -> Mapping[str, Figure]:
    from crushleg.report.plots import figures

    return figures(checked, units)


def _page(checked: Checked, beside: Kept) -> Page:
    from crushleg.report.page_verbs import check_page

    return check_page(checked, beside)
