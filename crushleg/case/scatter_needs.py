"""Which parameters each distribution needs and takes; what is missing or stray is said."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from crushleg.case.scatter_records import (
    LIMITS,
    LOGNORMAL,
    NORMAL,
    SAMPLES,
    TABLE,
    TRIANGULAR,
    UNIFORM,
)

if TYPE_CHECKING:
    from crushleg.case.lines import Path
    from crushleg.case.scatter_keys import Known
    from crushleg.case.sheet import Sheet
    from crushleg.case.tables import Draft

CUTS = ("low", "high")
PARAMETERS = (
    "mean",
    "median",
    "mode",
    "deviation",
    "cov",
    *CUTS,
    "values",
    "probabilities",
    "cumulative",
    "file",
    "column",
    "unit",
)


class Needs(NamedTuple):
    """Parameters of a distribution: all of these, one of those, the middle, and what else."""

    all_of: tuple[str, ...] = ()
    one_of: tuple[str, ...] = ()
    middle: str = ""
    also: tuple[str, ...] = ()

    @property
    def known(self) -> set[str]:
        """Every parameter the distribution takes."""
        return {*self.all_of, *self.one_of, self.middle, *self.also}


NEEDS = {
    NORMAL: Needs(one_of=("deviation", "cov"), middle="mean", also=CUTS),
    LOGNORMAL: Needs(all_of=("cov",), middle="median", also=CUTS),
    LIMITS: Needs(all_of=CUTS, middle="median"),
    UNIFORM: Needs(all_of=CUTS),
    TRIANGULAR: Needs(all_of=CUTS, middle="mode"),
    TABLE: Needs(all_of=("values",), one_of=("probabilities", "cumulative"), also=CUTS),
    SAMPLES: Needs(all_of=("file", "column"), also=("unit", *CUTS)),
}


def judge_parameters(draft: Draft, known: Known, path: Path, sheet: Sheet) -> None:
    """Report what an input lacks and what its distribution does not use."""
    name = draft["distribution"]
    needs = NEEDS[name]
    given = [key for key in PARAMETERS if draft[key] is not None]
    for key in given:
        if key not in needs.known:
            write = f"it out; {name} takes {', '.join(sorted(needs.known - {''}))}"
            sheet.report((*path, key), f'{key}, which "{name}" does not use', write)
    for key in needs.all_of:
        if key not in given:
            sheet.report((*path, key), f'nothing ("{name}" needs it)', f"{key} = ...")
    chosen = [key for key in needs.one_of if key in given]
    if needs.one_of and len(chosen) != 1:
        read = " and ".join(chosen) or f'nothing ("{name}" needs it)'
        sheet.report((*path, (chosen or needs.one_of)[-1]), read, " or ".join(needs.one_of))
    if needs.middle and needs.middle not in given and known.centre is None:
        read = f"nothing, and the case gives no {known.key}"
        sheet.report((*path, needs.middle), read, f"{needs.middle} = ...")
