"""Drill files read back: every hole where the case has it, paper and scale true to size."""

from __future__ import annotations

import csv
import io
import math
import re
import sys
import zlib
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from crushleg import cli, read_case_text, template
from crushleg.cautions import SCREENING
from crushleg.errors import InputError
from crushleg.report.drill_files import drill_files
from crushleg.report.drill_layout import Layout, layout_of
from crushleg.report.drill_pages import MOST_PAGES, OVERLAP, PAPERS, RIM, STRIP, Grid, grid_of
from crushleg.report.drill_pdf import _page, hole_path
from crushleg.report.drill_text import drilling_text
from crushleg.report.drill_words import failing_rows
from crushleg.verbs.drill import drilling_of

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.case.records import Girder, Row
    from crushleg.report.drill_words import Drilling

MM = 1e3
MICRON = 1e-6
POINTS = 72.0 / 25.4
SVG = "{http://www.w3.org/2000/svg}"
STAGGERED = (
    'girder.holes={law="linear", rows=4, first="60 mm", row_pitch="110 mm", foot_size="22 mm", '
    'top_size="12 mm", per_face=3, spacing="31 mm", stagger="9 mm"}'
)
SLOTS = (
    'girder.holes={law="listed", row=['
    '{height="90 mm", size="30 mm", size_along="70 mm", shape="slot", offset="11 mm"}, '
    '{height="200 mm", size="50 mm", size_along="16 mm", shape="slot", faces="left-right"}, '
    '{height="200 mm", size="40 mm", size_along="21 mm", shape="rectangle", faces="front-back"}, '
    '{height="300 mm", size="2 3/8 in", offset="-5.125 mm"}]}'
)
FLAT = ("girder.depth=90 mm", "girder.corner_radius=0 mm", "girder.length=713.4567 mm")
CASES: dict[str, tuple[str, ...]] = {
    "test stage": (),
    "staggered": (STAGGERED,),
    "slots": (SLOTS, *FLAT),
    "stepped wall": ('girder.wall_steps=[{from="500 mm", wall="5 mm"}]',),
    "one row": ('girder.holes={law="even", rows=1, first="333.3333 mm", size="41 mm"}',),
    "plain": ('girder.holes={law="none"}', "girder.depth=60 mm"),
}
NAMES = list(CASES)


@cache
def drilling(name: str, *more: str) -> Drilling:
    return drilling_of(read_case_text(template("test-stage"), "stage", (*CASES[name], *more)))


@cache
def layout(name: str, system: str = "si") -> Layout:
    return layout_of(drilling(name), system)


@cache
def files(name: str, system: str = "si", paper: str | None = None) -> dict[str, bytes]:
    return drill_files(drilling(name), paper, system)


def svg(name: str, system: str = "si") -> ET.Element:
    return ET.fromstring(files(name, system)["drill-layout.svg"])


def asked(name: str) -> list[tuple[int, str, float, float, float, float]]:
    """Row, face, offset seen from outside, height, sizes [m] from the case itself, sorted."""
    girder = drilling(name).schedule.girder
    found = []
    for number, row in enumerate(girder.holes.rows, start=1):
        for face in ("front", "right", "back", "left"):
            if row.faces == "front-back" and face in ("right", "left"):
                continue
            if row.faces == "left-right" and face in ("front", "back"):
                continue
            hand = -1.0 if face in ("back", "left") else 1.0
            found += [(number, face, hand * x, row.height, row.size, row.along) for x in at(row)]
    return sorted(found)


def at(row: Row) -> list[float]:
    return [row.offset + (i - (row.per_face - 1) / 2) * row.spacing for i in range(row.per_face)]


