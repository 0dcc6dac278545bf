"""Verb ``drill``: drilling schedule and layout at true scale, fabrication rules judged."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.report.streams import say, show
from crushleg.verbs.outputs import FOLDERS, NEGATIVE, PASSED, add_case, add_display, beside
from crushleg.verbs.page_files import add_page, kept, page_files

if TYPE_CHECKING:
    import argparse

    from crushleg.case.records import Case
    from crushleg.report.drill_words import Drilling
    from crushleg.report.page import Page

SAYS = "hole schedule and 1:1 layout of the faces"
PAPERS = ("a4", "a3", "letter")
NO_PAPER = "none"
LAYOUT_PDF = "drill-layout.pdf"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "What the shop needs to make the girder: a schedule of every hole (CSV), and the four "
        "faces at true scale (SVG, PDF tiled on pages, DXF in millimetres). Fabrication rules "
        "are judged: exit code 3 if one fails, the files are written all the same. They go into "
        + FOLDERS
    )
    verb.epilog = "example: crushleg drill stage.toml --paper a3 --dxf"
    add_case(verb)
    verb.add_argument(
        "--paper",
        choices=(*PAPERS, NO_PAPER),
        default=PAPERS[0],
        type=str.lower,
        help="of drill-layout.pdf; a4 if left out, none: no layout as PDF",
    )
    verb.add_argument("--dxf", action="store_true", help="write a DXF too; needs crushleg[dxf]")
    verb.add_argument("--out", metavar="FOLDER", help="for the files; default see above")
    add_page(verb, paper=False)
    add_display(verb)


def run(arguments: argparse.Namespace) -> int:
    """Print the schedule, then write all files or none."""
    from crushleg.case.reader import read_case
    from crushleg.report.drill_text import print_drilling
    from crushleg.report.files import check_targets

    if arguments.dxf:
        from crushleg.report.drill_dxf import need_ezdxf

        need_ezdxf()
    folder = Path(arguments.out) if arguments.out else beside(arguments.case)
    case = read_case(arguments.case, arguments.set)
    inputs = (arguments.case, *case.beside)
    check_targets(None, folder, map(Path, inputs))
    page = page_files(arguments)
    page.check(map(Path, inputs), folder, {"the layout": folder / LAYOUT_PDF})
    drilling = drilling_of(case)
    if not arguments.quiet:
        show(lambda: print_drilling(drilling, units=arguments.units))
    _write(drilling, folder, arguments)
    page.write(lambda: _page(case, drilling, arguments, inputs))
    return PASSED if drilling.passes else NEGATIVE


def drilling_of(case: Case) -> Drilling:
    """Schedule of a case with its fabrication rules judged."""
    from crushleg.design.drill import schedule_of
    from crushleg.design.making import judge
    from crushleg.design.stock import stock_of
    from crushleg.report.drill_words import Drilling

    schedule = schedule_of(case.girder, stock_of(case))
    return Drilling(
        title=case.title,
        revision=case.revision,
        digest=case.input_sha256,
        material=case.girder.material.name,
        schedule=schedule,
        judged=judge(schedule),
    )


def _page(
    case: Case, drilling: Drilling, arguments: argparse.Namespace, inputs: tuple[str, ...]
) -> Page:
    from crushleg.check import check_case
    from crushleg.report.page_verbs import drill_page
    from crushleg.report.plot_girder import girder_figure

    drawn = {"girder": girder_figure(check_case(case), arguments.units)}
    return drill_page(drilling, kept(arguments, inputs, [case.input_sha256], drawn))


def _write(drilling: Drilling, folder: Path, arguments: argparse.Namespace) -> None:
    os.environ["MPLBACKEND"] = "agg"
    from crushleg.report.drill_files import drill_files, write_drill_files

    paper = None if arguments.paper == NO_PAPER else arguments.paper
    files = drill_files(drilling, paper, arguments.units, with_dxf=arguments.dxf)
    for path in write_drill_files(files, folder):
        say(f"written: {path}")
