"""Verb ``correlate``: measured records against the curve; force factor and band of the tests."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.verbs.outputs import FOLDERS, PASSED, add_case, add_outputs, outputs
from crushleg.verbs.page_files import kept, writing
from crushleg.verbs.usage import need_case_first, need_file

if TYPE_CHECKING:
    import argparse
    from collections.abc import Mapping

    from matplotlib.figure import Figure

    from crushleg.case.records import Case, Correlation
    from crushleg.report.correlate_text import Findings
    from crushleg.report.page import Page
    from crushleg.report.page_verbs import Kept
    from crushleg.trial.frozen import Predicted
    from crushleg.trial.posterior import Prior

SAYS = "test records against the curve; force factor and band from them"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "Was the prediction right, and what do tests make of the band: compares records of crush"
        " tests with the curve of a case, or with a prediction issued earlier. A record is a "
        "CSV; NAME.toml beside NAME.csv names its columns and units. Plots and tables go into "
        + FOLDERS
    )
    verb.epilog = "example: crushleg correlate examples/coupon.toml examples/coupon-drop.csv"
    add_case(verb)
    verb.add_argument("records", metavar="RECORD", nargs="+", help="record of a test (CSV)")
    verb.add_argument(
        "--against",
        metavar="FILE",
        help="compare with this JSON of `predict` or `check`, issued before the test",
    )
    verb.add_argument(
        "--write", metavar="FILE", help="write what the tests say, for girder.correlation of a case"
    )
    verb.add_argument(
        "--batch",
        metavar="NAME",
        help='batch that --write is for; "pooled" for girders of another batch',
    )
    verb.add_argument(
        "--record",
        metavar="KEY=VALUE",
        action="append",
        default=[],
        help='a key of every record\'s TOML, as columns.force.unit=kN or mass="120 kg"',
    )
    verb.add_argument(
        "--within",
        metavar="SIGMA",
        help='standard deviation of ln(force) inside a batch; 0.05 if left out, "unknown": found '
        "from the tests",
    )
    verb.add_argument(
        "--between",
        metavar="SIGMA",
        help="standard deviation of batch means about the prediction; 0.09 if left out",
    )
    add_outputs(verb)


def run(arguments: argparse.Namespace) -> int:
    """Report records; text first, then the file for the case, then tables and plots."""
    from crushleg.case.reader import read_case
    from crushleg.report.correlate_data import correlation_data, write_tables
    from crushleg.report.correlate_text import print_correlation
    from crushleg.trial.frozen import read_issued

    need_case_first(arguments.case, arguments.records)
    to = outputs(arguments, arguments.case)
    prior = _prior(arguments.within, arguments.between)
    case = read_case(arguments.case, arguments.set)
    inputs = _inputs(arguments, case)
    target = _target(arguments, inputs)
    to.check(inputs, {"--write": target})
    issued = read_issued(arguments.against) if arguments.against else None
    about, file = _findings(arguments, case, issued, prior)
    to.report(lambda: print_correlation(about, to.units))
    if target is not None and file is not None:
        _write(about, file, target)
    to.data(lambda: correlation_data(about))
    to.tables(lambda folder: write_tables(about, folder))
    drawn = cache(lambda: _figures(about, to.units))
    to.figures(writing(drawn))
    to.page(lambda: _page(about, kept(arguments, inputs, [case.input_sha256], drawn())))
    return PASSED


def _prior(within: str | None, between: str | None) -> Prior:
    """Prior with the scatters that were given."""
    from crushleg.trial.posterior import Prior

    prior = Prior()
    if within == "unknown":
        prior = replace(prior, known=False)
    elif within is not None:
        prior = replace(prior, within=_scatter("--within", within, ' or "unknown"'))
    if between is not None:
        prior = replace(prior, between=_scatter("--between", between))
    return prior


def _scatter(option: str, text: str, more: str = "") -> float:
    """Read the standard deviation of a log: a number from 0.001 to 0.5."""
    from crushleg.case.fields import Spec
    from crushleg.case.overrides import toml_value
    from crushleg.case.values import Unfit, convert
    from crushleg.errors import InputError, Problem

    spec = Spec(kind="number", says="scatter", at_least=0.001, at_most=0.5)
    try:
        return float(convert(toml_value(text), spec))
    except Unfit as unfit:
        write = f"a number from 0.001 to 0.5{more}"
        raise InputError([Problem(field=option, read=unfit.problem.read, write=write)]) from None


def _inputs(arguments: argparse.Namespace, case: Case) -> list[Path]:
    """Every file that is read."""
    from crushleg.trial.record import beside

    records = [Path(record) for record in arguments.records]
    tomls = [toml for record in records if (toml := beside(record)) is not None]
    issued = [Path(arguments.against)] if arguments.against else []
    return [Path(arguments.case), *map(Path, case.beside), *records, *tomls, *issued]


def _target(arguments: argparse.Namespace, inputs: list[Path]) -> Path | None:
    """File to write for a case, looked at before anything is computed."""
    from crushleg.errors import InputError, Problem
    from crushleg.report.correlate_file import check_written
    from crushleg.report.files import check_targets

    if not arguments.write:
        if arguments.batch is not None:
            problem = Problem(field="--batch", read="a batch, but no --write", write="--write FILE")
            raise InputError([problem])
        return None
    need_file("--write", arguments.write)
    target = Path(arguments.write)
    check_targets(target, None, inputs)
    check_written(target)
    return target


def _findings(
    arguments: argparse.Namespace,
    case: Case,
    issued: Predicted | None,
    prior: Prior,
) -> tuple[Findings, Correlation | None]:
    """Say what the records show, and the record of it that a case may name."""
    from crushleg.report.correlate_file import correlation
    from crushleg.report.correlate_text import Findings
    from crushleg.trial.held import hold, read_records

    paths = [Path(record) for record in arguments.records]
    records = read_records(paths, arguments.record, [Path(arguments.case)])
    held = hold(case, records, issued, prior)
    about = Findings(case=case, against=held.against, found=held.found, notes=held.notes)
    if not arguments.write:
        return about, None
    chosen, file = correlation(about, arguments.batch)
    return replace(about, written=arguments.write, chosen=chosen), file


def _write(about: Findings, file: Correlation, target: Path) -> None:
    from crushleg.report.correlate_file import write_correlation
    from crushleg.report.streams import say

    write_correlation(about, file, target)
    say(f"written: {target}")


def _figures(about: Findings, units: str) -> Mapping[str, Figure]:
    from crushleg.report.plot_correlate import correlation_figures

    return correlation_figures(about, units)


def _page(about: Findings, beside: Kept) -> Page:
    from crushleg.report.page_trial import correlate_page

    return correlate_page(about, beside)
