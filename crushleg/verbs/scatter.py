"""Verb ``scatter``: many landings with scattered inputs, and how often a margin fails."""

from __future__ import annotations

from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, NoReturn

from crushleg.report.streams import say
from crushleg.verbs.outputs import (
    FAULT,
    FOLDERS,
    INTERRUPTED,
    NEGATIVE,
    PASSED,
    add_case,
    add_outputs,
    beside,
    outputs,
)
from crushleg.verbs.page_files import keep_apart, writing

if TYPE_CHECKING:
    import argparse
    from collections.abc import Iterator, Mapping

    from matplotlib.figure import Figure

    from crushleg.case.records import Case
    from crushleg.report.page import Page
    from crushleg.scatter.outcome import Outcome
    from crushleg.verbs.outputs import Outputs

SAYS = "many landings with scattered inputs: probability of failing"
IN_TABLE = ("samples", "seed", "method")
"""Options that stand for keys of [scatter]."""
MOST_WORKERS = 1024


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "Draw the inputs of many landings as [scatter] says, judge each, and tell how often every "
        "margin fails, the tolerance limits of stroke and leg load, what drives the margins, and "
        "the worst landing, which is written as a case file, NAME-worst.toml. Exit code 3: a "
        "counted margin is negative in at least one landing. Ctrl-C keeps what is done; the same "
        "command goes on from it. Case file, plots and tables go into " + FOLDERS
    )
    verb.epilog = "example: crushleg scatter stage.toml --samples 16384 --workers 4 --indices"
    add_case(verb)
    verb.add_argument("--samples", metavar="N", help="landings; a power of two suits sobol")
    verb.add_argument("--seed", metavar="N", help="same seed, same landings")
    verb.add_argument("--method", metavar="NAME", help="sobol, latin hypercube or random")
    verb.add_argument(
        "--indices",
        action="store_true",
        help="also shares of the variance (Sobol indices): 512 × (inputs + 2) landings more",
    )
    verb.add_argument("--workers", metavar="N", help="processes of this machine; 1 if left out")
    verb.add_argument("--dask", metavar="ADDRESS", help="a dask.distributed cluster instead")
    verb.add_argument(
        "--partial",
        metavar="FILE",
        help="what is done so far, kept; if left out in the folder, removed at the end",
    )
    add_outputs(verb)


class Job(NamedTuple):
    """What the options said; a file ``kept`` was asked for by name."""

    path: Path
    overrides: tuple[str, ...]
    case: Case
    partial: Path
    kept: bool
    worst: Path
    indices: bool
    workers: int
    dask: str | None
    to: Outputs

    @property
    def for_indices(self) -> Path:
        """Partial file of the landings for the indices."""
        return self.partial.with_name(f"{self.partial.name}-indices")


def run(arguments: argparse.Namespace) -> int:
    """Judge the landings; the worst as a case file first, then text, data, tables, plots."""
    from crushleg.report.files import make_folder
    from crushleg.scatter.pool import LostError
    from crushleg.scatter.study import NothingDoneError

    job = _job(arguments)
    make_folder(job.worst.parent)
    try:
        outcome, whole = _outcome(job)
    except NothingDoneError:
        say("interrupted before the first landings were judged: there is nothing to keep")
        return INTERRUPTED
    except LostError as error:
        say(f"{error}; what is done is kept in {job.partial}, the same command goes on from it")
        return FAULT
    _give_out(job, outcome, whole=whole)
    if not whole:
        done, total = len(outcome.study.number), outcome.study.total
        say(f"interrupted: {done} of {total} landings are kept in {job.partial}")
        say("the same command goes on from there")
        return INTERRUPTED
    if not job.kept:
        for file in (job.partial, job.for_indices):
            file.unlink(missing_ok=True)
    return PASSED if outcome.passes else NEGATIVE


