"""Names that can be explained, and the explanation of one."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from itertools import chain

from crushleg.case.tables import did_you_mean
from crushleg.errors import InputError, Problem
from crushleg.explain.docstrings import Doc, doc_of
from crushleg.explain.names import ALIASES, GROUPS, Group

UNIT = re.compile(
    r"(_by_force|_\d+)?(_(m_s2|m_s|m2|m|rad_s|rad|N_m|N|J_kg|J|Pa|kg|s|Hz))?$", re.IGNORECASE
)
"""Ending of a key of the JSON: one value per force, its percentage, its unit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Equation:
    """One function that has a part in it.

    Attributes
    ----------
    function : str
        Its dotted name, such as "crushleg.landing.energy.stop".
    summary : str
        What it gives, in a sentence.
    formula : str
        In plain characters, a line each.
    symbols, gives : tuple of str
        What goes in and what comes out, with symbols and units.
    range : str
        Where it holds; empty where it holds always.
    source : str
        References, each with its status in brackets.
    status : str
        All of their statuses: published, from memory, derived, judgement, common practice.
    notes : tuple of str
        What else is to be known.
    """

    function: str
    summary: str
    formula: str
    symbols: tuple[str, ...]
    gives: tuple[str, ...]
    range: str
    source: str
    status: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Explanation:
    """How one margin or quantity is computed.

    Attributes
    ----------
    name, title : str
        What was asked for, and what it is, in a sentence.
    says : tuple of str
        What else it means, paragraphs.
    equations : tuple of Equation
        The functions that compute it, its own first.
    band : str
        What low, nominal and high are, and what the band between them is made of.
    limits : tuple of str
        Limits and factors of the case that enter.
    stands : str
        Verbs and tables in which it stands.
    aliases : tuple of str
        Other names that it answers to: symbols and keys of the JSON.
    """

    name: str
    title: str
    says: tuple[str, ...]
    equations: tuple[Equation, ...]
    band: str
    limits: tuple[str, ...]
    stands: str
    aliases: tuple[str, ...]


def names() -> tuple[str, ...]:
    """Every name, without aliases, in the order of the groups.

    >>> names()[:3]
    ('margin', 'energy', 'stroke')
    """
    return tuple(chain.from_iterable(group.names for group in GROUPS))


@cache
def explanation(name: str) -> Explanation:
    """Explain a name, a symbol of the report, or a key of the JSON.

    Parameters
    ----------
    name : str
        Blanks and hyphens stand for underscores; capitals matter for symbols only.

    Returns
    -------
    Explanation

    Raises
    ------
    InputError
        Nobody knows the name; the nearest one is the hint.

    Examples
    --------
    >>> explanation("Pm").name, explanation("peak_force_N").name, explanation("Leg load").name
    ('mean_force', 'peak_force', 'leg_load')
    """
    found = _known(name)
    group = next(group for group in GROUPS if found in group.names)
    return _explained(found, group)


def _known(name: str) -> str:
    """Name that an alias, symbol or key stands for."""
    known = names()
    spelt = "_".join(name.lower().replace("-", " ").split())
    for one in (name, spelt):
        whole = UNIT.sub("", one)
        for asked in (one, whole, whole.rpartition(".")[2]):
            if asked in known:
                return asked
            if asked in ALIASES:
                return ALIASES[asked]
    read = f'"{name}", which is no margin or quantity'
    write = "one of those that `crushleg explain` lists"
    hint = did_you_mean(spelt, (*known, *ALIASES))
    raise InputError([Problem(read=read, write=write, hint=hint)])


def _explained(name: str, group: Group) -> Explanation:
    functions = group.names[name]
    docs = [doc_of(function) for function in functions]
    return Explanation(
        name=name,
        title=_first(docs[:1], "Means") or docs[0].summary,
        says=docs[0].says,
        equations=tuple(
            _equation(function, doc, doc.notes if doc is docs[0] else (*doc.says, *doc.notes))
            for function, doc in zip(functions, docs, strict=True)
        ),
        band=_first(docs, "Band"),
        limits=next((doc.labelled["Limits"] for doc in docs if doc.labelled["Limits"]), ()),
        stands=group.stands,
        aliases=tuple(alias for alias, found in ALIASES.items() if found == name),
    )


def _equation(function: str, doc: Doc, notes: tuple[str, ...]) -> Equation:
    return Equation(
        function=f"crushleg.{function}",
        summary=doc.summary,
        formula="\n".join(doc.labelled["Formula"]),
        symbols=doc.arguments,
        gives=doc.results,
        range=" ".join(doc.labelled["Range"]),
        source="\n".join(doc.references),
        status=doc.status,
        notes=notes,
    )


def _first(docs: list[Doc], label: str) -> str:
    """Text of a label in the first docstring that has it."""
    return next((" ".join(doc.labelled[label]) for doc in docs if doc.labelled[label]), "")
