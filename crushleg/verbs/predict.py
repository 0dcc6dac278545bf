"""Verb ``predict``: the sheet issued before a drop or a landing."""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

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
from crushleg.verbs.usage import need_file

if TYPE_CHECKING:
    import argparse
    import datetime as dt
    from collections.abc import Mapping

    from matplotlib.figure import Figure

    from crushleg.report.page import Page
    from crushleg.report.page_verbs import Kept
    from crushleg.trial.predict import Prediction

SAYS = "sheet to issue before a drop or landing: crush, forces, limits"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "The sheet to issue before a test: predicted crush, forces and limits, what to set on "
        "the instruments, and a table and nomogram from measured crush to energy and speed. With"
        " [rig] the drops, else the touchdowns. The JSON is the prediction as issued: it is "
        "sealed by a hash, and `correlate` checks it. Nomogram and tables go into " + FOLDERS
    )
    verb.epilog = "example: crushleg predict coupon.toml --json issued.json --sheet sheet.pdf"
    add_case(verb)
    verb.add_argument("--sheet", metavar="FILE", help="write the sheet to sign as PDF")
    verb.add_argument("--date", metavar="YYYY-MM-DD", help="date of issue; today's if left out")
    add_outputs(verb)


def run(arguments: argparse.Namespace) -> int:
    """Predict a test; text first, then files, then figures."""
    from crushleg.case.reader import read_case
    from crushleg.check import check_case
    from crushleg.report.files import check_targets
    from crushleg.report.predict_data import prediction_data
    from crushleg.report.predict_text import print_prediction
    from crushleg.trial.predict import predict

    date = _date(arguments.date)
    to = outputs(arguments, arguments.case)
    case = read_case(arguments.case, arguments.set)
    inputs = (arguments.case, *case.beside)
    need_file("--sheet", arguments.sheet)
    sheet = Path(arguments.sheet) if arguments.sheet else None
    to.check(inputs, {"--sheet": sheet})
    check_targets(sheet, to.folder, map(Path, inputs))
    prediction = predict(check_case(case), date)
    found = prediction_data(prediction)
    _keep_issued(to.json_file, found["sha256"])
    to.report(lambda: print_prediction(prediction, found["sha256"], units=to.units))
    to.data(lambda: found)
    to.tables(lambda folder: _tables(found, folder))
    drawn = cache(lambda: _figures(prediction, to.units))
    to.figures(writing(drawn))
    if sheet is not None:
        _sheet(arguments, prediction, found["sha256"])
    digests = [case.input_sha256]
    to.page(lambda: _page(prediction, found["sha256"], kept(arguments, inputs, digests, drawn())))
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


def _figures(prediction: Prediction, units: str) -> Mapping[str, Figure]:
    from crushleg.report.plot_nomogram import nomogram_figures

    return nomogram_figures(prediction, units)


def _page(prediction: Prediction, seal: str, beside: Kept) -> Page:
    from crushleg.report.page_trial import predict_page

    return predict_page(prediction, seal, beside)


def _sheet(arguments: argparse.Namespace, prediction: Prediction, seal: str) -> None:
    os.environ["MPLBACKEND"] = "agg"
    from crushleg.report.files import write_bytes
    from crushleg.report.sheet_pdf import sheet_pdf

    write_bytes(arguments.sheet, sheet_pdf(prediction, seal, arguments.units, arguments.paper))
    say(f"sheet: {arguments.sheet}")
