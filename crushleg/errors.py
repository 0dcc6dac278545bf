"""Bad input: every problem at once, each with its place and what to write."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing wrong with the input.

    ``read`` says what was found, ``write`` what to write instead, ``hint`` a guess at what was
    meant. ``file``, ``line`` and ``field`` say where; a problem of usage has none of them.

    >>> print(Problem(file="a.toml", line=3, field="girder.wall", read='"4 kg", a mass',
    ...               write='a length, such as "4 mm"'))
    a.toml:3: girder.wall: read "4 kg", a mass; write a length, such as "4 mm"
    """

    read: str
    write: str = ""
    hint: str = ""
    file: str = ""
    line: int | None = None
    field: str = ""

    def __str__(self) -> str:
        """Place, what was read, what to write, hint; empty parts left out, one printable line."""
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        text = f"read {self.read}"
        if self.write:
            text += f"; write {self.write}"
        if self.hint:
            text += f"; {self.hint}"
        line = ": ".join(part for part in (place, self.field, text) if part)
        return "".join(c if c.isprintable() else "\ufffd" for c in line)


class InputError(Exception):
    """All problems of one input; ``str`` gives one line per problem, in the order of the file."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    def __reduce__(self) -> tuple[type[InputError], tuple[tuple[Problem, ...]]]:
        """Keep the problems when the error crosses to another process."""
        return type(self), (self.problems,)
