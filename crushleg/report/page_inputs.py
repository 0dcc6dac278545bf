"""Files as a run read them, and the changes to them, to be folded into its page."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from crushleg.case.source import is_stream

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

MOST_LINES = 400
"""Lines of a file that are shown; records of tests may have many thousands."""
GONE = (
    "The text cannot be shown: the file came through a pipe, or has changed or gone since it was "
    "read. The input hash is that of the text that was read."
)
CHANGES = "changes given with --set"


class Input(NamedTuple):
    """One input: its name, its text or a part of it, what is to be said of it, its SHA-256."""

    name: str
    text: str
    note: str = ""
    sha256: str = ""


def case_inputs(
    files: Iterable[str | Path], overrides: Sequence[str] = (), digests: Sequence[str] = ()
) -> tuple[Input, ...]:
    """Read the inputs of a run again.

    Parameters
    ----------
    files : iterable of path
        Files that were read, case files first; of an absolute path the name alone is shown.
    overrides : sequence of str, optional
        ``key=value`` as given to ``--set``.
    digests : sequence of str, optional
        Input hash of each case file: what does not fit it any more is not shown.

    Returns
    -------
    tuple of Input
    """
    found = []
    for i, path in enumerate(dict.fromkeys(map(Path, files))):
        raw = _bytes(path)
        digest = digests[i] if i < len(digests) else ""
        name = path.name if path.is_absolute() and not is_stream(path) else str(path)
        if raw is None or (digest and _with(raw, overrides) != digest):
            found.append(Input(name, "", GONE))
        else:
            found.append(_input(name, raw))
    if overrides:
        changes = "\n".join(o.encode("utf-8", "replace").decode() for o in overrides)
        found.append(Input(CHANGES, changes))
    return tuple(found)


def _bytes(path: Path) -> bytes | None:
    if is_stream(path) or not path.is_file():
        return None
    try:
        return path.read_bytes()
    except OSError:
        return None


def _with(raw: bytes, overrides: Sequence[str]) -> str:
    """Input hash, as :attr:`crushleg.case.records.Case.input_sha256` is made."""
    digest = hashlib.sha256(raw)
    for override in overrides:
        digest.update(b"\0" + override.encode("utf-8", "surrogateescape"))
    return digest.hexdigest()


def _input(name: str, raw: bytes) -> Input:
    lines = raw.decode("utf-8-sig", "replace").splitlines()
    more = len(lines) - MOST_LINES
    note = f"The first {MOST_LINES} lines; {more} more are not shown." if more > 0 else ""
    return Input(name, "\n".join(lines[:MOST_LINES]), note, hashlib.sha256(raw).hexdigest())
