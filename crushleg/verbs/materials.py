"""Verb ``materials``: the datasheets, or one with its sources."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.report.streams import show
from crushleg.verbs.outputs import PASSED

if TYPE_CHECKING:
    import argparse

SAYS = "material datasheets, or one with its sources"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = "List the material datasheets, or show one with the source of every value."
    verb.epilog = "example: crushleg materials aluminium-6061-t4"
    verb.add_argument("name", metavar="NAME", nargs="?", help="a datasheet, or the path of one")
    verb.add_argument("--units", choices=("si", "us"), default="si", help="units shown")


def run(arguments: argparse.Namespace) -> int:
    """List the datasheets, or show one."""
    from crushleg.case.shelf import datasheet_names, find_material
    from crushleg.report.datasheets import print_datasheet, print_datasheets

    if arguments.name:
        datasheet = find_material(arguments.name, Path())
        show(lambda: print_datasheet(datasheet, units=arguments.units))
    else:
        datasheets = [find_material(name, Path()) for name in datasheet_names()]
        show(lambda: print_datasheets(datasheets, units=arguments.units))
    return PASSED
