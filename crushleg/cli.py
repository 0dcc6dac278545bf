"""Verbs and exit codes; what a verb does stands in its module under :mod:`crushleg.verbs`.

A room is imported only inside the verb that needs it, so that help stays instant.
"""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from crushleg.report.streams import UnprintedError, open_streams, say, settle, show
from crushleg.verbs import (
    begin,
    check,
    compare,
    correlate,
    drill,
    explain,
    inspect,
    land,
    materials,
    predict,
    scatter,
    size,
)
from crushleg.verbs.outputs import FAULT, INPUT, INTERRUPTED, NEGATIVE, PASSED
from crushleg.verbs.usage import BEGIN, Parser, Top

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["FAULT", "INPUT", "INTERRUPTED", "NEGATIVE", "PASSED", "main", "parser"]

GROUPS = {
    "structures engineer": {"check": check, "land": land, "scatter": scatter},
    "designer": {"compare": compare, "size": size},
    "shop": {"drill": drill},
    "test team": {"predict": predict, "correlate": correlate, "inspect": inspect},
    "to begin and to look up": {"begin": begin, "materials": materials, "explain": explain},
}
"""Verbs by who uses them, as the help lists them."""
VERBS = {name: verb for verbs in GROUPS.values() for name, verb in verbs.items()}
EPILOG = f"""crushleg VERB --help tells the options of a verb; --version the version.

exit codes: 0 every counted margin is zero or more, 3 one is negative, 2 bad
input or usage or a place that cannot be written, 130 interrupted, 70 a fault
of crushleg itself.

example: {BEGIN}"""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one verb.

    Parameters
    ----------
    argv : sequence of str, optional
        Arguments after the program's name; those of the process when left out.

    Returns
    -------
    int
        Exit code.
    """
    open_streams()
    words = sys.argv[1:] if argv is None else list(argv)
    try:
        arguments = _arguments(words)
        code: int = arguments.run(arguments)
    except KeyboardInterrupt:
        say("interrupted; files already complete are kept")
        return INTERRUPTED
    except Exception as error:  # noqa: BLE001 - the last line of defence
        return _failed(error)
    finally:
        settle()
    return code


def parser() -> Top:
    """Build the parser of all verbs."""
    top = Top(
        prog="crushleg",
        description="Crush, energy and margins of landing legs made of drilled box girders.",
        epilog=EPILOG,
    )
    top.groups = GROUPS
    top.add_argument("--version", action=_Version)
    verbs = top.add_subparsers(metavar="VERB", required=True, parser_class=Parser)
    for name, verb in VERBS.items():
        one = verbs.add_parser(name, help=verb.SAYS)
        verb.options(one)
        one.set_defaults(run=verb.run, unknown=one.unknown)
    return top


def _arguments(words: Sequence[str]) -> argparse.Namespace:
    """Arguments of one command; what no verb knows is refused with the nearest that one does."""
    top = parser()
    top.check_verb(words)
    arguments, left_over = top.parse_known_args(words)
    if left_over:
        arguments.unknown(left_over)
    return arguments


class _Version(argparse.Action):
    """Print the version; it is looked up only when asked for."""

    def __init__(self, option_strings: Sequence[str], dest: str) -> None:
        super().__init__(option_strings, dest, nargs=0, help="show the version and leave")

    def __call__(self, caller: argparse.ArgumentParser, *_: object) -> None:
        from importlib.metadata import version

        show(lambda: sys.stdout.write(f"crushleg {version('crushleg')}\n"))
        caller.exit()


def _failed(error: Exception) -> int:
    """Bad input is told as it is; anything else is our fault and leaves a file with the trace."""
    from crushleg.errors import InputError

    if isinstance(error, InputError):
        from crushleg.report.problems import told

        say(told(error))
        return INPUT
    if isinstance(error, UnprintedError):
        say(f"standard output: {error}; send it to another place, or make room")
        return INPUT
    import tempfile
    import traceback

    trace = "".join(traceback.format_exception(error))
    try:
        with tempfile.NamedTemporaryFile(
            "w", prefix="crushleg-fault-", suffix=".txt", delete=False, encoding="utf-8"
        ) as file:
            file.write(trace)
        where = f"the trace is in {file.name}; please report it with the case file"
    except OSError:
        where = f"please report it with the case file and this trace:\n{trace}"
    say(f"a fault of crushleg itself: {type(error).__name__}: {error}\n{where}")
    return FAULT
