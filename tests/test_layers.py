"""Imports go one way: errors, units → case → girder → landing → margins, check → report → cli."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import crushleg

PACKAGE = Path(crushleg.__file__).parent
ORDER = (
    ("arrays", "errors", "units", "unit_table", "said"),
    ("case",),
    ("girder",),
    ("landing",),
    ("margins", "cautions"),
    ("check",),
    ("design", "trial", "scatter", "land", "stability"),
    ("explain",),
    ("report",),
    ("verbs",),
    ("cli",),
    ("__init__", "__main__"),
)
LEVEL = {room: level for level, rooms in enumerate(ORDER) for room in rooms}
RECORDS = "crushleg.case"
EQUATIONS = {"assemble", "strength", "cautions", "table"}
ASSEMBLING = {"arrival", "rest", "touchdown", "afterwards", "members", "cautions"}


def modules() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def imports(path: Path, *, typing_too: bool) -> set[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    if not typing_too:
        tree.body = [
            node
            for node in tree.body
            if not (isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test))
        ]
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
        elif isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
    return {name for name in found if name.split(".")[0] == "crushleg"}


def room(name: str) -> str:
    parts = name.split(".")
    return parts[1] if len(parts) > 1 else "__init__"


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_a_module_imports_no_room_above_its_own(path: Path) -> None:
    own = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
    above = {name for name in imports(path, typing_too=True) if LEVEL[room(name)] > LEVEL[own]} - {
        "crushleg"
    }
    assert not above


@pytest.mark.parametrize(
    "path",
    [p for p in modules() if p.parent.name in {"girder", "landing"}],
    ids=lambda p: str(p.relative_to(PACKAGE)),
)
def test_equations_know_no_record_of_a_case(path: Path) -> None:
    if path.stem in EQUATIONS | ASSEMBLING:
        return
    assert not {n for n in imports(path, typing_too=True) if n.startswith(RECORDS)}


def test_every_room_of_the_package_has_its_place_in_the_order() -> None:
    rooms = {p.relative_to(PACKAGE).parts[0].removesuffix(".py") for p in modules()}
    assert rooms == set(LEVEL)


def test_top_level_is_what_the_design_says() -> None:
    root = PACKAGE.parent
    names = {p.name for p in root.iterdir() if not p.name.startswith(".")}
    generated = {n for n in names if n.endswith(".egg-info")} | {"build", "dist"}
    assert names - generated == {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "crushleg",
        "materials",
        "tests",
        "examples",
    }
