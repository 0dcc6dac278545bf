"""Tables of a correlation: measured beside predicted, batch by batch."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.report.correlate_words import headed
from crushleg.report.layout import Column, Paragraph, Table
from crushleg.report.words import NO_VALUE, common_unit, fixed, packed
from crushleg.units import express

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.report.layout import Block
    from crushleg.trial.correlate import Batch, Compared

TRIPLE = "low / nominal / high"


def tables(batch: Batch, units: str) -> Iterator[Block]:
    """Energies, then forces, then second readings of one batch."""
    tests = batch.tests
    length = common_unit([t.stroke for t in tests], "length", units)
    energy = common_unit([t.energy for t in tests], "energy", units)
    yield Paragraph(f"{headed(batch.name)}:", "bold")
    yield Table(
        (
            Column(("test",), number=False, wraps=True),
            Column(("stroke", length)),
            Column(("measured", energy)),
            Column((f"predicted, {energy}", TRIPLE)),
            Column(("measured /", "predicted")),
            Column(("in band",), number=False),
        ),
        list(
            zip(
                (t.record.name for t in tests),
                fixed([express(t.stroke, length) for t in tests]),
                fixed([express(t.energy, energy) for t in tests]),
                packed([t.predicted.tolist() for t in tests], energy),
                (f"{t.ratio:.3f}" for t in tests),
                (_inside(t) for t in tests),
                strict=True,
            )
        ),
    )
    yield Paragraph("Forces:")
    yield _forces(tests, units)
    yield Paragraph("Further readings; usable stroke by the tangent, where it bottomed:")
    yield _second(tests, units)


def _forces(tests: Sequence[Compared], units: str) -> Table:
    """First and largest peak, measured beside predicted."""
    force = common_unit([t.metrics.largest for t in tests], "force", units)
    measured = [x for t in tests for x in (t.metrics.first_peak, t.metrics.largest)]
    peaks = fixed([express(x, force) for x in measured])
    return Table(
        (
            Column(("test",), number=False, wraps=True),
            Column(("first", f"peak {force}")),
            Column(("predicted", TRIPLE)),
            Column(("largest", force)),
            Column(("predicted", TRIPLE)),
        ),
        list(
            zip(
                (t.record.name for t in tests),
                peaks[::2],
                packed([t.against.first_peak.tolist() for t in tests], force),
                peaks[1::2],
                packed([t.peak.tolist() for t in tests], force),
                strict=True,
            )
        ),
    )


def _second(tests: Sequence[Compared], units: str) -> Table:
    """Mean force, efficiency, folds, usable stroke."""
    force = common_unit([t.metrics.mean for t in tests], "force", units)
    length = common_unit([t.stroke for t in tests], "length", units)
    return Table(
        (
            Column(("test",), number=False, wraps=True),
            Column(("mean", f"force {force}")),
            Column(("efficiency", "mean/largest")),
            Column(("folds", "read")),
            Column(("folds", "predicted")),
            Column(("usable", f"stroke {length}")),
        ),
        list(
            zip(
                (t.record.name for t in tests),
                fixed([express(t.metrics.mean, force) for t in tests]),
                (f"{t.metrics.efficiency:.2f}" for t in tests),
                (str(t.metrics.folds) for t in tests),
                (NO_VALUE if t.folds is None else str(t.folds) for t in tests),
                fixed([express(t.metrics.usable, length) for t in tests]),
                strict=True,
            )
        ),
    )


def _inside(test: Compared) -> str:
    said = "yes" if test.inside else "NO"
    said += ", DISAGREES" if test.disagrees else ""
    return said if test.record.usable else f"{said}, not used"
