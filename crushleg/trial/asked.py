"""How an inspection is asked for on the command line: text with units to SI."""

from __future__ import annotations

from crushleg.errors import InputError, Problem
from crushleg.trial.height_cells import LARGEST_ERROR, Place, bounded, kept
from crushleg.trial.inspect import MASS_ERROR, READING_ERROR, Asked

LONGEST, MOST_ENERGY, MOST_MASS_ERROR = 1e3, 1e10, 0.5
OPTIONS = {
    "before": "--before",
    "reading_error": "--reading-error",
    "mass_error": "--mass-error",
    "other": "--other-energy",
    "other_error": "--other-energy-error",
}
"""Option behind each value."""


def asked_for(
    *,
    touchdown: str | None,
    before: str | None,
    reading_error: str | None,
    mass_error: str | None,
    other: str | None,
    other_error: str | None,
) -> Asked:
    """Read the options of an inspection; ``None`` leaves what :class:`Asked` says.

    Parameters
    ----------
    touchdown : str or None
        Name in the case.
    before, reading_error : str or None
        Lengths.
    mass_error : str or None
        Share, such as "2 %".
    other, other_error : str or None
        Energies.

    Returns
    -------
    Asked

    Raises
    ------
    InputError
        Every option that does not read, and what to write.
    """
    problems: list[Problem] = []
    values: dict[str, float] = {}
    for name, text, dimension, most in (
        ("before", before, "length", LONGEST),
        ("reading_error", reading_error, "length", LARGEST_ERROR),
        ("mass_error", mass_error, "number", MOST_MASS_ERROR),
        ("other", other, "energy", MOST_ENERGY),
        ("other_error", other_error, "energy", MOST_ENERGY),
    ):
        if text is not None:
            with kept(problems):
                values[name] = bounded(text, dimension, most, Place(field=OPTIONS[name]))
    if values.get("before") == 0.0:
        write = "what the heights were before the landing"
        problems.append(Problem(field=OPTIONS["before"], read="no height", write=write))
    if other_error is not None and other is None:
        write = f"{OPTIONS['other']} too, the energy that it belongs to"
        problems.append(Problem(field=OPTIONS["other_error"], read="an error alone", write=write))
    if problems:
        raise InputError(problems)
    return Asked(
        touchdown=touchdown,
        before=values.get("before"),
        reading_error=values.get("reading_error", READING_ERROR),
        mass_error=values.get("mass_error", MASS_ERROR),
        other=values.get("other"),
        other_error=values.get("other_error"),
    )
