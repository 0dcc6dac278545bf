"""The worst landing of a study, written as a case file of its own that `check` reproduces."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from crushleg.case.overrides import apply_overrides
from crushleg.case.reader import case_reader
from crushleg.case.scatter_keys import HOLE_SIZE, MODEL, si_text
from crushleg.case.scatter_rules import row_table
from crushleg.case.sheet import dotted
from crushleg.case.shelf import datasheet_path
from crushleg.case.source import is_stream, load
from crushleg.case.write import case_tables, dumped, moved_path, rewritten
from crushleg.scatter.plan import plan_of
from crushleg.scatter.sample import DRAWN, LEAST_SCATTER, is_strength, sampled_case

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from crushleg.case.records import Case, ScatterInput
    from crushleg.case.source import Source
    from crushleg.scatter.records import StudyResult

DERIVED_KEYS = ("depth", "wall_tolerance", "hole_tolerance", "corner_radius")


class Worst(NamedTuple):
    """Number of the landing with the lowest counted margin, which margin, and its value."""

    number: int
    name: tuple[str, str]
    margin: float


class CaseFiles(NamedTuple):
    """Text of a case file, and of the files beside it by their names."""

    text: str
    beside: Mapping[str, str]


def worst_of(result: StudyResult) -> Worst | None:
    """Landing with the lowest counted margin; None where none counts or applies.

    Parameters
    ----------
    result : StudyResult

    Returns
    -------
    Worst or None
    """
    lowest: Worst | None = None
    for name, margin, counts in zip(result.names, result.margin, result.counts, strict=True):
        if not counts or np.isnan(margin).all():
            continue
        at = int(np.nanargmin(margin))
        if lowest is None or margin[at] < lowest.margin:
            lowest = Worst(int(result.number[at]), name, float(margin[at]))
    return lowest


def worst_case_text(
    path: Path,
    overrides: Sequence[str],
    values: Mapping[str, float],
    folder: Path,
    name: str,
    head: Sequence[str] = (),
) -> CaseFiles:
    """Case file of one landing.

    Parameters
    ----------
    path : Path
        The case of the study.
    overrides : sequence of str
        As given to ``--set``.
    values : mapping
        Key -> value in SI, from :func:`crushleg.scatter.sample.values_of`.
    folder : Path
        Where the case file will lie: paths are turned to it.
    name : str
        Its name without ending; those of the files beside it begin with it.
    head : sequence of str
        Comment lines put before everything.

    Returns
    -------
    CaseFiles
        A datasheet beside it holds drawn strengths, a correlation file the drawn model factor.

    Raises
    ------
    InputError
        Every problem of the case.
    """
    source = load(path)
    case = case_reader(path)(overrides)
    base_dir = Path() if is_stream(path) else path.parent
    wanted = case_tables(source, overrides)
    for table in ("scatter", "scheme"):
        wanted.pop(table, None)
    sample = sampled_case(case, values)
    _put_values(wanted, plan_of(case).inputs, values, sample)
    _fix_derived(wanted, case, sample)
    girder, beside = wanted["girder"], {}
    if any(is_strength(key) for key in values):
        beside[f"{name}-material.toml"] = _datasheet(girder["material"], base_dir, sample, values)
        girder["material"] = f"{name}-material.toml"
    if MODEL in values:
        beside[f"{name}-factor.toml"] = _factor(sample)
        girder["correlation"] = f"{name}-factor.toml"
    for key in ("material", "correlation"):
        file = str(girder.get(key, "")).strip()
        if file.endswith(".toml") and file not in beside:
            girder[key] = moved_path(file, base_dir, folder)
    return CaseFiles(rewritten(source, wanted, head), beside)


def _fix_derived(wanted: dict[str, Any], case: Case, sample: Case) -> None:
    """Write what follows from other keys when left out, so that it stays as it was."""
    girder, leg = wanted["girder"], wanted["leg"]
    girder["band"] = False
    for key in DERIVED_KEYS:
        value = getattr(sample.girder, key)
        if key not in girder or getattr(case.girder, key) != value:
            girder[key] = si_text(value, "length")
    if sample.leg.free_length is not None and "free_length" not in leg:
        leg["free_length"] = si_text(sample.leg.free_length, "length")


def _put_values(
    wanted: dict[str, Any],
    inputs: Sequence[ScatterInput],
    values: Mapping[str, float],
    sample: Case,
) -> None:
    """Set drawn values of the keys a case file has; take out certificates that were drawn."""
    known = {one.key: one for one in inputs}
    for key, value in values.items():
        one = known[key]
        if is_strength(key):
            wanted["girder"].get("measured", {}).pop(key.rpartition(".")[2], None)
        elif key not in (HOLE_SIZE, MODEL):
            apply_overrides(wanted, [f"{dotted(one.path)}={si_text(value, one.kind)}"])
    if HOLE_SIZE in values:
        wanted["girder"]["holes"] = {"row": [row_table(row) for row in sample.girder.holes.rows]}
    if wanted["girder"].get("measured") == {}:
        del wanted["girder"]["measured"]


def _datasheet(material: str, base_dir: Path, sample: Case, values: Mapping[str, float]) -> str:
    """Text of the datasheet with the strengths, modulus and density of one landing."""
    source: Source = load(datasheet_path(material.strip(), base_dir))
    wanted = case_tables(source, ())
    names = {key.rpartition(".")[2] for key in values if is_strength(key)}
    if "yield_strength" in names or "ultimate_strength" in names:
        names |= {"ultimate_strength"}
    if "yield_strength" in names:
        names |= {"compressive_yield"}
    for name in names & set(wanted):
        value = getattr(sample.girder.material, name)
        kind = "density" if name == "density" else "stress"
        for word in {"low", "nominal", "high"} & set(wanted[name]):
            wanted[name][word] = si_text(getattr(value, word, value), kind)
        wanted[name] |= {"source": DRAWN, "status": "derived"}
    return rewritten(source, wanted)


def _factor(sample: Case) -> str:
    """Text of the correlation file that holds the drawn factor on the force."""
    known = sample.girder.correlation
    if known is None:
        message = "no factor was drawn"
        raise ValueError(message)
    return dumped(
        {
            "force_factor": known.force_factor,
            "scatter": LEAST_SCATTER,
            "tests": known.tests,
            "source": DRAWN,
        }
    )
