"""Verb ``begin``: a commented case to start from."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from crushleg.report.streams import say, show
from crushleg.verbs.outputs import PASSED

if TYPE_CHECKING:
    import argparse

SAYS = "print a commented case to start from"


def options(verb: argparse.ArgumentParser) -> None:
    """Say what the verb takes."""
    verb.description = (
        "Print a commented case to start from, or write it to a new file. It passes its check as"
        " it is; change the numbers to yours."
    )
    verb.epilog = "example: crushleg begin lunar-lander --out lander.toml"
    verb.add_argument("kind", metavar="KIND", help="test-stage, lunar-lander or coupon")
    verb.add_argument("--out", metavar="FILE", help="write it to this new file instead")


def run(arguments: argparse.Namespace) -> int:
    """Print or write a template; never over an existing file."""
    from crushleg.case.templates import template

    text = template(arguments.kind)
    if not arguments.out:
        show(lambda: sys.stdout.write(text))
        return PASSED
    from crushleg.report.files import write_new

    write_new(arguments.out, text)
    say(f"written: {arguments.out}")
    return PASSED
