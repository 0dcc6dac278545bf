"""The page on paper: the same content, nothing beyond the edges, figures where they are placed."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING

import numpy as np
import pytest
from matplotlib.figure import Figure

from crushleg.report.layout import Column, Heading, Items, Pairs, Paragraph, Table
from crushleg.report.page import Page, page_of
from crushleg.report.page_artists import Lines, Placed
from crushleg.report.page_explain import explained_blocks
from crushleg.report.page_figures import Drawing
from crushleg.report.page_pdf import laid_out, page_pdf
from crushleg.report.page_set import SIZES, lines_of, set_table, width_of
from crushleg.report.paper import FOOT, MARGIN
from crushleg.report.paper import SIZES as PAPERS
from crushleg.report.plot_labels import width_of as drawn_width
from crushleg.report.style import INCH, POINT, styled
from crushleg.report.text import render
from tests.report.cases import HEAVY, LONG, checked
from tests.report.pages import page

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.report.layout import Block
    from crushleg.report.page_paper import Sheets

PAPER = pytest.mark.parametrize("paper", sorted(PAPERS))
TEXT = "The quick brown fox, 12.5 kN / φh √(s_y s_u) ≥ 3; WAVE AVATAR"


def sheets(of: Page, paper: str = "a4") -> Sheets:
    with styled():
        return laid_out(of, paper)


def lines(of: Sheets) -> Iterator[tuple[Figure, list[tuple[float, float, str, float]]]]:
    """Every sheet with its lines: left, baseline, text, right end [mm]."""
    for figure in of.figures:
        (held,) = (one for one in figure.artists if isinstance(one, Lines))
        yield (
            figure,
            [
                (
                    x * INCH,
                    y * INCH,
                    text,
                    x * INCH + width_of(text, font.get_size(), bold=font.get_weight() == "bold")
                    if "Mono" not in font.get_name()
                    else x * INCH + 0.6021 * font.get_size() * POINT * len(text),
                )
                for x, y, text, font in held.held
            ],
        )


def words(of: Sheets) -> str:
    return " ".join(text for _, held in lines(of) for _, _, text, _ in held)


@pytest.mark.parametrize("bold", [False, True])
def test_widths_are_those_of_the_drawn_text(*, bold: bool) -> None:
    assert width_of(TEXT, 7.6, bold=bold) == pytest.approx(
        drawn_width(TEXT, size=7.6, bold=bold), rel=0.03
    )


def test_text_goes_into_lines_and_nothing_is_lost() -> None:
    for text in (TEXT * 5, "without_any_space" * 20, "", "a " * 90):
        found = lines_of(text, 40.0, 7.6)
        assert all(width_of(line, 7.6) <= 40.0 for line in found)
        assert "".join(found).replace(" ", "") == text.replace(" ", "")


@PAPER
@pytest.mark.parametrize("overrides", [(), (HEAVY, LONG)])
def test_every_line_lies_between_the_margins(paper: str, overrides: tuple[str, ...]) -> None:
    wide, tall = PAPERS[paper]
    for figure, held in lines(sheets(page("test-stage", *overrides), paper)):
        assert np.allclose(figure.get_size_inches() * INCH, (wide, tall))
        assert held
        for left, base, _, right in held:
            assert left >= MARGIN - 0.01
            assert right <= wide - MARGIN + 0.3
            assert FOOT - 1.0 <= base <= tall - MARGIN


def test_paper_says_what_the_report_says() -> None:
    case = checked("test-stage", HEAVY)
    shown = re.sub(r"\s", "", words(sheets(page("test-stage", HEAVY))))
    for block in render(case):
        texts: list[str] = []
        if isinstance(block, (Heading, Paragraph)):
            texts = [block.text]
        elif isinstance(block, Items):
            texts = list(block.items)
        elif isinstance(block, Pairs):
            texts = [text for _, text in block.pairs]
        else:
            texts = [cell for row in block.rows for cell in row]
        for text in texts:
            assert re.sub(r"\s", "", text) in shown, text
    for name in page("test-stage", HEAVY).explained:
        first = next(iter(explained_blocks(name)))
        assert isinstance(first, Paragraph)
        assert re.sub(r"\s", "", first.text) in shown


def test_figures_are_placed_whole_and_left_as_they_were() -> None:
    of = page("test-stage", drawn=True)
    before = [one.figure.bbox_inches.get_points().copy() for one in of.drawings]
    found = [
        (figure, one)
        for figure in sheets(of).figures
        for one in figure.artists
        if isinstance(one, Placed)
    ]
    assert [one.drawn for _, one in found] == [one.figure for one in of.drawings]
    for figure, one in found:
        wide, tall = figure.get_size_inches()
        across, up = one.drawn.get_size_inches()
        assert one.left >= MARGIN / INCH - 1e-9
        assert one.left + across <= wide - MARGIN / INCH + 1e-9
        assert one.low >= FOOT / INCH - 1e-9
        assert one.low + up <= tall - MARGIN / INCH
    page_pdf(page_of("check", [Paragraph("Title")], drawings=of.drawings[-1:]))
    after = [one.figure.bbox_inches.get_points() for one in of.drawings]
    assert np.array_equal(before, after)


def test_a_placed_figure_is_drawn_where_it_is_placed() -> None:
    inner = Figure(figsize=(1.0, 1.0), facecolor="black")
    outer = Figure(figsize=(4.0, 3.0), dpi=50)
    outer.add_artist(Placed(inner, 2.0, 1.0))
    buffer = io.BytesIO()
    outer.savefig(buffer, format="raw", dpi=50)
    dots = np.frombuffer(buffer.getvalue(), dtype=np.uint8).reshape(150, 200, 4)
    dark = dots[:, :, 0] < 128
    rows, columns = np.nonzero(dark)
    assert (columns.min(), columns.max() + 1) == (100, 150)
    assert (150 - rows.max() - 1, 150 - rows.min()) == (50, 100)


def wide_table(columns: int) -> Table:
    heads = tuple(Column((f"quantity {k}", "kN")) for k in range(columns))
    return Table(heads, [tuple("123.4" for _ in heads)] * 3, strong=1)


def test_a_wide_table_gets_smaller_type_and_then_a_line_per_cell() -> None:
    sizes = [found.size for n in (4, 11, 12) if (found := set_table(wide_table(n), 186.0))]
    assert sizes[0] == SIZES[0]
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[-1] < SIZES[0]
    assert set_table(wide_table(40), 186.0) is None
    of = page_of("check", [Paragraph("Title"), wide_table(40)])
    shown = words(sheets(of))
    assert all(shown.count(f"quantity {k} kN") == 3 for k in range(40))


def test_a_long_table_repeats_its_head_on_every_sheet() -> None:
    table = Table((Column(("speed", "m/s")),), [(f"{k}.5",) for k in range(200)])
    found = [
        [text for _, _, text, _ in held]
        for _, held in lines(sheets(page_of("check", [Paragraph("Title"), table])))
    ]
    with_rows = [texts for texts in found if any(text.endswith(".5") for text in texts)]
    assert len(with_rows) > 2
    assert all("speed" in texts and "m/s" in texts for texts in with_rows)


def test_bytes_are_the_same_and_searchable() -> None:
    of = page_of("check", [Paragraph("Title"), Paragraph("text")])
    one, other = page_pdf(of, "letter"), page_pdf(of, "letter")
    assert one == other
    assert one.startswith(b"%PDF-")
    assert b"/Type0" in one or b"/TrueType" in one
    assert b"/Type3" not in one


def test_a_figure_with_its_words_stays_on_one_sheet() -> None:
    tall = Figure(figsize=(6.0, 200.0 / INCH))
    drawings = [Drawing(f"x{k}", f"Number {k}", "says " * 60, tall) for k in range(3)]
    of = sheets(page_of("check", [Paragraph("Title")], drawings=drawings))
    placed = [sum(isinstance(a, Placed) for a in figure.artists) for figure in of.figures]
    assert max(placed) == 1
    assert sum(placed) == 3


def test_a_heading_stays_with_the_short_table_that_it_heads() -> None:
    rows = Table((Column(("speed", "m/s")),), [(f"{k}.5",) for k in range(9)])
    for filling in range(40, 70):
        blocks: list[Block] = [Paragraph("Title"), *[Paragraph("x")] * filling]
        blocks += [Heading("Speeds"), Paragraph("of the landing"), rows]
        found = [
            [text for _, _, text, _ in held] for _, held in lines(sheets(page_of("check", blocks)))
        ]
        (first,) = (texts for texts in found if "Speeds" in texts)
        assert {"of the landing", "speed", "8.5"} <= set(first)
