"""The case file of a found girder: written as text, read again as a case."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from crushleg.case.reader import read_case_text
from crushleg.case.source import is_stream, load
from crushleg.case.write import case_tables, length_text, moved_path, rewritten
from crushleg.check import check_case

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from crushleg.case.records import Case
    from crushleg.case.source import Source
    from crushleg.check import Checked
    from crushleg.design.choice import Choice, Space


class Original(NamedTuple):
    """A case file as it was read, once: a pipe cannot be read twice."""

    source: Source
    base_dir: Path
    overrides: tuple[str, ...]
    case: Case

    @property
    def tables(self) -> dict[str, Any]:
        """Tables of the file with the overrides applied."""
        return case_tables(self.source, self.overrides)

    @property
    def given(self) -> frozenset[str]:
        """Keys that [girder] has."""
        return frozenset(self.tables["girder"])

    @property
    def held(self) -> bool:
        """Whether the free length of the legs is given."""
        return "free_length" in self.tables["leg"]

    @property
    def name(self) -> str:
        """Name of the file a sized case gets."""
        return f"{self.base_name}-sized.toml"

    @property
    def base_name(self) -> str:
        """Name of the case file without folder and ending."""
        last = self.source.name.replace("\\", "/").rpartition("/")[2]
        return last.removesuffix(".toml") or "case"


class Written(NamedTuple):
    """Text of a case file and what `check` says of it."""

    text: str
    checked: Checked


def read_original(path: Path, overrides: Sequence[str]) -> Original:
    """Read a case file for later rewriting.

    Raises
    ------
    InputError
        Every problem of the file.
    """
    source = load(path)
    base_dir = path.parent
    if is_stream(path):
        base_dir = base_dir.__class__()
    case = read_case_text(source.raw.decode("utf-8"), source.name, overrides, base_dir)
    return Original(source, base_dir, tuple(overrides), case)


def written(
    original: Original, space: Space, choice: Choice, folder: Path, *, section: bool
) -> Written:
    """Case file with the girder of a choice, read back from its text and checked.

    Parameters
    ----------
    original : Original
    space : Space
    choice : Choice
    folder : Path
        Where the file will lie: paths of datasheet and correlation are turned to it.
    section : bool
        Whether wall and length were chosen too: wall steps and measured values, those of
        another girder, are left out then.

    Returns
    -------
    Written
    """
    wanted = original.tables
    wanted.pop("scheme", None)
    table = wanted["girder"]
    if section:
        _section(table, space, choice)
    table["holes"] = holes_table(space, choice)
    for key in ("material", "correlation"):
        if key in table and (key == "correlation" or is_path(table[key])):
            table[key] = moved_path(table[key].strip(), original.base_dir, folder)
    text = rewritten(original.source, wanted, _head(original))
    case = read_case_text(text, original.name, (), folder)
    return Written(text, check_case(case))


def is_path(material: str) -> bool:
    """Whether a material is named by the path of its datasheet."""
    return material.strip().endswith(".toml") or "/" in material or "\\" in material


def _section(table: dict[str, Any], space: Space, choice: Choice) -> None:
    """Wall, length and what goes with the wall; keys that the case leaves out stay out."""
    girder = space.girder(choice)
    table.pop("wall_steps", None)
    table.pop("measured", None)
    for key in ("wall", "length", *sorted({"wall_tolerance", "corner_radius"} & space.given)):
        if getattr(space.base, key) != getattr(girder, key):
            table[key] = length_text(getattr(girder, key))


def holes_table(space: Space, choice: Choice) -> dict[str, Any]:
    """[girder.holes] of a choice."""
    if not choice.sizes:
        return {"law": "none"}
    shared = space.pattern
    table: dict[str, Any] = {"law": "stepped", "shape": shared.shape}
    table["first"] = length_text(space.metres(choice.first))
    if len(choice.sizes) > 1:
        table["row_pitch"] = length_text(space.metres(choice.pitch))
    table["sizes"] = [length_text(space.sizes[size]) for size in choice.sizes]
    if shared.along is not None:
        table["size_along"] = length_text(shared.along)
    table["per_face"] = shared.per_face
    for key, value in (("spacing", shared.spacing), ("stagger", shared.stagger)):
        if value:
            table[key] = length_text(value)
    table["faces"] = shared.faces
    return table


def _head(original: Original) -> tuple[str, ...]:
    case = original.case
    sets = f", with {', '.join(original.overrides)}" if original.overrides else ""
    sets = "".join(c if c.isprintable() else " " for c in sets)
    found = f"Girder found by crushleg size for {original.base_name}"
    return (f"{found}, input {case.input_sha256[:12]}{sets}.",)
