"""Verb ``correlate``: measured records against the curve; force factor and band of the tests."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.verbs.outputs import FOLDERS, PASSED, add_case, add_outputs, outputs

if TYPE_CHECKING:
    import argparse

    from crushleg.case.records import Case, Correlation
    from crushleg.report.correlate_text import Findings
    from crushleg.trial.frozen import Predicted
    from crushleg.trial.posterior import Prior

SAYS = "measured records against the curve; force factor and band of your tests"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "Hold records of crush tests against the curve of a case, or against a prediction issued "
        "earlier. A record is a CSV; NAME.toml beside NAME.csv names its columns and units. Plots "
        "and tables go into " + FOLDERS
    )
    verb.epilog = "example: crushleg correlate coupon.toml drop-1.csv drop-2.csv --write tests.toml"
    add_case(verb)
    verb.add_argument("records", metavar="RECORD", nargs="+", help="record of a test (CSV)")
    verb.add_argument(
        "--record",
        metavar="KEY=VALUE",
        action="append",
        default=[],
        help='a key of every record\'s TOML, as columns.force.unit=kN or mass="120 kg"',
    )
    verb.add_argument(
        "--against", metavar="FILE", help="JSON of `predict` or `check`, issued before the test"
    )
    verb.add_argument("--write", metavar="FILE", help="file for girder.correlation of a case")
    verb.add_argument(
        "--batch", metavar="NAME", help='batch that is written; "pooled" for any other one'
    )
    verb.add_argument(
        "--within",
        metavar="SIGMA",
        help='scatter of ln(force) inside a batch, 0.05 if left out; "unknown" lets tests say',
    )
    verb.add_argument(
        "--between", metavar="SIGMA", help="scatter of batches about the prediction; 0.09"
    )
    add_outputs(verb)


def run(arguments: argparse.Namespace) -> int:
    """Report records; text first, then the file for the case, then tables and plots."""
    from crushleg.case.reader import read_case
    from crushleg.report.correlate_data import correlation_data, write_tables
    from crushleg.report.correlate_text import print_correlation
    from crushleg.trial.frozen import read_issued

    to = outputs(arguments, arguments.case)
    prior = _prior(arguments.within, arguments.between)
    case = read_case(arguments.case, arguments.set)
    inputs = _inputs(arguments, case)
    to.check(inputs)
    target = _target(arguments, inputs)
    issued = read_issued(arguments.against) if arguments.against else None
    about, file = _findings(arguments, case, issued, prior)
    to.report(lambda: print_correlation(about, to.units))
    if target is not None and file is not None:
        _write(about, file, target)
    to.data(lambda: correlation_data(about))
    to.tables(lambda folder: write_tables(about, folder))
    to.figures(lambda folder: _figures(about, folder, to.units))
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
    target = Path(arguments.write)
    data = [Path(arguments.json)] if arguments.json else []
    check_targets(target, None, [*inputs, *data])
    if data and target.resolve() == data[0].resolve():
        read, write = "the name given to --json", "another name"
        raise InputError([Problem(file=str(target), read=read, write=write)])
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


def _figures(about: Findings, folder: Path, units: str) -> list[Path]:
    from crushleg.report.plot_correlate import draw_correlation

    return draw_correlation(about, folder, units)
