"""Verb ``inspect``: crushed legs back to energy and speed, and what is left in them."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.report.streams import say
from crushleg.verbs.outputs import (
    FOLDERS,
    NEGATIVE,
    PASSED,
    STANDARD_OUTPUT,
    add_case,
    add_outputs,
    outputs,
)

if TYPE_CHECKING:
    import argparse

    from crushleg.trial.heights import Heights
    from crushleg.trial.inspect import Asked, Inspection

SAYS = "measured crush back to energy and speed; what is left in each leg"
PAPERS = ("a4", "letter")


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "Reads the heights of crushed girders, four faces per leg, back to crush, energy and the "
        "speed at touchdown with its band; lean, clearance, what is left. It releases no leg. "
        "READINGS is a CSV: leg,front mm,right mm,back mm,left mm and, if read, reading_error mm, "
        "folds. Errors are 95 % limits. Figure and tables go into " + FOLDERS
    )
    verb.epilog = "example: crushleg inspect stage.toml readings.csv --other-energy '5 kJ'"
    add_case(verb)
    verb.add_argument("readings", metavar="READINGS", nargs="?", help="heights of all legs (CSV)")
    _add_readings(verb)
    add_outputs(verb)
    verb.add_argument("--pdf", metavar="FILE", help="write the card to sign as PDF, one page")
    verb.add_argument("--paper", choices=PAPERS, default="a4", help="of the PDF")


def _add_readings(verb: argparse.ArgumentParser) -> None:
    for name, metavar, says in (
        ("--leg", "N=F,R,B,L", "heights of one leg instead: 1=812,815,811,813mm"),
        ("--folds", "N=COUNT", "folds counted on a leg given by --leg: 1=3"),
    ):
        verb.add_argument(name, metavar=metavar, action="append", default=[], help=says)
    for name, metavar, says in (
        ("--before", "LENGTH", "what the heights were before the landing; the girder's length"),
        ("--reading-error", "LENGTH", "± on a leg's height; 2 mm"),
        ("--mass-error", "SHARE", "± on the landing mass; '2 %%'"),
        ("--other-energy", "ENERGY", "not in the legs: pads, soil, sliding, joints; unknown"),
        ("--other-energy-error", "ENERGY", "± on that energy; half of it"),
        ("--touchdown", "NAME", "mass, thrust, first contact; the first that is no reserve"),
    ):
        verb.add_argument(name, metavar=metavar, help=says)


def run(arguments: argparse.Namespace) -> int:
    """Inspect crushed legs; text first, then files, then figures."""
    from crushleg.case.reader import read_case
    from crushleg.report.inspect_data import inspection_data
    from crushleg.report.inspect_text import print_inspection
    from crushleg.trial.inspect import inspect_legs
    from crushleg.trial.judged import judged

    asked = _asked(arguments)
    to = outputs(arguments, arguments.case)
    case = read_case(arguments.case, arguments.set)
    inputs = [arguments.case, *case.beside, *([arguments.readings] if arguments.readings else [])]
    to.check(inputs)
    _check_pdf(arguments, to.folder, inputs)
    found = inspect_legs(case, _heights(arguments, case.vehicle.legs), asked)
    to.report(lambda: print_inspection(found, units=to.units))
    to.data(lambda: inspection_data(found))
    to.tables(lambda folder: _tables(found, folder))
    to.figures(lambda folder: _figures(found, folder, to.units))
    if arguments.pdf:
        _pdf(arguments, found)
    return NEGATIVE if judged(found).exceeded else PASSED


def _asked(arguments: argparse.Namespace) -> Asked:
    from crushleg.trial.asked import asked_for

    return asked_for(
        touchdown=arguments.touchdown,
        before=arguments.before,
        reading_error=arguments.reading_error,
        mass_error=arguments.mass_error,
        other=arguments.other_energy,
        other_error=arguments.other_energy_error,
    )


def _heights(arguments: argparse.Namespace, legs: int) -> Heights:
    """Take the readings of the file, or of the options."""
    from crushleg.errors import InputError, Problem
    from crushleg.trial.heights import EXAMPLE, from_options
    from crushleg.trial.heights_file import read_heights

    by_option = bool(arguments.leg or arguments.folds)
    if arguments.readings and by_option:
        write = "READINGS, or --leg for every leg"
        raise InputError([Problem(read="READINGS and --leg or --folds", write=write)])
    if arguments.readings:
        return read_heights(Path(arguments.readings), legs)
    if not by_option:
        write = f"READINGS, the path of a CSV file, or --leg {EXAMPLE} for every leg"
        raise InputError([Problem(read="no heights", write=write)])
    return from_options(arguments.leg, arguments.folds, legs)


def _check_pdf(arguments: argparse.Namespace, folder: Path | None, inputs: list[str]) -> None:
    """Refuse a card that could not be written, or that would replace the JSON or an input."""
    from crushleg.errors import InputError, Problem
    from crushleg.report.files import check_targets

    if not arguments.pdf:
        return
    if arguments.pdf in STANDARD_OUTPUT:
        problem = Problem(field="--pdf", read=f'"{arguments.pdf}"', write="the name of a file")
        raise InputError([problem])
    check_targets(Path(arguments.pdf), folder, map(Path, inputs))
    json_file = arguments.json if arguments.json not in (None, *STANDARD_OUTPUT) else None
    if json_file and Path(json_file).resolve() == Path(arguments.pdf).resolve():
        problem = Problem(file=arguments.pdf, read="the name of the JSON", write="another name")
        raise InputError([problem])


def _tables(found: Inspection, folder: Path) -> list[Path]:
    from crushleg.report.inspect_csv import write_inspection_csv

    return write_inspection_csv(found, folder)


def _figures(found: Inspection, folder: Path, units: str) -> list[Path]:
    from crushleg.report.plot_inspect import inspection_figure
    from crushleg.report.plots import write_figures

    return write_figures({"inspection": inspection_figure(found, units)}, folder)


def _pdf(arguments: argparse.Namespace, found: Inspection) -> None:
    os.environ["MPLBACKEND"] = "agg"
    from crushleg.report.files import write_bytes
    from crushleg.report.inspect_card import inspection_card

    write_bytes(arguments.pdf, inspection_card(found, arguments.units, arguments.paper))
    say(f"card: {arguments.pdf}")
