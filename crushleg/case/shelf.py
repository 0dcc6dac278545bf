"""The material shelf: cards that come with the package, and cards a case names by path."""

from __future__ import annotations

from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING

from crushleg.case.card import card_of
from crushleg.case.source import load, parse
from crushleg.case.tables import did_you_mean
from crushleg.errors import InputError, Problem

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    from crushleg.case.material import Material


def shelf() -> Traversable:
    """Folder of the cards: in the package once installed, in the checkout before."""
    packaged = resources.files("crushleg") / "materials"
    return packaged if packaged.is_dir() else Path(__file__).parents[2] / "materials"


def card_names() -> list[str]:
    """Keys of the cards on the shelf, sorted."""
    names = [item.name for item in shelf().iterdir() if item.name.endswith(".toml")]
    return sorted(name.removesuffix(".toml") for name in names)


def read_card(path: Path) -> Material:
    """Read a card from a file; its key is the file's name.

    Raises
    ------
    InputError
        Every problem of the card.
    """
    return card_of(load(path), path.stem)


def find_material(key_or_path: str, base_dir: Path) -> Material:
    """Card of a key, or of a path to a .toml file relative to ``base_dir``.

    Raises
    ------
    InputError
        Unknown key, missing file, or every problem of the card.
    """
    if key_or_path.endswith(".toml") or "/" in key_or_path or "\\" in key_or_path:
        return read_card(base_dir / key_or_path)
    names = card_names()
    if key_or_path not in names:
        problem = Problem(
            read=f'"{key_or_path}", which is no card',
            write="a path to a .toml file, or one of: " + ", ".join(names),
            hint=did_you_mean(key_or_path, names),
        )
        raise InputError([problem])
    card = shelf() / f"{key_or_path}.toml"
    return card_of(parse(card.read_bytes(), str(card)), key_or_path)