def face_lines(name: str) -> dict[str, tuple[float, float, float]]:
    """Left edge, right edge and foot line of every face in the SVG [mm]."""
    lines = [line for line in svg(name).iter(f"{SVG}line") if line.get("class") == "foot"]
    middles = sorted((float(i.get("x1", "")), float(i.get("x2", ""))) for i in lines)
    foot = {float(line.get("y1", "")) for line in lines}
    assert len(foot) == 1
    edges = [(a + 2.0, b - 2.0, foot.copy().pop()) for a, b in middles]
    return dict(zip(("front", "right", "back", "left"), edges, strict=True))


def box(element: ET.Element) -> tuple[float, float, float, float]:
    """Middle and size of a hole [mm], from its geometry alone."""
    if element.tag == f"{SVG}circle":
        x, y, r = (float(element.get(key, "")) for key in ("cx", "cy", "r"))
        return x, y, 2 * r, 2 * r
    points = np.array(traced(element.get("d", "")))
    low, high = points.min(axis=0), points.max(axis=0)
    return *(0.5 * (low + high)), *(high - low)


def traced(path: str) -> list[tuple[float, float]]:
    """Points of a path of M, h, v and half circles a; the crown of each arc too."""
    tokens = re.findall(r"[Mhvaz]|-?[0-9.]+", path)
    x = y = 0.0
    points = []
    while tokens:
        step = tokens.pop(0)
        if step == "M":
            x, y = float(tokens.pop(0)), float(tokens.pop(0))
        elif step == "h":
            x += float(tokens.pop(0))
        elif step == "v":
            y += float(tokens.pop(0))
        elif step == "a":
            rx, ry, turn, large, sweep, dx, dy = (float(tokens.pop(0)) for _ in range(7))
            assert (turn, large, sweep, rx) == (0.0, 0.0, 1.0, ry)
            assert 2 * rx == pytest.approx(math.hypot(dx, dy))
            points.append((x + 0.5 * dx + 0.5 * dy, y + 0.5 * dy - 0.5 * dx))
            x, y = x + dx, y + dy
        points.append((x, y))
    return points


@pytest.mark.parametrize("name", NAMES)
def test_every_hole_of_the_svg_is_where_the_case_has_it(name: str) -> None:
    faces = face_lines(name)
    found = []
    for element in svg(name).iter():
        if element.get("class") == "hole":
            face = element.get("data-face", "")
            left, right, foot = faces[face]
            x, y, size, along = box(element)
            place = (x - 0.5 * (left + right), foot - y, size, along)
            found.append((int(element.get("data-row", "")), face, *(v / MM for v in place)))
    assert len(found) == len(asked(name))
    for drawn, case in zip(sorted(found), asked(name), strict=True):
        assert drawn[:2] == case[:2]
        assert drawn[2:] == pytest.approx(case[2:], abs=MICRON)


@pytest.mark.parametrize("name", NAMES)
def test_data_of_every_hole_of_the_svg_are_those_of_the_case(name: str) -> None:
    keys = ("offset-mm", "height-mm", "size-mm", "size-along-mm")
    found = [
        (
            int(element.get("data-row", "")),
            element.get("data-face", ""),
            *(float(element.get(f"data-{key}", "")) / MM for key in keys),
        )
        for element in svg(name).iter()
        if element.get("class") == "hole"
    ]
    for data, case in zip(sorted(found), asked(name), strict=True):
        assert data[2:] == pytest.approx(case[2:], abs=MICRON)


@pytest.mark.parametrize("name", NAMES)
def test_faces_of_the_svg_are_as_wide_and_long_as_those_of_the_girder(name: str) -> None:
    girder: Girder = drilling(name).schedule.girder
    edges = [line for line in svg(name).iter(f"{SVG}line") if line.get("class") == "edge"]
    tall = {float(e.get("y1", "")) - float(e.get("y2", "")) for e in edges} - {0.0}
    assert max(tall) / MM == pytest.approx(girder.length, abs=MICRON)
    for face, (left, right, _) in face_lines(name).items():
        width = girder.width if face in ("front", "back") else girder.depth
        assert (right - left) / MM == pytest.approx(width, abs=MICRON)


