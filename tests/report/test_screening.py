"""The safety sentence stands in every output."""

from __future__ import annotations

import json
from functools import partial
from typing import TYPE_CHECKING

from crushleg.cautions import SCREENING
from crushleg.report.csv_files import READ_FIRST, write_csv
from crushleg.report.data import result
from crushleg.report.datasheets import print_datasheet, print_datasheets
from crushleg.report.files import write_json
from tests.report.cases import HEAVY, bare, checked, printed, report, terminal

if TYPE_CHECKING:
    from pathlib import Path

CASES = (checked("test-stage"), checked("test-stage", HEAVY))


def flat(text: str) -> str:
    return " ".join(bare(text).split())


def test_screening_stands_in_every_output(tmp_path: Path) -> None:
    for case in CASES:
        datasheet = case.case.girder.material
        outputs = [report(case, units) for units in ("si", "us")]
        outputs.append(flat(report(case, console=terminal())))
        outputs.append(printed(partial(print_datasheet, datasheet)))
        outputs.append(printed(partial(print_datasheets, [datasheet])))
        write_json(result(case), tmp_path / "result.json")
        outputs.append("\n".join(json.loads((tmp_path / "result.json").read_text())["cautions"]))
        written = {
            path.name: path.read_text(encoding="utf-8") for path in write_csv(case, tmp_path)
        }
        outputs.append(written[READ_FIRST])
        assert written[READ_FIRST].splitlines()[0] == SCREENING
        outputs += written["margins.csv"].splitlines()[1:]
        for output in outputs:
            assert SCREENING in output


def test_the_printed_report_begins_and_ends_its_cautions_with_it() -> None:
    for case in CASES:
        assert report(case).count(SCREENING) == 2
        assert report(case).endswith(f"{SCREENING}\n")
