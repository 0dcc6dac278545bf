"""Options that verbs share, and where their results go."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from crushleg.report.streams import say, show
from crushleg.verbs.page_files import PageFiles, add_page, page_files

if TYPE_CHECKING:
    import argparse
    from collections.abc import Callable, Iterable, Mapping

    from crushleg.report.page import Page

PASSED, INPUT, NEGATIVE, FAULT, INTERRUPTED = 0, 2, 3, 70, 130
STANDARD_OUTPUT = ("-", "/dev/stdout")
FOLDERS = (
    "a folder of the case's name without its ending; where there is no ending, or a file has that "
    "name, into NAME-results; for a case from a pipe into ./crushleg-results."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outputs:
    """Where the results of one run go; ``None`` where nothing is asked for."""

    json_file: Path | None
    json_printed: bool
    folder: Path | None
    plots: bool
    csv: bool
    printed: bool
    units: str
    pages: PageFiles

    @property
    def files(self) -> list[Path]:
        """Files that are asked for by name."""
        named = list(self.pages.named.values())
        return named if self.json_file is None else [self.json_file, *named]

    def check(
        self, inputs: Iterable[str | Path], others: Mapping[str, Path | None] | None = None
    ) -> None:
        """Refuse, before anything is computed, what could not be written or is an input.

        ``others`` are files that the verb writes besides, by their option; only that their names
        differ is looked at here.
        """
        from crushleg.report.files import check_targets

        read = [Path(path) for path in inputs]
        check_targets(self.json_file, self.folder, read)
        self.pages.check(read, self.folder, {"--json": self.json_file, **(others or {})})

    def report(self, print_it: Callable[[], None]) -> None:
        """Print the report, unless it is not wanted."""
        if self.printed:
            show(print_it)

    def data(self, make: Callable[[], dict[str, Any]]) -> None:
        """Make the folder and write the result as JSON, where they are asked for."""
        from crushleg.report.files import make_folder, write_json

        if self.folder is not None:
            make_folder(self.folder)
        if self.json_file is not None:
            write_json(make(), self.json_file)
        elif self.json_printed:
            show(lambda: write_json(make()))

    def tables(self, write: Callable[[Path], list[Path]]) -> None:
        """Write the tables as CSV, where they are asked for."""
        if self.folder is not None and self.csv:
            say(f"tables: {write(self.folder)[0].parent}")

    def figures(self, draw: Callable[[Path], list[Path]]) -> None:
        """Draw the figures, unless they are not wanted; ``draw`` imports matplotlib."""
        if self.folder is not None and self.plots:
            os.environ["MPLBACKEND"] = "agg"
            say(f"plots: {draw(self.folder)[0].parent}")

    def page(self, make: Callable[[], Page]) -> None:
        """Write the page a reviewer keeps, where it is asked for."""
        self.pages.write(make)


def add_case(verb: argparse.ArgumentParser, *, several: bool = False) -> None:
    """Add the case file and the changes to it."""
    verb.add_argument(
        "case", metavar="CASE", nargs="+" if several else None, help="case file (TOML)"
    )
    verb.add_argument(
        "--set", metavar="KEY=VALUE", action="append", default=[], help="change one case key"
    )


def add_outputs(verb: argparse.ArgumentParser) -> None:
    """Add the options on where results go."""
    verb.add_argument("--out", metavar="FOLDER", help="for plots and tables; default see above")
    verb.add_argument("--no-plots", action="store_true", help="no figures")
    verb.add_argument("--json", metavar="FILE", help="write the result as JSON; - prints it")
    verb.add_argument("--csv", action="store_true", help="write the tables as CSV")
    add_page(verb)
    add_display(verb)


def add_display(verb: argparse.ArgumentParser) -> None:
    """Add the options on what is shown."""
    verb.add_argument("--units", choices=("si", "us"), default="si", help="units shown")
    verb.add_argument("--quiet", action="store_true", help="no report on standard output")


def outputs(arguments: argparse.Namespace, case: str) -> Outputs:
    """Say where the results of a run on the file ``case`` go."""
    printed_json = arguments.json in STANDARD_OUTPUT
    return Outputs(
        json_file=Path(arguments.json) if arguments.json and not printed_json else None,
        json_printed=printed_json,
        folder=_folder(arguments, case),
        plots=not arguments.no_plots,
        csv=arguments.csv,
        printed=not arguments.quiet and not printed_json,
        units=arguments.units,
        pages=page_files(arguments),
    )


def _folder(arguments: argparse.Namespace, case: str) -> Path | None:
    """Folder for plots and tables, None if there are none; never the case file itself."""
    if arguments.out:
        return Path(arguments.out)
    return None if arguments.no_plots and not arguments.csv else beside(case)


def beside(case: str | Path) -> Path:
    """Folder named after the case file, beside it."""
    from crushleg.case.source import is_stream

    path = Path(case)
    if is_stream(path) or not path.name:
        return Path("crushleg-results")
    folder = path.with_suffix("")
    taken = folder == path or (folder.exists() and not folder.is_dir())
    return folder.with_name(f"{folder.name}-results") if taken else folder
