"""Verb ``predict``: the sheet issued before a drop or a landing."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

from crushleg.report.streams import say
from crushleg.verbs.outputs import FOLDERS, NEGATIVE, PASSED, add_case, add_outputs, outputs

if TYPE_CHECKING:
    import argparse
    import datetime as dt

    from crushleg.trial.predict import Prediction

SAYS = "the sheet issued before a drop or a landing"
PAPERS = ("a4", "letter")


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "Predicted crush, forces and limits of a test, what to set on the instruments, and a table "
        "and nomogram from measured crush to energy and speed. With [rig] the drops, else the "
        "touchdowns. The JSON is the prediction as issued: it is sealed by a hash, and `correlate` "
        "checks it. Nomogram and tables go into " + FOLDERS
    )
    verb.epilog = "example: crushleg predict coupon.toml --json issued.json --pdf sheet.pdf"
    add_case(verb)
    add_outputs(verb)
    verb.add_argument("--pdf", metavar="FILE", help="write the sheet to sign as PDF")
    verb.add_argument("--paper", choices=PAPERS, default="a4", help="of the PDF")
    verb.add_argument("--date", metavar="YYYY-MM-DD", help="of issue; today's when left out")


def run(arguments: argparse.Namespace) -> int:
    """Predict a test; text first, then files, then figures."""
    from crushleg.case.reader import read_case
    from crushleg.check import check_case
    from crushleg.report.predict_data import prediction_data
    from crushleg.report.predict_text import print_prediction
    from crushleg.trial.predict import predict

    date = _date(arguments.date)
    to = outputs(arguments, arguments.case)
    case = read_case(arguments.case, arguments.set)
    inputs = (arguments.case, *case.beside)
    to.check(inputs)
    _check_pdf(arguments, to.folder, inputs)
    prediction = predict(check_case(case), date)
    found = prediction_data(prediction)
    _keep_issued(to.json_file, found["sha256"])
    to.report(lambda: print_prediction(prediction, found["sha256"], units=to.units))
    to.data(lambda: found)
    to.tables(lambda folder: _tables(found, folder))
    to.figures(lambda folder: _figures(prediction, folder, to.units))
    if arguments.pdf:
        _pdf(arguments, prediction, found["sha256"])
    return PASSED if prediction.checked.passes else NEGATIVE


def _date(text: str | None) -> dt.date:
    """Date of issue."""
    import datetime as dt

    from crushleg.errors import InputError, Problem

    if text is None:
        return dt.datetime.now(dt.UTC).astimezone().date()
    try:
        return dt.datetime.strptime(text, "%Y-%m-%d").replace(tzinfo=dt.UTC).date()
    except ValueError:
        problem = Problem(field="--date", read=f'"{text}"', write='a date, such as "2026-11-25"')
        raise InputError([problem]) from None


def _check_pdf(arguments: argparse.Namespace, folder: Path | None, inputs: tuple[str, ...]) -> None:
    """Refuse a PDF that could not be written, or that would replace the JSON or an input."""
    from crushleg.report.files import check_targets

    if arguments.pdf:
        others = [arguments.json] if arguments.json and arguments.json != "-" else []
        check_targets(Path(arguments.pdf), folder, map(Path, inputs))
        if any(Path(arguments.pdf).resolve() == Path(other).resolve() for other in others):
            from crushleg.errors import InputError, Problem

            problem = Problem(file=arguments.pdf, read="the name of the JSON", write="another name")
            raise InputError([problem])


def _keep_issued(file: Path | None, seal: str) -> None:
    """Refuse to replace a prediction issued earlier by another one."""
    from crushleg.errors import InputError, Problem
    from crushleg.trial.issued import seal_of

    if file is None or seal_of(file) in (None, seal):
        return
    read = f"a prediction issued earlier, sealed {seal_of(file)} (nothing was written)"
    raise InputError([Problem(file=str(file), read=read, write="another name: it must stay")])


def _tables(found: dict[str, Any], folder: Path) -> list[Path]:
    from crushleg.report.predict_csv import write_prediction_csv

    return write_prediction_csv(found, folder)


def _figures(prediction: Prediction, folder: Path, units: str) -> list[Path]:
    from crushleg.report.plot_nomogram import nomogram_figures
    from crushleg.report.plots import write_figures

    return write_figures(nomogram_figures(prediction, units), folder)


def _pdf(arguments: argparse.Namespace, prediction: Prediction, seal: str) -> None:
    os.environ["MPLBACKEND"] = "agg"
    from crushleg.report.files import write_bytes
    from crushleg.report.sheet_pdf import sheet_pdf

    write_bytes(arguments.pdf, sheet_pdf(prediction, seal, arguments.units, arguments.paper))
    say(f"sheet: {arguments.pdf}")