@pytest.mark.parametrize("name", NAMES)
def test_a_user_unit_of_the_svg_is_a_millimetre_and_nothing_leaves_the_sheet(name: str) -> None:
    root = svg(name)
    width, height = (float(root.get(key, "").removesuffix("mm")) for key in ("width", "height"))
    assert root.get("viewBox") == f"0 0 {root.get('width', '')[:-2]} {root.get('height', '')[:-2]}"
    for line in root.iter(f"{SVG}line"):
        assert all(0.0 <= float(line.get(key, "")) <= width for key in ("x1", "x2"))
        assert all(0.0 <= float(line.get(key, "")) <= height for key in ("y1", "y2"))


@pytest.mark.parametrize(
    ("system", "long", "said"), [("si", 100.0, "100 mm"), ("us", 101.6, "4 in")]
)
def test_the_scale_bar_is_as_long_as_it_says(system: str, long: float, said: str) -> None:
    root = svg("test stage", system)
    bars = [line for line in root.iter(f"{SVG}line") if line.get("class") == "bar"]
    lengths = [float(e.get("x2", "")) - float(e.get("x1", "")) for e in bars]
    assert max(lengths) == pytest.approx(long, abs=1e-6)
    assert any((text.text or "").startswith(f"{said}: measure") for text in root.iter(f"{SVG}text"))


@pytest.mark.parametrize("name", NAMES)
def test_bends_are_drawn_where_the_corner_radius_ends(name: str) -> None:
    radius = drilling(name).schedule.girder.corner_radius * MM
    bends = [line for line in svg(name).iter(f"{SVG}line") if line.get("class") == "bend"]
    wanted = [
        x for left, right, _ in face_lines(name).values() for x in (left + radius, right - radius)
    ]
    found = sorted(float(line.get("x1", "")) for line in bends)
    assert found == pytest.approx(sorted(wanted) if radius else [])


def test_a_title_that_is_no_xml_is_written_as_text() -> None:
    odd = drilling("test stage", 'title="<b>&\\u0001 $x_2$ \\"q\\""')
    root = ET.fromstring(drill_files(odd, None)["drill-layout.svg"])
    texts = [text.text or "" for text in root.iter(f"{SVG}text")]
    assert any("<b>& $x_2$" in text.replace("\u25a1", "") for text in texts)


# ---------------------------------------------------------------- PDF


def boxes(pdf: bytes) -> list[tuple[float, ...]]:
    """MediaBox of every page [points]."""
    found = re.findall(rb"/MediaBox \[([^\]]*)\]", pdf)
    return [tuple(float(x) for x in one.split()) for one in found]


def segments(pdf: bytes) -> list[tuple[float, ...]]:
    """Straight lines of all pages [points]."""
    found = []
    for stream in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.DOTALL):
        try:
            # not decompress(): the last byte of a stream may be the CR that the pattern takes off
            text = zlib.decompressobj().decompress(stream).decode("latin-1")
        except zlib.error:
            continue
        number = r"(-?[0-9.]+)"
        pattern = rf"^{number} {number} m\n{number} {number} l\n\nS"
        found += [tuple(map(float, one)) for one in re.findall(pattern, text, re.MULTILINE)]
    return found


@pytest.mark.parametrize("paper", list(PAPERS))
def test_pages_of_the_pdf_have_the_size_of_the_paper_and_cover_the_layout(paper: str) -> None:
    """ISO 216: A4 210 × 297, A3 297 × 420 mm; letter 8 1/2 × 11 in."""
    sizes = {"a4": (210.0, 297.0), "a3": (297.0, 420.0), "letter": (8.5 * 25.4, 11 * 25.4)}
    found = boxes(files("one row", "si", paper)["drill-layout.pdf"])
    wide, tall = sorted(sizes[paper])
    for left, bottom, right, top in found:
        assert (left, bottom) == (0.0, 0.0)
        assert sorted((right / POINTS, top / POINTS)) == pytest.approx([wide, tall], abs=1e-3)
    drawn = layout("one row")
    lying = found[0][2] > found[0][3]
    page = (tall, wide) if lying else (wide, tall)
    across = page[0] - 2 * RIM - OVERLAP
    up = page[1] - 2 * RIM - STRIP - OVERLAP
    pages = math.ceil((drawn.width - OVERLAP) / across) * math.ceil((drawn.height - OVERLAP) / up)
    assert len(found) == pages


