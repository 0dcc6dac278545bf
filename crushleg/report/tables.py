"""Tables of the girder: rows of holes and folds."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.girder.modes import MODES
from crushleg.girder.table import fold_table, row_table
from crushleg.report.layout import Column, Heading, Paragraph, Table
from crushleg.report.words import common_unit, drawn, fixed, packed, small_length
from crushleg.units import express

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Row
    from crushleg.check import Checked
    from crushleg.report.layout import Block

BLENDED = 0.9
TRIPLE = "low / nominal / high"


def rows(checked: Checked, units: str) -> Iterator[Block]:
    """Rows of holes, foot first, with the force that starts a fold at each."""
    found = checked.case.girder.holes.rows
    yield Heading("Rows of holes, foot first")
    if not found:
        yield Paragraph("No holes.")
        return
    table = row_table(checked.crush, found)
    length = small_length(units)
    area = common_unit(table.net_area, "area", units)
    force = common_unit(table.start[1], "force", units)
    net = fixed([express(float(x), area) for x in table.net_area])
    start = packed(table.start.T.tolist(), force)
    left = [drawn(float(x), length) for x in table.ligament]
    yield Table(
        (
            Column(("height", length)),
            Column(("size", length)),
            Column(("ligament", length)),
            Column(("net area", area)),
            Column((f"start force, {force}", TRIPLE)),
        ),
        [
            (drawn(row.height, length), _size(row, length), *rest)
            for row, *rest in zip(found, left, net, start, strict=True)
        ],
    )
    if checked.case.girder.first_peak_fraction < 1.0:
        yield Paragraph(
            "Start forces leave first_peak_fraction out; the force that begins the crush above "
            "has it."
        )


def _size(row: Row, unit: str) -> str:
    """Size across, then along if another; how many a face and which faces if not one on all."""
    size = drawn(row.size, unit)
    if row.along != row.size:
        size = f"{size}×{drawn(row.along, unit)}"
    if row.per_face > 1:
        size = f"{row.per_face} × {size}"
    return size if row.faces == "all" else f"{size} {row.faces}"


def folds(checked: Checked, units: str) -> Iterator[Block]:
    """Folds in their order: forces and energy, then mode, length and what the holes take."""
    table = fold_table(checked.crush)
    length = small_length(units)
    force = common_unit(table.mean[1], "force", units)
    energy = common_unit(table.energy, "energy", units)
    order = [str(i + 1) for i in range(len(table.half))]
    ends = _tenths(np.concatenate([table.bottom, table.top]), length)
    metal = [f"{ends[i]} to {ends[i + len(order)]}" for i in range(len(order))]
    yield Heading("Folds of one girder in their order")
    yield Table(
        (
            Column(("fold",)),
            Column(("height above", f"foot, {length}")),
            Column((f"crest, {force}", TRIPLE)),
            Column((f"mean force, {force}", TRIPLE)),
            Column(("energy", energy)),
        ),
        list(
            zip(
                order,
                metal,
                packed(table.crest.T.tolist(), force),
                packed(table.mean.T.tolist(), force),
                fixed([express(float(x), energy) for x in table.energy]),
                strict=True,
            )
        ),
    )
    yield Paragraph("The same folds without holes, and the shares of their work that holes remove:")
    shares = zip(table.hinge, table.sweep, table.corner, strict=True)
    yield Table(
        (
            Column(("fold",)),
            Column(("mode of the plain column",), number=False),
            Column(("H", length)),
            Column(("mean", force)),
            Column(("removed", "φh / φs / φc")),
        ),
        list(
            zip(
                order,
                (_mode(weights) for weights in table.weights),
                _tenths(table.half, length),
                fixed([express(float(x), force) for x in table.plain]),
                (" / ".join(f"{share:.3f}" for share in three) for three in shares),
                strict=True,
            )
        ),
    )
    yield Paragraph(
        "Crest: force at which a fold begins. Energy is nominal. H: half fold length. φh "
        "horizontal hinges, φs inclined hinges, φc corner surface, mean over both pairs of walls. "
        "A number behind the mode is its weight where two modes are close and blended."
    )


def _tenths(lengths: FloatArray, unit: str) -> list[str]:
    return fixed([express(float(x), unit) for x in lengths], 4)


def _mode(weights: FloatArray) -> str:
    """Mode of the largest weight; marked where its neighbour is close."""
    name = MODES[int(weights.argmax())]
    return name if weights.max() >= BLENDED else f"{name} {weights.max():.2f}"
