"""Verb ``inspect``: crushed legs back to energy and speed, and what is left in them."""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.report.streams import say
from crushleg.verbs.outputs import (
    FOLDERS,
    NEGATIVE,
    PASSED,
    add_case,
    add_outputs,
    outputs,
)
from crushleg.verbs.page_files import kept, writing
from crushleg.verbs.usage import need_case_first, need_file

if TYPE_CHECKING:
    import argparse
    from collections.abc import Mapping

    from matplotlib.figure import Figure

    from crushleg.report.page import Page
    from crushleg.report.page_verbs import Kept
    from crushleg.trial.heights import Heights
    from crushleg.trial.inspect import Asked, Inspection

SAYS = "measured crush back to energy and speed; what is left in each leg"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "After the landing: from the heights of crushed girders, four faces per leg, back to "
        "crush, energy and the speed at touchdown with its band; lean, clearance, and what is "
        "left in each leg. It releases no leg for another landing. READINGS is a CSV: leg,front "
        "mm,right mm,back mm,left mm and, if read, reading_error mm, folds. Errors are 95 % "
        "limits. Figure and tables go into " + FOLDERS
    )
    verb.epilog = "example: crushleg inspect examples/dunlin.toml examples/dunlin-readings.csv"
    add_case(verb)
    verb.add_argument("readings", metavar="READINGS", nargs="?", help="heights of all legs (CSV)")
    _add_readings(verb)
    verb.add_argument("--card", metavar="FILE", help="write the card to sign as PDF, one page")
    add_outputs(verb)


def _add_readings(verb: argparse.ArgumentParser) -> None:
    for name, metavar, says in (
        ("--leg", "N=F,R,B,L", "heights of one leg in place of READINGS: 1=812,815,811,813mm"),
        ("--folds", "N=COUNT", "folds counted on that leg: 1=3"),
    ):
        verb.add_argument(name, metavar=metavar, action="append", default=[], help=says)
    for name, metavar, says in (
        (
            "--other-energy",
            "ENERGY",
            "not in the legs (pads, soil, sliding, joints): '5 kJ'; unknown if left out",
        ),
        ("--other-energy-error", "ENERGY", "± on it; left out: half of it"),
        (
            "--touchdown",
            "NAME",
            "whose mass, thrust and first contact hold; left out: the first, no reserve case",
        ),
        ("--before", "LENGTH", "the same heights before the landing; left out: girder.length"),
        ("--reading-error", "LENGTH", "± on a leg's height; left out: 2 mm"),
        ("--mass-error", "SHARE", "± on the landing mass; left out: '2 %%'"),
    ):
        verb.add_argument(name, metavar=metavar, help=says)


def run(arguments: argparse.Namespace) -> int:
    """Inspect crushed legs; text first, then files, then figures."""
    from crushleg.case.reader import read_case
    from crushleg.report.files import check_targets
    from crushleg.report.inspect_data import inspection_data
    from crushleg.report.inspect_text import print_inspection
    from crushleg.trial.inspect import inspect_legs
    from crushleg.trial.judged import judged

    need_case_first(arguments.case, [arguments.readings])
    asked = _asked(arguments)
    to = outputs(arguments, arguments.case)
    case = read_case(arguments.case, arguments.set)
    inputs = [arguments.case, *case.beside, *([arguments.readings] if arguments.readings else [])]
    need_file("--card", arguments.card)
    card = Path(arguments.card) if arguments.card else None
    to.check(inputs, {"--card": card})
    check_targets(card, to.folder, map(Path, inputs))
    found = inspect_legs(case, _heights(arguments, case.vehicle.legs), asked)
    to.report(lambda: print_inspection(found, units=to.units))
    to.data(lambda: inspection_data(found))
    to.tables(lambda folder: _tables(found, folder))
    drawn = cache(lambda: _figures(found, to.units))
    to.figures(writing(drawn))
    if card is not None:
        _card(arguments, found)
    to.page(lambda: _page(found, kept(arguments, inputs, [case.input_sha256], drawn())))
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


def _tables(found: Inspection, folder: Path) -> list[Path]:
    from crushleg.report.inspect_csv import write_inspection_csv

    return write_inspection_csv(found, folder)


def _figures(found: Inspection, units: str) -> Mapping[str, Figure]:
    from crushleg.report.plot_inspect import inspection_figure

    return {"inspection": inspection_figure(found, units)}


def _page(found: Inspection, beside: Kept) -> Page:
    from crushleg.report.page_trial import inspect_page

    return inspect_page(found, beside)


def _card(arguments: argparse.Namespace, found: Inspection) -> None:
    os.environ["MPLBACKEND"] = "agg"
    from crushleg.report.files import write_bytes
    from crushleg.report.inspect_card import inspection_card

    write_bytes(arguments.card, inspection_card(found, arguments.units, arguments.paper))
    say(f"card: {arguments.card}")
