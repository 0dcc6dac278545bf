"""Verb ``check``: report, margins and plots of a case."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.verbs.outputs import FOLDERS, NEGATIVE, PASSED, add_case, add_outputs, outputs

if TYPE_CHECKING:
    import argparse
    from pathlib import Path

    from crushleg.check import Checked

SAYS = "report, margins and plots of a case"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "Crush of the girder, energy against touchdown, and every margin. Plots and tables go into "
        + FOLDERS
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
    to.check((arguments.case, *case.beside))
    checked = check_case(case)
    to.report(lambda: print_report(checked, units=to.units))
    to.data(lambda: result(checked))
    to.tables(lambda folder: _tables(checked, folder))
    to.figures(lambda folder: _figures(checked, folder, to.units))
    return PASSED if checked.passes else NEGATIVE


def _tables(checked: Checked, folder: Path) -> list[Path]:
    from crushleg.report.csv_files import write_csv

    return write_csv(checked, folder)


def _figures(checked: Checked, folder: Path, units: str) -> list[Path]:
    from crushleg.report.plots import draw

    return draw(checked, folder, units=units)
