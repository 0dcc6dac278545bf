"""The tables of a sizing and of a schedule as CSV files."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pandas as pd

from crushleg.cautions import SCREENING
from crushleg.report.csv_files import READ_FIRST
from crushleg.report.files import make_folder, write_text
from crushleg.report.size_data import schedule_result, sizing_result

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.design.settled import Schedule, Sizing

SEPARATOR = " "


def write_sizing_csv(job: Sizing, folder: Path) -> list[Path]:
    """Write size-front.csv, size-rows.csv, size-margins.csv and READ-FIRST.txt.

    Raises
    ------
    InputError
        A file cannot be written: which, why and what to do.
    """
    found = sizing_result(job)
    front = [one | {"sizes_m": SEPARATOR.join(map(str, one["sizes_m"]))} for one in found["front"]]
    if found["check"] is None:
        margins: list[dict[str, Any]] = found["conflicts"]
        margins = [{k: v for k, v in one.items() if k != "then_missed"} for one in margins]
    else:
        margins = found["check"]["margins"]
    tables = {
        "size-front": front,
        "size-rows": found["design"]["rows"],
        "size-margins": [one | {"caution": SCREENING} for one in margins],
    }
    return _write(tables, found, folder)


def write_schedule_csv(job: Schedule, folder: Path) -> list[Path]:
    """Write follow-curve.csv, follow-rows.csv, follow-margins.csv and READ-FIRST.txt.

    Raises
    ------
    InputError
        A file cannot be written: which, why and what to do.
    """
    found = schedule_result(job)
    tables = {
        "follow-curve": found["curve"],
        "follow-rows": found["design"]["rows"],
        "follow-margins": [one | {"caution": SCREENING} for one in found["check"]["margins"]],
    }
    return _write(tables, found, folder)


def _write(tables: dict[str, Any], found: dict[str, Any], folder: Path) -> list[Path]:
    texts = {
        f"{name}.csv": pd.DataFrame(table).to_csv(index=False, lineterminator="\n")
        for name, table in tables.items()
    }
    about = (
        f"{found['title']}, revision {found['revision']}, input {found['input_sha256']}, "
        f"crushleg {found['version']}, seed {found['seed']}"
    )
    units = "SI units; the columns end in their unit. Sizes of a row of the front: foot first."
    rest = [f"- {text}" for text in (*found["not_kept"], *_cautions(found))]
    texts[READ_FIRST] = "\n".join([SCREENING, "", about, units, "", "Notes:", *rest, ""])
    place = make_folder(folder)
    for name, text in texts.items():
        write_text(place / name, text)
    return [place / name for name in texts]


def _cautions(found: dict[str, Any]) -> list[str]:
    if found["check"] is None:
        return ["No design fits: the rows are those of the girder that lacks least."]
    return [text for text in found["check"]["cautions"] if text != SCREENING]
