"""Records of a case held against its curve, or against a prediction issued before them."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from crushleg.errors import InputError, Problem
from crushleg.trial.correlate import compared, correlate
from crushleg.trial.frozen import of_case
from crushleg.trial.record import beside, read_record

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from crushleg.case.records import Case
    from crushleg.trial.correlate import Correlated
    from crushleg.trial.frozen import Predicted
    from crushleg.trial.posterior import Prior
    from crushleg.trial.record import Record


class Held(NamedTuple):
    """What records were held against, what came of it, and what must be known to read it."""

    against: Predicted
    found: Correlated
    notes: tuple[str, ...]


def read_records(
    paths: Sequence[Path], options: Sequence[str], inputs: Sequence[Path]
) -> list[Record]:
    """Read every record; the problems of all of them at once.

    Parameters
    ----------
    paths : sequence of Path
        CSV files.
    options : sequence of str
        ``key=value`` for the TOML of each.
    inputs : sequence of Path
        Case and its files: none of them describes a record.

    Raises
    ------
    InputError
        Every problem, in the order of the records.
    """
    problems: list[Problem] = []
    records: list[Record] = []
    taken = [path.resolve() for path in inputs]
    for path in paths:
        toml = beside(path)
        if toml is not None and toml.resolve() in taken:
            read = f"{toml.name} beside it, which is the case and says nothing of a record"
            write = "another name for the record, with a TOML of its own"
            problems.append(Problem(file=str(path), read=read, write=write))
            continue
        try:
            records += read_record(path, options)
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    return records


def hold(case: Case, records: Sequence[Record], issued: Predicted | None, prior: Prior) -> Held:
    """Hold records against an issued prediction, or the curve of the case.

    Parameters
    ----------
    case : Case
    records : sequence of Record
    issued : Predicted or None
        From :func:`crushleg.trial.frozen.read_issued`.
    prior : Prior

    Returns
    -------
    Held
        Against the case, the curve is uncorrelated; with ``rate`` on it is taken at the
        impact speed of each record that has one.

    Raises
    ------
    InputError
        A record that cannot be of this girder; two tests of one name.
    """
    against = issued or of_case(case)
    own = issued is None and case.girder.rate
    tests = [
        compared(
            record,
            of_case(case, record.impact_speed) if own and record.impact_speed else against,
        )
        for record in records
    ]
    notes = _issued_notes(case, issued) if issued is not None else _case_notes(case, records)
    return Held(against, correlate(tests, prior), tuple(notes))


def _case_notes(case: Case, records: Sequence[Record]) -> Iterator[str]:
    named = case.girder.correlation
    if named is not None:
        yield (
            f"The case names a correlation (force factor {named.force_factor:g}, {named.tests} "
            "test(s)): it is left out here, the comparison is with the uncorrelated curve. A file "
            "written now replaces it: give the earlier records too, or they no longer count."
        )
    if not case.girder.rate:
        return
    slow = [record.name for record in records if record.impact_speed is None]
    yield "Strain rate: the curve is taken at the impact speed of each record."
    if slow:
        yield (
            f"No impact_speed for {', '.join(slow)}: held against the curve at the largest speed "
            "of the case, which is too strong for a slow test."
        )


def _issued_notes(case: Case, issued: Predicted) -> Iterator[str]:
    yield from (note[:1].upper() + note[1:] + "." for note in issued.notes)
    if issued.input_sha256 == case.input_sha256:
        yield "It was issued for this case, input unchanged."
    else:
        yield (
            "It was NOT issued for this case as it is now: another input "
            f"({issued.input_sha256[:12] or 'not said'}, now {case.input_sha256[:12]}). The factor "
            "belongs to the case it was issued for."
        )
    if issued.factor != 1.0:
        yield (
            f"It was issued with the force factor {issued.factor:g} of earlier tests. Tables hold "
            "records against it as issued; the factor below is over the model without it, from "
            "these tests alone: give the earlier records too, or they no longer count."
        )
    if case.girder.rate:
        yield "Strain rate: the curve is that of the speed it was issued for."
