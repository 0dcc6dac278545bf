"""Verb ``explain``: how a margin or quantity is computed, or the names that can be explained."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crushleg.report.streams import show
from crushleg.verbs.outputs import PASSED

if TYPE_CHECKING:
    import argparse

SAYS = "how a margin or quantity is computed: formula, source, limits"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "Explain a margin or quantity: formulas, each with its source, its status and where it "
        "holds; what low, nominal and high are; which limits and factors enter. Without a name, "
        "list the names."
    )
    verb.epilog = "example: crushleg explain leg_load"
    verb.add_argument(
        "name", metavar="NAME", nargs="?", help="a margin, quantity, symbol or key of the JSON"
    )


def run(arguments: argparse.Namespace) -> int:
    """Explain a name, or list them."""
    from crushleg.explain import explanation
    from crushleg.report.explain_text import print_explanation, print_names

    if arguments.name is None:
        show(print_names)
        return PASSED
    about = explanation(arguments.name)
    show(lambda: print_explanation(about))
    return PASSED
