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
    from collections.abc import Callable, Iterable, Iterator

STANDARD_OUTPUT = "-"
NOTHING = "nothing was written"
MADE = (".csv", ".txt", ".svg", ".png")
"""Endings of the files in a folder of results."""
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
    with _explained(path, "not written"):
        target = Path(os.path.realpath(path))
        if target.is_dir():
            raise IsADirectoryError(errno.EISDIR, "folder", str(path))
        if not _is_device(path):
            _replace(target, data)
            return
    with _explained(path, "not written whole"):
        path.write_bytes(data)


def _is_device(path: Path) -> bool:
    return path.exists() and not path.is_file() and not path.is_dir()


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
            file=str(path), read=f"a name that is taken ({NOTHING})", write="another name"
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
    with _explained(folder, "not made"):
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


def check_targets(file: Path | None, folder: Path | None, inputs: Iterable[Path]) -> None:
    """Refuse, before anything is computed or written, what could not be written or is an input.

    Parameters
    ----------
    file : Path or None
        A file to write; its folder exists, or is ``folder``.
    folder : Path or None
        A folder to fill; it is made if it is missing.
    inputs : iterable of Path
        Files that were read.

    Raises
    ------
    InputError
        Every target that does not do, why, and what to write.
    """
    inputs = list(inputs)
    checks: list[tuple[Path, Callable[[], None]]] = []
    if folder is not None:
        checks.append((folder, lambda: _check_folder(folder, inputs)))
    if file is not None:
        checks.append((file, lambda: _check_file(file, folder, inputs)))
    problems: list[Problem] = []
    for path, check in checks:
        try:
            with _explained(path, NOTHING):
                check()
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)


def _check_folder(folder: Path, inputs: list[Path]) -> None:
    _refuse_input(folder, inputs)
    place = next(p for p in (folder, *folder.parents) if p.exists() or p.is_symlink())
    if not place.is_dir():
        raise NotADirectoryError(errno.ENOTDIR, "file", str(place))
    _need(place, os.W_OK | os.X_OK)
    for path in inputs:
        if path.suffix in MADE and _same(path.parent, folder):
            read = f"the folder of the input {path.name}, which a result could replace ({NOTHING})"
            raise InputError([Problem(file=str(folder), read=read, write="another folder")])


def _check_file(file: Path, folder: Path | None, inputs: list[Path]) -> None:
    _refuse_input(file, inputs)
    if file.is_dir():
        raise IsADirectoryError(errno.EISDIR, "folder", str(file))
    if file.exists():
        _need(file, os.W_OK)
    if _is_device(file):
        return
    target = Path(os.path.realpath(file))
    if folder is not None:
        made = Path(os.path.realpath(folder))
        if target in (made, *made.parents):
            read = f"the name of the folder for plots and tables ({NOTHING})"
            raise InputError([Problem(file=str(file), read=read, write="another name")])
        if target.parent == made:
            return
    if not target.parent.is_dir():
        code = errno.ENOTDIR if target.parent.exists() else errno.ENOENT
        raise OSError(code, "no folder", str(target.parent))
    _need(target.parent, os.W_OK | os.X_OK)


def _refuse_input(target: Path, inputs: list[Path]) -> None:
    if any(_same(target, path) for path in inputs):
        read = f"the name of an input, which would be lost ({NOTHING})"
        raise InputError([Problem(file=str(target), read=read, write="another name")])


def _same(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False


def _need(path: Path, mode: int) -> None:
    if not os.access(path, mode):
        raise PermissionError(errno.EACCES, "no permission", str(path))


@contextmanager
def _explained(path: Path, so: str) -> Iterator[None]:
    """Turn an error of the operating system into one that says what to do."""
    try:
        yield
    except OSError as error:
        read, write = ADVICE.get(error.errno or 0, (error.strerror or "an error", "elsewhere"))
        problem = Problem(file=str(path), read=f"{read} ({so})", write=write)
        raise InputError([problem]) from error