def _job(arguments: argparse.Namespace) -> Job:
    """Read the case and refuse, before anything is computed, what could not be written."""
    from crushleg.case.reader import read_case
    from crushleg.case.source import is_stream
    from crushleg.report.files import check_targets

    if is_stream(Path(arguments.case)):
        read = "a case from a pipe, of which no worst landing can be written"
        _refuse(arguments.case, read, "the name of a file")
    to = outputs(arguments, arguments.case)
    given = [(key, getattr(arguments, key)) for key in IN_TABLE]
    asked = [f"scatter.{key}={value}" for key, value in given if value is not None]
    overrides = (*arguments.set, *asked)
    case = read_case(arguments.case, overrides)
    folder = to.folder or beside(arguments.case)
    name = Path(arguments.case).stem
    job = Job(
        path=Path(arguments.case),
        overrides=overrides,
        case=case,
        partial=Path(arguments.partial or folder / f"{name}-scatter.partial"),
        kept=arguments.partial is not None,
        worst=folder / f"{name}-worst.toml",
        indices=arguments.indices,
        workers=_workers(arguments),
        dask=arguments.dask,
        to=to,
    )
    inputs = [Path(p) for p in (arguments.case, *case.beside)]
    to.check(inputs)
    for file in (job.partial, job.worst):
        check_targets(file, folder, inputs)
    named = {"--partial": job.partial, "the worst landing": job.worst, "--json": to.json_file}
    keep_apart({**named, "that of the indices": job.for_indices, **to.pages.named})
    return job


def _workers(arguments: argparse.Namespace) -> int:
    text = "1" if arguments.workers is None else arguments.workers
    if arguments.workers is not None and arguments.dask is not None:
        _refuse("--workers", "both --workers and --dask", "one of them")
    if not (text.isascii() and text.isdigit() and 1 <= int(text[:9]) <= MOST_WORKERS):
        _refuse("--workers", f'"{text}"', f"a whole number from 1 to {MOST_WORKERS}")
    return int(text)


def _refuse(field: str, read: str, write: str) -> NoReturn:
    from crushleg.errors import InputError, Problem

    raise InputError([Problem(field=field, read=read, write=write)])


def _outcome(job: Job) -> tuple[Outcome, bool]:
    """Study and what is said of it, and whether nothing was interrupted."""
    from crushleg.check import check_case
    from crushleg.report.scatter_progress import study_progress
    from crushleg.report.scatter_worst import write_worst
    from crushleg.scatter.chain import evaluate
    from crushleg.scatter.outcome import Drivers, Outcome, drivers
    from crushleg.scatter.plan import plan_of
    from crushleg.scatter.study import study

    quiet = not job.to.printed
    with _machines(job) as how:
        with study_progress("landings", quiet=quiet) as told:
            result = study(job.case, evaluate, partial=job.partial, told=told, **how)
        found = Drivers(None, None, whole=False)
        if result.complete:
            kept = job.for_indices if job.indices else None
            with study_progress("indices", quiet=quiet) as told:
                found = drivers(job.case, evaluate, kept, told, **how)
    worst = write_worst(job.path, job.overrides, job.case, result, job.worst)
    if worst is not None:
        say(f"worst landing: {job.worst}")
    outcome = Outcome(
        checked=check_case(job.case),
        plan=plan_of(job.case),
        study=result,
        tornado=found.tornado,
        indices=found.indices,
        worst=worst,
    )
    return outcome, found.whole


@contextmanager
def _machines(job: Job) -> Iterator[dict[str, Any]]:
    """Where the landings are judged, as a study takes it."""
    from crushleg.scatter.pool import cluster

    if job.dask is None:
        yield {"workers": job.workers}
        return
    with cluster(job.dask) as (executor, workers):
        yield {"executor": executor, "workers": workers}


def _give_out(job: Job, outcome: Outcome, *, whole: bool) -> None:
    """Text, data and tables; figures of a study that is whole."""
    from crushleg.report.scatter_csv import write_scatter_csv
    from crushleg.report.scatter_data import scatter_result
    from crushleg.report.scatter_text import print_scatter

    units = job.to.units
    job.to.report(lambda: print_scatter(outcome, units=units))
    job.to.data(lambda: scatter_result(outcome))
    job.to.tables(lambda folder: write_scatter_csv(outcome, folder))
    drawn = cache(lambda: _figures(outcome, units) if whole else {})
    if whole:
        job.to.figures(writing(drawn))
    job.to.page(lambda: _page(job, outcome, drawn()))


def _figures(outcome: Outcome, units: str) -> Mapping[str, Figure]:
    from crushleg.report.plot_scatter import scatter_figures

    return scatter_figures(outcome, units)


def _page(job: Job, outcome: Outcome, drawn: Mapping[str, Figure]) -> Page:
    from crushleg.report.page_inputs import case_inputs
    from crushleg.report.page_verbs import Kept, scatter_page

    worst = [] if outcome.worst is None else [job.worst]
    files = [job.path, *map(Path, job.case.beside), *worst]
    read = case_inputs(files, job.overrides, [job.case.input_sha256])
    return scatter_page(outcome, Kept(read, drawn, job.to.units))
