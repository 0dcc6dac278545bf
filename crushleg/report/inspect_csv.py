"""The tables of an inspection as CSV files, for spreadsheets and scripts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pandas as pd

from crushleg.cautions import SCREENING
from crushleg.report.files import make_folder, write_text
from crushleg.report.inspect_data import inspection_data

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.trial.inspect import Inspection

READ_FIRST = "INSPECTION-READ-FIRST.txt"


def write_inspection_csv(found: Inspection, folder: Path) -> list[Path]:
    """Write inspection-legs.csv, inspection-energy.csv, inspection-causes.csv and a text.

    Parameters
    ----------
    found : Inspection
    folder : Path
        Made if it is missing.

    Returns
    -------
    list of Path

    Raises
    ------
    InputError
        A file cannot be written: which, why and what to do.
    """
    data = inspection_data(found)
    legs = pd.json_normalize(data["legs"], sep="_").assign(caution=SCREENING)
    tables = {
        "inspection-legs": legs.rename(columns=_unit_last),
        "inspection-energy": pd.DataFrame(data["energy_J"]).rename(
            columns={name: f"{name}_J" for name in ("low", "nominal", "high")}
        ),
        "inspection-causes": pd.DataFrame(data["causes"]),
    }
    texts = {
        f"{name}.csv": table.to_csv(index=False, lineterminator="\n")
        for name, table in tables.items()
    }
    lines = [*data["cautions"], "", f"{data['title']}, input {data['input_sha256']}", ""]
    lines += [*data["lower_bound_because"], *data["flags"], ""]
    place = make_folder(folder)
    for name, text in {**texts, READ_FIRST: "\n".join(lines)}.items():
        write_text(place / name, text)
    return [place / name for name in (*texts, READ_FIRST)]


def _unit_last(column: str) -> str:
    """Name of a column with its level before its unit: energy_J_low to energy_low_J."""
    for level in ("low", "nominal", "high"):
        for unit in ("_J", "_N"):
            if column.endswith(f"{unit}_{level}"):
                return f"{column.removesuffix(f'{unit}_{level}')}_{level}{unit}"
    return column
