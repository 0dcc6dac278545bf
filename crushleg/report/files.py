"""Files of a report: written beside and renamed, so that an interruption leaves the old ones."""

from __future__ import annotations

import errno
import json
import os
import secrets
import shutil
import sys
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from crushleg.errors import InputError, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator

STANDARD_OUTPUT = "-"
ADVICE = {
    errno.ENOSPC: ("a full disk", "to another disk, or make room"),
    errno.EDQUOT: ("a full quota", "to another disk, or make room"),
    errno.EROFS: ("a read-only file system", "to a folder you may write in"),
    errno.EACCES: ("a place you may not write in", "to a folder you may write in"),
    errno.EPERM: ("a place you may not write in", "to a folder you may write in"),
    errno.ENOENT: ("a folder that is missing", "to a folder that exists, or make it first"),
    errno.ENOTDIR: ("a file where a folder is due", "to a folder"),
    errno.EEXIST: ("a file where a folder is due", "to a folder"),
    errno.EISDIR: ("a folder where a file is due", "the name of a file"),
    errno.ENAMETOOLONG: ("a name that is too long", "a shorter name"),
}


def write_text(path: str | Path, text: str) -> None:
    """Write UTF-8 text whole or not at all; as :func:`write_bytes`."""
    write_bytes(path, text.encode("utf-8"))


def write_bytes(path: str | Path, data: bytes) -> None:
    """Write a file whole or not at all: beside its place first, then renamed.

    What a symbolic link points to is replaced, not the link; devices and pipes are written to.

    Parameters
    ----------
    path : path
        Its folder must exist.
    data : bytes

    Raises
    ------
    InputError
        Read-only place, full disk, missing folder, folder in its place: path and what to do.
    """
    path = Path(path)
    with _explained(path):
        target = path.resolve()
        if target.is_dir():
            raise IsADirectoryError(errno.EISDIR, "folder", str(path))
        if target.exists() and not target.is_file():
            target.write_bytes(data)
        else:
            _replace(target, data)


def _replace(target: Path, data: bytes) -> None:
    if target.exists() and not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, "read-only file", str(target))
    beside = target.with_name(f".crushleg-{secrets.token_hex(4)}.part")
    try:
        with beside.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if target.exists():
            shutil.copymode(target, beside)
        beside.replace(target)
    finally:
        beside.unlink(missing_ok=True)


def write_new(path: str | Path, text: str) -> None:
    """Write UTF-8 text to a file that does not exist yet.

    Raises
    ------
    InputError
        There is something of that name already, or as :func:`write_bytes`.
    """
    path = Path(path)
    if path.is_symlink() or path.exists():
        problem = Problem(
            file=str(path), read="a name that is taken (nothing was written)", write="another name"
        )
        raise InputError([problem])
    write_text(path, text)


def make_folder(path: str | Path) -> Path:
    """Make a folder and those above it, if it is missing.

    Raises
    ------
    InputError
        As :func:`write_bytes`.
    """
    folder = Path(path)
    with _explained(folder):
        folder.mkdir(parents=True, exist_ok=True)
    return folder


def write_json(result: dict[str, Any], path: str | Path = STANDARD_OUTPUT) -> None:
    """Write a result as JSON to a file, or to standard output for "-".

    Parameters
    ----------
    result : dict
        From :func:`crushleg.report.data.result`.
    path : path or "-"

    Raises
    ------
    InputError
        As :func:`write_bytes`.
    """
    text = json.dumps(result, indent=1, ensure_ascii=False, allow_nan=False) + "\n"
    if str(path) == STANDARD_OUTPUT:
        sys.stdout.write(text)
    else:
        write_text(path, text)


@contextmanager
def _explained(path: Path) -> Iterator[None]:
    """Turn an error of the operating system into one that says what to do."""
    try:
        yield
    except OSError as error:
        read, write = ADVICE.get(error.errno or 0, (error.strerror or "an error", "elsewhere"))
        problem = Problem(file=str(path), read=f"{read} (nothing was written)", write=write)
        raise InputError([problem]) from error
