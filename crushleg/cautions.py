"""Every caution of a check, and the one that stands in every output."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.girder.cautions import girder_cautions
from crushleg.landing.cautions import landing_cautions

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from crushleg.case.records import Case
    from crushleg.girder.crush import Crush
    from crushleg.landing.touchdown import Landed
    from crushleg.margins import Margin

SCREENING = (
    "Screening estimate only: confirm by test, follow local codes and the responsible licensed "
    "engineer, and stay clear of a vehicle standing on spent legs."
)


NOT_JUDGED = "Not judged:"


def all_cautions(
    case: Case, crush: Crush, landings: Sequence[Landed], margins: Iterable[Margin]
) -> tuple[str, ...]:
    """Collect the cautions of a checked case, :data:`SCREENING` first.

    Returns
    -------
    tuple of str
        Screening, what was assumed, girder, landing, and why a check does not apply.
    """
    return (
        SCREENING,
        *("Assumed: " + sentence for sentence in case.assumed),
        *girder_cautions(case.girder, crush),
        *landing_cautions(case, landings),
        *not_judged(margins),
    )


def not_judged(margins: Iterable[Margin]) -> Iterator[str]:
    """Say which checks do not apply, where and why."""
    reasons: dict[tuple[str, str], list[str]] = {}
    for margin in margins:
        if margin.margin is None:
            reasons.setdefault((margin.check, margin.reason), []).append(margin.touchdown)
    for (check, reason), names in reasons.items():
        yield f"{NOT_JUDGED} {check.replace('_', ' ')} ({'; '.join(names)}): {reason}."
