"""A file under reading: where its keys stand, and what is wrong with them so far."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from crushleg.errors import InputError, Problem

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from crushleg.case.lines import Path


def _stays(path: Path) -> Path:
    return path


@dataclass(slots=True, kw_only=True)
class Sheet:
    """A file under reading: where its keys stand, and the problems found so far.

    ``moved`` says where a path of merged tables stands in the file; ``wrong`` are the paths that
    have a problem.
    """

    file: str
    lines: Mapping[Path, int] = field(default_factory=dict)
    overridden: Mapping[Path, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    homes: Mapping[str, str] = field(default_factory=dict)
    moved: Callable[[Path], Path] = _stays
    wrong: set[Path] = field(default_factory=set)

    def report(self, path: Path, read: str, write: str = "", hint: str = "") -> None:
        """Keep a problem of the field at ``path``."""
        self.problems.append(self.placed(Problem(read=read, write=write, hint=hint), path))

    def placed(self, problem: Problem, path: Path) -> Problem:
        """Return the problem with file, line and field; an override is named as it was typed."""
        path = self.moved(path)
        self.wrong.add(path)
        stops = range(len(path), 0, -1)
        typed = (stop for stop in stops if path[:stop] in self.overridden)
        if (stop := next(typed, 0)) > 0:
            file = f"--set {self.overridden[path[:stop]]}"
            return replace(problem, file=file, field=dotted(path[stop:]))
        line = next((self.lines[path[:stop]] for stop in stops if path[:stop] in self.lines), None)
        file = self.file
        if line is None:
            within = (key for place, key in self.overridden.items() if place[: len(path)] == path)
            file = next((f"--set {key}" for key in within), file)
        return replace(problem, file=file, line=line, field=dotted(path))

    def finish(self) -> None:
        """Raise all problems, in the order of the file, if there are any."""
        if self.problems:
            unique = dict.fromkeys(self.problems)
            raise InputError(sorted(unique, key=lambda p: (p.file != self.file, p.line or 0)))


def dotted(path: Path) -> str:
    """Path as it is typed after ``--set``.

    >>> dotted(("touchdown", 0, "slope"))
    'touchdown.0.slope'
    """
    return ".".join(str(part) for part in path)
