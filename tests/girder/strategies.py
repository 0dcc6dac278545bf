"""Random valid girders, and girders with metal taken out of them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from hypothesis import strategies as st

from crushleg.case.records import Correlation, Girder, Holes, Row, WallStep
from tests.samples import EXACT, STAINLESS, girder, mm

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

SHAPES = ("circle", "circle", "slot", "rectangle")
FACES = ("all", "all", "front-back", "left-right")
ROOM = 0.88
"""Share of the half face that holes may use: ten per cent larger still fits."""


def share(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False).map(lambda v: round(v, 4))


@st.composite
def rows(draw: st.DrawFn, room: float, height: float) -> tuple[Row, float]:
    """Draw a row that begins at ``height``, and its top; ``room`` is half a face."""
    count = draw(st.sampled_from((1, 1, 2, 3)))
    spacing = 2.0 * ROOM * room / count
    size = draw(share(0.05, 0.8)) * spacing
    slack = ROOM * room - 0.5 * ((count - 1) * spacing + size)
    shape = draw(st.sampled_from(SHAPES))
    along = None if shape == "circle" else size * draw(share(0.4, 3.0))
    middle = height + 0.5 * (along or size)
    row = Row(
        height=middle,
        size=size,
        size_along=along,
        shape=shape,
        per_face=count,
        spacing=spacing if count > 1 else 0.0,
        offset=slack * draw(share(-1.0, 1.0)),
        faces=draw(st.sampled_from(FACES)),
    )
    return row, middle + 0.5 * (along or size)


@st.composite
def girders(draw: st.DrawFn, least_rows: int = 0) -> Girder:
    """Draw a valid girder of up to four rows with at least a tenth of a side between them."""
    width = draw(share(60.0, 200.0)) * mm
    depth = width * draw(st.sampled_from((1.0, 1.0, 0.7, 1.4)))
    wall = min(width, depth) / (draw(share(8.0, 95.0)) + 1.0)
    ratios = draw(st.lists(share(0.8, 1.25), max_size=2))
    room = 0.5 * (min(width, depth) - wall * max((1.0, *ratios)))
    gaps = share(0.1, 1.2).map(lambda v: 2.0 * v * room)
    height, found = draw(gaps), []
    for _ in range(draw(st.integers(least_rows, 4))):
        row, top = draw(rows(room, height))
        found.append(row)
        height = top + draw(gaps)
    length = height + 2.0 * room * draw(share(0.5, 2.0))
    steps = (length * (i + draw(share(0.1, 0.9))) / len(ratios) for i in range(len(ratios)))
    bands: dict[str, Any] = {"wall_tolerance": 0.0, "hole_tolerance": 0.0, "material": EXACT}
    if draw(st.booleans()):
        bands = {"wall_tolerance": 0.03 * wall, "hole_tolerance": 0.2 * mm, "material": STAINLESS}
    test = Correlation(force_factor=1.0, scatter=0.02, tests=9, source="sample")
    return girder(
        *found,
        width=width,
        depth=depth,
        wall=wall,
        length=length,
        wall_steps=tuple(
            WallStep(start=z, wall=wall * ratio) for z, ratio in zip(steps, ratios, strict=True)
        ),
        corner_radius=0.0,
        first_peak_fraction=draw(st.sampled_from((1.0, 0.6, 0.3))),
        correlation=test if draw(st.booleans()) else None,
        **bands,
    )


def with_rows(record: Girder, found: list[Row]) -> Girder:
    ordered = tuple(sorted(found, key=lambda row: row.height))
    return replace(record, holes=Holes(law="listed", rows=ordered))


def bigger(record: Girder, index: int, by: float) -> Girder:
    """Hole ``by`` × larger across; a circle all round."""
    row = record.holes.rows[index]
    return _swap(record, index, replace(row, size=row.size * (1.0 + by)))


def longer(record: Girder, index: int, by: float) -> Girder:
    """Slot or rectangle longer along the girder, by at most what its gaps leave."""
    row = record.holes.rows[index]
    if row.size_along is None:
        return bigger(record, index, by)
    side = min(record.width, record.depth)
    along = row.size_along + min(by * row.size_along, 0.05 * side)
    return _swap(record, index, replace(row, size_along=along))


def more(record: Girder, index: int, by: float) -> Girder:
    """Two more holes in a row of one, or the other two faces drilled, where they fit."""
    row = record.holes.rows[index]
    if row.faces != "all":
        return _swap(record, index, replace(row, faces="all"))
    walls = (record.wall, *(step.wall for step in record.wall_steps))
    room = 0.5 * (min(record.width, record.depth) - max(walls))
    spacing = room - abs(row.offset) - 0.55 * row.size
    if row.per_face > 1 or spacing < 1.1 * row.size:
        return bigger(record, index, by)
    return _swap(record, index, replace(row, per_face=3, spacing=spacing))


def extra_row(record: Girder, index: int, by: float) -> Girder:
    """One more row of single holes in the gap above row ``index``."""
    found = list(record.holes.rows)
    top = found[index].height + 0.5 * found[index].along
    above = found[index + 1] if index + 1 < len(found) else None
    end = record.length if above is None else above.height - 0.5 * above.along
    size = min(2.0 * by, 0.5) * min(end - top, 0.5 * min(record.width, record.depth))
    return with_rows(record, [*found, Row(height=0.5 * (top + end), size=size)])


CUTS: tuple[Callable[[Girder, int, float], Girder], ...] = (bigger, longer, more, extra_row)


@st.composite
def cuts(draw: st.DrawFn) -> tuple[Girder, Girder]:
    """Draw a girder, and the same with metal taken out."""
    record = draw(girders(least_rows=1))
    cut = draw(st.sampled_from(CUTS))
    index = draw(st.integers(0, len(record.holes.rows) - 1))
    return record, cut(record, index, draw(st.sampled_from((1e-4, 1e-2, 0.1))))


def _swap(record: Girder, index: int, row: Row) -> Girder:
    found = list(record.holes.rows)
    found[index] = row
    return with_rows(record, found)


def scaled(record: Girder, by: float) -> Girder:
    """Every length times ``by``, tolerances too."""
    lengths = ("width", "depth", "wall", "length", "wall_tolerance", "hole_tolerance")
    return replace(
        record,
        **{name: by * getattr(record, name) for name in (*lengths, "corner_radius")},
        wall_steps=tuple(
            WallStep(start=by * step.start, wall=by * step.wall) for step in record.wall_steps
        ),
        holes=Holes(law="listed", rows=tuple(_scaled_rows(record, by))),
    )


def _scaled_rows(record: Girder, by: float) -> Iterator[Row]:
    for row in record.holes.rows:
        along = None if row.size_along is None else by * row.size_along
        yield replace(
            row,
            height=by * row.height,
            size=by * row.size,
            size_along=along,
            spacing=by * row.spacing,
            offset=by * row.offset,
        )


def mirrored(record: Girder) -> Girder:
    """Return it as seen from the other side: offsets negated."""
    return with_rows(record, [replace(row, offset=-row.offset) for row in record.holes.rows])


def drilled_on(record: Girder, faces: str) -> Girder:
    return with_rows(record, [replace(row, faces=faces) for row in record.holes.rows])
