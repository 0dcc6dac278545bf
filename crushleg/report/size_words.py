"""What a sizing and a schedule say in words."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import numpy as np

from crushleg.design.choice import WIDEST
from crushleg.design.conflict import conflicts
from crushleg.design.stock import tool_for
from crushleg.report.drill_words import NO_TOOL
from crushleg.report.words import drawn, margin_text, small_length
from crushleg.units import plain, show

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.design.choice import Choice, Space
    from crushleg.design.conflict import Missed
    from crushleg.design.settled import Schedule, Sizing
    from crushleg.design.size import Label


def label_text(label: Label) -> str:
    """Margin as the report names it.

    >>> from crushleg.design.size import Label
    >>> label_text(Label("leg_load", "reserve"))
    'leg load (reserve)'
    """
    return f"{label.check.replace('_', ' ')} ({label.touchdown})"


def sizes_text(space: Space, choice: Choice, units: str) -> str:
    """Sizes foot first; equal neighbours counted."""
    unit = small_length(units)
    texts = [drawn(space.sizes[size], unit) for size in choice.sizes]
    if not texts:
        return "no holes"
    runs: list[list[str]] = []
    for text in texts:
        if runs and runs[-1][0] == text:
            runs[-1].append(text)
        else:
            runs.append([text])
    return ", ".join(f"{len(run)} × {run[0]}" if len(run) > 1 else run[0] for run in runs)


def tools_of(job: Sizing | Schedule, space: Space, choice: Choice) -> list[str]:
    """Tool of every row, foot first, as `drill` chooses it."""
    tolerance = space.base.hole_tolerance
    found = (
        tool_for(job.stock, row.size, tolerance) if row.size == row.along else None
        for row in space.hole_rows(choice)
    )
    return [NO_TOOL if tool is None else tool.name for tool in found]


def stops_saving(job: Sizing, units: str) -> Iterator[str]:
    """Say which margin stops further saving: what the next lighter neighbour would miss."""
    sized = job.sized
    if sized.interrupted:
        yield "Interrupted: neighbours were not looked at, a lighter design may be near."
        return
    if not sized.lighter:
        yield "No margin: nothing lighter can be made of these sheets and holes in these ranges."
        yield from _at_bounds(job, units)
        return
    next_one = sized.lighter[0]
    saved = 1.0 - next_one.mass / float(sized.archive.values[job.place, 0])
    yield (
        f"{label_text(next_one.label)} stops further saving: the next lighter neighbour, "
        f"{plain(100.0 * saved, 2)} % lighter, has {margin_text(next_one.margin)}."
    )
    counts = Counter(label_text(one.label) for one in sized.lighter)
    listed = ", ".join(f"{name} {count}" for name, count in counts.most_common())
    yield f"All {len(sized.lighter)} lighter neighbours fail; the worst margin of each: {listed}."
    yield from _at_bounds(job, units)


def _at_bounds(job: Sizing, units: str) -> Iterator[str]:
    """Name the ends of ranges at which the design lies."""
    space, choice = job.sized.archive.space, job.choice
    foot = choice.sizes[0] if choice.sizes else 0
    wider = space.sizes[foot + 1] if foot + 1 < len(space.sizes) else np.inf
    if wider > space.ranged(space.walls[choice.wall]):
        yield f"The foot row has the largest size listed up to d/C {WIDEST:g}, the law's range."
    if len(choice.sizes) == space.rows[1]:
        yield f"{space.rows[1]} rows are the most that the range allows: --rows widens it."
    if len(space.lengths) > 1 and choice.length == 0:
        shortest = show(space.lengths[0], "length", units)
        yield f"{shortest} is the shortest length of the range: --length widens it."


def conflict_items(job: Sizing) -> list[str]:
    """Which limits conflict, and by how much: one sentence for each margin missed."""
    count = len(job.sized.archive)
    found = []
    for one in conflicts(job.sized):
        begin = f"{label_text(one.label)} {margin_text(one.margin)}: "
        if not one.met:
            text = f"none of the {count} girders looked at meets it; the best has "
            also = f" and misses {_and(one.then)}" if one.then else ""
            found.append(f"{begin}{text}{margin_text(one.best)}{also}.")
        else:
            then = _and(one.then)
            text = f"{one.met} of {count} girders meet it; the nearest of them misses {then}."
            found.append(begin + text)
    return found


def _and(missed: Sequence[Missed], most: int = 3) -> str:
    texts = [f"{label_text(one.label)} {margin_text(one.margin)}" for one in missed[:most]]
    return ", ".join(texts) + (f" and {len(missed) - most} more" if len(missed) > most else "")


def left_out(job: Sizing | Schedule) -> list[str]:
    """Name what of the case the written file does not keep, and why."""
    case, tables = job.original.case, job.original.tables
    found = []
    if "scheme" in tables:
        found.append("[[scheme]]: schemes of the old girder are left out of the written file.")
    if not hasattr(job, "sized"):
        return found
    girder, space = case.girder, job.sized.archive.space
    if girder.wall_steps:
        found.append("wall_steps: the girder is sized from one sheet, without steps.")
    if girder.measured is not None:
        found.append("[girder.measured]: measured values belong to the girder they came from.")
    sized = space.girder(job.choice)
    if "wall_tolerance" in space.given and sized.wall_tolerance != girder.wall_tolerance:
        found.append("wall_tolerance: grown in proportion to the thicker wall.")
    if "corner_radius" in space.given and sized.corner_radius != girder.corner_radius:
        found.append("corner_radius: that of the case does not suit the wall; two walls.")
    if girder.correlation is not None:
        found.append("correlation: kept, though its tests were of another girder.")
    return found


def reach_items(job: Schedule, units: str) -> list[str]:
    """Say what the wanted line asks for and the section cannot do."""
    found = job.followed
    reach, stroke = found.reach, found.curve.stroke[0]
    found_items = []
    for share, by, side in (
        (reach.above, reach.over, "over the plain girder, the strongest"),
        (reach.below, reach.under, "under the largest holes allowed in every row"),
    ):
        if share > 0.0:
            over = show(share * float(stroke[-1]), "length", units)
            text = f"{over} of the stroke lie {side}, by up to {show(by, 'force', units)}."
            found_items.append(f"Out of reach: {text}")
    if np.any(np.diff(found.wanted) < 0.0):
        found_items.append(
            "Out of reach: a force that falls with the stroke; the weakest metal folds first, "
            "and rows start in order only when the foot is the weakest."
        )
    if found.loose is not None:
        found_items.append(
            f"The order costs: schedules that do not surely fold from the foot come as close as "
            f"{show(found.loose, 'force', units)} rms."
        )
    half = 2.0 * float(found.curve.half[0])
    found_items.append(
        f"A fold takes {show(half, 'length', units)} of girder and averages what is in it: the "
        f"mean force cannot change faster."
    )
    return found_items
