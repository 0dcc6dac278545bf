"""The parser of the command line: help by user, and what to write where a command is wrong."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING, Any, NoReturn

from crushleg.report.streams import show
from crushleg.verbs.outputs import STANDARD_OUTPUT

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from types import ModuleType

    from _typeshed import SupportsWrite

A_FILE = {"bash": "_shtab_compgen_files", "zsh": "_files"}
A_FOLDER = {"bash": "_shtab_compgen_dirs", "zsh": "_files -/"}
PATHS: dict[str | tuple[str, ...] | None, dict[str, str]] = {
    "CASE": A_FILE,
    "RECORD": A_FILE,
    "READINGS": A_FILE,
    "FILE": A_FILE,
    "FOLDER": A_FOLDER,
}
"""How a shell completes an argument by its metavar, in the words of the package shtab."""
REQUIRED = "the following arguments are required: "
"""How argparse begins its sentence on what is missing."""
BEGIN = "crushleg begin test-stage > stage.toml && crushleg check stage.toml"
EXAMPLE = "example: "
NEAR = 0.6


class Parser(argparse.ArgumentParser):
    """Parser that says what to write, when help cannot be printed, and what a shell completes."""

    def add_argument(self, *names: Any, **options: Any) -> argparse.Action:
        """Mark an argument whose metavar names a file or folder, as `shtab` reads it."""
        action = super().add_argument(*names, **options)
        if action.metavar in PATHS:
            action.complete = PATHS[action.metavar]  # type: ignore[attr-defined]  # read by shtab
        return action

    def print_help(self, file: SupportsWrite[str] | None = None) -> None:
        """Print the help on ``file``, standard output when left out."""
        show(lambda: (file or sys.stdout).write(self.format_help()))

    def error(self, message: str) -> NoReturn:
        """Say what is missing with its meaning, and give the example of the verb."""
        if message.startswith(REQUIRED):
            message = self._missing(message.removeprefix(REQUIRED).split(", "))
        lines = [f"{self.prog}: {message}"]
        if self.epilog and EXAMPLE in self.epilog:
            lines.append(EXAMPLE + self.epilog.partition(EXAMPLE)[2])
        self.exit(2, "\n".join([*lines, f"{self.prog} --help tells the rest", ""]))

    def unknown(self, words: Sequence[str]) -> NoReturn:
        """Refuse words that are left over: the first option that is none, else the first word."""
        option = next((word for word in words if word.startswith("-")), None)
        if option is None:
            self.error(f"read {words[0]!r}, one word more than it takes; leave it out")
        name = option.partition("=")[0]
        known = [text for action in self._actions for text in action.option_strings]
        listed = ", ".join(text for text in known if text.startswith("--"))
        hint = near(name, known)
        self.error(f"read the unknown option {name}; {hint or f'write one of {listed}'}")

    def _missing(self, names: Iterable[str]) -> str:
        says = {str(action.metavar): action.help for action in self._actions}
        listed = "; no ".join(f"{name}: {says[name]}" if says.get(name) else name for name in names)
        begin = f"\nto begin one: {BEGIN}" if "CASE:" in listed else ""
        return f"read no {listed}{begin}"


class Top(Parser):
    """Parser above the verbs: its help groups them by who uses them."""

    groups: Mapping[str, Mapping[str, ModuleType]]

    def format_help(self) -> str:
        """Usage, verbs by user, options and exit codes; no line is longer than 80 columns."""
        lines = [self.format_usage(), f"{self.description}\n"]
        for user, verbs in self.groups.items():
            lines += [f"{user}:", *(f"  {name:<11}{verbs[name].SAYS}" for name in verbs), ""]
        return "\n".join([*lines, f"{self.epilog}\n"])

    def check_verb(self, argv: Sequence[str]) -> None:
        """Refuse a command that begins with neither a verb nor an option of its own."""
        known = [name for verbs in self.groups.values() for name in verbs]
        if not argv:
            self.print_help(sys.stderr)
            self.exit(2)
        word = argv[0]
        if word in (*known, *self._option_string_actions):
            return
        if word.startswith("-"):
            self.error(f"read {word} before a verb; write the verb first: crushleg check CASE")
        hint, listed = near(word, known), f"write one of {', '.join(known)}"
        if word == "help":
            hint = "did you mean --help?"
        elif word.endswith(".toml"):
            hint = f"did you mean: crushleg check {word}"
        self.error(f"read {word!r}, which is no verb; {hint or listed}")


def need_file(option: str, name: str | None) -> None:
    """Refuse standard output where a file is written."""
    from crushleg.errors import InputError, Problem

    if name in STANDARD_OUTPUT:
        raise InputError([Problem(field=option, read=f'"{name}"', write="the name of a file")])


def need_case_first(case: str, others: Sequence[str | None]) -> None:
    """Refuse a CSV where the case is due and a TOML after it."""
    from crushleg.errors import InputError, Problem

    swapped = next((name for name in others if name and name.endswith(".toml")), None)
    if swapped is not None and case.endswith(".csv"):
        problem = Problem(field="CASE", read=f'"{case}"', write=f"the case first: {swapped} {case}")
        raise InputError([problem])


def near(word: str, known: Iterable[str]) -> str:
    """Nearest of the known words as a question, empty if none is near.

    Examples
    --------
    >>> near("chek", ["check", "land"]), near("weigh", ["land"])
    ('did you mean check?', '')
    """
    from difflib import get_close_matches

    names = {name.lstrip("-"): name for name in known}
    found = get_close_matches(word.lower().lstrip("-"), list(names), n=1, cutoff=NEAR)
    return f"did you mean {names[found[0]]}?" if found else ""
