"""The tables of a prediction as CSV files, for spreadsheets and scripts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pandas as pd

from crushleg.cautions import SCREENING
from crushleg.report.csv_files import flat
from crushleg.report.files import make_folder, write_text

if TYPE_CHECKING:
    from pathlib import Path

READ_FIRST = "prediction-READ-FIRST.txt"


def write_prediction_csv(found: dict[str, Any], folder: str | Path) -> list[Path]:
    """Write prediction-events.csv, -crush.csv, -readings.csv and the text to read first.

    Columns end in their SI unit; every table names the event a line belongs to.

    Parameters
    ----------
    found : dict
        From :func:`crushleg.report.predict_data.prediction_data`.
    folder : path
        Made if it is missing.

    Returns
    -------
    list of Path

    Raises
    ------
    InputError
        A file cannot be written: which, why and what to do.
    """
    events = found["predicted"]
    tables = {
        "events": [flat({k: v for k, v in one.items() if k != "groups"}) for one in events],
        "crush": [
            {"name": one["name"], "leg": leg}
            | flat({k: v for k, v in group.items() if k != "legs"})
            for one in events
            for group in one["groups"]
            for leg in group["legs"]
        ],
        "readings": [line for table in found["readings"] for line in _lines(table)],
    }
    texts = {
        f"prediction-{name}.csv": pd.DataFrame(lines).to_csv(index=False, lineterminator="\n")
        for name, lines in tables.items()
    }
    place = make_folder(folder)
    paths = [place / name for name in (*texts, READ_FIRST)]
    for path, text in zip(paths, (*texts.values(), _read_first(found)), strict=True):
        write_text(path, text)
    return paths


def _lines(table: dict[str, Any]) -> list[dict[str, Any]]:
    """One line per crush of the legs that an event has."""
    alone = {key: table[key] for key in ("legs", "mass_kg", "net_weight_N")}
    curves = {key: value for key, value in table.items() if isinstance(value, dict)}
    return [
        {"events": "; ".join(table["events"])}
        | alone
        | {"crush_m": crush}
        | flat({key: {k: v[i] for k, v in levels.items()} for key, levels in curves.items()})
        for i, crush in enumerate(table["crush_m"])
    ]


def _read_first(found: dict[str, Any]) -> str:
    """Caution, what the tables belong to, then every caution."""
    about = (
        f"Prediction of {found['date']}: {found['title']}, revision {found['revision']}, input "
        f"{found['input_sha256']}, prediction {found['sha256']}, crushleg {found['version']}"
    )
    tables = "The files prediction-*.csv are its tables in SI units; the columns end in their unit."
    rest = (f"- {caution}" for caution in found["cautions"] if caution != SCREENING)
    return "\n".join([SCREENING, "", about, tables, "", "Cautions:", *rest, ""])
