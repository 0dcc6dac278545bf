"""All landings at a glance, what governs what, and the stability map as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.landing.motion.outcome import WORDS
from crushleg.margins.motion import LEAST_LEAN
from crushleg.report import landing_tables
from crushleg.report.land_words import numbers, outcomes, without_noise
from crushleg.report.layout import Column, Heading, Pairs, Paragraph, Table
from crushleg.report.words import check_name, common_unit, margin_text
from crushleg.units import show

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.check import Checked
    from crushleg.land import Move
    from crushleg.margins import Margin
    from crushleg.report.layout import Block
    from crushleg.stability import StabilityMap

SIGNS = dict(zip(WORDS, ("·", "~", "B", "X", "T"), strict=True))


def overview(moves: Sequence[Move], units: str) -> Iterator[Block]:
    """One row for each landing: outcome and worst values of its columns and legs."""
    stroke = [float(move.outcome.stroke.max()) for move in moves]
    axial = [float(move.outcome.axial.max()) for move in moves]
    clear = [float(move.outcome.clearance.min()) for move in moves]
    slow = [float(move.outcome.deceleration.max()) for move in moves]
    least = [float(move.outcome.angle_least.min()) for move in moves]
    lean = without_noise(np.array([move.outcome.lean.max() for move in moves]), LEAST_LEAN)
    length, height = (common_unit(values, "length", units) for values in (stroke, clear))
    force = common_unit(axial, "force", units)
    yield Heading("All landings")
    yield Table(
        (
            Column(("landing",), number=False, wraps=True),
            Column(("outcome",), number=False, wraps=True),
            Column(("stroke", length)),
            Column(("axial", force)),
            Column(("decel.", "g0")),
            Column(("clear.", height)),
            Column(("tip", "deg")),
            Column(("lean", "deg")),
        ),
        list(
            zip(
                [move.name for move in moves],
                map(outcomes, moves),
                numbers(stroke, length),
                numbers(axial, force),
                numbers(slow, "g0", 2),
                numbers(clear, height),
                numbers(least, "deg", 2),
                numbers(lean, "deg", 2),
                strict=True,
            )
        ),
    )
    yield Paragraph(
        "Worst of every leg and column: largest stroke, axial load, deceleration and lean at the "
        "end, least clearance and tip-over angle. One outcome: alike for all columns."
    )


def governing_each(checked: Checked, units: str) -> Iterator[Block]:
    """For each check the landing with its lowest margin."""
    worst: dict[str, Margin] = {}
    for margin in checked.margins:
        if margin.margin is None or not margin.counts:
            continue
        if margin.check not in worst or _value(margin) < _value(worst[margin.check]):
            worst[margin.check] = margin
    yield Heading("Which landing governs what")
    yield Table(
        (
            Column(("check",), number=False, wraps=True),
            Column(("landing",), number=False, wraps=True),
            Column(("factor ×", "demand")),
            Column(("capability",)),
            Column(("margin",)),
        ),
        [
            (
                check_name(margin),
                margin.touchdown,
                *landing_tables.sides(margin, units),
                margin_text(_value(margin)),
            )
            for margin in worst.values()
        ],
        strong=next(
            i for i, m in enumerate(worst.values()) if m is checked.margins[checked.governs]
        ),
    )


def _value(margin: Margin) -> float:
    return float("inf") if margin.margin is None else float(margin.margin[0])


def map_blocks(found: StabilityMap, units: str) -> Iterator[Block]:
    """Outcomes over vertical and horizontal speed, a sign for each."""
    across = common_unit(found.horizontal, "speed", units)
    up = common_unit(found.vertical, "speed", units)
    speeds = numbers(found.vertical, up, 2)
    yield Heading("Stability map")
    yield Paragraph(
        f"Touchdown {found.touchdown.name} at other speeds: the worse of low and high legs. "
        f"Horizontal speed grows to the right, {numbers(found.horizontal, across)[0]} to "
        f"{numbers(found.horizontal, across)[-1]} {across} in {len(found.horizontal)} steps. The "
        f"uncrushed vehicle with pads stuck just tips at {show(found.tips_at, 'speed', units)}."
    )
    yield Table(
        (
            Column(("vertical", up)),
            Column(("outcome, horizontal speed to the right",), number=False),
        ),
        [
            (speed, " ".join(SIGNS[WORDS[word]] for word in row))
            for speed, row in zip(speeds[::-1], found.word[::-1], strict=True)
        ],
    )
    yield Pairs([(sign, word) for word, sign in SIGNS.items()])
