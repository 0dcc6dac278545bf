"""Blocks of the evidence page: what is said, shown and listed, in its order."""

from __future__ import annotations

import hashlib
import platform
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import TYPE_CHECKING

import evidence_figures as draw
from evidence_coupons import FILES, PLANNED, best, coupons, pairs
from evidence_doubts import SOFT_GROUND
from evidence_laws import NET_AREA, family
from evidence_lists import areas, values
from evidence_page import Column, Line, drawing, heading, linked, listed, paragraph, table
from evidence_plan import plan
from evidence_unvalidated import LEG, doubts
from evidence_values import ELEMENTS, FOLDERS, TABLES, TESTS, counted, largest

import crushleg
from crushleg.cautions import SCREENING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from evidence_coupons import Coupon
    from evidence_doubts import Doubt
    from evidence_values import File, Shown

HERE = Path(__file__).parent
TITLE = "What the numbers are worth"
COUPON = "coupon.toml"
PACKAGES = ("crushleg", "numpy", "scipy", "matplotlib", "pytest", "scikit-fem", "shapely")
SECTIONS = (
    ("about", "What the values are about"),
    ("figures", "Figures"),
    ("doubts", "What is not validated, and what it moves"),
    ("test", "The test that would settle the hole law"),
    ("values", "Every value from outside beside ours"),
    ("made", "How this page was made"),
)


def blocks(files: Sequence[File]) -> Iterator[str]:
    """Everything on the page, in its order."""
    every = [one for file in files for one in file.shown]
    doubted, drops = doubts(_friction(every)), coupons()
    yield heading(1, TITLE)
    yield paragraph(worth(files, doubted), "key")
    yield paragraph(SCREENING)
    yield from _failing(every)
    yield linked(SECTIONS)
    parts = (
        areas(files),
        _figures(every, drops),
        _doubts(doubted),
        plan(drops),
        values(files),
        _made(),
    )
    for (name, text), part in zip(SECTIONS, parts, strict=True):
        yield heading(2, text, name)
        yield from part


def worth(files: Sequence[File], doubted: Sequence[Doubt]) -> str:
    """Say what the numbers are worth, all counted and computed."""
    every = [one for file in files for one in file.shown]
    of = counted(every)
    failing, absent = (sum(getattr(one, name) for one in every) for name in ("fails", "absent"))
    missing = sum(bool(file.missing) for file in files)
    tables, elements = (
        sum(len(file.shown) for file in files if file.area == area) for area in (TABLES, ELEMENTS)
    )
    held = len(every) - failing - absent
    hole, *rivals = doubted[0].moved
    net = next(row for row in rivals if row.input == NET_AREA.name)
    said = (
        f"{len(every)} values from outside the project stand beside ours on this page: "
        f"{of['published']} published, {of['from memory']} from memory, {of['derived']} derived by "
        f"hand or by a second computation, and {of['simulation']} from simulation. {held} of them "
        f"lie within the tolerance beside each, {failing} {'fails' if failing == 1 else 'fail'}"
    )
    if absent:
        said += f", {absent} could not be computed here"
    if missing:
        said += f"; {missing} more files of values need a package that is not here"
    return (
        f"{said}. {tables} only hold what was typed in from tables to its sources, and {elements} "
        f"hold finite elements of the tests, no number of the tool. {_largest_said(every)} None is "
        "a measured crush of a drilled square column: that what was derived is computed rightly is "
        "checked, that girders obey it is not. What holes take from the mean force, the force "
        "that starts a fold, the crests and the order of folds are not validated: if holes cost as "
        f"much as their net area, the stroke margin of the Dunlin test stage is {net.stroke} in "
        f"place of {hole.stroke}."
    )


def _largest_said(every: Sequence[Shown]) -> str:
    worst = largest(every)
    real = largest([one for one in every if one.value.status != "simulation"])
    if worst is None or real is None:
        return "No ratio can be formed."
    said = f"The largest ratio off, ours over theirs, is {_told(worst)}"
    return said + ("." if worst is real else f"; simulation set aside, {_told(real)}.")


def _told(one: Shown) -> str:
    return f"{one.ratio:.3f} ({one.value.what}; {one.value.status})"


def _friction(every: Sequence[Shown]) -> tuple[float, float]:
    """Least and most of ours over the energy that simulated tubes took."""
    ratios = [
        one.ratio
        for one in every
        if one.value.status == "simulation" and one.value.unit == "J" and one.ratio is not None
    ]
    return min(ratios), max(ratios)


