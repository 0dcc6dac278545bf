"""Verb ``land``: motion of the whole vehicle on its legs."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from crushleg.verbs.outputs import FOLDERS, NEGATIVE, PASSED, add_case, add_outputs, outputs
from crushleg.verbs.page_files import kept, writing

if TYPE_CHECKING:
    import argparse
    from collections.abc import Mapping
    from pathlib import Path

    from matplotlib.figure import Figure

    from crushleg.case.records import Case
    from crushleg.land import Moving
    from crushleg.report.page import Page
    from crushleg.report.page_verbs import Kept
    from crushleg.stability import StabilityMap

SAYS = "motion of the whole vehicle: every leg, slope, sliding, tip-over"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "Runs the landing itself, where an energy balance cannot tell: what each leg takes on a "
        "slope or with one leg first, and whether the vehicle stands, slides, bottoms, strikes "
        "or tips. Gives the margins of check and motion together. Plots and tables go into "
        + FOLDERS
    )
    verb.epilog = "example: crushleg land stage.toml --standard --map"
    add_case(verb)
    verb.add_argument(
        "--standard",
        action="store_true",
        help="also the standard landings built from the vehicle; their margins count",
    )
    verb.add_argument(
        "--map",
        action="store_true",
        help="stability map over both speeds, from 450 landings",
    )
    add_outputs(verb)


def run(arguments: argparse.Namespace) -> int:
    """Run the landings; all of them first, then text, files, plots."""
    from crushleg.case.reader import read_case
    from crushleg.report.land_data import landings_result
    from crushleg.report.land_text import print_landings

    to = outputs(arguments, arguments.case)
    case = read_case(arguments.case, arguments.set)
    inputs = (arguments.case, *case.beside)
    to.check(inputs)
    moving, stability = _moved(case, arguments)
    to.report(lambda: print_landings(moving, stability, units=to.units))
    to.data(lambda: landings_result(moving, stability))
    to.tables(lambda folder: _tables(moving, stability, folder))
    drawn = cache(lambda: _figures(moving, stability, to.units))
    to.figures(writing(drawn))
    digests = [case.input_sha256]
    to.page(lambda: _page(moving, stability, kept(arguments, inputs, digests, drawn())))
    return PASSED if moving.passes else NEGATIVE


def _moved(case: Case, arguments: argparse.Namespace) -> tuple[Moving, StabilityMap | None]:
    """Run what was asked for, with a bar; what cannot be run is told with the file's name."""
    from crushleg.errors import InputError
    from crushleg.land import land_case
    from crushleg.report.land_progress import ON_MAP, expected, landing_progress
    from crushleg.stability import stability_map

    try:
        count = expected(case, standard_cases=arguments.standard)
        with landing_progress(count, "landings", quiet=arguments.quiet) as told:
            moving = land_case(case, standard_cases=arguments.standard, told=told)
        if not arguments.map:
            return moving, None
        with landing_progress(ON_MAP, "stability map", quiet=arguments.quiet) as told:
            return moving, stability_map(case, moving.checked.crush, told=told)
    except InputError as error:
        placed = [replace(one, file=one.file or arguments.case) for one in error.problems]
        raise InputError(placed) from error


def _tables(moving: Moving, stability: StabilityMap | None, folder: Path) -> list[Path]:
    from crushleg.report.land_csv import write_landings_csv

    return write_landings_csv(moving, stability, folder)


def _figures(moving: Moving, stability: StabilityMap | None, units: str) -> Mapping[str, Figure]:
    from crushleg.report.plot_land import figures

    return figures(moving, units, stability)


def _page(moving: Moving, stability: StabilityMap | None, beside: Kept) -> Page:
    from crushleg.report.page_verbs import land_page

    return land_page(moving, stability, beside)
