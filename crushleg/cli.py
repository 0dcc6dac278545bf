"""Verbs, options and exit codes; it reads, computes and shows, and does no arithmetic.

A room is imported only inside the verb that needs it, so that help stays instant.
"""

from __future__ import annotations

import argparse
import io
import os
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

PASSED, INPUT, NEGATIVE, FAULT, INTERRUPTED = 0, 2, 3, 70, 130
EPILOG = """exit codes: 0 every margin is zero or more, 3 a margin is negative, 2 bad input or
usage, 130 interrupted, 70 a fault of crushleg itself.

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
    arguments = parser().parse_args(argv)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        code: int = arguments.run(arguments)
        sys.stdout.flush()
    except KeyboardInterrupt:
        print("interrupted; files already complete are kept", file=sys.stderr)
        return INTERRUPTED
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return PASSED
    except Exception as error:  # noqa: BLE001 - the last line of defence
        return _failed(error)
    return code


def parser() -> argparse.ArgumentParser:
    """Build the parser of all verbs."""
    top = argparse.ArgumentParser(
        prog="crushleg",
        description="Crush, energy and margins of landing legs made of drilled box girders.",
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action=_Version)
    verbs = top.add_subparsers(metavar="VERB", required=True)
    _check(verbs.add_parser("check", help="report, margins and plots of a case"))
    _materials(verbs.add_parser("materials", help="material datasheets, or one with its sources"))
    _begin(verbs.add_parser("begin", help="print a commented case to start from"))
    return top


class _Version(argparse.Action):
    """Print the version; it is looked up only when asked for."""

    def __init__(self, option_strings: Sequence[str], dest: str) -> None:
        super().__init__(option_strings, dest, nargs=0, help="show the version and leave")

    def __call__(self, caller: argparse.ArgumentParser, *_: object) -> None:
        from importlib.metadata import version

        caller.exit(message=f"crushleg {version('crushleg')}\n")


def _check(verb: argparse.ArgumentParser) -> None:
    verb.description = "Crush of the girder, energy against touchdown, and every margin."
    verb.epilog = 'example: crushleg check stage.toml --set girder.wall="3.5 mm" --json -'
    verb.add_argument("case", metavar="CASE", help="case file (TOML)")
    verb.add_argument("--out", metavar="FOLDER", help="for plots and CSV; default beside CASE")
    verb.add_argument("--no-plots", action="store_true", help="print only")
    verb.add_argument(
        "--set", metavar="KEY=VALUE", action="append", default=[], help="change one case key"
    )
    verb.add_argument("--json", metavar="FILE", help="write the result as JSON; - prints it")
    verb.add_argument("--csv", action="store_true", help="write the tables as CSV")
    verb.add_argument("--units", choices=("si", "us"), default="si", help="units shown")
    verb.add_argument("--quiet", action="store_true", help="no report on standard output")
    verb.set_defaults(run=check)


def _materials(verb: argparse.ArgumentParser) -> None:
    verb.description = "List the material datasheets, or show one with the source of every value."
    verb.epilog = "example: crushleg materials aluminium-6061-t4"
    verb.add_argument("name", metavar="NAME", nargs="?", help="a datasheet, or the path of one")
    verb.add_argument("--units", choices=("si", "us"), default="si", help="units shown")
    verb.set_defaults(run=materials)


def _begin(verb: argparse.ArgumentParser) -> None:
    verb.description = "Print a commented case to standard output, or write it to a new file."
    verb.epilog = "example: crushleg begin lunar-lander --out lander.toml"
    verb.add_argument("kind", metavar="KIND", help="test-stage, lunar-lander or coupon")
    verb.add_argument("--out", metavar="FILE", help="a file that does not exist yet")
    verb.set_defaults(run=begin)


def check(arguments: argparse.Namespace) -> int:
    """Report a case; text first, then files, then plots."""
    from crushleg.case.reader import read_case
    from crushleg.check import check_case
    from crushleg.report.data import result
    from crushleg.report.files import write_json
    from crushleg.report.text import print_report

    checked = check_case(read_case(arguments.case, arguments.set))
    if not arguments.quiet and arguments.json != "-":
        print_report(checked, units=arguments.units)
        sys.stdout.flush()
    if arguments.json:
        write_json(result(checked), arguments.json)
    folder = _folder(arguments)
    if arguments.csv:
        from crushleg.report.csv_files import write_csv

        _say(f"tables: {write_csv(checked, folder)[0].parent}")
    if not arguments.no_plots:
        from crushleg.report.plots import draw

        _say(f"plots: {draw(checked, folder, units=arguments.units)[0].parent}")
    return PASSED if checked.passes else NEGATIVE


def materials(arguments: argparse.Namespace) -> int:
    """List the datasheets, or show one."""
    from pathlib import Path

    from crushleg.case.shelf import datasheet_names, find_material
    from crushleg.report.datasheets import print_datasheet, print_datasheets

    if arguments.name:
        print_datasheet(find_material(arguments.name, Path()), units=arguments.units)
    else:
        datasheets = [find_material(name, Path()) for name in datasheet_names()]
        print_datasheets(datasheets, units=arguments.units)
    return PASSED


def begin(arguments: argparse.Namespace) -> int:
    """Print or write a template; never over an existing file."""
    from crushleg.case.templates import template

    text = template(arguments.kind)
    if not arguments.out:
        sys.stdout.write(text)
        return PASSED
    from crushleg.report.files import write_new

    write_new(arguments.out, text)
    _say(f"written: {arguments.out}")
    return PASSED


def _folder(arguments: argparse.Namespace) -> Path:
    from pathlib import Path

    return Path(arguments.out) if arguments.out else Path(arguments.case).with_suffix("")


def _say(text: str) -> None:
    print(text, file=sys.stderr)


def _failed(error: Exception) -> int:
    """Bad input is told as it is; anything else is our fault and leaves a file with the trace."""
    from crushleg.errors import InputError

    if isinstance(error, InputError):
        _say(str(error))
        return INPUT
    import tempfile
    import traceback

    with tempfile.NamedTemporaryFile(
        "w", prefix="crushleg-fault-", suffix=".txt", delete=False, encoding="utf-8"
    ) as file:
        file.write("".join(traceback.format_exception(error)))
    _say(
        f"a fault of crushleg itself: {type(error).__name__}: {error}\n"
        f"the trace is in {file.name}; please report it with the case file"
    )
    return FAULT
