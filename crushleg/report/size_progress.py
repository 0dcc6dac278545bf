"""Progress of a search on standard error, where that is a terminal."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator


@contextmanager
def shown_progress(
    expected: int, console: Console | None = None
) -> Iterator[Callable[[int, str], None]]:
    """Show a bar while a search runs.

    Parameters
    ----------
    expected : int
        Girders that the search looks at, at most.
    console : Console, optional
        Standard error when left out.

    Yields
    ------
    callable
        To be told how many girders are done, and what is going on.
    """
    console = Console(stderr=True) if console is None else console
    if not console.is_terminal:
        yield lambda *_: None
        return
    columns = (
        TextColumn("{task.description}"),
        BarColumn(),
        TextColumn("{task.completed} girders, Ctrl-C takes the best so far"),
        TimeElapsedColumn(),
    )
    with Progress(*columns, console=console, transient=True) as bar:
        task = bar.add_task("begins", total=expected)
        yield lambda done, what: bar.update(task, completed=done, description=what)
