"""Verbs and exit codes; what a verb does stands in its module under :mod:`crushleg.verbs`.

A room is imported only inside the verb that needs it, so that help stays instant.
"""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING, Any

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

if TYPE_CHECKING:
    from collections.abc import Sequence

    from _typeshed import SupportsWrite

__all__ = ["FAULT", "INPUT", "INTERRUPTED", "NEGATIVE", "PASSED", "main", "parser"]

VERBS = {
    "check": check,
    "land": land,
    "scatter": scatter,
    "compare": compare,
    "size": size,
    "predict": predict,
    "correlate": correlate,
    "inspect": inspect,
    "drill": drill,
    "materials": materials,
    "begin": begin,
    "explain": explain,
}
A_FILE = {"bash": "_shtab_compgen_files", "zsh": "_files"}
A_FOLDER = {"bash": "_shtab_compgen_dirs", "zsh": "_files -/"}
PATHS: dict[str | tuple[str, ...] | None, dict[str, str]] = {
    "CASE": A_FILE,
    "RECORD": A_FILE,
    "READINGS": A_FILE,
    "FILE": A_FILE,
    "FOLDER": A_FOLDER,
}
"""How a shell completes an argument by its metavar, in the words of the package shtab."""
EPILOG = """exit codes: 0 every margin is zero or more, 3 a margin is negative, 2 bad input or
usage or a place that cannot be written, 130 interrupted, 70 a fault of crushleg itself.

example: crushleg begin test-stage > stage.toml && crushleg check stage.toml"""


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
    try:
        arguments = parser().parse_args(argv)
        code: int = arguments.run(arguments)
    except KeyboardInterrupt:
        say("interrupted; files already complete are kept")
        return INTERRUPTED
    except Exception as error:  # noqa: BLE001 - the last line of defence
        return _failed(error)
    finally:
        settle()
    return code


def parser() -> argparse.ArgumentParser:
    """Build the parser of all verbs."""
    top = _Parser(
        prog="crushleg",
        description="Crush, energy and margins of landing legs made of drilled box girders.",
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action=_Version)
    verbs = top.add_subparsers(metavar="VERB", required=True)
    for name, verb in VERBS.items():
        one = verbs.add_parser(name, help=verb.SAYS)
        verb.options(one)
        one.set_defaults(run=verb.run)
    return top


class _Parser(argparse.ArgumentParser):
    """Parser that says when its help cannot be printed, and what a shell can complete."""

    def add_argument(self, *names: Any, **options: Any) -> argparse.Action:
        """Mark an argument whose metavar names a file or folder, as `shtab` reads it."""
        action = super().add_argument(*names, **options)
        if action.metavar in PATHS:
            action.complete = PATHS[action.metavar]  # type: ignore[attr-defined]  # read by shtab
        return action

    def print_help(self, file: SupportsWrite[str] | None = None) -> None:
        """Print the help on ``file``, standard output when left out."""
        show(lambda: (file or sys.stdout).write(self.format_help()))


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
