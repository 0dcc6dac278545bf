"""The page a reviewer keeps: what a verb reports, in the order in which it is judged.

The same page is set as HTML by :mod:`crushleg.report.page_html` and as PDF by
:mod:`crushleg.report.page_pdf`.
"""

from __future__ import annotations

import platform
from dataclasses import dataclass
from importlib.metadata import version
from typing import TYPE_CHECKING, NamedTuple

from crushleg.report.layout import Heading, Pairs, Paragraph
from crushleg.report.page_links import Links

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from crushleg.report.layout import Block
    from crushleg.report.page_figures import Drawing
    from crushleg.report.page_inputs import Input

LIBRARIES = ("crushleg", "numpy", "scipy", "matplotlib")
SIGN = ("prepared", "checked", "approved")
SIGNED_BY = ("name", "signature", "date")
GOVERNING = "Governing margin, worked through"
FIGURES, EXPLAINED, INPUTS, MADE_WITH, SIGNED = (
    "Figures",
    "How each number is computed",
    "Inputs as read",
    "Made with",
    "Signed",
)
AFTER_FIGURES = ("Cautions", "Sources", "Symbols", "Before you use this")
"""How sections begin that stand behind the figures, in their order."""


class Section(NamedTuple):
    """Blocks under one heading."""

    title: str
    blocks: tuple[Block, ...]


class Governing(NamedTuple):
    """The governing margin worked through, and its name in :mod:`crushleg.explain`."""

    name: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """All that is kept of one run.

    Attributes
    ----------
    verb, title : str
    lead : tuple of blocks
        What stands before the first heading: about, verdict.
    governing : Governing or None
    results, closing : tuple of Section
        Sections before and behind the figures.
    drawings : tuple of Drawing
    inputs : tuple of Input
        Files as read, and the changes to them.
    explained : tuple of str
        Names, as :func:`crushleg.explain.explanation` takes them, of what occurs.
    made_with : tuple of pairs
        Versions and hashes.
    """

    verb: str
    title: str
    lead: tuple[Block, ...]
    governing: Governing | None
    results: tuple[Section, ...]
    closing: tuple[Section, ...]
    drawings: tuple[Drawing, ...]
    inputs: tuple[Input, ...]
    explained: tuple[str, ...]
    made_with: tuple[tuple[str, str], ...]


def page_of(
    verb: str,
    blocks: Sequence[Block],
    *,
    inputs: Sequence[Input] = (),
    drawings: Sequence[Drawing] = (),
    governing: Governing | None = None,
    first: str = "",
    hashes: Iterable[tuple[str, str]] = (),
) -> Page:
    """Page of a report.

    Parameters
    ----------
    verb : str
    blocks : sequence of blocks
        Of the printed report: its title, what stands first, then sections.
    inputs : sequence of Input, optional
    drawings : sequence of Drawing, optional
    governing : Governing, optional
        Stands before all else.
    first : str, optional
        How the heading begins of the section that comes before the others.
    hashes : iterable of pairs, optional
        What is hashed, and its SHA-256.

    Returns
    -------
    Page
        Nothing is said twice: what stands first is left out of the sections.
    """
    title, *rest = blocks
    if not isinstance(title, (Heading, Paragraph)):
        message = "a report begins with its title"
        raise TypeError(message)
    lead, sections = _split(rest)
    sections = list(_without(sections, [*lead, *(governing.blocks if governing else ())]))
    sections.sort(key=lambda section: not (first and section.title.startswith(first)))
    return Page(
        verb=verb,
        title=title.text,
        lead=tuple(lead),
        governing=governing,
        results=tuple(s for s in sections if not _closes(s)),
        closing=tuple(sorted(filter(_closes, sections), key=_place)),
        drawings=tuple(drawings),
        inputs=tuple(inputs),
        explained=Links(verb).within(sections, {governing.name} if governing else set()),
        made_with=(*versions(), *hashes),
    )


def _closes(section: Section) -> bool:
    return section.title.startswith(AFTER_FIGURES)


def _place(section: Section) -> int:
    """Which of :data:`AFTER_FIGURES` a section is."""
    return next(i for i, start in enumerate(AFTER_FIGURES) if section.title.startswith(start))


def _split(blocks: Iterable[Block]) -> tuple[list[Block], list[Section]]:
    """Blocks before the first heading, and the sections."""
    lead: list[Block] = []
    sections: list[tuple[str, list[Block]]] = []
    for block in blocks:
        if isinstance(block, Heading):
            sections.append((block.text, []))
        else:
            (sections[-1][1] if sections else lead).append(block)
    return lead, [Section(title, tuple(held)) for title, held in sections]


def _without(sections: Iterable[Section], said: Sequence[Block]) -> Iterator[Section]:
    """Sections without what was said already; none of them empty."""
    for section in sections:
        left = tuple(
            block
            for block in section.blocks
            if not (isinstance(block, (Paragraph, Pairs)) and block in said)
        )
        if left:
            yield Section(section.title, left)


def versions() -> Iterator[tuple[str, str]]:
    """Programs behind the numbers."""
    yield from ((name, version(name)) for name in LIBRARIES)
    yield "Python", platform.python_version()
