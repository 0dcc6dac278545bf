"""Verb ``size``: least-mass girder that meets every margin, or a schedule for a force line."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from crushleg.report.streams import say
from crushleg.verbs.outputs import (
    FOLDERS,
    INTERRUPTED,
    NEGATIVE,
    PASSED,
    add_case,
    add_outputs,
    beside,
    outputs,
)
from crushleg.verbs.page_files import kept, writing

if TYPE_CHECKING:
    import argparse
    from collections.abc import Mapping

    from matplotlib.figure import Figure

    from crushleg.design.ranges import Asked
    from crushleg.design.settled import Schedule, Sizing
    from crushleg.design.written import Original
    from crushleg.report.page import Page
    from crushleg.report.page_verbs import Kept
    from crushleg.verbs.outputs import Outputs

SAYS = "lightest girder that meets every margin, or follows a force line"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "The lightest girder that passes: finds wall (stock sheets), rows, pitch and hole sizes "
        "(stock tools) that meet every counted margin of the case at least girder mass; width, "
        "depth and material stay. The girder is written as a case file, NAME-sized.toml, that "
        "has passed its check; exit code 3: no design fits, and none is written. Or, with "
        "--follow, the schedule on the section of the case whose mean force follows a line; exit"
        " code 3: the file written fails its check. Case file, plots and tables go into " + FOLDERS
    )
    verb.epilog = "example: crushleg size stage.toml --rows 4:8 --length 0.8m:1m"
    add_case(verb)
    verb.add_argument("--rows", metavar="FROM:TO", help="number of rows; 2:10 if left out")
    verb.add_argument(
        "--walls", metavar="FROM:TO", help="walls of the stock to choose from: 2mm:4mm"
    )
    verb.add_argument(
        "--length", metavar="FROM:TO", help="length of the girder; the case's if left out"
    )
    verb.add_argument("--pitch", metavar="FROM:TO", help="row pitch: 60mm:140mm")
    verb.add_argument(
        "--free-holes", action="store_true", help="any hole size, for laser and punch"
    )
    verb.add_argument(
        "--follow",
        metavar="LINE",
        help="mean force to follow instead: constant:120kN, ramp:80kN:200kN, "
        "0mm:80kN,300mm:120kN, or a CSV file with stroke_mm and force_kN",
    )
    verb.add_argument(
        "--seed", metavar="N", default="1", help="seed of the search; same seed, same result"
    )
    add_outputs(verb)


class Job(NamedTuple):
    """What the options said, before anything is computed."""

    original: Original
    asked: Asked
    seed: int
    folder: Path
    file: Path
    to: Outputs
    units: str
    inputs: list[Path]
    arguments: argparse.Namespace


def run(arguments: argparse.Namespace) -> int:
    """Search; the case file first, then text, data and plots."""
    from crushleg.design.ranges import read_asked, read_seed
    from crushleg.design.written import read_original
    from crushleg.report.files import check_targets

    to = outputs(arguments, arguments.case)
    asked = read_asked(
        walls=arguments.walls,
        rows=arguments.rows,
        pitch=arguments.pitch,
        length=arguments.length,
        free_holes=arguments.free_holes,
        fixed=arguments.follow is not None,
    )
    original = read_original(Path(arguments.case), arguments.set)
    folder = to.folder or beside(arguments.case)
    file = folder / original.name
    inputs = [Path(p) for p in (arguments.case, *original.case.beside)]
    to.check(inputs, {"the case file": file})
    check_targets(file, folder, inputs)
    inside = any(one.parent.resolve() == folder.resolve() for one in to.files)
    if not (to.plots or to.csv or inside):
        to = replace(to, folder=None)
    seed = read_seed(arguments.seed)
    job = Job(original, asked, seed, folder, file, to, arguments.units, inputs, arguments)
    return _size(job) if arguments.follow is None else _follow(job, arguments.follow)


def _size(job: Job) -> int:
    """Least mass; exit 3 where nothing fits."""
    from crushleg.design.asked import space_of
    from crushleg.design.settled import Sizing, settled
    from crushleg.design.size import EXPECTED, size
    from crushleg.design.stock import stock_of
    from crushleg.report.files import make_folder, write_text
    from crushleg.report.size_data import sizing_result
    from crushleg.report.size_progress import shown_progress
    from crushleg.report.size_text import print_sizing

    original, case = job.original, job.original.case
    space = space_of(case, original.given, job.asked, held=original.held)
    with shown_progress(EXPECTED) as tell:
        sized = size(case, space, held=original.held, seed=job.seed, tell=tell)
    if sized.best is not None:
        make_folder(job.folder)
    place, written = settled(sized, original, job.folder)
    sizing = Sizing(
        original=original,
        asked=job.asked,
        stock=stock_of(case),
        seed=job.seed,
        file=job.file,
        sized=sized,
        place=place,
        written=written,
    )
    if written is not None:
        write_text(job.file, written.text)
        say(f"case file: {job.file}")
    job.to.report(lambda: print_sizing(sizing, units=job.units))
    job.to.data(lambda: sizing_result(sizing))
    job.to.tables(lambda folder: _sizing_tables(sizing, folder))
    drawn = cache(lambda: _sizing_figures(sizing, job.units))
    job.to.figures(writing(drawn))
    job.to.page(lambda: _sizing_page(sizing, _kept(job, drawn())))
    if sized.interrupted:
        return INTERRUPTED
    return NEGATIVE if written is None else PASSED


def _follow(job: Job, text: str) -> int:
    """Schedule for a line; exit 3 where its case fails its check."""
    from crushleg.design.asked import fixed_space
    from crushleg.design.follow import follow
    from crushleg.design.line import read_line
    from crushleg.design.settled import Schedule
    from crushleg.design.size import EXPECTED
    from crushleg.design.stock import stock_of
    from crushleg.design.written import written
    from crushleg.report.files import check_targets, make_folder, write_text
    from crushleg.report.follow_text import print_schedule
    from crushleg.report.size_data import schedule_result
    from crushleg.report.size_progress import shown_progress

    original, case = job.original, job.original.case
    line = read_line(text)
    if Path(text).is_file():
        job.inputs.append(Path(text))
        check_targets(job.file, job.folder, job.inputs)
        job.to.check(job.inputs)
    space = fixed_space(case, original.given, job.asked)
    with shown_progress(EXPECTED) as tell:
        found = follow(case, space, line, seed=job.seed, tell=tell)
    make_folder(job.folder)
    choice = found.archive.choices[found.best]
    schedule = Schedule(
        original=original,
        asked=job.asked,
        stock=stock_of(case),
        seed=job.seed,
        file=job.file,
        followed=found,
        written=written(original, space, choice, job.folder, section=False),
    )
    write_text(job.file, schedule.written.text)
    say(f"case file: {job.file}")
    job.to.report(lambda: print_schedule(schedule, units=job.units))
    job.to.data(lambda: schedule_result(schedule))
    job.to.tables(lambda folder: _schedule_tables(schedule, folder))
    drawn = cache(lambda: _schedule_figures(schedule, job.units))
    job.to.figures(writing(drawn))
    job.to.page(lambda: _schedule_page(schedule, _kept(job, drawn())))
    if found.interrupted:
        return INTERRUPTED
    return PASSED if schedule.written.checked.passes else NEGATIVE


def _kept(job: Job, drawn: Mapping[str, Figure]) -> Kept:
    return kept(job.arguments, job.inputs, [job.original.case.input_sha256], drawn)


def _sizing_page(sizing: Sizing, beside: Kept) -> Page:
    from crushleg.report.page_verbs import size_page

    return size_page(sizing, beside)


def _schedule_page(schedule: Schedule, beside: Kept) -> Page:
    from crushleg.report.page_verbs import follow_page

    return follow_page(schedule, beside)


def _sizing_tables(sizing: Sizing, folder: Path) -> list[Path]:
    from crushleg.report.size_csv import write_sizing_csv

    return write_sizing_csv(sizing, folder)


def _schedule_tables(schedule: Schedule, folder: Path) -> list[Path]:
    from crushleg.report.size_csv import write_schedule_csv

    return write_schedule_csv(schedule, folder)


def _sizing_figures(sizing: Sizing, units: str) -> Mapping[str, Figure]:
    from crushleg.report.plot_size import size_figure

    return {"size-front": size_figure(sizing, units)}


def _schedule_figures(schedule: Schedule, units: str) -> Mapping[str, Figure]:
    from crushleg.report.plot_follow import follow_figure

    return {"follow": follow_figure(schedule, units)}
