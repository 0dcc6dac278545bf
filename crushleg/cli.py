"""Verbs, options and exit codes; it reads, computes and shows, and does no arithmetic.

A room is imported only inside the verb that needs it, so that help stays instant.
"""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.report.streams import UnprintedError, open_streams, say, settle, show

if TYPE_CHECKING:
    from collections.abc import Sequence

    from _typeshed import SupportsWrite

    from crushleg.check import Checked

STANDARD_OUTPUT = ("-", "/dev/stdout")
PASSED, INPUT, NEGATIVE, FAULT, INTERRUPTED = 0, 2, 3, 70, 130
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
    _check(verbs.add_parser("check", help="report, margins and plots of a case"))
    _materials(verbs.add_parser("materials", help="material datasheets, or one with its sources"))
    _begin(verbs.add_parser("begin", help="print a commented case to start from"))
    return top


class _Parser(argparse.ArgumentParser):
    """Parser that says when its help cannot be printed."""

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


def _check(verb: argparse.ArgumentParser) -> None:
    verb.description = (
        "Crush of the girder, energy against touchdown, and every margin. Plots and tables go into "
        "a folder of the case's name without its ending; where there is no ending, or a file has "
        "that name, into NAME-results; for a case from a pipe into ./crushleg-results."
    )
    verb.epilog = 'example: crushleg check stage.toml --set girder.wall="3.5 mm" --json -'
    verb.add_argument("case", metavar="CASE", help="case file (TOML)")
    verb.add_argument("--out", metavar="FOLDER", help="for plots and tables; default see above")
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
    from crushleg.report.files import check_targets
    from crushleg.report.text import print_report

    case = read_case(arguments.case, arguments.set)
    file = Path(arguments.json) if arguments.json not in (None, *STANDARD_OUTPUT) else None
    folder = _folder(arguments)
    check_targets(file, folder, map(Path, (arguments.case, *case.beside)))
    checked = check_case(case)
    if not arguments.quiet and arguments.json not in STANDARD_OUTPUT:
        show(lambda: print_report(checked, units=arguments.units))
    _write(checked, arguments, file, folder)
    return PASSED if checked.passes else NEGATIVE


def _write(
    checked: Checked, arguments: argparse.Namespace, file: Path | None, folder: Path | None
) -> None:
    """Write what was asked for: JSON, tables, plots."""
    from crushleg.report.data import result
    from crushleg.report.files import make_folder, write_json

    if folder is not None:
        make_folder(folder)
    if file is not None:
        write_json(result(checked), file)
    elif arguments.json:
        show(lambda: write_json(result(checked)))
    if folder is not None and arguments.csv:
        from crushleg.report.csv_files import write_csv

        say(f"tables: {write_csv(checked, folder)[0].parent}")
    if folder is not None and not arguments.no_plots:
        os.environ["MPLBACKEND"] = "agg"
        from crushleg.report.plots import draw

        say(f"plots: {draw(checked, folder, units=arguments.units)[0].parent}")


def materials(arguments: argparse.Namespace) -> int:
    """List the datasheets, or show one."""
    from crushleg.case.shelf import datasheet_names, find_material
    from crushleg.report.datasheets import print_datasheet, print_datasheets

    if arguments.name:
        datasheet = find_material(arguments.name, Path())
        show(lambda: print_datasheet(datasheet, units=arguments.units))
    else:
        datasheets = [find_material(name, Path()) for name in datasheet_names()]
        show(lambda: print_datasheets(datasheets, units=arguments.units))
    return PASSED


def begin(arguments: argparse.Namespace) -> int:
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


def _folder(arguments: argparse.Namespace) -> Path | None:
    """Folder for plots and tables, None if there are none; never the case file itself."""
    from crushleg.case.source import is_stream

    if arguments.out:
        return Path(arguments.out)
    if arguments.no_plots and not arguments.csv:
        return None
    case = Path(arguments.case)
    if is_stream(case):
        return Path("crushleg-results")
    folder = case.with_suffix("")
    taken = folder == case or (folder.exists() and not folder.is_dir())
    return folder.with_name(f"{folder.name}-results") if taken else folder


def _failed(error: Exception) -> int:
    """Bad input is told as it is; anything else is our fault and leaves a file with the trace."""
    from crushleg.errors import InputError

    if isinstance(error, InputError):
        say(str(error))
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
