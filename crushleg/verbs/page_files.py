"""Options for the page a reviewer keeps, and the files it is written to."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.report.streams import say

if TYPE_CHECKING:
    import argparse
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from matplotlib.figure import Figure

    from crushleg.report.page import Page
    from crushleg.report.page_verbs import Kept

PAPERS = ("a4", "letter")


@dataclass(frozen=True, slots=True, kw_only=True)
class PageFiles:
    """Files of the page; ``None`` where none is asked for."""

    html: Path | None
    pdf: Path | None
    paper: str

    @property
    def named(self) -> dict[str, Path]:
        """Files that are asked for, by their option."""
        both = {"--html": self.html, "--pdf": self.pdf}
        return {option: file for option, file in both.items() if file is not None}

    def check(
        self, inputs: Iterable[Path], folder: Path | None, others: Mapping[str, Path | None]
    ) -> None:
        """Refuse what could not be written, is an input, or is another file to be written.

        Parameters
        ----------
        inputs : iterable of Path
        folder : Path or None
            Is made if it is missing.
        others : mapping
            Other files to be written, by the option or the words for them.
        """
        from crushleg.report.files import check_targets
        from crushleg.verbs.usage import need_file

        inputs = list(inputs)
        for option, file in self.named.items():
            need_file(option, str(file))
            check_targets(file, folder, inputs)
        keep_apart({**others, **self.named})

    def write(self, make: Callable[[], Page]) -> None:
        """Write the page where it is asked for; ``make`` imports what it takes."""
        if not self.named:
            return
        os.environ["MPLBACKEND"] = "agg"
        from crushleg.report.files import write_bytes, write_text

        page = make()
        if self.html is not None:
            from crushleg.report.page_html import page_html

            write_text(self.html, page_html(page))
            say(f"report: {self.html}")
        if self.pdf is not None:
            from crushleg.report.page_pdf import page_pdf

            write_bytes(self.pdf, page_pdf(page, self.paper))
            say(f"report: {self.pdf}")


def add_page(verb: argparse.ArgumentParser, *, paper: bool = True) -> None:
    """Add the options; a verb with papers of its own leaves ``--paper`` out."""
    verb.add_argument("--html", metavar="FILE", help="write the whole report as one HTML page")
    verb.add_argument("--pdf", metavar="FILE", help="write the same as PDF")
    if paper:
        verb.add_argument("--paper", choices=PAPERS, default="a4", help="of PDF; a4 if left out")


def page_files(arguments: argparse.Namespace) -> PageFiles:
    """Say where the page of a run goes."""
    return PageFiles(
        html=Path(arguments.html) if arguments.html else None,
        pdf=Path(arguments.pdf) if arguments.pdf else None,
        paper=arguments.paper if arguments.paper in PAPERS else "a4",
    )


def kept(
    arguments: argparse.Namespace,
    inputs: Iterable[str | Path],
    digests: Sequence[str],
    figures: Mapping[str, Figure],
) -> Kept:
    """Gather what a page shows beside the words: inputs as read, figures, units.

    Parameters
    ----------
    arguments : Namespace
    inputs : iterable of path
        Files that were read, case files first.
    digests : sequence of str
        Input hash of each case file.
    figures : mapping
        By their names.
    """
    from crushleg.report.page_inputs import case_inputs
    from crushleg.report.page_verbs import Kept

    return Kept(case_inputs(inputs, arguments.set, digests), figures, arguments.units)


def keep_apart(files: Mapping[str, Path | None]) -> None:
    """Refuse one name for two files.

    Raises
    ------
    InputError
        Two of the files are the same.
    """
    from crushleg.errors import InputError, Problem

    seen: dict[Path, str] = {}
    for option, file in files.items():
        if file is None or file == Path(os.devnull):
            continue
        before = seen.setdefault(file.resolve(), option)
        if before != option:
            read = f"a name that two files would have, {before} and {option} (nothing was written)"
            raise InputError([Problem(file=str(file), read=read, write="another name")])


def writing(make: Callable[[], Mapping[str, Figure]]) -> Callable[[Path], list[Path]]:
    """Writer of figures that are drawn when they are first asked for."""

    def write(folder: Path) -> list[Path]:
        from crushleg.report.plots import write_figures

        return write_figures(make(), folder)

    return write
