"""Where a girder leaves the range the equations are tested in, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from crushleg.girder.windows import CELLS
from crushleg.said import Quantity, Said

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.case.records import Girder
    from crushleg.girder.crush import Crush

SLENDERNESS = (7.5, 100.0)
MOST_REMOVED = 0.6
SPLITS_FROM = 0.28
SLENDER_GIRDER = 10.0
START_RANGE = (0.5, 70.0)
CELLS_A_FOLD = 10
BEND_WARN, BEND_TEST = 2.0, 3.0


def girder_cautions(girder: Girder, crush: Crush) -> Iterator[str]:
    """Cautions of one girder, the first of ``crush``.

    Parameters
    ----------
    girder : Girder
        Record of the case.
    crush : Crush

    Yields
    ------
    str
    """
    yield from _section(girder, crush)
    yield from _steps(girder)
    yield from _pattern(girder, crush)
    yield from _material(girder)
    yield from _order(girder, crush)


def _section(girder: Girder, crush: Crush) -> Iterator[str]:
    wide, narrow = max(girder.width, girder.depth), min(girder.width, girder.depth)
    side = 0.5 * (wide + narrow)
    walls = crush.girders.wall[0]
    for ratio in sorted({(side - t) / t for t in walls}):
        if not SLENDERNESS[0] <= ratio <= SLENDERNESS[1]:
            yield f"C/t = {ratio:.1f} is outside 7.5 (published) to 100 (from memory)."
    if wide > 2.0 * narrow:
        yield "Sides more than 2 : 1: outside tested range of the mean-side rule."
    half = float(crush.front.walls.half[0].max())
    if girder.length < 4.0 * half:
        yield "Girder shorter than 4 H: one averaging window, end effects are not modelled."
    if girder.length > SLENDER_GIRDER * (side - girder.wall):
        yield (
            f"L/C = {girder.length / (side - girder.wall):.1f}: beyond 8 to 10 a column may bend "
            "overall instead of folding on (from memory); test."
        )
    if girder.length / (2.0 * half) * CELLS_A_FOLD > CELLS:
        yield "So many folds that the front is cut coarsely; energies may be off by a percent."


def _steps(girder: Girder) -> Iterator[str]:
    if girder.wall_steps:
        yield "Wall step: its joint is not modelled; make it stronger than the thicker wall."
    for step in girder.wall_steps:
        if any(abs(row.height - step.start) < 0.5 * row.along for row in girder.holes.rows):
            at = Quantity(step.start, "length")
            yield Said("Holes are cut through the joint of the wall step at ", at, ".")


def _pattern(girder: Girder, crush: Crush) -> Iterator[str]:
    rows = girder.holes.rows
    if not rows:
        return
    yield (
        "The hole law (mean force of a drilled fold) is derived and not yet checked by any test "
        "of a drilled square column: test a coupon."
    )
    half = float(crush.front.walls.half[0].mean())
    shares, near = [], []
    for row in rows:
        side = (girder.depth if row.faces == "left-right" else girder.width) - girder.wall
        shares.append(row.per_face * row.size / side)
        reach = abs(row.offset) + 0.5 * (row.per_face - 1) * row.spacing + 0.5 * row.size
        near.append(0.5 * side - reach < half)
    if max(shares) > MOST_REMOVED:
        yield f"Hole share of a face d/C = {max(shares):.2f} is beyond 0.6: outside tested range."
    if any(near):
        heights = [Quantity(r.height, "length") for r, n in zip(rows, near, strict=True) if n]
        yield Said(
            "Hole edge nearer than H = ",
            Quantity(half, "length", 2),
            " to the corner, rows at ",
            *[piece for height in heights for piece in (height, ", ")][:-1],
            ": corner work is lost; derived only.",
        )
    if max(shares) > START_RANGE[0] or float(crush.girders.width[0]) / girder.wall > START_RANGE[1]:
        yield "Start force, low: d/C above 0.5 or C/t above 70 is outside the range of its formula."
    if girder.material.crushing == "splits" and max(shares) >= SPLITS_FROM:
        yield "This alloy may split from the hole edge at d/C ≥ 0.28 (published abstract)."


def _material(girder: Girder) -> Iterator[str]:
    material, measured = girder.material, girder.measured
    if material.crushing != "folds":
        yield f"{material.name} {material.crushing}: {material.note}"
    bend = material.bend_radius or 0.0
    if bend > BEND_WARN:
        what = "test first" if bend > BEND_TEST else "folds may crack"
        yield (
            f"Least bend radius of {material.name} {bend:g} walls, a fold bends "
            f"to about 1 to 2: {what} (judgement)."
        )
    if measured is not None:
        given = [
            name
            for name in ("wall", "yield_strength", "ultimate_strength")
            if getattr(measured, name) is not None
        ]
        yield f"Measured or certified, overriding drawing and datasheet: {', '.join(given)}."
    if girder.seam is not None:
        yield (
            f"Seam: strength factor {girder.seam.strength_factor:g} spread over the section; a "
            "weak seam may also unzip."
        )
    if girder.rate:
        yield (
            "Strain-rate factor on, at a third (low), two thirds (nominal) and all (high) of the "
            "largest vertical speed without reserve."
        )
    if girder.correlation is not None:
        tests = girder.correlation
        yield (
            f"Force factor {tests.force_factor:g} and scatter {tests.scatter:g} from "
            f"{tests.tests} test(s): {tests.source}."
        )


def _order(girder: Girder, crush: Crush) -> Iterator[str]:
    if not girder.holes.rows and girder.first_peak_fraction >= 1.0:
        yield "No holes and no crush initiator: which end folds first is not determined."
    if not bool(crush.sequence.from_foot[0]):
        yield (
            "The sequence does not run from the FOOT: curves follow least work, loads take the "
            "largest start force of all zones."
        )
    reach = 2.0 * float(crush.front.walls.half[0, 0])
    lowest = min((row.height - 0.5 * row.along for row in girder.holes.rows), default=0.0)
    if lowest > reach:
        yield Said(
            "Foot row ",
            Quantity(lowest, "length"),
            " above the FOOT, more than the first fold (",
            Quantity(reach, "length"),
            "): the first fold forms there, and the plain metal below it is counted as if it "
            "folded first.",
        )
    folds = crush.folds
    scattered = (folds.top - folds.bottom > 4.0 * crush.front.walls.half[:, :1])[0]
    if np.any(scattered & (folds.length[0] > 0.0)):
        yield "Some folds gather metal from several places: their heights are extremes."
