"""How a margin or quantity is computed, on the terminal; or the names that can be explained."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Console

from crushleg.cautions import SCREENING
from crushleg.explain import explanation
from crushleg.explain.names import GROUPS
from crushleg.report.layout import Column, Heading, Items, Pairs, Paragraph, Table, print_blocks

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.explain import Equation, Explanation
    from crushleg.report.layout import Block


def print_explanation(about: Explanation, console: Console | None = None) -> None:
    """Print one explanation.

    Parameters
    ----------
    about : Explanation
    console : Console, optional
        Standard output when left out.
    """
    print_blocks(list(explanation_blocks(about)), Console() if console is None else console)


def print_names(console: Console | None = None) -> None:
    """Print every name with a line on it; as :func:`print_explanation`."""
    print_blocks(list(name_blocks()), Console() if console is None else console)


def explanation_blocks(about: Explanation) -> Iterator[Block]:
    """Blocks of one explanation: its own formula, band and limits, then what stands behind it."""
    own, *behind = about.equations
    yield Heading(about.name)
    yield Paragraph(about.title, "bold")
    yield from map(Paragraph, about.says)
    yield Pairs(equation_pairs(own))
    yield Heading("Low, nominal, high")
    yield Paragraph(about.band)
    if about.limits:
        yield Heading("What enters from the case")
        yield Items(about.limits)
    for equation in behind:
        yield Heading(equation.summary)
        yield Pairs(equation_pairs(equation))
    yield Heading("Where it stands")
    yield Paragraph(about.stands)
    if about.aliases:
        yield Paragraph(f"Other names: {', '.join(about.aliases)}.")
    yield Heading("Before you use this")
    yield Paragraph(SCREENING, "bold")


def equation_pairs(equation: Equation) -> list[tuple[str, str]]:
    """Label and text of everything known about one function, its formula first."""
    said = {
        "formula": equation.formula.splitlines(),
        "with": ["; ".join(equation.symbols)],
        "gives": ["; ".join(equation.gives)],
        "holds for": [equation.range],
        "source": equation.source.splitlines(),
        "status": [equation.status],
        "note": list(equation.notes),
        "computed by": [equation.function],
    }
    return [
        (label if index == 0 else "", text)
        for label, texts in said.items()
        for index, text in enumerate(texts)
        if text
    ]


def name_blocks() -> Iterator[Block]:
    """Blocks of the list of names."""
    for group in GROUPS:
        yield Heading(group.title)
        yield Table(
            (Column(("name",), number=False), Column(("is",), number=False, wraps=True)),
            [(name, explanation(name).title) for name in group.names],
        )
    yield Paragraph(
        "Symbols of the report and keys of the JSON are names too: crushleg explain Pm, "
        "crushleg explain peak_force_N."
    )
