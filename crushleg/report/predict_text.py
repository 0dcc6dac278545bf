"""The sheet of a prediction in blocks: printed, and laid out on paper."""

from __future__ import annotations

from importlib.metadata import version
from typing import TYPE_CHECKING

import numpy as np
from rich.console import Console

from crushleg.cautions import NOT_JUDGED, SCREENING
from crushleg.girder.pattern import LEVELS
from crushleg.report.layout import (
    Column,
    Heading,
    Items,
    Pairs,
    Paragraph,
    Table,
    items,
    plain_text,
    print_blocks,
)
from crushleg.report.notes import shown_cautions
from crushleg.report.predict_sources import prediction_sources
from crushleg.report.predict_tables import (
    faces_table,
    instrument_pairs,
    leg_names,
    limits_table,
    readings_note,
    readings_table,
    standin_table,
)
from crushleg.report.words import common_unit, fixed, small_length
from crushleg.trial.predict import distinct
from crushleg.units import express, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.arrays import FloatArray
    from crushleg.report.layout import Block
    from crushleg.trial.predict import Event, Prediction

HASH_DIGITS = 12
SIGN = ("predicted by", "checked by", "test conductor")


def print_prediction(
    prediction: Prediction, seal: str, console: Console | None = None, units: str = "si"
) -> None:
    """Print the sheet: aligned within the terminal's width, or plain and unwrapped elsewhere.

    Parameters
    ----------
    prediction : Prediction
    seal : str
        Hash of the prediction, from :func:`crushleg.report.predict_data.prediction_data`.
    console : Console, optional
        Standard output when left out.
    units : str
        "si" or "us".
    """
    print_blocks(list(render(prediction, seal, units)), Console() if console is None else console)


def prediction_text(prediction: Prediction, seal: str, units: str = "si") -> str:
    """Return the sheet as plain text, as it goes into a pipe or a file."""
    return plain_text(list(render(prediction, seal, units)))


def render(prediction: Prediction, seal: str, units: str) -> Iterator[Block]:
    """Blocks of the printed sheet in their order."""
    yield Paragraph(f"Test prediction: {prediction.checked.case.title}", "bold")
    yield Paragraph(head(prediction, seal))
    yield Heading("Predicted, at low, nominal and high force of the girder")
    for event in prediction.events:
        yield from event_blocks(event, units)
    yield from rig_blocks(prediction, units)
    yield Heading("Limits")
    yield limits_table(prediction, units)
    yield Heading("Instruments")
    yield instrument_pairs(prediction, units)
    yield Heading("Faces, to measure before and after")
    yield Paragraph(faces_note(units))
    yield faces_table(prediction, units)
    yield Heading("From measured crush to energy and speed")
    for event, names in distinct(prediction):
        yield Paragraph(readings_note(event, names, units))
        yield readings_table(prediction, event, units)
    yield Heading("Cautions of the test")
    yield items(prediction.cautions, units)
    case = case_cautions(prediction)
    if case:
        yield Heading("Cautions of the case")
        yield items(case, units)
    yield Heading("Sources, beside those that `check` lists")
    yield Items(prediction_sources(prediction.checked.case))
    yield Heading("Before you use this")
    yield Paragraph(SCREENING, "bold")


def faces_note(units: str) -> str:
    """Say from where to where a face is measured, and what is predicted."""
    return (
        "Along the girder, from the foot plate to the upper end of the length that may fold, "
        f"{small_length(units)}; predicted alike on all four faces, at nominal force:"
    )


def case_cautions(prediction: Prediction) -> list[str]:
    """Cautions of the check, without the margins that it does not judge."""
    apart = (SCREENING, NOT_JUDGED)
    return [text for text in shown_cautions(prediction.checked) if not text.startswith(apart)]


def head(prediction: Prediction, seal: str) -> str:
    """Revision, author, date and hashes in one line."""
    case = prediction.checked.case
    about = {"revision": case.revision, "author": case.author}
    said = [f"{name} {value}" for name, value in about.items() if value]
    return ", ".join(
        [
            f"issued {prediction.date.isoformat()}",
            *said,
            f"input {case.input_sha256[:HASH_DIGITS]}",
            f"prediction {seal[:HASH_DIGITS]}",
            f"crushleg {version('crushleg')}",
        ]
    )


