"""The tables of a check as CSV files, for spreadsheets and scripts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pandas as pd

from crushleg.cautions import SCREENING
from crushleg.girder.pattern import LEVELS
from crushleg.report.data import result
from crushleg.report.files import make_folder, write_text

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.check import Checked

ROW_COLUMNS = (
    "height_m",
    "size_m",
    "size_along_m",
    "shape",
    "per_face",
    "faces",
    "ligament_m",
    "net_area_m2",
    "start_force_low_N",
    "start_force_nominal_N",
    "start_force_high_N",
)
READ_FIRST = "READ-FIRST.txt"
UNITS = ("_m_s2", "_N_m", "_m2", "_m_s", "_Pa", "_kg", "_N", "_J", "_m", "_s")


def write_csv(checked: Checked, folder: str | Path) -> list[Path]:
    """Write rows.csv, folds.csv, curve.csv, touchdowns.csv, margins.csv and READ-FIRST.txt.

    The first line of a table names its columns with their units, SI; ``pandas.read_csv(path)``
    reads them. The text holds what the tables cannot: the caution and what they belong to.

    Parameters
    ----------
    checked : Checked
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
    found = result(checked)
    curve = found["curve"]
    tables = {
        "rows": pd.DataFrame(map(flat, found["girder"]["rows"]), columns=ROW_COLUMNS),
        "folds": pd.DataFrame([flat(fold) for fold in found["folds"]]),
        "curve": pd.DataFrame(flat({k: v for k, v in curve.items() if k != "sequence"})),
        "touchdowns": pd.DataFrame([flat(touchdown) for touchdown in found["touchdowns"]]),
        "margins": pd.DataFrame(found["margins"]).assign(caution=SCREENING),
    }
    texts = {
        f"{name}.csv": table.to_csv(index=False, lineterminator="\n")
        for name, table in tables.items()
    }
    place = make_folder(folder)
    paths = [place / name for name in (*texts, READ_FIRST)]
    for path, text in zip(paths, (*texts.values(), read_first(found)), strict=True):
        write_text(path, text)
    return paths


def read_first(found: dict[str, Any]) -> str:
    """Caution, case, what the tables are, then every caution of the case."""
    about = (
        f"{found['title']}, revision {found['revision']}, input {found['input_sha256']}, "
        f"crushleg {found['version']}"
    )
    tables = "The CSV files here are its tables in SI units; the columns end in their unit."
    rest = (f"- {caution}" for caution in found["cautions"] if caution != SCREENING)
    return "\n".join([SCREENING, "", about, tables, "", "Cautions of this case:", *rest, ""])


def flat(entry: dict[str, Any]) -> dict[str, Any]:
    """Give levels columns of their own: force_N {low ...} becomes force_low_N ..."""
    flat: dict[str, Any] = {}
    for key, value in entry.items():
        if not isinstance(value, dict):
            flat[key] = value
            continue
        unit = next((unit for unit in UNITS if key.endswith(unit)), "")
        name = key.removesuffix(unit)
        flat |= {f"{name}_{level}{unit}": value[level] for level in LEVELS}
    return flat