def _failing(every: Sequence[Shown]) -> Iterator[str]:
    failing = [f"FAILS: {one.value.what} ({one.value.source})" for one in every if one.fails]
    if failing:
        yield listed(failing)


def _figures(every: Sequence[Shown], drops: list[Coupon]) -> Iterator[str]:
    points = [
        draw.Point(one.value.theirs, one.rounded, one.value.status, one.fails)
        for one in every
        if one.ratio is not None
    ]
    yield drawing(
        draw.parity(points),
        "parity",
        f"Scatter of {len(points)} values, ours against theirs on logarithmic axes along the line "
        "of equality; below, their difference in per cent.",
        f"Ours against theirs, {len(points)} of {len(every)} values: those without a ratio are "
        "left out; of negative ones the size is drawn. Ring published, square from memory, "
        "triangle derived, cross simulation. Below: difference in per cent, linear within ±0.01 %.",
    )
    tube, of = family(drops[-1].checked.case), pairs(drops)
    yield drawing(
        draw.left_of_holes(tube, drops, best(of), PLANNED),
        "holes",
        "Mean force ratio R falling with hole size: slowly by our law, faster once hole edges come "
        f"near the corner at d/C {tube.onset:.2f}, in a straight line by net area.",
        "What rows of equal holes leave of the mean force, in the tube of the coupons "
        f"({drops[-1].file}, row pitch as there). Solid: our law, mean over the middle of the "
        "girder; shaded: least to most over where folds fall against rows. Dashes: net area, "
        "1 − d/C, as a spreadsheet has it. Diamonds: the coupons below, at their mean d/C.",
    )
    yield drawing(
        draw.start_forces(tube),
        "start",
        "Force that starts a fold falling with hole size: low, nominal and high.",
        "Force that starts a fold at a row, same girders. Low: effective widths at low yield, "
        "stated for d/C to 0.5. High: squash of the net section. Nominal: their mean.",
    )
    checked = crushleg.check_case(crushleg.read_case(HERE / COUPON))
    yield drawing(
        draw.curve(checked),
        "curve",
        "Force against stroke of the drop-test coupon: rising teeth, one per fold, in a band.",
        f"{checked.case.title} ({COUPON}): axial load against stroke, elastic shortening included; "
        "band from low to high. Markers: stop of the drop at nominal force (filled), low and high "
        "(half filled).",
    )


def _doubts(doubted: Sequence[Doubt]) -> Iterator[str]:
    yield paragraph(
        "Each with what it moves: the case is computed again with that input alone changed. "
        f"Margins are the lowest of their kind, of {LEG}, whose leg load is governed by the first "
        "peak; a margin is capability over demand, less one."
    )
    for doubt in doubted:
        yield heading(3, doubt.what)
        yield paragraph(doubt.why)
        if doubt.moved:
            columns = [Column("input", number=False), Column("leg load"), Column("stroke")]
            noted = any(row.note for row in doubt.moved)
            yield table(
                f"Margins moved: {doubt.what}",
                [*columns, Column("beside", number=False)] if noted else columns,
                [Line(row[: len(columns) + noted]) for row in doubt.moved],
                quiet=True,
            )


def _made() -> Iterator[str]:
    yield paragraph(SCREENING)
    yield paragraph("The same inputs and versions make the same page, byte for byte.")
    files = [file for folder in FOLDERS for file in sorted((TESTS / folder).glob("*.py"))]
    yield listed(
        (
            ", ".join(_versions()) + f", Python {platform.python_version()}.",
            f"Files under tests/published and tests/derived: SHA-256 {_hash(files)}.",
            *(
                f"{name}: SHA-256 of the input {crushleg.read_case(HERE / name).input_sha256}."
                for name in (LEG, SOFT_GROUND, COUPON, *FILES)
            ),
        )
    )


def _versions() -> Iterator[str]:
    for name in PACKAGES:
        try:
            yield f"{name} {version(name)}"
        except PackageNotFoundError:
            yield f"{name} not there"


def _hash(files: Sequence[Path]) -> str:
    whole = hashlib.sha256()
    for file in files:
        whole.update(file.name.encode() + b"\0" + file.read_bytes())
    return whole.hexdigest()
