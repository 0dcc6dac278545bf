"""The case file of the worst landing: written, read back and checked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.case.reader import read_case
from crushleg.cautions import SCREENING
from crushleg.check import check_case
from crushleg.report.files import write_text
from crushleg.report.scatter_words import named
from crushleg.report.words import margin_text
from crushleg.scatter.outcome import checked_again, worst_landing
from crushleg.scatter.plan import plan_of
from crushleg.scatter.worst import worst_case_text

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from crushleg.case.records import Case
    from crushleg.scatter.outcome import WorstLanding
    from crushleg.scatter.records import StudyResult


def write_worst(
    path: Path, overrides: Sequence[str], case: Case, result: StudyResult, file: Path
) -> WorstLanding | None:
    """Write the worst landing of a study as a case, and check that file.

    Parameters
    ----------
    path : Path
        The case of the study.
    overrides : sequence of str
        As given to ``--set``.
    case : Case
        What was read from them.
    result : StudyResult
    file : Path
        Its folder must exist; files beside it begin with its name.

    Returns
    -------
    WorstLanding or None
        None where no margin counts: nothing is written.

    Raises
    ------
    InputError
        A file cannot be written.
    """
    landing = worst_landing(case, result, file)
    if landing is None:
        return None
    folder = file.parent
    head = _head(case, landing, result)
    files = worst_case_text(path, overrides, landing.values, folder, file.stem, head)
    for name, text in files.beside.items():
        write_text(folder / name, text)
    write_text(file, files.text)
    return checked_again(landing, check_case(read_case(file, ())))


def _head(case: Case, landing: WorstLanding, result: StudyResult) -> list[str]:
    """Comment lines that say what the file is."""
    scatter = plan_of(case).scatter
    leg = "" if landing.leg is None else f", girder of leg {landing.leg + 1}"
    what = (
        f"Worst of {len(result.number)} landings of crushleg scatter (number "
        f"{landing.worst.number}{leg}; {scatter.method}, seed {scatter.seed}): "
        f"{named(landing.worst.name)} {margin_text(landing.worst.margin)}."
    )
    return [what, SCREENING]
