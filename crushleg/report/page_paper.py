"""Sheets of paper that fill from the top with blocks, figures and plain text."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from matplotlib.font_manager import FontProperties

from crushleg.report.layout import Items, Pairs, Paragraph, Table
from crushleg.report.page_artists import Line, Lines, Placed
from crushleg.report.page_set import BODY, GAP, MONO, leading, lines_of, set_table, width_of
from crushleg.report.paper import FOOT, MARGIN, Pages
from crushleg.report.style import FAMILY, HEADING, INCH, POINT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure

    from crushleg.report.layout import Block
    from crushleg.report.page_set import Setting

AFTER = 1.6
"""Below a block [mm]."""
KEPT = 14.0
"""Height that must follow a heading on its sheet [mm]."""
SHORT = 60.0
"""Height of a table that is not parted [mm]."""
CELL = 0.7
"""Added to the height of a row [mm]."""
LABELS = 0.32
"""Largest share of the width that labels of pairs take."""
VERDICT, PLAIN = 9.4, 6.2
"""Type of a verdict, and of files as read [points]."""
SIGNED, TALL = 26.0, 10.0
"""Width of the first column and height of a line to sign on [mm]."""
BULLET = "–"
TAB = 4
BASELINE = 0.93
"""From the top of a line down to its baseline, in parts of the type size."""


@cache
def _font(size: float, family: str, *, bold: bool) -> FontProperties:
    return FontProperties(family=family, weight="bold" if bold else "normal", size=size)


def _tall(setting: Setting) -> float:
    """Height of a table with its head [mm]."""
    lines = [max(map(len, cells)) for cells in (setting.head, *setting.rows)]
    return sum(lines) * leading(setting.size) + (len(lines) + 1) * CELL


class Sheets(Pages):
    """Pages of running text, tables that repeat their heads, and figures."""

    body = BODY

    def turn(self) -> None:
        """Begin a new sheet."""
        super().turn()
        self.lines_here = Lines()
        self.figures[-1].add_artist(self.lines_here)

    def put_at(
        self,
        x: float,
        y: float,
        text: str,
        size: float,
        *,
        bold: bool = False,
        family: str = FAMILY,
    ) -> None:
        """Write a line at x from the margin, its top y from that of the sheet [mm]."""
        low = self.height - y - BASELINE * size * POINT
        font = _font(size, family, bold=bold)
        self.lines_here.held.append(Line((MARGIN + x) / INCH, low / INCH, text, font))

    def heading(
        self, text: str, size: float, followed: Sequence[Block] = (), *, ruled: bool = False
    ) -> None:
        """Write a heading that stays with what follows it."""
        lines = lines_of(text, self.room, size, bold=True)
        self.y += 2.0 if self.y > MARGIN else 0.0
        self.need(len(lines) * leading(size) + AFTER + 1.2 + self._together(followed))
        if ruled:
            self.rule(0.0, self.y, self.room)
            self.y += 1.2
        self.lines(lines, size, bold=True)

    def lines(
        self, lines: Sequence[str], size: float, *, bold: bool = False, family: str = FAMILY
    ) -> None:
        """Write lines under each other, overleaf where the sheet ends."""
        for line in lines:
            self.need(leading(size))
            self.put_at(0.0, self.y, line, size, bold=bold, family=family)
            self.y += leading(size)
        self.y += AFTER

    def blocks(self, blocks: Sequence[Block]) -> None:
        """Set blocks under each other; text that heads a table stays with it."""
        for i, block in enumerate(blocks):
            if isinstance(block, Paragraph):
                if i + 1 < len(blocks) and isinstance(blocks[i + 1], Table):
                    self.need(self._together(blocks[i:]))
                lines, size, bold = self._paragraph(block)
                self.lines(lines, size, bold=bold)
            elif isinstance(block, Items):
                self._pairs([(BULLET, item) for item in block.items])
            elif isinstance(block, Pairs):
                self._pairs(block.pairs)
            elif isinstance(block, Table):
                self._table(block)

    def _paragraph(self, block: Paragraph) -> tuple[list[str], float, bool]:
        """Lines of a paragraph, their type size, and whether it is bold; a verdict is larger."""
        bold = bool(block.style)
        size = VERDICT if " " in block.style else self.body
        return lines_of(block.text, self.room, size, bold=bold), size, bold

    def _together(self, blocks: Sequence[Block]) -> float:
        """Height that must not be parted: paragraphs, and the beginning of what they head."""
        total = 0.0
        for block in blocks:
            if isinstance(block, Table):
                setting = set_table(block, self.room)
                return total + (KEPT if setting is None else min(_tall(setting), SHORT))
            if not isinstance(block, Paragraph) or total > SHORT:
                break
            lines, size, _ = self._paragraph(block)
            total += len(lines) * leading(size) + AFTER
        return max(total, KEPT) if blocks else KEPT

    def _pairs(self, pairs: Sequence[tuple[str, str]]) -> None:
        most = max((width_of(label, self.body) for label, _ in pairs), default=0.0)
        left = min(most + GAP, LABELS * self.room)
        high = leading(self.body)
        for label, text in pairs:
            labels = lines_of(label, left - 1.0, self.body)
            lines = lines_of(text, self.room - left, self.body)
            self.need(high * min(max(len(labels), len(lines)), 4))
            for i in range(max(len(labels), len(lines))):
                self.need(high)
                for x, held in ((0.0, labels), (left, lines)):
                    if i < len(held):
                        self.put_at(x, self.y, held[i], self.body)
                self.y += high
        self.y += AFTER

    def _table(self, table: Table) -> None:
        """Set a table; one that is too wide in any type goes out row by row."""
        setting = set_table(table, self.room)
        if setting is None:
            heads = [" ".join(column.head) for column in table.columns]
            for row in table.rows:
                self._pairs([pair for pair in zip(heads, row, strict=True) if pair[1]])
            return
        high = leading(setting.size)
        head = max(map(len, setting.head)) * high + 2.0 * CELL
        whole = _tall(setting)
        self.need(whole if whole < SHORT else head + 2.0 * high)
        self._head(table, setting)
        for i, cells in enumerate(setting.rows):
            tall = max(map(len, cells)) * high + CELL
            if self.y + tall > self.height - FOOT:
                self.turn()
                self._head(table, setting)
            self._row(table, setting, cells, bold=i == table.strong)
        self.y += AFTER

    def _head(self, table: Table, setting: Setting) -> None:
        self._row(table, setting, setting.head, bold=True)
        self.rule(0.0, self.y, sum(setting.widths) + GAP * (len(setting.widths) - 1))
        self.y += CELL

    def _row(
        self, table: Table, setting: Setting, cells: Sequence[list[str]], *, bold: bool
    ) -> None:
        x, high = 0.0, leading(setting.size)
        for column, wide, lines in zip(table.columns, setting.widths, cells, strict=True):
            for i, line in enumerate(lines):
                rest = wide - width_of(line, setting.size, bold=bold) if column.number else 0.0
                self.put_at(x + rest, self.y + i * high, line, setting.size, bold=bold)
            x += wide + GAP
        self.y += max(map(len, cells)) * high + CELL

    def preformatted(self, text: str) -> None:
        """Write lines of a file in type of one width; one that is too long goes on below."""
        if not text:
            return
        most = int(self.room / (0.6021 * PLAIN * POINT))
        lines = []
        for line in text.split("\n"):
            whole = "".join(c if c.isprintable() else " " for c in line.expandtabs(TAB))
            lines += [whole[i : i + most] for i in range(0, max(len(whole), 1), most)]
        self.lines(lines, PLAIN, family=MONO)

    def drawing(self, title: str, says: str, drawn: Figure, heading: str = "") -> None:
        """Place a figure under its words, all on one sheet."""
        across, up = drawn.get_size_inches() * INCH
        words = lines_of(says, self.room, self.body)
        self.need((len(words) + 2) * leading(self.body) + 3.0 * AFTER + up + 10.0 * bool(heading))
        if heading:
            self.heading(heading, HEADING, ruled=True)
        self.lines([title], self.body, bold=True)
        self.lines(words, self.body)
        left = MARGIN + 0.5 * max(self.room - across, 0.0)
        low = self.height - self.y - up
        self.figures[-1].add_artist(Placed(drawn, left / INCH, low / INCH))
        self.y += up + AFTER

    def sign(self, roles: Sequence[str], heads: Sequence[str]) -> None:
        """Lines to sign on, one for each role."""
        self.need((len(roles) + 1) * TALL)
        each = (self.room - SIGNED) / len(heads)
        for k, head in enumerate(heads):
            self.put_at(SIGNED + k * each, self.y, head, self.body)
        for role in roles:
            self.y += TALL
            self.put_at(0.0, self.y - leading(self.body), role, self.body)
            for k in range(len(heads)):
                self.rule(SIGNED + k * each, self.y, each - 4.0)
        self.y += AFTER
