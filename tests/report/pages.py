"""Pages of checked cases, and HTML read back: what the tests of the page look at."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from html.parser import HTMLParser
from typing import TYPE_CHECKING

from crushleg.report.page_html import page_html
from crushleg.report.page_inputs import Input
from crushleg.report.page_verbs import Kept, check_page
from crushleg.report.plots import figures
from tests.report.cases import checked

if TYPE_CHECKING:
    from crushleg.report.page import Page

VOID = {"meta", "br", "hr", "img", "input", "link"}
EVIL = """title='</title><script>alert(1)</script> & "quotes" <b>'"""


@dataclass
class Element:
    """One element: its tag, attributes, the tags it lies in, and its own text."""

    tag: str
    attributes: dict[str, str]
    within: tuple[str, ...]
    text: str = ""


@dataclass
class Tree(HTMLParser):
    """Elements of a page in their order; every one must be closed in its turn."""

    elements: list[Element] = field(default_factory=list)
    open: list[Element] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        within = tuple(one.tag for one in self.open)
        one = Element(tag, {name: value or "" for name, value in attrs}, within)
        self.elements.append(one)
        if tag not in VOID:
            self.open.append(one)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self.open, tag
        assert self.open.pop().tag == tag

    def handle_data(self, data: str) -> None:
        for one in self.open:
            one.text += data

    def all(self, *tags: str) -> list[Element]:
        return [one for one in self.elements if one.tag in tags]


def tree(html: str) -> Tree:
    """Read a page; what is not closed is an error."""
    found = Tree()
    found.feed(html)
    found.close()
    assert found.open == []
    return found


@cache
def page(kind: str, *overrides: str, drawn: bool = False) -> Page:
    """Page of a checked template."""
    case = checked(kind, *overrides)
    inputs = (Input("stage.toml", 'title = "<i>as read</i>"\n\twall', "a note", "0f" * 32),)
    return check_page(case, Kept(inputs, figures(case) if drawn else {}))


@cache
def html(kind: str, *overrides: str, drawn: bool = False) -> str:
    return page_html(page(kind, *overrides, drawn=drawn))