@pytest.mark.parametrize(("system", "long"), [("si", 100.0), ("us", 101.6)])
def test_every_page_of_the_pdf_has_a_scale_bar_of_true_length(system: str, long: float) -> None:
    pdf = files("one row", system, "a3")["drill-layout.pdf"]
    bars = [
        line
        for line in segments(pdf)
        if line[1] == line[3] == pytest.approx(RIM * POINTS, abs=1e-3)
        and line[2] - line[0] == pytest.approx(long * POINTS, abs=1e-3)
    ]
    assert len(bars) == len(boxes(pdf))


def test_crosses_of_neighbouring_pages_lie_on_the_same_place_of_the_drawing() -> None:
    grid = grid_of(layout("test stage"), "a4")
    half = 0.5 * OVERLAP
    marks: dict[tuple[float, float], int] = {}
    for tile in grid.tiles():
        for x in (tile.x + half, tile.x + grid.window[0] - half):
            for y in (tile.y + half, tile.y + grid.window[1] - half):
                key = (round(x, 6), round(y, 6))
                marks[key] = marks.get(key, 0) + 1
    assert len(marks) == (grid.columns + 1) * (grid.rows + 1)
    inside = (grid.columns - 1) * (grid.rows - 1)
    assert sum(count == 4 for count in marks.values()) == inside > 0


