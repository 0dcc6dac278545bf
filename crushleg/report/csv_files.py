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
UNITS = ("_m_s2", "_N_m", "_m2", "_m_s", "_Pa", "_kg", "_N", "_J", "_m", "_s")


def write_csv(checked: Checked, folder: str | Path) -> list[Path]:
    """Write rows.csv, folds.csv, curve.csv, touchdowns.csv and margins.csv, SI.

    The first line of each is a comment, "# ...", the second names the columns with their units;
    ``pandas.read_csv(path, skiprows=1)`` reads them.

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
        "rows": pd.DataFrame(map(_flat, found["girder"]["rows"]), columns=ROW_COLUMNS),
        "folds": pd.DataFrame([_flat(fold) for fold in found["folds"]]),
        "curve": pd.DataFrame(_flat({k: v for k, v in curve.items() if k != "sequence"})),
        "touchdowns": pd.DataFrame([_flat(touchdown) for touchdown in found["touchdowns"]]),
        "margins": pd.DataFrame(found["margins"]),
    }
    place = make_folder(folder)
    paths = []
    for name, table in tables.items():
        path = place / f"{name}.csv"
        text = table.to_csv(index=False, lineterminator="\n")
        write_text(path, f"# {SCREENING}\n{text}")
        paths.append(path)
    return paths


def _flat(entry: dict[str, Any]) -> dict[str, Any]:
    """Levels as columns of their own: force_N {low ...} becomes force_low_N ..."""
    flat: dict[str, Any] = {}
    for key, value in entry.items():
        if not isinstance(value, dict):
            flat[key] = value
            continue
        unit = next((unit for unit in UNITS if key.endswith(unit)), "")
        name = key.removesuffix(unit)
        flat |= {f"{name}_{level}{unit}": value[level] for level in LEVELS}
    return flat
