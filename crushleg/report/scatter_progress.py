"""Progress of a study on standard error, where that is a terminal, with the time left."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from rich.console import Console
from rich.progress import (
    BarColumn,
    MofNCompleteColumn,
    Progress,
    TaskID,
    TextColumn,
    TimeElapsedColumn,
    TimeRemainingColumn,
)

from crushleg.report.streams import say

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from crushleg.scatter import records


@contextmanager
def study_progress(
    what: str, *, quiet: bool = False, console: Console | None = None
) -> Iterator[Callable[[records.Progress], None]]:
    """Show a bar while landings are judged; notes are printed in any case.

    Parameters
    ----------
    what : str
        Before the bar.
    quiet : bool
        No bar.
    console : Console, optional
        Standard error when left out.

    Yields
    ------
    callable
        To be told of the progress; the time left counts from what was done at the first call.
    """
    console = Console(stderr=True) if console is None else console
    if quiet or not console.is_terminal:
        yield _noted
        return
    columns = (
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeElapsedColumn(),
        TextColumn("left"),
        TimeRemainingColumn(),
        TextColumn("Ctrl-C keeps what is done"),
    )
    with Progress(*columns, console=console, transient=True) as bar:
        tasks: list[TaskID] = []

        def told(progress: records.Progress) -> None:
            _noted(progress)
            if tasks:
                bar.update(tasks[0], completed=progress.done)
            else:
                tasks.append(bar.add_task(what, total=progress.total, completed=progress.done))

        yield told


def _noted(progress: records.Progress) -> None:
    if progress.note:
        say(progress.note)
