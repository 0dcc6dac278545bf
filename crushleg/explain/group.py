"""A group of names that can be explained, each with the functions behind it."""

from __future__ import annotations

from typing import NamedTuple


class Group(NamedTuple):
    """Names that stand in the same verbs and tables.

    Of each name the functions behind it, its own first: dotted names below the package.
    """

    title: str
    stands: str
    names: dict[str, tuple[str, ...]]
