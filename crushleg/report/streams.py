"""Standard output and error, which may be closed, full, or left by their reader."""

from __future__ import annotations

import io
import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from collections.abc import Callable


class UnprintedError(Exception):
    """Standard output does not take what is printed; the text says why."""


def open_streams() -> None:
    """Let closed streams swallow what they get; print what a stream cannot encode as "?"."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            nowhere = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115 - kept open
            setattr(sys, name, nowhere)
        stream = getattr(sys, name)
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def show(printing: Callable[[], object]) -> None:
    """Print on standard output; a reader that leaves early has had what it wanted.

    Raises
    ------
    UnprintedError
        The disk behind standard output is full, or the like.
    """
    try:
        printing()
        sys.stdout.flush()
    except (BrokenPipeError, SystemExit):  # rich leaves the program when a pipe is closed
        _silence(sys.stdout)
    except OSError as error:
        _silence(sys.stdout)
        reason = (error.strerror or "an error").lower()
        raise UnprintedError(reason) from error


def say(text: str) -> None:
    """Print a line on standard error, if it takes one."""
    try:
        print(text, file=sys.stderr, flush=True)  # noqa: T201 - this is where messages are printed
    except OSError:
        _silence(sys.stderr)


def settle() -> None:
    """Send out what standard error holds back, so that the program's end cannot fail on it."""
    try:
        sys.stderr.flush()
    except OSError:
        _silence(sys.stderr)


def _silence(stream: TextIO) -> None:
    """Let what the stream still holds, and all that follows, go nowhere."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