def event_blocks(event: Event, units: str) -> Iterator[Block]:
    """Name and conditions of an event, then what it will show."""
    yield Paragraph(f"{event.name}: {_conditions(event, units)}", "bold")
    yield Table(
        (
            Column(("girder force",), number=False),
            *(Column((level,)) for level in LEVELS),
        ),
        [*_crush_lines(event, units), *_load_lines(event, units)],
    )


def _conditions(event: Event, units: str) -> str:
    landed = event.landed
    speed = show(landed.arrival.closing, "speed", units)
    legs = f"{event.stopped.legs} {'leg' if event.stopped.legs == 1 else 'legs'}"
    said = [show(event.stopped.mass, "mass", units), f"on {legs}", speed]
    if event.drop is not None:
        said.append(f"fall {_length(event.drop.height, units, 4)}")
    elif landed.first < event.stopped.legs:
        said.append(f"{landed.first} first")
    if landed.reserve:
        said.append("RESERVE speed")
    return ", ".join(said)


def _length(value: float, units: str, digits: int = 3) -> str:
    """Length with its unit; one that has no end is said to have none."""
    return show(value, "length", units, digits=digits) if np.isfinite(value) else "none"


def _line(label: str, values: FloatArray, dimension: str, units: str) -> tuple[str, ...]:
    unit = common_unit(values, dimension, units)
    return (f"{label}, {unit}", *fixed([express(float(x), unit) for x in values]))


def _crush_lines(event: Event, units: str) -> Iterator[tuple[str, ...]]:
    """Crush that stays, folds, and height of all four faces, per group of legs."""
    length = small_length(units)
    for group in event.groups:
        who = "" if len(event.groups) == 1 else f", {leg_names(group.legs)}"
        for label, values in (
            ("crush per leg", group.crush),
            ("height of each face", group.height),
        ):
            texts = fixed([express(float(x), length) for x in np.where(values < 1e-9, 0.0, values)])
            yield (f"{label}{who}, {length}", *texts)
        yield (f"folds{who}", *(f"{x:.1f}" for x in group.folds))


def _load_lines(event: Event, units: str) -> Iterator[tuple[str, ...]]:
    landed, g0 = event.landed, express(1.0, "g0")
    yield _line("peak force, axial, one leg", landed.peak[:, 0], "force", units)
    if event.drop is not None:
        yield _line("peak at the load cell, all legs", event.drop.cell, "force", units)
    if landed.side_peak.any():
        yield _line("side load, one leg", landed.side_peak[:, 0], "force", units)
    for label, values in (
        ("deceleration, g0", landed.deceleration),
        ("accelerometer, g0", landed.accelerometer),
    ):
        yield (label, *(f"{x:.2f}" for x in values[:, 0] * g0))
    yield _line("time to stop", landed.duration[:, 0], "time", units)
    if landed.bottomed.any():
        yield ("bottomed", *("BOTTOMED" if x else "no" for x in landed.bottomed[:, 0]))


def rig_blocks(prediction: Prediction, units: str) -> Iterator[Block]:
    """Say how the rig is set up, and what mass and fall stand for each touchdown."""
    rig = prediction.checked.case.rig
    if rig is None:
        return
    yield Heading("Rig")
    falling = f"{show(rig.mass, 'mass', units, digits=4)}, above the load cell "
    falling += f"{show(rig.mass_above, 'mass', units, digits=4)}"
    pairs = [
        ("falling", falling),
        ("friction", f"{show(rig.friction, 'force', units)} of the guides"),
        ("lift", f"{show(rig.carried, 'force', units)} from contact on"),
        ("gravity", f"{show(rig.gravity, 'acceleration', units, digits=6)}"),
    ]
    if rig.carried > 0.0:
        weights = np.array(
            [event.drop.effective_weight for event in prediction.events if event.drop]
        )
        unit = common_unit(weights.ravel(), "force", units)
        for event, weight in zip(prediction.events, weights, strict=True):
            said = " / ".join(fixed([express(float(x), unit) for x in weight], 4))
            pairs.append(("without lift", f"{said} {unit} stands for {event.name}"))
    yield Pairs(pairs)
    yield Paragraph(
        "To stand for a touchdown (same speed, same crush of its most crushed leg), falling mass:"
    )
    yield standin_table(prediction, units)
