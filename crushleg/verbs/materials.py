"""Verb ``materials``: the datasheets, or one with its sources."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.report.streams import show
from crushleg.verbs.outputs import PASSED
from crushleg.verbs.page_files import add_page, page_files

if TYPE_CHECKING:
    import argparse
    from collections.abc import Sequence

    from crushleg.case.material import Material
    from crushleg.report.page import Page

SAYS = "material datasheets, or one with the source of every value"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = "List the material datasheets, or show one with the source of every value."
    verb.epilog = "example: crushleg materials aluminium-6061-t4"
    verb.add_argument("name", metavar="NAME", nargs="?", help="a datasheet, or the path of one")
    add_page(verb)
    verb.add_argument("--units", choices=("si", "us"), default="si", help="units shown")


def run(arguments: argparse.Namespace) -> int:
    """List the datasheets, or show one."""
    from crushleg.case.shelf import datasheet_names, find_material
    from crushleg.report.datasheets import print_datasheet, print_datasheets

    page = page_files(arguments)
    page.check([Path(arguments.name)] if arguments.name else [], None, {})
    if arguments.name:
        datasheet = find_material(arguments.name, Path())
        datasheets = [datasheet]
        show(lambda: print_datasheet(datasheet, units=arguments.units))
    else:
        datasheets = [find_material(name, Path()) for name in datasheet_names()]
        show(lambda: print_datasheets(datasheets, units=arguments.units))
    page.write(lambda: _page(datasheets, arguments))
    return PASSED


def _page(datasheets: Sequence[Material], arguments: argparse.Namespace) -> Page:
    from crushleg.report.page_verbs import Kept, materials_page

    kept = Kept((), {}, arguments.units)
    return materials_page(datasheets, kept, whole=bool(arguments.name))
