"""How each number on a page is computed, in blocks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.explain import explanation
from crushleg.report.explain_text import equation_pairs
from crushleg.report.layout import Items, Pairs, Paragraph

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.report.layout import Block


def spoken(name: str) -> str:
    """Name as words.

    >>> spoken("leg_load")
    'leg load'
    """
    return name.replace("_", " ")


def explained_blocks(name: str, told: dict[str, str] | None = None) -> Iterator[Block]:
    """Blocks on one name: its own formula, its band, what enters, what stands behind it.

    Parameters
    ----------
    name : str
    told : dict, optional
        Functions that were told before and under which name, to point back to; this name's are
        added. All are told when left out.

    Yields
    ------
    blocks
    """
    about = explanation(name)
    told = {} if told is None else told
    own, *behind = about.equations
    yield Paragraph(about.title)
    yield from map(Paragraph, about.says)
    yield Pairs(equation_pairs(own))
    told.setdefault(own.function, name)
    yield Pairs([("low, nominal, high", about.band)])
    if about.limits:
        yield Paragraph("What enters from the case:", "bold")
        yield Items(about.limits)
    for equation in behind:
        before = told.setdefault(equation.function, name)
        if before == name:
            yield Paragraph(f"Behind it: {equation.summary}", "bold")
            yield Pairs(equation_pairs(equation))
        else:
            yield Paragraph(f"Behind it, told under {spoken(before)}: {equation.summary}")
