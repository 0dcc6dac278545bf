"""Landings in motion as CSV files: force and time of every leg, outcomes, energies, the map."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from crushleg.cautions import SCREENING
from crushleg.report.csv_files import read_first
from crushleg.report.files import make_folder, write_text
from crushleg.report.land_data import landings_result
from crushleg.report.land_names import file_names
from crushleg.report.land_words import labels

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.arrays import FloatArray, IntArray
    from crushleg.land import Moving
    from crushleg.landing.motion.record import History
    from crushleg.stability import StabilityMap

READ_FIRST = "LANDING-READ-FIRST.txt"
MOST_ROWS = 5000
"""Rows of a force-time table, about; peaks are always kept."""
NESTED = ("legs", "ledger", "columns")


def write_landings_csv(
    moving: Moving, stability: StabilityMap | None, folder: str | Path
) -> list[Path]:
    """Write outcomes, legs, ledger, margins, the map, and force against time of each landing.

    The first line of a table names its columns with their units, SI. Files: outcomes.csv,
    outcome-legs.csv, ledger.csv, motion-margins.csv, stability-map.csv where it was asked for, one
    motion-NAME-LEVEL.csv for each landing and column, LANDING-READ-FIRST.txt.

    Parameters
    ----------
    moving : Moving
    stability : StabilityMap or None
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
    found = landings_result(moving, stability)
    columns = [(one, column) for one in found["motions"] for column in one["columns"]]
    tables = {
        "outcomes": pd.DataFrame(_plain(one) | _plain(column) for one, column in columns).assign(
            caution=SCREENING
        ),
        "outcome-legs": pd.DataFrame(
            {"name": one["name"], "girders": column["girders"], **leg}
            for one, column in columns
            for leg in column["legs"]
        ),
        "ledger": pd.DataFrame(
            {"name": one["name"], "girders": column["girders"], **column["ledger"]}
            for one, column in columns
        ),
        "motion-margins": pd.DataFrame(found["margins"]).assign(caution=SCREENING),
    }
    if found["stability_map"] is not None:
        tables["stability-map"] = pd.DataFrame(_cells(found["stability_map"]))
    tables |= _histories(moving)
    texts = {
        f"{name}.csv": table.to_csv(index=False, lineterminator="\n")
        for name, table in tables.items()
    }
    texts[READ_FIRST] = read_first(found)
    place = make_folder(folder)
    for name, text in texts.items():
        write_text(place / name, text)
    return [place / name for name in texts]


def _plain(entry: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in entry.items() if key not in NESTED}


def _cells(found: dict[str, Any]) -> list[dict[str, Any]]:
    """Cells of the map, slowest first."""
    return [
        {"vertical_speed_m_s": v, "horizontal_speed_m_s": u, "outcome": word}
        for v, row in zip(found["vertical_speed_m_s"], found["outcome"], strict=True)
        for u, word in zip(found["horizontal_speed_m_s"], row, strict=True)
    ]


def _histories(moving: Moving) -> dict[str, pd.DataFrame]:
    """Force and stroke of the legs against time, by the name of the file."""
    runs = [
        (f"{move.name} {label}", history)
        for move in moving.moves
        for label, history in zip(labels(move), move.histories, strict=True)
    ]
    names = file_names([name for name, _ in runs])
    return {
        f"motion-{name}": force_time(history)
        for name, (_, history) in zip(names, runs, strict=True)
    }


def force_time(history: History) -> pd.DataFrame:
    """Table of one landing: a row for each time and leg, thinned with every peak kept.

    ``stroke_m`` is the travel of the absorber now, ``slide_m`` the way of the pad over the ground
    so far, ``friction_N`` the sideways force of the ground on the pad.
    """
    legs = history.strut.shape[1]
    kept = thinned(history.strut, max(MOST_ROWS // legs, 2))
    loaded = history.strut > 0.0
    moved = np.linalg.norm(np.diff(history.place[..., :2], axis=0), axis=-1)
    moved = np.concatenate([np.zeros((1, legs)), moved * (loaded[1:] & loaded[:-1])])
    across = np.linalg.norm(history.force[..., :2], axis=-1)
    columns = {
        "axial_N": history.strut,
        "side_N": history.across,
        "pad_force_N": history.force[..., 2],
        "friction_N": across,
        "stroke_m": history.travel,
        "slide_m": np.cumsum(moved, axis=0),
        "sinkage_m": history.sunk,
    }
    return pd.DataFrame(
        {
            "time_s": np.repeat(history.time[kept], legs),
            "leg": np.tile(np.arange(1, legs + 1), len(kept)),
            **{name: values[kept].ravel() for name, values in columns.items()},
        }
    )


def thinned(load: FloatArray, most: int) -> IntArray:
    """Rows to keep of a load (T, N): about ``most``, those of each peak among them.

    Of each stretch of time its first step and the step with the largest load of all legs are
    kept, then the largest of each leg, and the end.
    """
    steps = len(load)
    if steps <= most:
        return np.arange(steps)
    edges = np.linspace(0, steps, max(most // 2, 1) + 1).astype(np.intp)
    total = load.sum(axis=1)
    highest = [a + int(np.argmax(total[a:b])) for a, b in pairwise(edges)]
    kept = np.concatenate([edges[:-1], highest, load.argmax(axis=0), [steps - 1]])
    return np.unique(kept)
