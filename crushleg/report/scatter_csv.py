"""The landings of a study and its statistics as CSV files."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pandas as pd

from crushleg.cautions import SCREENING
from crushleg.errors import InputError, Problem
from crushleg.report.csv_files import READ_FIRST
from crushleg.report.files import ADVICE, make_folder, write_text
from crushleg.report.scatter_data import ENDINGS, scatter_result
from crushleg.report.scatter_words import quantity
from crushleg.scatter.outcome import drawn_blocks

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.arrays import FloatArray
    from crushleg.case.records import ScatterInput
    from crushleg.scatter.outcome import Outcome
    from crushleg.scatter.records import Draws


def write_scatter_csv(outcome: Outcome, folder: Path) -> list[Path]:
    """Write the tables of a study into a folder, which is made if it is missing.

    scatter-samples.csv (a line per landing: inputs, margins, quantities), scatter-margins.csv,
    scatter-limits.csv, and READ-FIRST.txt.

    Raises
    ------
    InputError
        A file cannot be written: which, why and what to do.
    """
    found = scatter_result(outcome)
    texts = {
        "scatter-margins.csv": _text([one | {"caution": SCREENING} for one in found["margins"]]),
        "scatter-limits.csv": _text(found["tolerance_limits"]),
        READ_FIRST: _read_first(found),
    }
    place = make_folder(folder)
    samples = place / "scatter-samples.csv"
    _write_pieces(samples, _landings(outcome))
    for name, text in texts.items():
        write_text(place / name, text)
    return [samples, *(place / name for name in texts)]


def _write_pieces(path: Path, pieces: Iterator[str]) -> None:
    """Write a file whole or not at all, a piece at a time, however large it is."""
    target = Path(os.path.realpath(path))
    beside = target.with_name(f".{target.name}.part")
    try:
        with beside.open("w", encoding="utf-8") as file:
            file.writelines(pieces)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(target)
    except OSError as error:
        read, write = ADVICE.get(error.errno or 0, (str(error.strerror), "elsewhere"))
        problem = Problem(file=str(path), read=f"{read} (not written)", write=write)
        raise InputError([problem]) from error
    finally:
        beside.unlink(missing_ok=True)


def _text(rows: list[dict[str, Any]]) -> str:
    return str(pd.DataFrame(rows).to_csv(index=False, lineterminator="\n"))


def _landings(outcome: Outcome) -> Iterator[str]:
    """Lines of the landings, a block at a time."""
    study = outcome.study
    for place, block in drawn_blocks(outcome):
        table: dict[str, Any] = {"landing": study.number[place]}
        for one in {one.key: one for one in outcome.plan.inputs}.values():
            table |= _input(one, block)
        for name, margin in zip(study.names, study.margin, strict=True):
            table[".".join(("margin", *name)).rstrip(".")] = margin[place]
        for key, values in study.quantities.items():
            table[_column(key)] = values[place]
        yield pd.DataFrame(table).to_csv(index=False, header=place.start == 0, lineterminator="\n")


def _input(one: ScatterInput, block: Draws) -> dict[str, FloatArray]:
    """Columns of one input, one per leg where legs differ."""
    drawn, ending = dict(block.values)[one.key], ENDINGS[one.kind]
    if drawn.ndim == 1:
        return {f"{one.key}{ending}": drawn}
    return {f"{one.key}.leg_{leg + 1}{ending}": each for leg, each in enumerate(drawn.T)}


def _column(name: str) -> str:
    """Name of a quantity with its touchdown before its unit: leg_load.nominal_N."""
    one = quantity(name)
    key = name.partition(" ")[0]
    what = one.what.replace(" ", "_")
    ending = key.removeprefix(what)
    return f"{what}.{one.touchdown}{ending}" if one.touchdown else key


def _read_first(found: dict[str, Any]) -> str:
    about = (
        f"{found['title']}, revision {found['revision']}, input {found['input_sha256']}, "
        f"crushleg {found['version']}, {found['method']}, seed {found['seed']}"
    )
    units = (
        "SI units; the columns end in their unit. A margin that does not apply is empty. Landings "
        "are counted from 0."
    )
    rest = [f"- {text}" for text in (*found["notes"], *found["cautions"]) if text != SCREENING]
    return "\n".join([SCREENING, "", about, units, "", "Notes:", *rest, ""])
