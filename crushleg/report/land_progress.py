"""Progress of many landings on standard error, where that is a terminal."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

from crushleg.landing.motion.standard import as_asked, standard
from crushleg.stability import BOTH, SIDE

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from crushleg.case.records import Case

STEPS = 2
"""Every landing is run with its step and with half of it."""
ON_MAP = SIDE * SIDE * len(BOTH)
"""Landings of a stability map."""


def expected(case: Case, *, standard_cases: bool) -> int:
    """How many landings a case runs."""
    plans = as_asked(case) + (standard(case)[0] if standard_cases else [])
    return STEPS * sum(len(plan.columns) for plan in plans)


@contextmanager
def landing_progress(
    count: int, what: str, *, quiet: bool = False, console: Console | None = None
) -> Iterator[Callable[[int], None]]:
    """Show a bar while landings run.

    Parameters
    ----------
    count : int
        Landings to be run.
    what : str
        Before the bar.
    quiet : bool
    console : Console, optional
        Standard error when left out.

    Yields
    ------
    callable
        To be told how many landings have ended since it was last told.
    """
    console = Console(stderr=True) if console is None else console
    if quiet or not console.is_terminal:
        yield lambda _: None
        return
    columns = (
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeElapsedColumn(),
    )
    with Progress(*columns, console=console, transient=True) as bar:
        task = bar.add_task(what, total=count)
        yield lambda ended: bar.advance(task, ended)
