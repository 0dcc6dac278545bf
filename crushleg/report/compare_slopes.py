"""Tables of a comparison: every girder over its own yardsticks, and its sensitivities."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.design.sensitivity import INPUTS, STEP
from crushleg.report.compare_tables import title
from crushleg.report.layout import Column, Heading, Paragraph, Table
from crushleg.report.words import NO_VALUE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.design.compare import Comparison
    from crushleg.report.layout import Block


def against(comparison: Comparison) -> Iterator[Block]:
    """Every girder over its own yardsticks."""
    yield Heading("Against its own yardsticks")
    yield Table(
        (
            Column((title(comparison),), number=False, wraps=True),
            Column(("first peak", "/ plain")),
            Column(("specific energy", "/ plain")),
            Column(("specific energy", "/ round tube")),
            Column(("leg load /", "constant force")),
        ),
        [
            (
                one.name,
                f"{one.merit.first_peak / one.plain_merit.first_peak:.2f}",
                f"{one.merit.specific_energy / one.plain_merit.specific_energy:.2f}",
                f"{one.merit.specific_energy / one.tube.specific_energy:.2f}",
                NO_VALUE if one.ideal is None else f"{one.merit.load / one.ideal.load:.2f}",
            )
            for one in comparison.compared
        ],
    )


def sensitivities(comparison: Comparison) -> Iterator[Block]:
    """Relative slopes of stroke and leg load."""
    shown = [one for one in comparison.compared if one.sensitivity is not None]
    if not shown:
        return
    head = " / ".join(INPUTS)
    yield Heading("Sensitivity, % for + 1 % of each input")
    yield Table(
        (
            Column((title(comparison),), number=False, wraps=True),
            Column(("stroke", head)),
            Column(("leg load", head)),
        ),
        [
            (one.name, _slopes(one.sensitivity.stroke), _slopes(one.sensitivity.load))
            for one in shown
            if one.sensitivity is not None
        ],
    )
    yield Paragraph(
        f"Central differences over ± {100.0 * STEP:g} %: every wall, every hole size, every speed. "
        "Zero for the load: the largest load is a crest that the leg meets either way."
    )


def _slopes(found: dict[str, float | None]) -> str:
    return " / ".join(
        NO_VALUE.rjust(5) if x is None else f"{round(x, 2) + 0.0:+.2f}" for x in found.values()
    )