def marks_of_pages(pdf: bytes, grid: Grid) -> list[set[tuple[float, float]]]:
    """Middles of the crosses of every page, as places of the layout [mm], by hand."""
    width, height = grid.window
    found: list[set[tuple[float, float]]] = []
    for stream in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.DOTALL):
        lines = segments(b"stream\n" + stream + b"\nendstream")
        level = [(x, y, u) for x, y, u, v in lines if y == v and abs(u - x - 8.0 * POINTS) < 0.01]
        if level:
            k = len(found)
            left = k % grid.columns * (width - OVERLAP) - RIM
            low = (grid.rows - 1 - k // grid.columns) * (height - OVERLAP) - RIM - STRIP
            found.append(
                {
                    (round((x + u) / 2 / POINTS + left, 2), round(y / POINTS + low, 2))
                    for x, y, u in level
                }
            )
    return found


def test_printed_crosses_of_neighbours_show_the_same_places_of_the_layout() -> None:
    pdf, grid = files("one row", "si", "a4")["drill-layout.pdf"], grid_of(layout("one row"), "a4")
    pages = marks_of_pages(pdf, grid)
    assert len(pages) == grid.columns * grid.rows > 1
    for k, marks in enumerate(pages):
        assert len(marks) == 4
        if (k + 1) % grid.columns:
            assert len(marks & pages[k + 1]) == 2
        if k + grid.columns < len(pages):
            assert len(marks & pages[k + grid.columns]) == 2


def test_every_page_says_which_input_and_revision_it_is_of() -> None:
    """Pages of two revisions must not be taped together."""
    grid = grid_of(layout("one row"), "a4")
    for tile in list(grid.tiles())[:2]:
        names = ("Title", "input 0123abcd · revision B")
        said = [
            t.get_text()
            for axes in _page(layout("one row"), grid, tile, names, "si").axes
            for t in axes.texts
        ]
        assert any(
            text.endswith("A1 at the top left · input 0123abcd · revision B") for text in said
        )


def test_pages_are_named_by_column_and_row_from_the_top_left() -> None:
    grid = grid_of(layout("test stage"), "a4")
    tiles = list(grid.tiles())
    assert tiles[0].name == "A1"
    assert tiles[0].y == max(tile.y for tile in tiles)
    assert tiles[grid.columns].name == "A2"
    assert len({tile.name for tile in tiles}) == grid.columns * grid.rows == len(tiles)


@pytest.mark.parametrize("name", NAMES)
def test_holes_of_the_pdf_have_the_place_and_size_of_the_case(name: str) -> None:
    for one in layout(name).holes:
        path = np.array(hole_path(one).cleaned(curves=False).vertices)[:-1]
        low, high = path.min(axis=0), path.max(axis=0)
        assert 0.5 * (low + high) == pytest.approx([one.x, one.y], abs=1e-3)
        sizes = [MM * one.hole.size, MM * one.hole.along]
        assert high - low == pytest.approx(sizes, abs=0.02)


def test_too_many_pages_are_refused_before_anything_is_written() -> None:
    long = drilling("test stage", "girder.length=200 m", "leg.free_length=200 m")
    with pytest.raises(InputError, match=r"\d+ pages on a4 paper .* --paper none"):
        drill_files(long, "a4")
    assert "drill-layout.pdf" not in drill_files(long, None)
    assert MOST_PAGES == 400


# ---------------------------------------------------------------- CSV and text


@pytest.mark.parametrize(("system", "unit", "metre"), [("si", "mm", 1e-3), ("us", "in", 0.0254)])
@pytest.mark.parametrize("name", NAMES)
def test_the_schedule_has_every_hole_of_the_case(
    name: str, system: str, unit: str, metre: float
) -> None:
    text = files(name, system)["drill-schedule.csv"].decode()
    rows = list(csv.DictReader(io.StringIO(text)))
    keys = ("offset", "height_from_FOOT", "size", "size_along")
    found = [
        (int(row["row"]), row["face"], *(float(row[f"{key}_{unit}"]) * metre for key in keys))
        for row in rows
    ]
    assert [int(row["hole"]) for row in rows] == list(range(1, len(rows) + 1))
    for written, case in zip(sorted(found), asked(name), strict=True):
        assert written[2:] == pytest.approx(case[2:], abs=MICRON)
    assert all(row["caution"] == SCREENING and row["revision"] == "A" for row in rows)
    assert all(row["material_certificate"] == row["made_by"] == "" for row in rows)
    assert all(row["deburr"] and "one setting" in row["setting"] for row in rows)


def test_the_rules_stand_row_by_row_with_their_sources() -> None:
    rows = list(csv.DictReader(io.StringIO(files("slots")["drill-rules.csv"].decode())))
    assert len({(row["row"], row["rule"]) for row in rows}) == len(rows) == 4 * 9
    assert {row["verdict"] for row in rows} <= {"holds", "FAILS", "not asked"}
    assert all(row["source"] and row["status"] for row in rows)


@pytest.mark.parametrize("name", NAMES)
def test_the_report_says_rows_rules_and_the_caution(name: str) -> None:
    text = drilling_text(drilling(name))
    assert SCREENING in text
    rows = drilling(name).schedule.rows
    assert ("No holes: a plain column" in text) == (not rows)
    assert ("Every fabrication rule holds" in text) == bool(rows)
    assert all(f"\n{plan.number:>3}  " in text for plan in rows)


def test_a_failing_rule_is_named_with_row_value_and_limit_and_is_on_the_sheet() -> None:
    tight = drilling("test stage", 'girder.holes.row_pitch="83 mm"')
    text = drilling_text(tight)
    assert "FABRICATION RULES FAIL in rows 1, 2" in text
    assert "row 1: web, crush column: 5 mm, required 8 mm" in text
    words = [one.text for one in layout_of(tight).words]
    assert "FABRICATION RULES FAIL in rows 1, 2: see the schedule." in words


def test_a_tool_that_cuts_wider_than_the_tolerance_is_told() -> None:
    assert "A hole saw usually cuts wider than ±0.2 mm" in drilling_text(drilling("test stage"))
    wide = drilling("test stage", 'girder.hole_tolerance="1.1 mm"')
    assert "usually cuts wider" not in drilling_text(wide)


# ---------------------------------------------------------------- the verb


@pytest.fixture
def case(tmp_path: Path) -> Path:
    path = tmp_path / "stage.toml"
    path.write_text(template("test-stage"), encoding="utf-8")
    return path


def test_drill_writes_schedule_rules_and_layout(
    case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["drill", str(case), "--paper", "A3"]) == cli.PASSED
    names = {"drill-schedule.csv", "drill-rules.csv", "drill-layout.svg", "drill-layout.pdf"}
    assert {path.name for path in case.with_suffix("").iterdir()} == names
    captured = capsys.readouterr()
    assert "Rows, foot first" in captured.out
    assert captured.err.count("written: ") == 4


def test_a_failing_rule_exits_with_3_and_leaves_the_files(case: Path) -> None:
    words = ["drill", str(case), "--paper", "none", "--set", 'girder.holes.row_pitch="83 mm"']
    assert cli.main([*words, "--quiet"]) == cli.NEGATIVE
    assert (case.with_suffix("") / "drill-layout.svg").exists()


def test_too_many_pages_leave_no_file(case: Path, capsys: pytest.CaptureFixture[str]) -> None:
    long = ["--set", 'girder.length="200 m"', "--set", 'leg.free_length="200 m"']
    assert cli.main(["drill", str(case), *long, "--quiet"]) == cli.INPUT
    assert "--paper none" in capsys.readouterr().err
    assert not case.with_suffix("").exists()


def test_without_ezdxf_a_dxf_is_refused_with_what_to_install(
    case: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    assert cli.main(["drill", str(case), "--dxf", "--quiet"]) == cli.INPUT
    assert 'pip install "crushleg[dxf]"' in capsys.readouterr().err
    assert not case.with_suffix("").exists()


def test_a_folder_in_the_place_of_a_file_leaves_no_file(
    case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (case.with_suffix("") / "drill-layout.svg").mkdir(parents=True)
    assert cli.main(["drill", str(case), "--paper", "none", "--quiet"]) == cli.INPUT
    assert "drill-layout.svg" in capsys.readouterr().err
    assert len(list(case.with_suffix("").iterdir())) == 1


@pytest.mark.parametrize(
    ("rows", "said"),
    [((), ""), ((4,), "row 4"), ((1, 2), "rows 1, 2"), ((1, 3, 4, 5, 7), "rows 1, 3 to 5, 7")],
)
def test_failing_rows_are_told_in_runs(rows: tuple[int, ...], said: str) -> None:
    judged = drilling("test stage").judged
    broken = [replace(judged[0], row=row, limit=math.inf, applies=True) for row in rows]
    assert failing_rows([*broken, *judged]) == said


@pytest.mark.evidence
@pytest.mark.parametrize("name", NAMES)
def test_the_dxf_passes_the_audit_in_millimetres_and_has_every_hole(name: str) -> None:
    """Read back with ezdxf: the one entity of each hole has its place and extent."""
    ezdxf = pytest.importorskip("ezdxf")
    bbox = pytest.importorskip("ezdxf.bbox")
    data = drill_files(drilling(name), None, with_dxf=True)["drill-layout.dxf"]
    document = ezdxf.read(io.StringIO(data.decode()))
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert document.units == ezdxf.units.MM
    holes = list(document.modelspace().query('*[layer=="HOLES"]'))
    found = [bbox.extents([entity], fast=False) for entity in holes]
    boxes = sorted((b.center.x, b.center.y, b.size.x, b.size.y) for b in found)
    wanted = sorted(
        (one.x, one.y, MM * one.hole.size, MM * one.hole.along) for one in layout(name).holes
    )
    assert len(boxes) == len(asked(name))
    assert np.array(boxes) / MM == pytest.approx(np.array(wanted) / MM, abs=MICRON)
