"""The tables of a comparison as CSV files, for spreadsheets and scripts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pandas as pd

from crushleg.cautions import SCREENING
from crushleg.girder.pattern import LEVELS
from crushleg.report.compare_data import comparison_result
from crushleg.report.csv_files import READ_FIRST
from crushleg.report.files import make_folder, write_text

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.design.compare import Comparison


def write_comparison_csv(comparison: Comparison, folder: str | Path) -> list[Path]:
    """Write compare.csv, yardsticks.csv, compare-margins.csv, compare-curves.csv, READ-FIRST.txt.

    The first line of a table names its columns with their units, SI. Curves are left out where
    one input is varied.

    Parameters
    ----------
    comparison : Comparison
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
    found = comparison_result(comparison)
    tables = {
        "compare": pd.DataFrame(map(_line, found["girders"])),
        "yardsticks": pd.DataFrame(
            {"name": one["name"], "yardstick": name, **values}
            for one in found["girders"]
            for name, values in one["yardsticks"].items()
        ),
        "compare-margins": pd.DataFrame(
            {"name": one["name"], **margin}
            for one in found["girders"]
            for margin in one["check"]["margins"]
        ).assign(caution=SCREENING),
    }
    if comparison.lineup.varied is None:
        tables["compare-curves"] = pd.concat(map(_curve, found["girders"]))
    texts = {
        f"{name}.csv": table.to_csv(index=False, lineterminator="\n")
        for name, table in tables.items()
    }
    place = make_folder(folder)
    texts[READ_FIRST] = _read_first(found)
    for name, text in texts.items():
        write_text(place / name, text)
    return [place / name for name in texts]


def _line(one: dict[str, Any]) -> dict[str, Any]:
    """One girder: its own numbers, slopes of stroke and load as columns."""
    nested = ("yardsticks", "check", "sensitivity", "governs")
    line = {key: value for key, value in one.items() if key not in nested}
    line |= {f"governs_{key}": value for key, value in one["governs"].items()}
    for of, slopes in (one["sensitivity"] or {}).items():
        line |= {f"{of}_per_{name}": slope for name, slope in slopes.items()}
    return line | {"caution": SCREENING}


def _curve(one: dict[str, Any]) -> pd.DataFrame:
    curve = one["check"]["curve"]
    columns = {"name": one["name"], "stroke_m": curve["stroke_m"]}
    for level in LEVELS:
        columns[f"force_{level}_N"] = curve["force_N"][level]
        columns[f"energy_{level}_J"] = curve["energy_J"][level]
    return pd.DataFrame(columns)


def _read_first(found: dict[str, Any]) -> str:
    about = (
        f"{found['title']}, revision {found['revision']}, input {found['input_sha256']}, "
        f"crushleg {found['version']}"
    )
    tables = (
        f"Comparison at the touchdown {found['compared_at']}. SI units; the columns end in their "
        "unit. stroke_per_wall and the like: relative change of stroke or leg load per relative "
        "change of the input."
    )
    rest = [f"- {text}" for text in (*found["notes"], *found["cautions"]) if text != SCREENING]
    return "\n".join([SCREENING, "", about, tables, "", "Notes and cautions:", *rest, ""])
