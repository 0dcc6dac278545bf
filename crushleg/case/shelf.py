"""The material shelf: datasheets of the package, and those a case names by path."""

from __future__ import annotations

from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.case.datasheet import datasheet_of
from crushleg.case.source import load, parse
from crushleg.case.tables import did_you_mean
from crushleg.errors import InputError, Problem

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    from crushleg.case.material import Material


def shelf() -> Traversable:
    """Folder of the datasheets: in the package once installed, in the checkout before."""
    packaged = resources.files("crushleg") / "materials"
    return packaged if packaged.is_dir() else Path(__file__).parents[2] / "materials"


def datasheet_names() -> list[str]:
    """Keys of the datasheets on the shelf, sorted."""
    names = [item.name for item in shelf().iterdir() if item.name.endswith(".toml")]
    return sorted(name.removesuffix(".toml") for name in names)


def read_datasheet(path: Path) -> Material:
    """Read a datasheet from a file; its key is the file's name.

    Raises
    ------
    InputError
        Every problem of the datasheet.
    """
    return datasheet_of(load(path, holds="a datasheet, as those of the shelf"), path.stem)


def find_material(key_or_path: str, base_dir: Path) -> Material:
    """Datasheet of a key, or of a path to a .toml file relative to ``base_dir``.

    Raises
    ------
    InputError
        Unknown key, missing file, or every problem of the datasheet.
    """
    if _is_path(key_or_path):
        return read_datasheet(base_dir / key_or_path)
    names = datasheet_names()
    if key_or_path not in names:
        part = [name for name in names if key_or_path and key_or_path.lower() in name]
        problem = Problem(
            read=f'"{key_or_path}", which is no datasheet',
            write="a path to a .toml file, or one of: " + ", ".join(part or names),
            hint="" if part else did_you_mean(key_or_path, names),
        )
        raise InputError([problem])
    datasheet = shelf() / f"{key_or_path}.toml"
    return datasheet_of(parse(datasheet.read_bytes(), str(datasheet)), key_or_path)


def datasheet_path(key_or_path: str, base_dir: Path) -> Path:
    """Path of the file that :func:`find_material` reads."""
    if _is_path(key_or_path):
        return base_dir / key_or_path
    return Path(str(shelf() / f"{key_or_path}.toml"))


def _is_path(text: str) -> bool:
    return text.endswith(".toml") or "/" in text or "\\" in text
